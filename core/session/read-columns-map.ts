import { closestName } from "../closest-name";
import { problem } from "../problem";
import type { Sides } from "../table/read-number";
import type { ShotColumn, ShotColumnFacts } from "../table/shot-columns";
import { shotColumnNames, shotColumns } from "../table/shot-columns";
import type { Unit } from "../units";
import { parseUnit } from "../units";
import type { YamlEntry, YamlNode } from "../yaml-text";
import type { NodeReader } from "./node-reader";
import { unitsOf } from "./node-reader";
import { countedColumns } from "../table/settable-columns";
import type { ColumnMap } from "./session";
import { keysOf } from "./session-keys";

type Direction = readonly [positive: string, negative: string];

/** Shot columns that an export may have; `shot` is read for the order alone. */
const readable = shotColumnNames.filter((name) => name === "shot" || !countedColumns.includes(name));

/** The `columns` of a session: each shot column with the header it is read from, in short form or in long. */
export function readColumnsMap(reader: NodeReader, node: YamlNode | undefined): ColumnMap[] {
  const users = new Map<string, ShotColumn>();
  return reader.map(node, "columns").flatMap((entry): ColumnMap[] => {
    const column = readable.find((name) => name === entry.key);
    if (column === undefined) {
      reportColumn(reader, entry);
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
}

function reportColumn(reader: NodeReader, entry: YamlEntry): void {
  if ((countedColumns as readonly string[]).includes(entry.key)) {
    reader.problems.push(problem("session.counted-column", { column: entry.key }, entry.keyRange));
    return;
  }
  const near = closestName(entry.key, readable) ?? undefined;
  const facts = { what: "shot column", text: entry.key, choices: readable, ...(near === undefined ? {} : { near }) };
  const fix = near === undefined ? {} : { fix: { title: `Write ${near}`, edits: [{ range: entry.keyRange, text: near }] } };
  reader.problems.push(problem("session.wrong-choice", facts, entry.keyRange, fix));
}

function readColumn(reader: NodeReader, column: ShotColumn, { value }: YamlEntry): ColumnMap | null {
  if (value.kind !== "map") {
    const header = reader.text(value, `the header of ${column}`);
    return header === null ? null : { column, header: exactly(value), headerRange: value.range, ...plainMap(column) };
  }
  const entries = reader.entries(value, `the column ${column}`, keysOf("column"));
  const from = entries.get("from")?.value;
  const header = from === undefined ? reader.missingKey("from", `the column ${column}`, value) : reader.text(from, `the header of ${column}`);
  const unit = readUnit(reader, column, entries.get("unit")?.value);
  const facts: ShotColumnFacts = shotColumns[column];
  for (const key of ["sides", "positive"] as const) {
    const entry = entries.get(key);
    if (entry !== undefined && facts.direction === null)
      reader.problems.push(problem("session.no-direction", { column, key }, entry.keyRange));
  }
  const direction = facts.direction;
  const sides = direction === null ? null : readSides(reader, column, direction, entries.get("sides")?.value);
  const positive = direction === null ? null : readPositive(reader, column, direction, entries.get("positive")?.value);
  const missing = reader.list(entries.get("missing")?.value).flatMap((item) => reader.text(item, "a text that means missing") ?? []);
  if (header === null || from === undefined) return null;
  return { column, header: exactly(from), headerRange: from.range, unit, sides, directionAssumed: sides === null && positive === null && hasFreeDirection(column), flipped: positive === "negative", missing };
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

function readUnit(reader: NodeReader, column: ShotColumn, node: YamlNode | undefined): Unit | null {
  const what = `the unit of ${column}`;
  const text = reader.text(node, what);
  if (node === undefined || text === null) return null;
  const quantity = shotColumns[column].quantity;
  const accepted = quantity === null ? [] : unitsOf(quantity);
  const unit = parseUnit(text);
  if (unit !== undefined && accepted.includes(unit)) return unit;
  reader.problems.push(problem("session.wrong-unit", { what: column, text, units: accepted }, node.range));
  return null;
}

/** The words for the two directions of a column: those of its facts, and up and down for high and low. */
function wordsFor(direction: Direction): readonly Direction[] {
  return direction[0] === "high" ? [["up", "down"], direction] : [direction];
}

/** Which of our two directions positive numbers mean in the export; `null` when it is not stated or no direction. */
function readPositive(reader: NodeReader, column: ShotColumn, direction: Direction, node: YamlNode | undefined): "positive" | "negative" | null {
  const words = wordsFor(direction);
  const word = reader.choice(node, `direction of ${column}`, words.flat());
  if (word === null) return null;
  return words.some(([, negative]) => negative === word) ? "negative" : "positive";
}

/** `L/R`: first letters of the two directions in either order; or a map from direction to the word that stands for it. */
function readSides(reader: NodeReader, column: ShotColumn, direction: Direction, node: YamlNode | undefined): Sides | null {
  if (node === undefined) return null;
  const words = wordsFor(direction);
  if (node.kind === "map") {
    const entries = reader.entries(node, `the sides of ${column}`, words.flat());
    const [plus, minus] = [0, 1].map((side) => {
      const word = words.map((pair) => pair[side]!).find((each) => entries.has(each));
      return word === undefined ? null : reader.text(entries.get(word)?.value, `the word for ${word}`);
    });
    if (plus && minus && plus.toUpperCase() !== minus.toUpperCase()) return { positive: plus, negative: minus };
  } else {
    const letters = reader.text(node, `the sides of ${column}`)?.split("/").map((letter) => letter.trim().toUpperCase());
    if (letters === undefined) return null;
    for (const pair of words) {
      const [plus, minus] = [pair[0][0]!.toUpperCase(), pair[1][0]!.toUpperCase()];
      if (letters.length === 2 && letters.includes(plus) && letters.includes(minus)) return { positive: plus, negative: minus };
    }
  }
  const [positive, negative] = words[0]!;
  const text = node.kind === "scalar" ? node.text : "this";
  reader.problems.push(problem("session.sides", { text, column, positive, negative }, node.range));
  return null;
}
