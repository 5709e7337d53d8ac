import type { SessionFacts } from "../../../core/session/session-facts";
import type { Column, Report, Table } from "../../../core/table/table";
import { makeTable } from "../../../core/table/table";
import { plainSession } from "../../support/session-facts";

/** A session of no shots to speak of, for tables whose rows are made in a test. */
export function sampleSession(changes: Partial<SessionFacts> = {}): SessionFacts {
  return plainSession({ name: "bay-1", file: "sessions/bay-1.session.yaml", date: "2026-03-14", ...changes });
}

/** A table of the given columns, whose row count is that of the first. */
export function sampleTable(columns: readonly Column[], changes: { sessions?: readonly SessionFacts[]; report?: Partial<Report> } = {}): Table {
  const first = columns[0];
  const rowCount = first === undefined ? 0 : first.kind === "text" ? first.codes.length : first.values.length;
  const report = changes.report && { method: "a method", sentences: [], hidden: [], picture: null, ...changes.report };
  return makeTable(columns, rowCount, { sessions: changes.sessions ?? [] }, report ?? null);
}
