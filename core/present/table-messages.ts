import { isRecord } from "../is-record";
import type { ColumnSummary } from "../results/summarise-column";
import type { PageWanted } from "../results/table-store";
import type { PayloadValue } from "./payload";
import type { RowOrder } from "./sort-rows";

/** Rows that one message may bring. */
export const mostPageRows = 2000;

/** What a shown table asks of the store of finished tables. */
export type TableWish =
  | ({ readonly kind: "page" } & PageWanted)
  | { readonly kind: "summary" }
  /** All rows as CSV, written into a file that the person chooses. */
  | { readonly kind: "save"; readonly order: RowOrder }
  /** The export, opened at the line of a shot of a session file; needs no handle. */
  | { readonly kind: "line"; readonly file: string; readonly shot: number };

/** A question of a shown table. The handle is worth something only together with the notebook that it is asked in. */
export interface TableQuestion {
  readonly type: "table";
  readonly question: number;
  readonly handle: string;
  readonly wish: TableWish;
}

/** What it is answered with; `expired` when the rows are not kept any more. */
export type TableReply =
  | { readonly kind: "rows"; readonly rows: readonly (readonly PayloadValue[])[] }
  | { readonly kind: "summary"; readonly columns: readonly ColumnSummary[] }
  | { readonly kind: "said"; readonly text: string }
  | { readonly kind: "expired" };

/** An answer to a shown table. */
export interface TableAnswer {
  readonly type: "table-answer";
  readonly question: number;
  readonly reply: TableReply;
}

/** The question in a value that another program may have sent; `null` when it is none. */
export function readTableQuestion(value: unknown): TableQuestion | null {
  if (!isRecord(value) || value["type"] !== "table") return null;
  const { question, handle } = value;
  const wish = readWish(value["wish"]);
  if (!isCount(question) || typeof handle !== "string" || handle.length > 100 || wish === null) return null;
  return { type: "table", question, handle, wish };
}

function readWish(value: unknown): TableWish | null {
  if (!isRecord(value)) return null;
  const { kind, from, count } = value;
  if (kind === "summary") return { kind };
  const { file, shot } = value;
  if (kind === "line") return typeof file === "string" && file.endsWith(".session.yaml") && Number.isSafeInteger(shot) ? { kind, file, shot: shot as number } : null;
  const order = readOrder(value["order"]);
  if (order === undefined) return null;
  if (kind === "save") return { kind, order };
  if (kind !== "page" || !isCount(from) || !isCount(count) || count > mostPageRows) return null;
  return { kind, order, from, count };
}

function readOrder(value: unknown): RowOrder | undefined {
  if (value === null) return null;
  if (!isRecord(value) || !isCount(value["column"])) return undefined;
  const { column, direction } = value;
  return direction === "ascending" || direction === "descending" ? { column, direction } : undefined;
}

/** The answer in a value that another program may have sent; `null` when it is none. */
export function readTableAnswer(value: unknown): TableAnswer | null {
  if (!isRecord(value) || value["type"] !== "table-answer" || !isCount(value["question"])) return null;
  const reply = readReply(value["reply"]);
  return reply === null ? null : { type: "table-answer", question: value["question"], reply };
}

function readReply(value: unknown): TableReply | null {
  if (!isRecord(value)) return null;
  const { kind, rows, columns, text } = value;
  if (kind === "expired") return { kind };
  if (kind === "said") return typeof text === "string" ? { kind, text } : null;
  if (kind === "rows") return Array.isArray(rows) && rows.length <= mostPageRows && rows.every(isRow) ? { kind, rows } : null;
  if (kind === "summary") return Array.isArray(columns) && columns.every(isSummary) ? { kind, columns } : null;
  return null;
}

function isRow(value: unknown): value is readonly PayloadValue[] {
  return Array.isArray(value) && value.every((each) => each === null || typeof each === "string" || typeof each === "boolean" || Number.isFinite(each));
}

function isSummary(value: unknown): value is ColumnSummary {
  if (!isRecord(value) || !isCount(value["missing"]) || !isCount(value["empty"])) return false;
  const { least, most, distinct, counts, names } = value;
  const isNumber = (each: unknown): boolean => each === null || Number.isFinite(each);
  if (!isNumber(least) || !isNumber(most) || !(distinct === null || isCount(distinct))) return false;
  return Array.isArray(counts) && counts.every(isCount) && Array.isArray(names) && names.every((name) => typeof name === "string");
}

function isCount(value: unknown): value is number {
  return Number.isSafeInteger(value) && (value as number) >= 0;
}
