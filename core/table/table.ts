import type { Unit } from "../units";
import type { SessionFacts } from "../session/session-facts";
import type { ColumnOrigin } from "./column-origin";

export type { ColumnOrigin };

/** What a column holds. Dates and times stay text until a verb needs them. */
export type ColumnKind = "number" | "text" | "truth";

interface ColumnFacts {
  readonly name: string;
  readonly origin: ColumnOrigin;
}

/** Numbers. `values` holds one a row; `NaN` stands for missing and for nothing else, and is never shown as such. */
export interface NumberColumn extends ColumnFacts {
  readonly kind: "number";
  /** The unit of every value; `null` for a pure number. */
  readonly unit: Unit | null;
  readonly values: Float64Array;
  /** Decimals in which its numbers are shown, for estimates whose uncertainty says it; absent where the values themselves do. */
  readonly digits?: number;
}

/** Text, dictionary-coded: `labels[codes[row]]`; the code −1 stands for missing. Labels are distinct. */
export interface TextColumn extends ColumnFacts {
  readonly kind: "text";
  readonly codes: Int32Array;
  readonly labels: readonly string[];
}

/** Truth values: 1 true, 0 false, −1 missing. */
export interface TruthColumn extends ColumnFacts {
  readonly kind: "truth";
  readonly values: Int8Array;
}

/** One typed column of a table. */
export type Column = NumberColumn | TextColumn | TruthColumn;

/** What a trade verb says beside its rows. */
export interface Report {
  /** The method, named, with its confidence. */
  readonly method: string;
  /** The confidence of the intervals `from` to `to`, 0..1; absent where there are none. */
  readonly confidence?: number;
  /** Whole sentences for a reader, numbers with units. */
  readonly sentences: readonly string[];
  /** How many of the first sentences are the answer, the others being its details; absent when all of them are. */
  readonly answer?: number;
  /** Columns that are there but not shown until asked for. */
  readonly hidden: readonly string[];
  /** The default picture; `null` when the verb has none. */
  readonly picture: Chart | null;
}

/** A chart: a Vega-Lite specification without data, the table it draws, and what it shows in words. */
export interface Chart {
  readonly type: "chart";
  readonly spec: Readonly<Record<string, unknown>>;
  readonly table: Table;
  readonly description: string;
}

/**
 * A value of a notebook: typed columns of equal length in a fixed order.
 *
 * Tables and their arrays are never modified once made. `sessions` are the sessions whose shots the rows come
 * from; empty for a table that has no shots behind it. `groupedBy` names the columns that the next verb groups by.
 */
export interface Table {
  readonly type: "table";
  readonly columns: readonly Column[];
  readonly rowCount: number;
  readonly sessions: readonly SessionFacts[];
  /** The sessions behind the numbers of a table whose rows are no shots (a summary); absent when `sessions` says it. */
  readonly behind?: readonly SessionFacts[];
  readonly groupedBy: readonly string[];
  readonly report: Report | null;
}

/** Returns a table of the given columns, with the sessions of `from` and no grouping. */
export function makeTable(
  columns: readonly Column[],
  rowCount: number,
  from: { readonly sessions: readonly SessionFacts[]; readonly behind?: readonly SessionFacts[] } = { sessions: [] },
  report: Report | null = null,
): Table {
  for (const column of columns) {
    if (columnLength(column) !== rowCount)
      throw new RangeError(`column ${column.name} has ${columnLength(column)} rows, the table ${rowCount}`);
  }
  const behind = from.behind === undefined ? {} : { behind: from.behind };
  return { type: "table", columns, rowCount, sessions: from.sessions, ...behind, groupedBy: [], report };
}

/** The sessions whose shots a table's numbers were made from, whether or not its rows are shots. */
export function sessionsBehind(table: Pick<Table, "sessions" | "behind">): readonly SessionFacts[] {
  return table.behind ?? table.sessions;
}

/** What a summary of `table` remembers of it: its rows are no shots any more, but its numbers come from them. */
export function summaryOf(table: Table): { readonly sessions: readonly SessionFacts[]; readonly behind: readonly SessionFacts[] } {
  return { sessions: [], behind: sessionsBehind(table) };
}

/** The column called `name`, or `undefined`. */
export function findColumn(table: Table, name: string): Column | undefined {
  return table.columns.find((column) => column.name === name);
}

/** The number of rows of a column. */
export function columnLength(column: Column): number {
  return column.kind === "text" ? column.codes.length : column.values.length;
}

/** A cell's value as a plain value: number, text, truth value, or `null` when missing. */
export function valueAt(column: Column, row: number): number | string | boolean | null {
  switch (column.kind) {
    case "number": {
      const value = column.values[row]!;
      return Number.isNaN(value) ? null : value;
    }
    case "text": {
      const code = column.codes[row]!;
      return code < 0 ? null : column.labels[code]!;
    }
    case "truth": {
      const value = column.values[row]!;
      return value < 0 ? null : value === 1;
    }
  }
}

/** How many values of the column are missing. */
export function missingCount(column: Column): number {
  let count = 0;
  switch (column.kind) {
    case "number":
      for (const value of column.values) if (Number.isNaN(value)) count++;
      return count;
    case "text":
      for (const code of column.codes) if (code < 0) count++;
      return count;
    case "truth":
      for (const value of column.values) if (value < 0) count++;
      return count;
  }
}

/** Returns a number column; `null` and `NaN` in `values` are missing. An infinity is missing too. */
export function numberColumn(
  name: string,
  values: ArrayLike<number | null>,
  unit: Unit | null = null,
  origin: ColumnOrigin = "computed",
): NumberColumn {
  const data = Float64Array.from(values, (value) => (value === null || !Number.isFinite(value) ? Number.NaN : value));
  return { kind: "number", name, unit, origin, values: data };
}

/** Returns a text column; labels are numbered in order of first appearance. */
export function textColumn(
  name: string,
  values: readonly (string | null)[],
  origin: ColumnOrigin = "computed",
): TextColumn {
  const known = new Map<string, number>();
  const codes = new Int32Array(values.length);
  values.forEach((value, row) => {
    if (value === null) codes[row] = -1;
    else {
      let code = known.get(value);
      if (code === undefined) known.set(value, (code = known.size));
      codes[row] = code;
    }
  });
  return { kind: "text", name, origin, codes, labels: [...known.keys()] };
}

/** Returns a truth column. */
export function truthColumn(
  name: string,
  values: readonly (boolean | null)[],
  origin: ColumnOrigin = "computed",
): TruthColumn {
  return { kind: "truth", name, origin, values: Int8Array.from(values, (v) => (v === null ? -1 : v ? 1 : 0)) };
}

/** The column with only the rows in `rows`, in that order. */
export function takeRows(column: Column, rows: Int32Array): Column {
  switch (column.kind) {
    case "number":
      return { ...column, values: pick(new Float64Array(rows.length), column.values, rows) };
    case "text":
      return { ...column, codes: pick(new Int32Array(rows.length), column.codes, rows) };
    case "truth":
      return { ...column, values: pick(new Int8Array(rows.length), column.values, rows) };
  }
}

function pick<A extends Float64Array | Int32Array | Int8Array>(into: A, from: A, rows: Int32Array): A {
  for (let i = 0; i < rows.length; i++) into[i] = from[rows[i]!]!;
  return into;
}

/** The same column under another name. */
export function renamed(column: Column, name: string): Column {
  return { ...column, name };
}
