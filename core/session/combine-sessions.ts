import type { Checked, Problem } from "../problem";
import { problem } from "../problem";
import { joinColumns } from "../table/join-columns";
import { shotColumnFacts, shotColumnNames } from "../table/shot-columns";
import type { Column, Table } from "../table/table";
import { makeTable } from "../table/table";
import { textStart } from "../text-position";

/**
 * One table of several sessions' shots: columns by name, missing where a session lacks one, rows in the order given.
 *
 * Numbers are converted to the unit of the first table that has the column. `null` for no tables, and when a session
 * is there twice: its shots would count twice. Problems stand at the beginning of whatever text named the sessions.
 */
export function combineTables(tables: readonly Table[]): Checked<Table | null> {
  const [first] = tables;
  if (first === undefined) return { value: null, problems: [] };
  const problems = twice(tables);
  if (problems.length > 0) return { value: null, problems };
  if (tables.length === 1) return { value: first, problems: [] };
  const sessions = tables.flatMap((table) => table.sessions);
  const rowCount = tables.reduce((sum, table) => sum + table.rowCount, 0);
  const players = [...new Set(sessions.map((session) => session.player).filter((player) => player !== null))];
  const several: Problem[] = players.length > 1 ? [problem("session.two-players", { players }, textStart)] : [];
  return { value: makeTable(inUsualOrder(joinColumns(tables)), rowCount, { sessions }), problems: several };
}

function twice(tables: readonly Table[]): Problem[] {
  const known = new Map<string, string>();
  return tables.flatMap((table) => table.sessions).flatMap(({ name, file }) => {
    const words = file === "" ? "a session file" : file;
    const first = known.get(name);
    known.set(name, first ?? words);
    return first === undefined ? [] : [problem("schema.unique", { what: "session", value: name, first, second: words }, textStart)];
  });
}

function inUsualOrder(columns: readonly Column[]): Column[] {
  const usual = shotColumnNames.flatMap((name) => columns.find((column) => column.name === name) ?? []);
  return [...usual, ...columns.filter((column) => shotColumnFacts(column.name) === undefined)];
}
