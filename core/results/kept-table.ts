import type { Column, Table } from "../table/table";
import { columnLength } from "../table/table";

/** The rows of a finished table by themselves: what paging through them needs, and nothing of how they were made. */
export interface KeptTable {
  readonly columns: readonly Column[];
  readonly rowCount: number;
}

/** The rows of a table. Nothing is copied. */
export function keptTable({ columns, rowCount }: Table): KeptTable {
  return { columns, rowCount };
}

/** Bytes that a kept table takes, texts counted at two bytes a unit and what an object of theirs takes. */
export function bytesOf({ columns }: KeptTable): number {
  return columns.reduce((sum, column) => sum + bytesOfColumn(column), 0);
}

function bytesOfColumn(column: Column): number {
  if (column.kind !== "text") return column.values.BYTES_PER_ELEMENT * columnLength(column);
  return column.codes.byteLength + column.labels.reduce((sum, label) => sum + 32 + 2 * label.length, 0);
}
