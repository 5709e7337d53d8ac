import type { Problem } from "../problem";
import { inFile, problem } from "../problem";
import { fieldRange } from "../table/delimited-text";
import { cellProblem } from "../table/cell-problem";
import { yamlScalar } from "../yaml-scalar";
import type { ProblemList } from "../table/problem-list";
import type { Column } from "../table/table";
import type { ExportColumn, ExportShots } from "./export-shots";
import type { ShotNumbers } from "./number-shots";

/** The shots of a session while they are put together: columns whose arrays are still our own, in hitting order. */
export interface Draft {
  readonly rowCount: number;
  /** The numbers by which the session names its shots. */
  readonly numbers: ShotNumbers;
  readonly columns: Map<string, Column>;
  readonly exports: readonly ExportShots[];
  /** The place of each row when all exports are put under one another; `null` when it is the row itself. */
  readonly places: Int32Array | null;
  /** By column, the rows whose value is stated by a person or set aside: what the export has there is past history. */
  readonly settled: Map<string, Set<number>>;
}

/** Marks the value of `column` in `row` as settled by a person. */
export function settle(draft: Draft, column: string, row: number): void {
  const rows = draft.settled.get(column);
  if (rows === undefined) draft.settled.set(column, new Set([row]));
  else rows.add(row);
}

/** True when a person has settled the value of `column` in `row`. */
export function isSettled(draft: Draft, column: string, row: number): boolean {
  return draft.settled.get(column)?.has(row) ?? false;
}

/** Where the value of a column in a row of the draft comes from: its export and the shot's place in it. */
export function fieldOf(draft: Draft, column: string, row: number): { shots: ExportShots; read: ExportColumn; row: number } | null {
  let at = draft.places === null ? row : draft.places[row]!;
  for (const shots of draft.exports) {
    if (at < shots.rows.length) {
      const read = shots.columns.get(column);
      return read === undefined ? null : { shots, read, row: at };
    }
    at -= shots.rows.length;
  }
  return null;
}

/** Adds a problem at the field from which the value of `column` in `row` was read. */
export function addAtField(draft: Draft, list: ProblemList, column: string, row: number, code: Problem["code"], make: (range: Problem["range"]) => Problem): void {
  list.add(code, () => {
    const field = fieldOf(draft, column, row);
    if (field === null) throw new RangeError(`${column} of row ${row} comes from no export`);
    return inFile(make(fieldRange(field.shots.text, field.shots.rows[field.row]!, field.read.index)), field.shots.source.file);
  });
}

/** Reports every field that was not the number its column wants, unless a person has settled the value. */
export function reportWrongFields(draft: Draft, list: ProblemList): void {
  const rowOf = rowsOfPlaces(draft);
  let start = 0;
  for (const shots of draft.exports) {
    for (const [name, read] of shots.columns) {
      // Shot numbers are for ordering, and that has reported them.
      if (name === "shot") continue;
      for (const at of read.wrong) {
        if (isSettled(draft, name, rowOf(start + at))) continue;
        const found = cellProblem(shots.text, shots.rows[at]!, read.index, read.form, name);
        list.add(found.code, () => inFile(found, shots.source.file));
      }
    }
    start += shots.rows.length;
  }
}

/** Returns what tells the row of the draft by its place when all exports are put under one another. */
export function rowsOfPlaces({ places }: Draft): (place: number) => number {
  if (places === null) return (place) => place;
  const rows = new Int32Array(places.length);
  places.forEach((place, row) => (rows[place] = row));
  return (place) => rows[place]!;
}

/** Says that a column that a person names is not there. */
export function noSuchColumn(draft: Draft, column: string, range: Problem["range"], near: string | undefined): Problem {
  const columns = [...draft.columns.keys()];
  const fix = near === undefined ? {} : { fix: { title: `Write ${near}`, edits: [{ range, text: yamlScalar(near, "flow") }] } };
  return problem("session.no-such-column", { column, columns, ...(near === undefined ? {} : { near }) }, range, fix);
}
