import type { Unit } from "../units";
import type { Column, ColumnKind, ColumnOrigin, Table } from "./table";
import { missingCount, sessionsBehind } from "./table";

/** What is known of a column without its rows. */
export interface ColumnSchema {
  readonly name: string;
  readonly kind: ColumnKind;
  readonly unit: Unit | null;
  readonly origin: ColumnOrigin;
  /** The same by session, for a column whose numbers come from elsewhere in one session than in another. */
  readonly originBySession?: readonly SessionOrigin[];
  /** The distinct values of a text column, sorted; absent when not known or more than 200. */
  readonly values?: readonly string[];
  /** Missing values, where counted. */
  readonly missing?: number;
  /** The least and the greatest value of a number column, where looked for; absent when all are missing. Nothing is checked by it. */
  readonly range?: NumberRange;
}

/** Where the numbers of a column come from in one session. */
export interface SessionOrigin {
  readonly session: string;
  readonly origin: ColumnOrigin;
}

/** The least and the greatest of some numbers, in their unit. */
export interface NumberRange {
  readonly low: number;
  readonly high: number;
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
  /** True for a table whose rows are no shots but were made from shots, where that is known. */
  readonly isSummary?: true;
  /** Names of the sessions whose shots the rows are, where known. */
  readonly sessions?: readonly string[];
  /** Rows, where counted. */
  readonly rowCount?: number;
}

/** Distinct values of a text column that a schema lists; where there are more it lists none. */
export const mostValues = 200;

/** The schema of a table of which nothing is known: any column may be there, and the rows may be shots. */
export const nothingKnown: Schema = { columns: [], open: true, groupedBy: [], fromShots: true };

/** What is known where no column can be named: there is none. */
export const withoutColumns: Schema = { columns: [], open: false, groupedBy: [], fromShots: false };

/** The schema of a table that is at hand, with what its rows hold. */
export function schemaOf(table: Table): Schema {
  const shape = shapeOf(table);
  const columns = table.columns.map((column, index) => ({
    ...shape.columns[index]!,
    ...originBySession(column, table),
    ...(column.kind === "number" ? numberFacts(column.values) : { missing: missingCount(column) }),
    ...(column.kind === "text" && column.labels.length <= mostValues ? { values: [...column.labels].sort() } : {}),
  }));
  return { ...shape, columns, rowCount: table.rowCount };
}

/** Where a column's numbers come from in each session, if not from the same in all that have it. */
function originBySession({ name, origin }: Column, { sessions }: Table): Pick<ColumnSchema, "originBySession"> {
  if (origin === "computed" || sessions.length < 2) return {};
  const known = sessions.flatMap(({ name: session, origins = {} }): SessionOrigin[] => (Object.hasOwn(origins, name) ? [{ session, origin: origins[name]! }] : []));
  return new Set(known.map((each) => each.origin)).size > 1 ? { originBySession: known } : {};
}

/** Names, kinds and units of a table's columns, without looking at any row: what a verb's arguments are checked against. */
export function shapeOf(table: Table): Schema {
  return {
    columns: table.columns.map((column) => ({
      name: column.name,
      kind: column.kind,
      unit: column.kind === "number" ? column.unit : null,
      origin: column.origin,
    })),
    open: false,
    groupedBy: table.groupedBy,
    fromShots: table.sessions.length > 0,
    ...(table.sessions.length === 0 && sessionsBehind(table).length > 0 ? { isSummary: true } : {}),
    sessions: table.sessions.map(({ name }) => name),
  };
}

/** Missing values and range of a column's numbers, in one pass; no range when all are missing. */
export function numberFacts(values: Float64Array): { readonly missing: number; readonly range?: NumberRange } {
  let missing = 0;
  let low = Infinity;
  let high = -Infinity;
  for (const value of values) {
    if (Number.isNaN(value)) missing++;
    else {
      if (value < low) low = value;
      if (value > high) high = value;
    }
  }
  // A zero has no sign to show.
  return missing === values.length ? { missing } : { missing, range: { low: low + 0, high: high + 0 } };
}
