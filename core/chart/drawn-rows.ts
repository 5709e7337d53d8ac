import type { Column, NumberColumn, Table } from "../table/table";
import { findColumn, makeTable, takeRows, textColumn, valueAt } from "../table/table";
import { harmless } from "./field-name";
import { mostMarks } from "./themes";

/** Rows of one group that a chart draws. */
export interface Group {
  readonly label: string;
  readonly rows: readonly number[];
}

/** What a chart draws of a table: the rows that have all its numbers, by group. */
export interface Drawn {
  /** The drawn rows, with the columns asked for; the group column is text. */
  readonly table: Table;
  /** The column of `table` with the groups; `null` when nothing groups. */
  readonly by: string | null;
  /** Heads in the order in which the sessions list them, all else in order of the labels, with rows of `table`. One group without a name when nothing groups. */
  readonly groups: readonly Group[];
  /** The labels in whose order groups take colours and shapes: the groups, and heads of the sessions that are not drawn here. */
  readonly marked: readonly string[];
  /** Rows of the whole table. */
  readonly of: number;
  /** Who hit the shot of a row of `table`; `null` when that is not known. */
  readonly player: (row: number) => string | null;
  /** What a row is called. */
  readonly noun: "shots" | "rows";
}

/** What to draw of a table. */
export interface DrawnColumns {
  /** Number columns that a row must have to be drawn. */
  readonly numbers: readonly string[];
  /** The column whose values are the groups; `null` for none. */
  readonly by: string | null;
  /** Further columns to keep for tooltips and for the table behind the chart, where they are there. */
  readonly also: readonly string[];
}

/**
 * Picks the rows of `table` that have every number of `wanted`; how many were left out is `of` less the rows drawn.
 *
 * A row whose group is missing is drawn in a group called "KIND missing".
 */
export function drawnRows(table: Table, wanted: DrawnColumns): Drawn {
  const numbers = wanted.numbers.map((name) => numbersOf(table, name));
  const kept: number[] = [];
  for (let row = 0; row < table.rowCount; row++)
    if (numbers.every((column) => Number.isFinite(column.values[row]))) kept.push(row);
  const rows = Int32Array.from(kept);
  const others = [...new Set([...wanted.also, ...wanted.numbers])];
  const told = wanted.by === null ? undefined : findColumn(table, wanted.by);
  // A number that is drawn as well keeps its column, so that its groups have one of their own.
  const by = told !== undefined && told.kind === "number" && others.includes(told.name) ? `${told.name} as group` : wanted.by;
  const columns = [
    ...(told === undefined || by === null ? [] : [asGroups(takeRows(told, rows), by)]),
    ...others.flatMap((name) => (name === by ? [] : (findColumn(table, name) ?? []))).map((column) => takeRows(column, rows)),
  ];
  const drawn = makeTable(columns, rows.length, table);
  const listed = listedHeads(drawn, by);
  const groups = groupsOf(drawn, by, listed);
  return {
    table: drawn,
    by,
    groups,
    marked: markedBy(groups, listed),
    of: table.rowCount,
    player: playerOf(table, rows),
    noun: table.sessions.length > 0 ? "shots" : "rows",
  };
}

/** The player of each of the picked rows: of its own column, else of its session. */
function playerOf(table: Table, rows: Int32Array): Drawn["player"] {
  const player = findColumn(table, "player");
  if (player?.kind === "text") return (row) => player.labels[player.codes[rows[row]!]!] ?? null;
  const session = findColumn(table, "session");
  if (session?.kind !== "text") return () => null;
  const players = new Map(table.sessions.map(({ name, player: who }) => [name, who]));
  return (row) => players.get(session.labels[session.codes[rows[row]!]!] ?? "") ?? null;
}

/** The number column `name`. @throws {RangeError} when there is none: a chart is built only when what it needs is there. */
export function numbersOf(table: Table, name: string): NumberColumn {
  const column = findColumn(table, name);
  if (column?.kind !== "number") throw new RangeError(`no number column ${name}`);
  return column;
}

function asGroups(column: Column, name: string): Column {
  const length = column.kind === "text" ? column.codes.length : column.values.length;
  const missing = `${column.name} missing`;
  const values = Array.from({ length }, (_, row) => harmless(String(valueAt(column, row) ?? missing)));
  return textColumn(name, values, column.origin);
}

function groupsOf(table: Table, by: string | null, listed: readonly string[]): Group[] {
  const column = by === null ? undefined : findColumn(table, by);
  if (column?.kind !== "text")
    return table.rowCount === 0 ? [] : [{ label: "", rows: Array.from({ length: table.rowCount }, (_, row) => row) }];
  const rows = column.labels.map((): number[] => []);
  column.codes.forEach((code, row) => rows[code]!.push(row));
  const places = new Map(listed.map((label, place) => [label, place]));
  const placeOf = ({ label }: Group): number => places.get(label) ?? listed.length;
  return column.labels
    .map((label, code) => ({ label, rows: rows[code]! }))
    .filter((group) => group.rows.length > 0)
    .sort((a, b) => placeOf(a) - placeOf(b) || inOrder(a.label, b.label));
}

/** The heads of the sessions in the order in which these list them; empty where rows are grouped by something else. */
function listedHeads(table: Table, by: string | null): readonly string[] {
  return by === "head" ? [...new Set(table.sessions.flatMap((session) => session.heads.map((head) => harmless(head.name))))] : [];
}

/** A head keeps its colour and shape where others are not drawn, as long as there are enough of them for all. */
function markedBy(groups: readonly Group[], listed: readonly string[]): readonly string[] {
  const labels = groups.map(({ label }) => label);
  const all = [...new Set([...listed, ...labels])];
  return all.length > mostMarks ? labels : all;
}

/** Order of labels without regard to locale: numbers by size, all else by code units. */
export function inOrder(a: string, b: string): number {
  const difference = Number(a) - Number(b);
  if (a.trim() !== "" && b.trim() !== "" && difference !== 0 && !Number.isNaN(difference)) return difference;
  return a < b ? -1 : a > b ? 1 : 0;
}
