import type { ShotColumn } from "../../core/table/shot-columns";
import type { Table } from "../../core/table/table";
import { findColumn } from "../../core/table/table";

/** The table with one value of one column changed for the shots named; shots are numbered from 1 in the order of the rows. */
export function withValues(table: Table, column: ShotColumn, shots: readonly number[], change: (value: number, shot: number) => number): Table {
  const from = findColumn(table, column);
  if (from?.kind !== "number") throw new Error(`no column ${column}`);
  const values = from.values.map((value, row) => (shots.includes(row + 1) ? change(value, row + 1) : value));
  return { ...table, columns: table.columns.map((each) => (each === from ? { ...from, values } : each)) };
}
