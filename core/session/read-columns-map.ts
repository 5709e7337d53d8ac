import { closestName } from "../closest-name";
import type { Fix } from "../problem";
import { problem } from "../problem";
import { oneOf } from "../problem-kind";
import type { Sides } from "../table/read-number";
import { sideLetters } from "../table/side-letters";
import type { ShotColumn, ShotColumnFacts } from "../table/shot-columns";
import { shotColumns } from "../table/shot-columns";
import type { Unit } from "../units";
import { parseUnit } from "../units";
import type { YamlEntry, YamlMap, YamlNode } from "../yaml-text";
import { countedColumns } from "../table/settable-columns";
import { yamlScalar } from "../yaml-scalar";
import { wordsOfDirection, type Direction } from "./directions";
import { isFlowMap, leavingOut } from "./left-out";
import { isLeftOut, unitsOf, writing, type NodeReader } from "./node-reader";
import type { ColumnMap, UnitPlace } from "./session";
import { keysOf } from "./session-keys";
import { mappableColumns } from "./session-shapes";
import { usualUnitOf } from "./usual-units";

/** The `columns` of a session: each shot column with the header it is read from, in short form or in long. */
export function readColumnsMap(reader: NodeReader, node: YamlNode | undefined): ColumnMap[] {
  const users = new Map<string, ShotColumn>();
  const maps = reader.map(node, "columns").flatMap((entry): ColumnMap[] => {
    const column = mappableColumns.find((name) => name === entry.key);
    if (column === undefined) {
      reportColumn(reader, entry, node);
      return [];
    }
    const read = readColumn(reader, column, entry);
    if (read === null) return [];
    const user = users.get(read.header);
    if (user !== undefined)
      reader.problems.push(problem("session.stated-twice", { what: "header", name: read.header, first: user }, read.headerRange));
    users.set(read.header, user ?? column);
    return [read];
  });
  return maps.map((map) => withLikelyUnit(map, maps));
}

/** The map, knowing the unit that is likely where none is stated: that of the others of its quantity, else the usual one. */
function withLikelyUnit(map: ColumnMap, all: readonly ColumnMap[]): ColumnMap {
  const { quantity } = shotColumns[map.column];
  if (map.unitPlace === undefined || quantity === null) return map;
  const stated = new Set(all.flatMap((other) => (shotColumns[other.column].quantity === quantity ? (other.unit ?? []) : [])));
  const likely = stated.size === 1 ? [...stated][0] : stated.size === 0 ? usualUnitOf(map.column) : undefined;
  return likely === undefined ? map : { ...map, unitPlace: { ...map.unitPlace, likely } };
}

/** The fix that makes the session state the unit of a column; none where the place for it is not known. */
export function statingUnit({ column, unitPlace }: ColumnMap, unit: Unit | undefined): { readonly fix?: Fix } {
  if (unitPlace === undefined || unit === undefined) return {};
  const { range, before, after } = unitPlace;
  return { fix: { title: `State that ${column} is in ${unit}`, edits: [{ range, text: `${before}unit: ${unit}${after}` }], byPerson: true } };
}

function reportColumn(reader: NodeReader, entry: YamlEntry, columns: YamlNode | undefined): void {
  if ((countedColumns as readonly string[]).includes(entry.key)) {
    reader.problems.push(problem("session.counted-column", { column: entry.key }, entry.keyRange, leavingOut(columns, entry)));
    return;
  }
  const near = reader.nearest(entry.key, mappableColumns);
  const facts = { what: "shot column", text: entry.key, choices: mappableColumns, ...(near === undefined ? {} : { near }) };
  const isTaken = near !== undefined && columns?.kind === "map" && reader.hasKey(columns, near);
  reader.problems.push(problem("session.wrong-choice", facts, entry.keyRange, isTaken ? {} : writing(near, entry.keyRange)));
}

function readColumn(reader: NodeReader, column: ShotColumn, { value }: YamlEntry): ColumnMap | null {
  if (value.kind !== "map") {
    const header = reader.text(value, `the header of ${column}`);
    if (header === null) return null;
    const unitPlace = { range: value.range, before: `{ from: ${yamlScalar(exactly(value), "flow")}, `, after: " }" };
    return { column, header: exactly(value), headerRange: value.range, ...plainMap(column), ...(isOnOneLine(value) ? { unitPlace } : {}) };
  }
  const entries = reader.entries(value, `the column ${column}`, keysOf("column"));
  const from = entries.get("from")?.value;
  const header = from === undefined ? reader.missingKey("from", `the column ${column}`, value) : reader.text(from, `the header of ${column}`);
  const unit = readUnit(reader, column, entries.get("unit"), value);
  const facts: ShotColumnFacts = shotColumns[column];
  for (const key of ["sides", "positive"] as const) {
    const entry = entries.get(key);
    if (entry !== undefined && facts.direction === null)
      reader.problems.push(problem("session.no-direction", { column, key }, entry.keyRange, leavingOut(value, entry)));
  }
  const direction = facts.direction;
  const sides = direction === null ? null : readSides(reader, column, direction, entries.get("sides")?.value);
  const positive = direction === null ? null : readPositive(reader, column, direction, entries.get("positive")?.value);
  const missing = reader.list(entries.get("missing")?.value).flatMap((item) => reader.text(item, "a text that means missing") ?? []);
  if (header === null || from === undefined) return null;
  return { column, header: exactly(from), headerRange: from.range, unit, sides, directionAssumed: sides === null && positive === null && hasFreeDirection(column), flipped: positive === "negative", missing, ...(entries.has("unit") ? (unit === null && facts.quantity !== null ? { unitRefused: true } : {}) : placeInMap(value)) };
}

function isOnOneLine({ range }: YamlNode): boolean {
  return range.start.line === range.end.line;
}

/** Where `unit` goes in the long form of an entry: behind the last key between braces, else on a line before the first. */
function placeInMap(map: YamlMap): { readonly unitPlace?: UnitPlace } {
  const [first, last] = [map.entries[0], map.entries.at(-1)];
  if (first === undefined || last === undefined) return {};
  const end = last.value.range.end;
  if (isFlowMap(map)) return isLeftOut(last.value) ? {} : { unitPlace: { range: { start: end, end }, before: ", ", after: "" } };
  const { start } = first.keyRange;
  return { unitPlace: { range: { start, end: start }, before: "", after: `\n${" ".repeat(start.column - 1)}` } };
}

/** How a column is read of which nothing is stated but its header. */
export function plainMap(column: ShotColumn): Pick<ColumnMap, "unit" | "sides" | "directionAssumed" | "flipped" | "missing"> {
  return { unit: null, sides: null, directionAssumed: hasFreeDirection(column), flipped: false, missing: [] };
}

/** True for a column whose sign programs choose in either way; angles up and down are positive upwards everywhere. */
function hasFreeDirection(column: ShotColumn): boolean {
  const { direction }: ShotColumnFacts = shotColumns[column];
  return direction !== null && direction[0] !== "up";
}

/** A header as written: white space at its ends belongs to it when it is in quotes. */
function exactly(node: YamlNode): string {
  return node.kind === "scalar" ? node.text : "";
}

function readUnit(reader: NodeReader, column: ShotColumn, entry: YamlEntry | undefined, map: YamlMap): Unit | null {
  if (entry === undefined) return null;
  const node = entry.value;
  const quantity = shotColumns[column].quantity;
  if (quantity === null) {
    reader.problems.push(problem("session.wrong-unit", { what: column, text: exactly(node), units: [] }, node.range, leavingOut(map, entry)));
    return null;
  }
  const accepted = unitsOf(quantity);
  const text = reader.text(node, `the unit of ${column}`, `one of ${oneOf(accepted)}`);
  if (text === null) return null;
  const unit = parseUnit(text);
  if (unit !== undefined && accepted.includes(unit)) return unit;
  reader.problems.push(problem("session.wrong-unit", { what: column, text, units: accepted }, node.range, writing(closestName(text, accepted) ?? undefined, node.range)));
  return null;
}

/** Which of our two directions positive numbers mean in the export; `null` when it is not stated or no direction. */
function readPositive(reader: NodeReader, column: ShotColumn, direction: Direction, node: YamlNode | undefined): "positive" | "negative" | null {
  const words = wordsOfDirection(direction);
  const word = reader.choice(node, `direction of ${column}`, words.flat());
  if (word === null) return null;
  return words.some(([, negative]) => negative === word) ? "negative" : "positive";
}

/** `L/R`: first letters of the two directions in either order; or a map from direction to the word that stands for it. */
function readSides(reader: NodeReader, column: ShotColumn, direction: Direction, node: YamlNode | undefined): Sides | null {
  if (node === undefined) return null;
  const words = wordsOfDirection(direction);
  if (node.kind === "map") {
    const entries = reader.entries(node, `the sides of ${column}`, words.flat());
    const [plus, minus] = [0, 1].map((side) => {
      const word = words.map((pair) => pair[side]!).find((each) => entries.has(each));
      return word === undefined ? null : reader.text(entries.get(word)?.value, `the word for ${word}`);
    });
    if (plus && minus && plus.toUpperCase() !== minus.toUpperCase()) return { positive: plus, negative: minus };
  } else {
    const letters = reader.text(node, `the sides of ${column}`, `the letters of its sides: ${sideLetters(direction)}`)?.split("/").map((letter) => letter.trim().toUpperCase());
    if (letters === undefined) return null;
    for (const pair of words) {
      const [plus, minus] = [pair[0][0]!.toUpperCase(), pair[1][0]!.toUpperCase()];
      if (letters.length === 2 && letters.includes(plus) && letters.includes(minus)) return { positive: plus, negative: minus };
      const isInWords = letters.length === 2 && pair.every((word) => letters.includes(word.toUpperCase()));
      if (!isInWords) continue;
      reader.problems.push(problem("session.sides", { text: textOf(node), column, positive: pair[0], negative: pair[1] }, node.range, writing(sideLetters(pair), node.range)));
      return { positive: plus, negative: minus };
    }
  }
  const [positive, negative] = words[0]!;
  const text = textOf(node);
  const letters = sideLetters([positive, negative]);
  const isOnlyBadlySplit = inOrder(text) === inOrder(letters);
  reader.problems.push(problem("session.sides", { text, column, positive, negative }, node.range, writing(isOnlyBadlySplit ? letters : undefined, node.range)));
  return null;
}

function textOf(node: YamlNode): string {
  return node.kind === "scalar" ? node.text : "this";
}

/** The letters of a text in the order of the alphabet, in capitals. */
function inOrder(text: string): string {
  return text.toUpperCase().replace(/[^\p{L}]+/gu, "").split("").sort().join("");
}
