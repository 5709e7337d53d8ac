import type { Problem } from "../problem";
import { problem } from "../problem";
import { countedColumns } from "../table/settable-columns";
import type { TextRange } from "../text-position";
import type { YamlNode } from "../yaml-text";
import { textLike, writing, type NodeReader } from "./node-reader";
import { keysOf } from "./session-keys";
import { columnsToSetAside, sessionShapes } from "./session-shapes";
import type { Correction, SetAside, ShotRange, ShotRemark } from "./session";

/** The shots that `41` or `52-78` names, from 1, both ends included; `null` for any other text. */
export function parseShotRange(text: string): { readonly from: number; readonly to: number } | null {
  const match = /^\s*(\d{1,15})\s*(?:[-\u2013]\s*(\d{1,15})\s*)?$/u.exec(text);
  const from = Number(match?.[1]);
  const to = Number(match?.[2] ?? match?.[1]);
  return match !== null && from >= 1 && from <= to ? { from, to } : null;
}

/** Shots by their numbers: `41`, `1-6`, `1-6, 41` or a list of these. */
export function readShotRanges(reader: NodeReader, node: YamlNode | undefined, what: string): ShotRange[] {
  return reader.list(node).flatMap((item) => {
    const text = reader.text(item, what);
    if (text === null) return [];
    const ranges: ShotRange[] = [];
    let from = 0;
    for (const part of text.split(",")) {
      const shots = parseShotRange(part);
      const range = placeOfPart(item, from, part);
      if (shots !== null) ranges.push({ ...shots, range });
      else reader.problems.push(problem("session.shots", { text: part.trim() === "" ? text : part.trim() }, range, writing(turnedRange(part), range)));
      from += part.length + 1;
    }
    return ranges;
  });
}

/** Where a part of a plain scalar stands that begins `from` characters into it; the whole item where that cannot be told. */
function placeOfPart({ range: { start, end }, ...item }: YamlNode, from: number, part: string): TextRange {
  const isPlain = item.kind === "scalar" && !item.quoted && start.line === end.line && item.text.length === end.column - start.column;
  if (!isPlain || part.trim() === "") return { start, end };
  const column = start.column + from + (part.length - part.trimStart().length);
  return { start: { line: start.line, column }, end: { line: start.line, column: column + part.trim().length } };
}

/** `1-6` for `6-1`; none for what is no range turned round. */
function turnedRange(part: string): string | undefined {
  const turned = /^\s*(\d{1,15})\s*[-\u2013]\s*(\d{1,15})\s*$/u.exec(part)?.slice(1).reverse().join("-");
  return turned === undefined || parseShotRange(turned) === null ? undefined : turned;
}

/** The `shots` of a session: intents and notes by shot. */
export function readRemarks(reader: NodeReader, node: YamlNode | undefined): ShotRemark[] {
  const remarks = reader.list(node).map((item): ShotRemark => {
    const entries = reader.entries(item, "an entry of shots", keysOf("shots"));
    const shots = readShotRanges(reader, (entries.get("shots") ?? entries.get("shot"))?.value, "shots");
    if (item.kind === "map" && !entries.has("shots") && !entries.has("shot")) reader.missingKey("shots", "an entry of shots", item);
    return {
      shots,
      intent: reader.text(entries.get("intent")?.value, "intent", textLike(sessionShapes.shots.intent)),
      note: reader.text(entries.get("note")?.value, "note"),
    };
  });
  reportOverlaps(reader.problems, "intent", remarks.flatMap((remark) => (remark.intent === null ? [] : remark.shots)));
  reportOverlaps(reader.problems, "note", remarks.flatMap((remark) => (remark.note === null ? [] : remark.shots)));
  return remarks;
}

/** The `corrections` of a session. One without a reason, a column or a value is left out. */
export function readCorrections(reader: NodeReader, node: YamlNode | undefined): Correction[] {
  const corrections = reader.list(node).flatMap((item): Correction[] => {
    const where = "a correction";
    const entries = reader.entries(item, where, keysOf("correction"));
    if (item.kind !== "map") return [];
    const shots = readShotRanges(reader, (entries.get("shots") ?? entries.get("shot"))?.value, "shots");
    if (!entries.has("shots") && !entries.has("shot")) reader.missingKey("shots", where, item);
    const columnNode = entries.get("column")?.value;
    const valueNode = entries.get("value")?.value;
    const column = columnNode === undefined ? reader.missingKey("column", where, item) : reader.text(columnNode, "column");
    const value = valueNode === undefined ? reader.missingKey("value", where, item) : reader.text(valueNode, "value");
    const because = readReason(reader, entries.get("because")?.value, where, item);
    if (column === null || value === null || because === null || columnNode === undefined || valueNode === undefined) return [];
    if ((countedColumns as readonly string[]).includes(column)) {
      reader.problems.push(problem("session.counted-column", { column }, columnNode.range));
      return [];
    }
    return [{ shots, column, columnRange: columnNode.range, value, valueRange: valueNode.range, because }];
  });
  for (const column of new Set(corrections.map((each) => each.column)))
    reportOverlaps(reader.problems, column, corrections.flatMap((each) => (each.column === column ? each.shots : [])));
  return corrections;
}

/** The `set_aside` of a session. An entry without a reason or a column is left out. */
export function readSetAside(reader: NodeReader, node: YamlNode | undefined): SetAside[] {
  return reader.list(node).flatMap((item): SetAside[] => {
    const where = "an entry of set_aside";
    const entries = reader.entries(item, where, keysOf("set-aside entry"));
    if (item.kind !== "map") return [];
    const shots = readShotRanges(reader, (entries.get("shots") ?? entries.get("shot"))?.value, "shots");
    if (!entries.has("shots") && !entries.has("shot")) reader.missingKey("shots", where, item);
    const columnNode = entries.get("column")?.value;
    if (columnNode === undefined) reader.missingKey("column", where, item);
    const because = readReason(reader, entries.get("because")?.value, where, item);
    return reader.list(columnNode).flatMap((each) => {
      const column = reader.choice(each, "column", columnsToSetAside);
      return column === null || because === null ? [] : [{ shots, column, columnRange: each.range, because }];
    });
  });
}

function readReason(reader: NodeReader, node: YamlNode | undefined, where: string, item: YamlNode): string | null {
  if (node !== undefined && node.kind === "scalar" && node.text.trim() !== "") return node.text.trim();
  const start = item.range.start;
  reader.problems.push(problem("session.no-reason", { where }, node?.range ?? { start, end: start }));
  return null;
}

/** Reports every range that has a shot of an earlier one in it. */
function reportOverlaps(problems: Problem[], what: string, ranges: readonly ShotRange[]): void {
  const sorted = ranges.map((each, index) => ({ ...each, index })).sort((a, b) => a.from - b.from || a.index - b.index);
  let reach: (typeof sorted)[number] | undefined;
  const found: { shot: number; first: TextRange; range: TextRange }[] = [];
  for (const each of sorted) {
    if (reach !== undefined && each.from <= reach.to) {
      const [first, later] = each.index < reach.index ? [each, reach] : [reach, each];
      found.push({ shot: each.from, first: first.range, range: later.range });
    }
    if (reach === undefined || each.to > reach.to) reach = each;
  }
  for (const { shot, first, range } of found) problems.push(problem("session.overlap", { what, shot, first: first.start.line }, range));
}
