import type { Table } from "../table/table";
import { valueAt } from "../table/table";
import { fieldName, harmless } from "./field-name";

/** A row of a chart's data. */
export type ChartRow = Record<string, number | string | boolean | null>;

/**
 * The rows of a table as a chart's data, made anew at each call: Vega marks the objects that it is given.
 *
 * Fields are named by `fieldName`. Missing is `null`. Numbers have nine digits, more than a screen can show.
 */
export function chartRows(table: Table): ChartRow[] {
  const columns = table.columns.map((column) => ({ column, field: fieldName(column.name) }));
  return Array.from({ length: table.rowCount }, (_, row) => {
    const made: ChartRow = {};
    for (const { column, field } of columns) {
      const value = valueAt(column, row);
      made[field] = typeof value === "number" ? Number(value.toPrecision(9)) : typeof value === "string" ? harmless(value) : value;
    }
    return made;
  });
}
