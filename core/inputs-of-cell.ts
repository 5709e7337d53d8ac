import { withPutBack } from "./session/put-back";
import type { Table } from "./table/table";

/** What went into a cell, in numbers for a person. */
export interface CellInputs {
  /** Rows of each table that it takes, in the order in which it names them. */
  readonly rows: readonly number[];
  /** Values set aside among the shots of these tables, each once. */
  readonly setAside: number;
}

/** What goes into a cell that takes these tables. A table whose rows are no shots has no value set aside. */
export function inputsOf(tables: Iterable<Table>): CellInputs {
  const all = [...tables];
  const counts = all.map((table) => (table.sessions.some(({ setAside }) => setAside.length > 0) ? withPutBack(table).count : 0));
  // Tables that a cell joins are mostly parts of one another: the largest is told, and no value twice.
  return { rows: all.map((table) => table.rowCount), setAside: Math.max(0, ...counts) };
}
