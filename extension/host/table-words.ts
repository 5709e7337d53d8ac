import { unitLabel } from "../../core/present/format-number";
import type { ColumnOverview, TableOverview } from "../../core/present/table-overview";

/** `102 rows × 12 columns`; what is not known is said to be so. */
export function sizeInWords(table: TableOverview | null): string {
  if (table === null) return "columns not known";
  const { rowCount, columns, isOpen } = table;
  const rows = rowCount === null ? "rows not counted" : counted(rowCount, "row");
  return `${rows} × ${counted(columns.length, "column")}${isOpen ? " or more" : ""}`;
}

/** `yd, 3 missing`: unit or kind, and missing values where there are any. */
export function columnInWords({ kind, unit, missing }: ColumnOverview): string {
  const what = kind === "number" ? (unit === null ? "number" : unitLabel(unit)) : kind === "truth" ? "true or false" : "text";
  return missing === null || missing === 0 ? what : `${what}, ${missing} missing`;
}

function counted(count: number, what: string): string {
  return `${count} ${what}${count === 1 ? "" : "s"}`;
}
