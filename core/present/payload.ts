import type { ColumnKind, ColumnOrigin } from "../table/table";
import type { Unit } from "../units";

/** A value of a table as it travels: JSON has no `NaN`, so missing is `null`. */
export type PayloadValue = number | string | boolean | null;

/** Decimals of a number by the text that another column has in its row; rows of any other text have the column's own. */
export interface DigitsBy {
  /** The place of that other column. */
  readonly column: number;
  readonly digits: Readonly<Record<string, number>>;
}

/** One column of a presented table. */
export interface PayloadColumn {
  readonly name: string;
  readonly kind: ColumnKind;
  readonly unit: Unit | null;
  readonly origin: ColumnOrigin;
  /** Decimals in which its numbers are shown; `null` for text and truth values. */
  readonly digits: number | null;
  /** Decimals by the text in another column of the row, where rows are of different units; absent where all are alike. */
  readonly digitsBy?: DigitsBy;
  /** True for a column that is there but shown only when asked for. */
  readonly hidden: boolean;
}

/** Where the shots of a table are kept, so that they can be set aside there. */
export interface PayloadSession {
  readonly name: string;
  /** The session file, relative to the root of the notebook's files. */
  readonly file: string;
}

/** A table as outputs, `run --json`, copies and reports get it: plain JSON, numbers in full precision. */
export interface TablePayload {
  readonly type: "table";
  readonly columns: readonly PayloadColumn[];
  /** The first rows; each has one value a column. */
  readonly rows: readonly (readonly PayloadValue[])[];
  /** Rows of the whole table, of which `rows` are the first. */
  readonly row_count: number;
  /** How the numbers were made, with the confidence; `null` for a table that no verb of the trade made. */
  readonly method: string | null;
  /** What the table says, for a reader. */
  readonly sentences: readonly string[];
  /** How many of the first sentences are the answer, the others being its details; absent when all of them are. */
  readonly answer?: number;
  /** What a reader must know about the data behind it, such as that they are synthetic. */
  readonly notes: readonly string[];
  /** The sessions whose shots the rows are, for a table with the column `shot`; absent for any other. */
  readonly sessions?: readonly PayloadSession[];
  /** Where all rows can be had, in an editor, for a table that has more than `rows`; absent everywhere else. */
  readonly handle?: string;
}

/** A chart: a Vega-Lite specification with its data inlined, what it shows in words, and the table it draws. */
export interface ChartPayload {
  readonly type: "chart";
  readonly spec: Readonly<Record<string, unknown>>;
  readonly description: string;
  readonly table: TablePayload;
}

/** Words in Markdown. */
export interface TextPayload {
  readonly type: "text";
  readonly markdown: string;
}

/** Whatever a cell gives, as plain JSON. */
export type ResultPayload = TablePayload | ChartPayload | TextPayload;
