import type { NumberColumn, Table, TextColumn } from "../table/table";
import { findColumn, takeRows } from "../table/table";
import { parseUnit } from "../units";
import { digitsAmongReadings, digitsForColumn } from "./format-number";
import type { DigitsBy } from "./payload";

/**
 * Decimals by row, for the columns of a table whose rows tell different things in different units: one that a verb made
 * with the columns `of` or `column`, what a row is of, and `unit`, the unit of its numbers. Rows of one thing have the same decimals.
 *
 * Estimates and their bounds `from` and `to` have those that their intervals bear, as far as readings need them. Counts
 * are left out: a column of whole numbers alone needs no decimals.
 */
export function digitsByRow(table: Table): ReadonlyMap<NumberColumn, DigitsBy> {
  const [of, unit] = [findColumn(table, "of") ?? findColumn(table, "column"), findColumn(table, "unit")];
  if (of?.kind !== "text" || unit?.kind !== "text" || of.origin !== "computed" || unit.origin !== "computed") return new Map();
  const things = rowsByText(of);
  const measures = table.columns.filter(
    (column): column is NumberColumn => column.kind === "number" && column.unit === null && !isOfWholeNumbers(column),
  );
  return new Map(
    measures.map((column) => {
      const digits = things.map(({ text, rows }) => [text, digitsAmong(table, column, unit, rows)] as const);
      return [column, { column: table.columns.indexOf(of), digits: Object.fromEntries(digits) }];
    }),
  );
}

function rowsByText(column: TextColumn): readonly { readonly text: string; readonly rows: Int32Array }[] {
  const rows: number[][] = column.labels.map(() => []);
  column.codes.forEach((code, row) => rows[code]?.push(row));
  return column.labels.map((text, code) => ({ text, rows: Int32Array.from(rows[code]!) }));
}

function digitsAmong(table: Table, column: NumberColumn, unit: TextColumn, rows: Int32Array): number {
  const among = (name: string): NumberColumn | null => {
    const found = findColumn(table, name);
    return found?.kind === "number" ? (takeRows(found, rows) as NumberColumn) : null;
  };
  const label = unit.labels[unit.codes[rows[0] ?? -1] ?? -1];
  const own = label === undefined ? null : (parseUnit(label) ?? null);
  const [from, to] = [among("from"), among("to")];
  const ofInterval = from === null || to === null ? null : digitsAmongReadings(from, to, own);
  return ofInterval ?? digitsForColumn({ ...(takeRows(column, rows) as NumberColumn), unit: own });
}

function isOfWholeNumbers(column: NumberColumn): boolean {
  return column.values.every((value) => Number.isNaN(value) || Number.isInteger(value));
}
