import type { SessionFacts } from "../session/session-facts";
import type { Column, NumberColumn, Report, Table } from "../table/table";
import { findColumn, sessionsBehind, valueAt } from "../table/table";
import { digitsByRow } from "./digits-by-row";
import { digitsForColumn, digitsOfInterval } from "./format-number";
import type { PayloadColumn, PayloadSession, TablePayload } from "./payload";

/**
 * The table as plain JSON: at most `rows` of its rows, the true count beside them, one precision a column.
 *
 * Missing values are `null`; there is no `NaN` and no infinity in it.
 */
export function presentTable(table: Table, rows: number): TablePayload {
  const shown = Math.max(0, Math.min(rows, table.rowCount));
  const sentences = table.report?.sentences ?? [];
  return {
    type: "table",
    columns: presentColumns(table),
    rows: Array.from({ length: shown }, (_, row) => table.columns.map((column) => valueAt(column, row))),
    row_count: table.rowCount,
    method: table.report?.method ?? null,
    sentences,
    ...answerOf(table.report),
    // A verb of the trade says it itself, in its place among the sentences.
    notes: notesOf(table).filter((note) => !sentences.includes(note)),
    ...shotsOf(table),
  };
}

/** The sessions of a table whose rows are shots by their numbers, so that they can be set aside where they are kept. */
function shotsOf(table: Table): { readonly sessions?: readonly PayloadSession[] } {
  const kept = table.sessions.filter((session) => session.file !== "");
  if (kept.length === 0 || findColumn(table, "shot")?.kind !== "number") return {};
  if (table.sessions.length > 1 && findColumn(table, "session")?.kind !== "text") return {};
  return { sessions: kept.map(({ name, file }) => ({ name, file })) };
}

function answerOf(report: Report | null): { readonly answer?: number } {
  if (report?.answer === undefined || report.answer >= report.sentences.length) return {};
  return { answer: Math.max(0, report.answer) };
}

/**
 * What a reader must know of the data behind a table: which sessions are invented, and where values that were set aside
 * are back. Empty when there is no such thing.
 */
export function notesOf(table: Pick<Table, "sessions" | "behind">): readonly string[] {
  const sessions = sessionsBehind(table);
  return [...putBackNote(sessions), ...inventedNote(sessions)];
}

function putBackNote(sessions: readonly SessionFacts[]): readonly string[] {
  const names = sessions.filter((session) => session.hasPutBack === true).map((session) => session.name);
  if (names.length === 0) return [];
  return [names.length === sessions.length ? "With values that were set aside put back." : `With values of ${names.join(", ")} that were set aside put back.`];
}

function inventedNote(sessions: readonly SessionFacts[]): readonly string[] {
  const invented = sessions.filter((session) => session.synthetic).map((session) => session.name);
  if (invented.length === 0) return [];
  if (invented.length === sessions.length) return ["Synthetic data: no shot behind these numbers was hit."];
  return [`Partly synthetic data: no shot of ${invented.join(", ")} was hit.`];
}

function presentColumns(table: Table): PayloadColumn[] {
  const hidden = new Set(table.report?.hidden);
  const ofIntervals = intervalDigits(table);
  const ofRows = digitsByRow(table);
  return table.columns.map((column) => ({
    name: column.name,
    kind: column.kind,
    unit: column.kind === "number" ? column.unit : null,
    origin: column.origin,
    digits: column.kind === "number" ? (ofIntervals.get(column) ?? column.digits ?? digitsForColumn(column)) : null,
    ...(column.kind === "number" && ofRows.has(column) ? { digitsBy: ofRows.get(column)! } : {}),
    hidden: hidden.has(column.name),
  }));
}

/**
 * The table with the decimals of its estimates kept in their columns, so that rows of it taken by themselves have the
 * decimals of the whole.
 */
export function withDigits(table: Table): Table {
  const digits = intervalDigits(table);
  if (digits.size === 0) return table;
  const keep = (column: Column): Column => (column.kind === "number" && digits.has(column) ? { ...column, digits: digits.get(column)! } : column);
  return { ...table, columns: table.columns.map(keep) };
}

/**
 * Decimals of a table with intervals: an estimate and its bounds have the same, from half the interval's width,
 * which is about two standard errors. A column that has decimals of its own, such as a margin as it was stated, keeps them.
 */
function intervalDigits(table: Table): ReadonlyMap<NumberColumn, number> {
  const from = findColumn(table, "from");
  const to = findColumn(table, "to");
  if (table.report === null || from?.kind !== "number" || to?.kind !== "number") return new Map();
  const digits = digitsOfInterval(from, to);
  if (digits === null) return new Map();
  const alike = table.columns.filter(
    (column): column is NumberColumn => column.kind === "number" && column.origin === "computed" && column.unit === from.unit && column.digits === undefined,
  );
  // A pure number need not be one of the estimate's kind (counts and shares are pure numbers as well).
  return new Map((from.unit === null ? [from, to] : alike).map((column) => [column, digits]));
}
