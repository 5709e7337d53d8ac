import type { Checked, Problem, TextEdit } from "../problem";
import { problem } from "../problem";
import { settableColumns } from "../table/settable-columns";
import type { ShotColumn } from "../table/shot-columns";
import type { LineTable, TextPosition, TextRange } from "../text-position";
import { lineTable, textStart } from "../text-position";
import type { YamlList, YamlMap, YamlNode } from "../yaml-text";
import { readYaml } from "../yaml-text";
import { applyEdits, lineEndOf } from "./apply-edits";
import { isLeftOut } from "./node-reader";
import { readSession } from "./read-session";
import type { Session } from "./session";
import type { SetAsideEntry } from "./set-aside-text";
import { entryLines, flowEntry } from "./set-aside-text";
import { withoutPlaces } from "./without-places";

/** Values that a person wants to set aside, with the reason. */
export interface SetAsideRequest {
  /** Numbers of shots, in any order. */
  readonly shots: readonly number[];
  /** Columns, or `all` for every reading of the shots. */
  readonly columns: readonly ShotColumn[] | "all";
  /** Why; not blank. Line ends in it become spaces. */
  readonly because: string;
}

/** Keys after which `set_aside` stands where a session has none yet. */
const keysBefore: readonly string[] = ["columns", "air", "ball", "heads", "shots", "breaks", "corrections"];

/**
 * The edit that adds entries to the `set_aside` of a session file, in the style of those that are there; comments and
 * layout are kept. At most one edit, so that one undo takes it back; none when everything is set aside already, which is
 * said.
 *
 * The edited text is read again: unless it is the same session with these entries and nothing else, there is no edit.
 *
 * @returns `null` with an error where the text cannot be read or safely edited, or a request cannot be kept.
 * @example setAsideEdits("session: s\nsources: s.csv\n", [{ shots: [4], columns: ["carry"], because: "a bird" }])
 */
export function setAsideEdits(text: string, requests: readonly SetAsideRequest[]): Checked<readonly TextEdit[] | null> {
  const body = text.startsWith("\ufeff") ? text.slice(1) : text;
  const problems = requests.flatMap(wrongIn);
  const { value: root, problems: found } = readYaml(body);
  problems.push(...found.filter((each) => each.severity === "error"));
  const session = readSession(body).value;
  if (problems.length > 0 || root?.kind !== "map" || session === null)
    return { value: null, problems: problems.length > 0 ? problems : [problem("session.not-a-session", {}, textStart)] };

  const { entries, problems: said } = entriesOf(session, requests);
  if (entries.length === 0) return { value: [], problems: said };
  const edit = editFor(body, root, entries);
  const lost = problem("session.cannot-edit", {}, root.entries.find((entry) => entry.key === "set_aside")?.keyRange ?? textStart);
  if (edit === null || !isOnlyAdded(session, readSession(applyEdits(body, [edit])).value, entries)) return { value: null, problems: [lost] };
  return { value: [edit], problems: said };
}

function wrongIn({ shots, columns, because }: SetAsideRequest): Problem[] {
  const problems: Problem[] = [];
  if (because.trim() === "") problems.push(problem("session.no-reason", { where: "what is set aside" }, textStart));
  const wrong = shots.find((shot) => !Number.isSafeInteger(shot) || shot < 1);
  if (wrong !== undefined || shots.length === 0) problems.push(problem("session.shots", { text: wrong === undefined ? "" : String(wrong) }, textStart));
  const unknown = columns === "all" ? undefined : columns.find((column) => !settableColumns.includes(column));
  if (unknown !== undefined || columns.length === 0)
    problems.push(problem("session.wrong-choice", { what: "column", text: unknown ?? "", choices: ["all", ...settableColumns] }, textStart));
  return problems;
}

/** What of the requests is not set aside yet, and how much is, said. */
function entriesOf(session: Session, requests: readonly SetAsideRequest[]): { readonly entries: readonly SetAsideEntry[]; readonly problems: readonly Problem[] } {
  const written = new Set<string>();
  const isAside = (shot: number, column: ShotColumn | "all"): boolean =>
    written.has(`${shot} ${column}`) ||
    written.has(`${shot} all`) ||
    session.setAside.some((each) => (each.column === column || each.column === "all") && each.shots.some(({ from, to }) => from <= shot && shot <= to));
  const entries: SetAsideEntry[] = [];
  let already = 0;
  for (const { shots, columns, because } of requests) {
    const ascending = [...new Set(shots)].sort((a, b) => a - b);
    const byShots = new Map<string, { readonly shots: readonly number[]; readonly columns: (ShotColumn | "all")[] }>();
    for (const column of columns === "all" ? (["all"] as const) : new Set(columns)) {
      const left = ascending.filter((shot) => !isAside(shot, column));
      already += ascending.length - left.length;
      if (left.length === 0) continue;
      const key = left.join(" ");
      const one = byShots.get(key) ?? { shots: left, columns: [] };
      one.columns.push(column);
      byShots.set(key, one);
      for (const shot of left) written.add(`${shot} ${column}`);
    }
    for (const one of byShots.values()) entries.push({ ...one, because: asOneLine(because) });
  }
  return { entries, problems: already === 0 ? [] : [problem("session.set-aside-already", { count: already }, textStart)] };
}

/** A reason as it is kept: on one line, and without halves of characters, which no file can hold. */
function asOneLine(because: string): string {
  return because.trim().replace(/\s*[\r\n\u0085\u2028\u2029]+\s*/gu, " ").replace(/\p{Cs}/gu, "\ufffd");
}

function editFor(body: string, root: YamlMap, entries: readonly SetAsideEntry[]): TextEdit | null {
  const lines = lineTable(body);
  const own = root.entries.find((entry) => entry.key === "set_aside");
  if (own === undefined) return newKey(body, lines, root, entries);
  const { value } = own;
  const from = lines.offsetAt(value.range.start);
  const to = lines.offsetAt(value.range.end);
  const indent = listIndent(body, lines, root);
  if (value.kind === "scalar") {
    const end = endOfLine(body, from);
    return isLeftOut(value) ? replacing(lines, end, end, blockList(body, entries, indent)) : null;
  }
  const flow = entries.map(flowEntry);
  // An entry that stands without a list becomes the first of one; in lines of keys and values it would have to be moved.
  if (value.kind === "map") return body[from] === "{" ? replacing(lines, from, to, `[${body.slice(from, to)}, ${flow.join(", ")}]`) : null;
  const last = value.items.at(-1);
  if (body[from] !== "[") return last === undefined ? null : afterItem(body, lines, value, last, entries);
  if (last !== undefined) return intoBrackets(body, lines, last, flow);
  const rest = body.slice(to, endOfLine(body, to));
  const key = lines.offsetAt(own.keyRange.end);
  if (/^\s*:\s*\[ *\]$/u.test(body.slice(key, to)) && /^\s*(#.*)?$/u.test(rest))
    return replacing(lines, body.indexOf(":", key) + 1, to + rest.length, `${rest}${blockList(body, entries, indent)}`);
  const before = body.slice(lines.offsetAt({ line: value.range.end.line, column: 1 }), to - 1);
  const isAlone = before.trim() === "";
  return replacing(lines, to - 1, to - 1, isAlone ? `  ${flow.join(", ")}${lineEndOf(body)}${before}` : flow.join(", "));
}

/** Appends to a list in brackets; where its last item has a line of its own, so have the new ones. */
function intoBrackets(body: string, lines: LineTable, last: YamlNode, flow: readonly string[]): TextEdit {
  const end = lines.offsetAt(last.range.end);
  const rest = body.slice(end, endOfLine(body, end));
  const before = body.slice(lines.offsetAt({ line: last.range.start.line, column: 1 }), lines.offsetAt(last.range.start));
  if (!/^ +$/u.test(before) || !/^ *,? *(#.*)?$/u.test(rest)) return replacing(lines, end, end, `, ${flow.join(", ")}`);
  const hasComma = rest.trimStart().startsWith(",");
  const added = flow.map((entry) => `${lineEndOf(body)}${before}${entry}`).join(",");
  return replacing(lines, end, end + rest.length, `${hasComma ? "" : ","}${rest}${added}${hasComma ? "," : ""}`);
}

/** Appends to a block list, in the style of its last item. */
function afterItem(body: string, lines: LineTable, { range }: YamlList, last: YamlNode, entries: readonly SetAsideEntry[]): TextEdit {
  const indent = " ".repeat(range.start.column - 1);
  const at = lines.offsetAt(last.range.start);
  if (last.kind !== "map" || body[at] === "{") return appendAfter(body, lines, last.range, blockList(body, entries, indent));
  const line = body.slice(lines.offsetAt({ line: last.range.start.line, column: 1 }), at);
  const gap = /^ *-( +)$/u.exec(line)?.[1] ?? " ";
  const next = `${lineEndOf(body)}${indent} ${" ".repeat(gap.length)}`;
  const text = entries.map((entry) => `${lineEndOf(body)}${indent}-${gap}${entryLines(entry).join(next)}`).join("");
  return appendAfter(body, lines, last.range, text);
}

function newKey(body: string, lines: LineTable, root: YamlMap, entries: readonly SetAsideEntry[]): TextEdit | null {
  const before = root.entries.filter((entry) => keysBefore.includes(entry.key)).at(-1) ?? root.entries.at(-1);
  // A map in braces is not extended: no session is written so.
  if (before === undefined || body[lines.offsetAt(root.range.start)] === "{") return null;
  const eol = lineEndOf(body);
  const gap = /(?:\r\n|\n|\r)[ \t]*(?:\r\n|\n|\r)/u.test(body) ? eol : "";
  const range = { start: before.keyRange.start, end: endWithComments(body, lines, before.value.range.end) };
  return appendAfter(body, lines, range, `${eol}${gap}set_aside:${blockList(body, entries, listIndent(body, lines, root))}`);
}

/** The end of a node, or of the last of the indented comments that follow it: these belong to it. */
function endWithComments(body: string, lines: LineTable, end: TextPosition): TextPosition {
  let last = end;
  for (let line = end.column === 1 ? end.line : end.line + 1; line <= lines.lineCount; line++) {
    const from = lines.offsetAt({ line, column: 1 });
    const to = endOfLine(body, from);
    if (!/^ +#/u.test(body.slice(from, to))) break;
    last = lines.positionAt(to);
  }
  return last;
}

/** How far the block lists of a session are indented; two spaces where there is none. */
function listIndent(body: string, lines: LineTable, root: YamlMap): string {
  const list = root.entries.find(({ value }) => value.kind === "list" && body[lines.offsetAt(value.range.start)] === "-");
  return list === undefined ? "  " : " ".repeat(list.value.range.start.column - 1);
}

/** Inserts whole lines, `text` beginning with a line end, behind the last line of a range. */
function appendAfter(body: string, lines: LineTable, range: TextRange, text: string): TextEdit {
  const end = lines.offsetAt(range.end);
  const isNextLine = range.end.column === 1 && range.end.line > range.start.line && /[\r\n]$/u.test(body.slice(0, end));
  const eol = lineEndOf(body);
  // What ends where a line begins, as a text of several lines does, has its last line before it.
  if (isNextLine) return replacing(lines, end, end, `${text.slice(eol.length)}${eol}`);
  const at = endOfLine(body, end);
  return replacing(lines, at, at, text);
}

function blockList(body: string, entries: readonly SetAsideEntry[], indent: string): string {
  return entries.map((entry) => `${lineEndOf(body)}${indent}- ${flowEntry(entry)}`).join("");
}

/** The offset at which the line of an offset ends, its line end left out. */
function endOfLine(body: string, from: number): number {
  const rest = body.slice(from).search(/[\r\n]/u);
  return rest < 0 ? body.length : from + rest;
}

function replacing(lines: LineTable, from: number, to: number, text: string): TextEdit {
  return { range: lines.rangeAt(from, to), text };
}

/** True when the second session is the first with these entries behind its own, and nothing else is different. */
function isOnlyAdded(before: Session, after: Session | null, entries: readonly SetAsideEntry[]): boolean {
  if (after === null) return false;
  const wanted = entries.flatMap(({ shots, columns, because }) => columns.map((column) => ({ shots, column, because })));
  const added = after.setAside.slice(before.setAside.length);
  const shotsOf = (each: Session["setAside"][number]): readonly number[] => each.shots.flatMap(({ from, to }) => Array.from({ length: to - from + 1 }, (_, i) => from + i));
  const isWanted = (each: Session["setAside"][number], i: number): boolean =>
    each.column === wanted[i]!.column && each.because === wanted[i]!.because && shotsOf(each).join() === wanted[i]!.shots.join();
  return added.length === wanted.length && added.every(isWanted) && withoutPlaces({ ...after, setAside: after.setAside.slice(0, before.setAside.length) }) === withoutPlaces(before);
}
