import { findHeadings } from "../../core/notebook/headings";
import { bodyOffset } from "../../core/notebook/read-header";
import { folderOf, resolvePath } from "../../core/path";
import type { Span } from "../../core/query/syntax";
import { lineTable, type LineTable, type TextRange } from "../../core/text-position";
import { readYaml, type YamlEntry } from "../../core/yaml-text";
import type { LinkAnswer, SymbolAnswer } from "./answers";
import { resultInWords, schemaInWords } from "./cell-words";
import { columnKind } from "./column-hover";
import type { CellView, NotebookView } from "./notebook-view";
import { occurrencesOf } from "./occurrences";
import { outlineText } from "./outline-text";
import { piecesFrom } from "./query-pieces";

/** What a cell is called in an outline and in a search: its name with its constants and new columns, headings, keys. */
export function symbolsOf(view: NotebookView, cell: number): readonly SymbolAnswer[] {
  const one = view.cells[cell]!;
  switch (one.kind) {
    case "front":
      return keySymbols(one.text);
    case "prose":
      return headings(one.text);
    case "query":
    case "chart":
      return one.text.trim() === "" ? [] : [cellSymbol(view, one)];
    case "conflict":
      return [];
  }
}

function cellSymbol(view: NotebookView, { index, kind, text, checked }: CellView): SymbolAnswer {
  const lines = lineTable(text);
  const line = text.indexOf("\n");
  const first: Span = { from: 0, to: line < 0 ? text.length : line };
  const named = checked.header === null || checked.header.name === "" ? first : spanOf(checked.header.nameRange, lines);
  const name = checked.header?.name ?? "";
  return {
    name: outlineText(name === "" ? `cell ${index + 1}` : name),
    detail: outlineText(resultInWords(checked)),
    kind: kind === "chart" || checked.query?.result.type === "chart" ? "chart" : "cell",
    from: 0,
    to: text.length,
    nameSpan: named.from < named.to ? named : first,
    children: kind === "chart" ? [] : declared(view, index),
  };
}

/** The constants of a cell and the columns that it makes. */
function declared(view: NotebookView, index: number): readonly SymbolAnswer[] {
  const query = view.cells[index]!.checked.query;
  const body = bodyOffset(view.cells[index]!.text);
  return occurrencesOf(view, index).flatMap(({ from, to, role, name, isDeclaration, column }): SymbolAnswer[] => {
    if (!isDeclaration || from < body || (role !== "constant" && role !== "column")) return [];
    const table = query?.tables.get(name)?.schema;
    const value = query?.constants.get(name);
    const ofConstant = table === undefined ? (value === undefined ? "" : JSON.stringify(value)) : schemaInWords(table);
    const detail = role === "constant" ? ofConstant : column === undefined ? "" : columnKind(column);
    return [{ name: outlineText(name), detail: outlineText(detail), kind: role, from, to, nameSpan: { from, to }, children: [] }];
  });
}

function keySymbols(text: string): readonly SymbolAnswer[] {
  const lines = lineTable(text);
  return frontEntries(text).flatMap(({ key, keyRange, value }): SymbolAnswer[] => {
    const nameSpan = spanOf(keyRange, lines);
    if (nameSpan.from >= nameSpan.to) return [];
    const { to } = spanOf(value.range, lines);
    const detail = value.kind === "scalar" ? value.text : "";
    return [{ name: outlineText(key), detail: outlineText(detail), kind: "key", from: nameSpan.from, to: Math.max(nameSpan.to, to), nameSpan, children: [] }];
  });
}

function frontEntries(text: string): readonly YamlEntry[] {
  const root = readYaml(text).value;
  return root?.kind === "map" ? root.entries : [];
}

/** The headings of prose, each with what stands below it down to the next. */
function headings(text: string): readonly SymbolAnswer[] {
  const found = findHeadings(text);
  return found.map(({ text: name, from, to }, i) => {
    const whole = tillText({ from, to: found[i + 1]?.from ?? text.length }, text);
    return { name: outlineText(name.replaceAll("\n", " ")), detail: "", kind: "section", ...whole, nameSpan: { from, to }, children: [] };
  });
}

/** What can be folded in a cell: brackets and comments that reach over lines, values of the front matter. */
export function foldsOf(view: NotebookView, cell: number): readonly Span[] {
  const { kind, text } = view.cells[cell]!;
  const lines = lineTable(text);
  if (kind === "front") return onePerLine(frontEntries(text).map(({ keyRange, value }) => tillText(spanOf({ start: keyRange.start, end: value.range.end }, lines), text)), lines);
  if (kind !== "query" && kind !== "chart") return [];
  const body = Math.min(bodyOffset(text), text.length);
  return onePerLine([...brackets(text, body, lines), ...(kind === "query" ? comments(text, body, lines) : [])], lines);
}

/** The stretch without the space at its end. */
function tillText({ from, to }: Span, text: string): Span {
  return { from, to: from + text.slice(from, to).trimEnd().length };
}

/** Pairs of brackets, each down to the line before the one on which it closes. */
function brackets(text: string, body: number, lines: LineTable): readonly Span[] {
  const open: { readonly sign: string; readonly from: number }[] = [];
  return piecesFrom(text, body).flatMap(({ kind, text: sign, from }): Span[] => {
    if (kind !== "sign") return [];
    if (Object.hasOwn(closing, sign)) open.push({ sign, from });
    if (![")", "]", "}"].includes(sign)) return [];
    const at = open.findLastIndex((each) => closing[each.sign] === sign);
    if (at < 0) return [];
    const [opener] = open.splice(at);
    const { line } = lines.positionAt(from);
    return [{ from: opener!.from, to: Math.max(opener!.from + 1, lines.offsetAt({ line, column: 1 }) - 1) }];
  });
}

const closing: Readonly<Record<string, string>> = { "(": ")", "[": "]", "{": "}", "${": "}" };

/** Comments over several lines, and several that stand on lines of their own one under another. */
function comments(text: string, body: number, lines: LineTable): readonly Span[] {
  const found: { from: number; to: number; isBlock: boolean }[] = [];
  for (const { kind, text: own, from, to } of piecesFrom(text, body)) {
    const isBlock = own.startsWith("/*");
    const { line, column } = lines.positionAt(from);
    if (kind !== "comment" || (!isBlock && text.slice(from - column + 1, from).trim() !== "")) continue;
    const before = found.at(-1);
    if (before !== undefined && !before.isBlock && !isBlock && lines.positionAt(before.to).line + 1 === line) before.to = to;
    else found.push({ from, to, isBlock });
  }
  return found.map(({ from, to }) => ({ from, to }));
}

/** The stretches over more than one line, of those that begin on one line the longest. */
function onePerLine(spans: readonly Span[], lines: LineTable): readonly Span[] {
  const best = new Map<number, Span>();
  for (const span of spans) {
    const { line } = lines.positionAt(span.from);
    if (lines.positionAt(span.to).line === line) continue;
    const other = best.get(line);
    if (other === undefined || other.to <= span.to) best.set(line, span);
  }
  return [...best.values()].sort((a, b) => a.from - b.from);
}

/** The session files that a cell names, where each leads; a folder's sessions are no one file. */
export function linksOf(view: NotebookView, cell: number): readonly LinkAnswer[] {
  const { kind, text } = view.cells[cell]!;
  const folder = folderOf(view.path);
  const link = (path: string, { from, to }: Span): LinkAnswer[] => {
    if (path.includes("*") || from >= to) return [];
    const { value } = resolvePath(folder, path);
    return value === null || value === "" ? [] : [{ from, to, path: value }];
  };
  if (kind === "front") {
    if (cell !== view.notebook.frontIndex) return [];
    const lines = lineTable(text);
    return view.notebook.front.shots.flatMap(({ path, range }) => link(path, spanOf(range, lines)));
  }
  return kind === "query" ? occurrencesOf(view, cell).flatMap((name) => (name.role === "path" ? link(name.name, name) : [])) : [];
}

function spanOf({ start, end }: TextRange, lines: LineTable): Span {
  return { from: lines.offsetAt(start), to: lines.offsetAt(end) };
}
