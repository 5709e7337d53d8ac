import type { Column, Table } from "../table/table";
import { findColumn, valueAt } from "../table/table";
import { convert, isConvertible } from "../units";
import type { PutBackValue, SessionFacts } from "./session-facts";
import { countSetAside } from "./settle-values";

/** A table with the values back that a person had set aside. */
export interface PutBackTable {
  readonly table: Table;
  /** How many values that were set aside are back; those derived from them are not counted. */
  readonly count: number;
  /** How many shots they are of. */
  readonly shots: number;
  /** How many more are of shots that have no row here. */
  readonly elsewhere: number;
}

/**
 * The table as it would be were nothing set aside: the values set aside as the monitor recorded them, and what is
 * derived from them, in the table's frame and units.
 *
 * Only missing values of the shot columns are filled in. Columns that a query computed stay as they are, and no row comes
 * back that was filtered out. Where the table no longer says which shot a row is, nothing is put back.
 *
 * @returns the table itself where nothing is put back.
 */
export function withPutBack(table: Table): PutBackTable {
  const rowsOf = rowsOfShots(table);
  const filled = new Map<string, Column>();
  const shots = new Set<string>();
  let [count, elsewhere] = [0, 0];
  const sessions = table.sessions.map((session, place): SessionFacts => {
    const aside = new Set((session.setAsideValues ?? []).map(nameOf));
    const back = (session.putBack ?? []).filter((value) => {
      const rows = rowsOf(place, value.shot);
      const isBack = rows.filter((row) => fill(table, filled, value, row)).length > 0;
      if (!aside.has(nameOf(value))) return isBack;
      if (rows.length === 0) elsewhere++;
      if (!isBack) return false;
      count++;
      shots.add(`${place} ${value.shot}`);
      return true;
    });
    return back.length === 0 ? session : withoutThese(session, back);
  });
  if (filled.size === 0) return { table, count: 0, shots: 0, elsewhere };
  const columns = table.columns.map((column) => filled.get(column.name) ?? column);
  return { table: { ...table, columns, sessions }, count, shots: shots.size, elsewhere };
}

/** Tells the rows of a shot by the place of its session and its number; none where the table no longer says it. */
function rowsOfShots(table: Table): (session: number, shot: number) => readonly number[] {
  const shot = findColumn(table, "shot");
  const session = table.sessions.length > 1 ? findColumn(table, "session") : null;
  if (shot?.kind !== "number" || (session !== null && session?.kind !== "text")) return () => [];
  const rows = new Map<string, number[]>();
  shot.values.forEach((number, row) => {
    const place = session === null ? 0 : table.sessions.findIndex(({ name }) => name === valueAt(session, row));
    const key = `${place} ${number}`;
    rows.set(key, [...(rows.get(key) ?? []), row]);
  });
  return (place, number) => rows.get(`${place} ${number}`) ?? [];
}

/** Fills a missing value in, in a copy of its column; false where there is no such gap. */
function fill(table: Table, filled: Map<string, Column>, { column: name, value, unit }: PutBackValue, row: number): boolean {
  const column = filled.get(name) ?? findColumn(table, name);
  if (column === undefined || column.origin === "computed" || valueAt(column, row) !== null) return false;
  if (column.kind === "number" && typeof value === "number") {
    if (unit !== column.unit && (unit === null || column.unit === null || !isConvertible(unit, column.unit))) return false;
    const values = filled.has(name) ? column.values : column.values.slice();
    values[row] = unit === null || column.unit === null ? value : convert(value, unit, column.unit);
    filled.set(name, { ...column, values });
    return true;
  }
  if (column.kind !== "text" || typeof value !== "string") return false;
  const codes = filled.has(name) ? column.codes : column.codes.slice();
  const labels = column.labels.includes(value) ? column.labels : [...column.labels, value];
  codes[row] = labels.indexOf(value);
  filled.set(name, { ...column, codes, labels });
  return true;
}

/** The session without what is back in the table. */
function withoutThese(session: SessionFacts, back: readonly PutBackValue[]): SessionFacts {
  const names = new Set(back.map(nameOf));
  const left = <V extends Pick<PutBackValue, "shot" | "column">>(values: readonly V[]): readonly V[] => values.filter((value) => !names.has(nameOf(value)));
  const setAsideValues = left(session.setAsideValues ?? []);
  return { ...session, setAside: countSetAside(setAsideValues), setAsideValues, putBack: left(session.putBack ?? []), hasPutBack: true };
}

function nameOf({ shot, column }: Pick<PutBackValue, "shot" | "column">): string {
  return `${shot} ${column}`;
}
