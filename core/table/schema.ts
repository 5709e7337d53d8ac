import type { Unit } from "../units";
import type { ColumnKind, ColumnOrigin, Table } from "./table";
import { missingCount } from "./table";

/** What is known of a column without its rows. */
export interface ColumnSchema {
  readonly name: string;
  readonly kind: ColumnKind;
  readonly unit: Unit | null;
  readonly origin: ColumnOrigin;
  /** The distinct values of a text column, sorted; absent when not known or more than 200. */
  readonly values?: readonly string[];
  /** Missing values, where counted. */
  readonly missing?: number;
}

/**
 * What is known of a table without running anything.
 *
 * `open` is true when the table may have more columns than are listed (after `pivot`, whose columns come from data).
 */
export interface Schema {
  readonly columns: readonly ColumnSchema[];
  readonly open: boolean;
  readonly groupedBy: readonly string[];
  /** Whether the rows are shots, so that the verbs of the trade have sessions behind them. */
  readonly fromShots: boolean;
  /** Rows, where counted. */
  readonly rowCount?: number;
}

const mostValues = 200;

/** The schema of a table that is at hand. */
export function schemaOf(table: Table): Schema {
  return {
    columns: table.columns.map((column) => ({
      name: column.name,
      kind: column.kind,
      unit: column.kind === "number" ? column.unit : null,
      origin: column.origin,
      missing: missingCount(column),
      ...(column.kind === "text" && column.labels.length <= mostValues ? { values: [...column.labels].sort() } : {}),
    })),
    open: false,
    groupedBy: table.groupedBy,
    fromShots: table.sessions.length > 0,
    rowCount: table.rowCount,
  };
}
