import type { Checked, Fix, Problem } from "../problem";
import { problem } from "../problem";
import { whyNotAName } from "../query/names";
import { placesBefore } from "../places-before";
import { replaceSpans, type Replacement } from "../replace-spans";
import { lineTable, textStart, type TextRange } from "../text-position";
import type { CellHeader, HeaderAttribute } from "./document";
import { attributesOf, meantAttribute } from "./header-attributes";
import { headerSlip } from "./header-slip";
import { headerKind, splitHeader, type HeaderPiece } from "./header-text";

/**
 * The offset at which the body of a query or chart cell begins in its text: after the header line, or 0 where there
 * is none. A line with a slip that was meant for a header line is one. For a text that is a header line alone it is one
 * past the end.
 *
 * @example bodyOffset("query=gap\nstock") // 10
 */
export function bodyOffset(text: string): number {
  const end = text.indexOf("\n");
  const line = end < 0 ? text : text.slice(0, end);
  return headerKind(line) === null && headerSlip(line) === null ? 0 : line.length + 1;
}

/**
 * Reads the header line of a query or chart cell; `null` when the line is none.
 *
 * Attributes are `name=value`, apart by spaces; a value with spaces stands between quotes, where `\"` is a quote
 * between double ones. The name of the cell is as written even when it cannot be used, which is reported. What is not
 * known is reported and left in `attributes`; of an attribute that is there twice, the first counts. A line that was
 * meant to be a header line and has a slip is reported, and read as it was meant.
 *
 * @param line the first line of the cell's text; ranges are in it.
 * @example readHeader('chart=landing table=stock description="Where they land"').value?.table // "stock"
 */
export function readHeader(line: string): Checked<CellHeader | null> {
  const slip = headerSlip(line);
  if (slip !== null) return readSlip(line, slip);
  const kind = headerKind(line);
  if (kind === null) return { value: null, problems: [problem("nb.no-header", {}, line === "" ? textStart : inLine(0, line.length))] };
  const problems: Problem[] = [];
  const attributes = new Map<string, HeaderAttribute>();
  const pieces = splitHeader(line);
  const unquoted = unquotedDescription(pieces, kind);
  const behindGap = wordBehindGap(pieces, kind);
  for (const [index, piece] of pieces.entries()) {
    if (unquoted !== null && index > unquoted.description && index <= unquoted.last) {
      if (index === unquoted.last) problems.push(wordsOf(pieces, unquoted, line));
      continue;
    }
    const isOfName = piece.name === null && pieces[index - 1]?.name === kind;
    if (isOfName && behindGap > 0) continue;
    problems.push(...pieceProblems(piece, line, kind, attributes).map((found) => (isOfName ? { ...found, ...joined(pieces[index - 1]!, piece, line) } : found)));
    if (piece.name !== null && !attributes.has(piece.name)) attributes.set(piece.name, attributeOf(piece));
  }
  const named = attributes.get(kind)!;
  const table = kind === "chart" ? attributes.get("table") : undefined;
  const reason = named.value === "" ? "it is empty" : whyNotAName(named.value);
  if (reason !== null) problems.push(problem("nb.bad-name", { name: named.value, reason }, named.valueRange, behindGap > 0 ? withoutGap(pieces, behindGap, line) : asName(named)));
  if (table !== undefined && table.value !== "shots" && whyNotAName(table.value) !== null)
    problems.push(problem("nb.bad-table", { name: table.value }, table.valueRange));
  const value: CellHeader = {
    kind,
    name: named.value,
    nameRange: named.valueRange,
    table: table?.value ?? null,
    tableRange: table?.valueRange ?? null,
    description: kind === "chart" ? (attributes.get("description")?.value ?? null) : null,
    attributes,
  };
  return { value, problems };
}

/** What is wrong with one piece of the line by itself, after the attributes before it. */
function pieceProblems(piece: HeaderPiece, line: string, kind: "query" | "chart", before: ReadonlyMap<string, unknown>): readonly Problem[] {
  const range = inLine(piece.from, piece.to);
  const { name } = piece;
  if (name === null) return [problem("nb.stray-word", { word: line.slice(piece.from, piece.to) }, range)];
  const problems: Problem[] = [];
  const nameRange = inLine(piece.from, piece.from + name.length);
  if (!piece.closed)
    problems.push(problem("nb.unclosed-quote", { quote: line[piece.valueFrom]! }, inLine(piece.valueFrom, piece.valueFrom + 1), closing(piece, line)));
  if (before.has(name)) problems.push(problem("nb.duplicate-attribute", { name }, nameRange));
  else if (name !== kind && (name === "query" || name === "chart"))
    problems.push(problem("nb.two-kinds", { first: kind, second: name }, nameRange));
  else if (!attributesOf(kind).includes(name)) problems.push(unknownAttribute(name, kind, nameRange));
  return problems;
}

/** The header that was meant by a line with a slip, its places those of the line, and the slip beside what else is wrong. */
function readSlip(line: string, slip: Replacement): Checked<CellHeader | null> {
  const { value, problems } = readHeader(replaceSpans(line, [slip]));
  const before = placesBefore([slip], lineTable(line));
  const range = inLine(slip.from, slip.to);
  const instead = `${slip.text}${/^\S*/u.exec(line.slice(slip.to))![0]}`;
  const facts = { line: line.slice(slip.from, slip.to + instead.length - slip.text.length), instead };
  const found = problem("nb.header-slip", facts, range, { fix: { title: `Write ${instead}`, edits: [{ range, text: slip.text }] } });
  const moved = problems.map((each) => ({ ...each, range: before(each.range), ...(each.fix === undefined ? {} : { fix: { ...each.fix, edits: each.fix.edits.map((edit) => ({ ...edit, range: before(edit.range) })) } }) }));
  return { value: value === null ? null : headerMoved(value, before), problems: [found, ...moved] };
}

function headerMoved(header: CellHeader, to: (range: TextRange) => TextRange): CellHeader {
  const attributes = [...header.attributes].map(([name, each]) => [name, { ...each, nameRange: to(each.nameRange), valueRange: to(each.valueRange) }] as const);
  return { ...header, nameRange: to(header.nameRange), tableRange: header.tableRange === null ? null : to(header.tableRange), attributes: new Map(attributes) };
}

/** The number of the word that stands behind `query= ` and a gap; 0 where none does. */
function wordBehindGap(pieces: readonly HeaderPiece[], kind: "query" | "chart"): number {
  const at = pieces.findIndex(({ name }) => name === kind);
  const [piece, next] = [pieces[at]!, pieces[at + 1]];
  return piece.valueFrom === piece.to && next?.name === null ? at + 1 : 0;
}

/** The fix that takes away the gap before a cell's name. */
function withoutGap(pieces: readonly HeaderPiece[], word: number, line: string): { fix?: Fix } {
  const { from, to } = pieces[word]!;
  const name = line.slice(from, to);
  if (whyNotAName(name) !== null) return {};
  return { fix: { title: `Call it ${name}`, edits: [{ range: inLine(pieces[word - 1]!.to, from), text: "" }] } };
}

/** The fix that joins a word to the name before it; others may use that name, so a person is to say so. */
function joined(before: HeaderPiece, { from, to }: HeaderPiece, line: string): { fix?: Fix } {
  const name = `${before.value}_${line.slice(from, to)}`;
  if (before.value.length < before.to - before.valueFrom || whyNotAName(name) !== null) return {};
  return { fix: { title: `Call it ${name}`, edits: [{ range: inLine(before.to, from), text: "_" }], byPerson: true } };
}

/** A description of several words without quotes: the piece that it begins with, and the last of its words. */
interface Unquoted {
  readonly description: number;
  readonly last: number;
}

function unquotedDescription(pieces: readonly HeaderPiece[], kind: "query" | "chart"): Unquoted | null {
  const description = pieces.findIndex(({ name }) => name === "description");
  const piece = pieces[description];
  if (kind !== "chart" || piece === undefined || piece.value.length < piece.to - piece.valueFrom) return null;
  let last = description;
  while (pieces[last + 1]?.name === null) last++;
  return last === description ? null : { description, last };
}

/** The problem of such a description, said of the words behind the first. */
function wordsOf(pieces: readonly HeaderPiece[], { description, last }: Unquoted, line: string): Problem {
  const [first, from, to] = [pieces[description]!.valueFrom, pieces[description + 1]!.from, pieces[last]!.to];
  const text = `"${line.slice(first, to).trim().replace(/["\\]/gu, "\\$&")}"`;
  return problem("nb.stray-word", { word: line.slice(from, to) }, inLine(from, to), { fix: { title: "Quote the description", edits: [{ range: inLine(first, to), text }] } });
}

/** The fix of a quote that is never closed; none where it may have swallowed another attribute or ends in an escape. */
function closing({ value, valueFrom }: HeaderPiece, line: string): { fix?: Fix } {
  if (value.includes("=") || value.trim() === "" || line.trimEnd().endsWith("\\")) return {};
  const end = line.trimEnd().length;
  return { fix: { title: "Close the quote", edits: [{ range: inLine(end, end), text: line[valueFrom]! }] } };
}

/** The fix of a name with other signs in it than letters, digits and _; none where it would not be a name all the same. */
function asName({ value, valueRange }: HeaderAttribute): { fix?: Fix } {
  const name = value.trim().replace(/[^\p{ID_Continue}]+/gu, "_");
  if (name === value || whyNotAName(name) !== null) return {};
  return { fix: { title: `Change to ${name}`, edits: [{ range: valueRange, text: name }] } };
}

function unknownAttribute(name: string, kind: "query" | "chart", range: TextRange): Problem {
  const known = attributesOf(kind);
  const nearest = meantAttribute(name, kind);
  const facts = { name, nearest: nearest ?? undefined, known };
  if (nearest === null) return problem("nb.unknown-attribute", facts, range);
  return problem("nb.unknown-attribute", facts, range, { fix: { title: `Change to ${nearest}`, edits: [{ range, text: nearest }] } });
}

function attributeOf(piece: HeaderPiece): HeaderAttribute {
  const quoted = piece.closed && piece.to - piece.valueFrom > piece.value.length;
  const [from, to] = quoted ? [piece.valueFrom + 1, piece.to - 1] : [piece.valueFrom, piece.to];
  return { value: piece.value, nameRange: inLine(piece.from, piece.from + piece.name!.length), valueRange: inLine(from, to) };
}

function inLine(from: number, to: number): TextRange {
  return { start: { line: 1, column: from + 1 }, end: { line: 1, column: to + 1 } };
}
