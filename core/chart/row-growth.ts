import type { Table } from "../table/table";
import { findColumn } from "../table/table";

/** How a transform changes the number of rows, from above. */
export type RowGrowth =
  /** Each row becomes as many, at most. */
  | { readonly kind: "each row"; readonly rows: number }
  /** Each group becomes as many rows, at most. */
  | { readonly kind: "each group"; readonly groupby: readonly Grouping[]; readonly rows: number }
  /** Each group gets a row for every value of the key, and for the values written out. */
  | { readonly kind: "each key"; readonly fills: string; readonly key: Grouping; readonly groupby: readonly Grouping[]; readonly written: number };

/** A column of the table that groups; `null` for one that a transform makes, which can have as many values as rows. */
export type Grouping = string | null;

/**
 * The most rows that there can be anywhere along a chain of transforms of `table`, its own rows included.
 *
 * Groups are counted as if every combination of their columns' values occurred, but never more of them than rows.
 */
export function mostRows(chain: readonly RowGrowth[], table: Table): number {
  const counted = new Map<string, number>();
  // Values that a transform fills in need not be among the table's.
  const filled = new Set<string>();
  const valuesOf = (column: Grouping, rows: number): number => {
    const own = column === null || filled.has(column) ? undefined : findColumn(table, column);
    if (own === undefined) return rows;
    const count = counted.get(own.name) ?? new Set<number>(own.kind === "text" ? own.codes : own.values).size;
    counted.set(own.name, count);
    return Math.min(rows, count);
  };
  const groupsOf = (groupby: readonly Grouping[], rows: number): number =>
    groupby.reduce((groups, column) => Math.min(rows, groups * valuesOf(column, rows)), 1);

  let rows = table.rowCount;
  let most = rows;
  for (const step of chain) {
    if (step.kind === "each row") rows *= step.rows;
    else if (step.kind === "each group") rows = step.rows * groupsOf(step.groupby, rows);
    else {
      rows += (valuesOf(step.key, rows) + step.written) * groupsOf(step.groupby, rows);
      filled.add(step.fills);
    }
    most = Math.max(most, rows);
  }
  return most;
}
