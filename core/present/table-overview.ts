import type { Schema } from "../table/schema";
import type { ColumnKind } from "../table/table";
import type { Unit } from "../units";

/** What a table is, for a list of tables: plain data. */
export interface TableOverview {
  /** `null` where they are not counted. */
  readonly rowCount: number | null;
  readonly columns: readonly ColumnOverview[];
  /** True where there may be more columns than are listed. */
  readonly isOpen: boolean;
}

/** One of its columns. */
export interface ColumnOverview {
  readonly name: string;
  readonly kind: ColumnKind;
  readonly unit: Unit | null;
  /** Missing values; `null` where they are not counted. */
  readonly missing: number | null;
}

/** What is known of a table, for a list of tables. */
export function overviewOf({ columns, open, rowCount }: Schema): TableOverview {
  return {
    rowCount: rowCount ?? null,
    columns: columns.map(({ name, kind, unit, missing }) => ({ name, kind, unit, missing: missing ?? null })),
    isOpen: open,
  };
}
