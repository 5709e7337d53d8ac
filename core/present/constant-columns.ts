import type { TablePayload } from "./payload";
import { headingOf, showValue } from "./show-value";

/** Those of the columns that have one value in all rows given, by place; none where there are fewer than two rows. */
export function constantColumns({ rows }: Pick<TablePayload, "rows">, columns: readonly number[]): readonly number[] {
  return rows.length < 2 ? [] : columns.filter((index) => rows.every((row) => row[index] === rows[0]![index]));
}

/**
 * What these columns hold in every row, once: `the same in every row: of = carry, margin (yd) = 3.0`.
 *
 * @returns "" for no columns. Where only the first rows are given it says so.
 */
export function constantInWords(table: TablePayload, columns: readonly number[], shownRows = table.rows.length): string {
  const first = table.rows[0];
  if (columns.length === 0 || first === undefined) return "";
  const same = columns.map((index) => `${headingOf(table.columns[index]!)} = ${showValue(first[index] ?? null, table.columns[index]!, first)}`);
  return `the same in every row${shownRows < table.row_count ? " shown" : ""}: ${same.join(", ")}`;
}
