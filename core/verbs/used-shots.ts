import type { SessionFacts } from "../session/session-facts";
import type { Table, TextColumn } from "../table/table";
import { findColumn } from "../table/table";
import type { Refused } from "./verb-problem";
import { refuse } from "./verb-problem";

/** The shots of a table that a verb of the trade looks at, told apart by group, session and stint. */
export interface UsedShots {
  /** Rows of the table, in order; the columns below have one entry for each. */
  readonly rows: Int32Array;
  readonly group: Int32Array;
  readonly session: Int32Array;
  /** Stint numbers; `null` when the hitting order is not known or the table has no stints any more. */
  readonly stint: Float64Array | null;
  /** Names of the groups: heads in the order in which the sessions list them, then by first appearance. */
  readonly groups: readonly string[];
  /** Names of the table's sessions, by the numbers in `session`. */
  readonly sessionNames: readonly string[];
  /** The sessions that the used shots come from. */
  readonly sessions: readonly SessionFacts[];
  readonly players: number;
  /** What was left out, in sentences with counts. */
  readonly sentences: readonly string[];
}

/**
 * The shots of `table` that a verb looks at when it tells groups apart by the column `by`.
 *
 * Stock shots only where the table has intents, unless it tells intents apart or has no stock shot at all; rows
 * without a group are left out. Both are said. Several players are never taken together.
 */
export function usedShots(table: Table, by: TextColumn): UsedShots | Refused {
  const sentences: string[] = [];
  const grouped = withGroup(table, by, sentences);
  const rows = stockOf(table, by, grouped, sentences);
  if (rows.length === 0) return refuse("by", "trade.no-shots", { by: by.name });

  const session = sessionOf(table, rows);
  if (session === null) return refuse(null, "trade.no-session-column", { sessions: table.sessions.map((each) => each.name) });
  const sessions = table.sessions.filter((_, i) => session.includes(i));
  const players = playersOf(table, rows, sessions);
  if (players.length > 1 && by.name !== "player") return refuse(null, "trade.several-players", { players });

  const groups = groupNames(by, rows, sessions);
  const places = by.labels.map((label) => groups.indexOf(label));
  return {
    rows,
    group: rows.map((row) => places[by.codes[row]!]!),
    session,
    stint: stintOf(table, rows, sessions),
    groups,
    sessionNames: table.sessions.map((each) => each.name),
    sessions,
    players: Math.max(1, players.length),
    sentences,
  };
}

function withGroup(table: Table, by: TextColumn, sentences: string[]): Int32Array {
  const rows = rowsWhere(table.rowCount, (row) => by.codes[row]! >= 0);
  const left = table.rowCount - rows.length;
  if (left > 0) sentences.push(`${left} of ${table.rowCount} shots have no ${by.name} and are left out.`);
  return rows;
}

function stockOf(table: Table, by: TextColumn, rows: Int32Array, sentences: string[]): Int32Array {
  const intent = findColumn(table, "intent");
  if (intent?.kind !== "text" || by.name === "intent" || rows.length === 0) return rows;
  // A shot whose intent is not stated is a stock shot: that is what the column means.
  const others = new Map<string, number>();
  const stock = rows.filter((row) => {
    const label = intent.labels[intent.codes[row]!] ?? "stock";
    if (label !== "stock") others.set(label, (others.get(label) ?? 0) + 1);
    return label === "stock";
  });
  const counts = [...others].map(([label, count]) => `${count} ${label}`).join(", ");
  if (stock.length === 0) {
    sentences.push(`None of the ${rows.length} shots is a stock shot; all of them are used (${counts}).`);
    return rows;
  }
  sentences.push(
    stock.length === rows.length
      ? `All ${rows.length} shots are stock shots.`
      : `Stock shots only: ${stock.length} of ${rows.length}; left out: ${counts}.`,
  );
  return stock;
}

/** The number of each row's session among the table's; `null` when several are behind it and it does not say which. */
function sessionOf(table: Table, rows: Int32Array): Int32Array | null {
  if (table.sessions.length < 2) return new Int32Array(rows.length);
  const column = findColumn(table, "session");
  if (column?.kind !== "text") return null;
  const numbers = column.labels.map((label) => table.sessions.findIndex((session) => session.name === label));
  const session = rows.map((row) => numbers[column.codes[row]!] ?? -1);
  return session.includes(-1) ? null : session;
}

function playersOf(table: Table, rows: Int32Array, sessions: readonly SessionFacts[]): readonly string[] {
  const column = findColumn(table, "player");
  const stated = column?.kind === "text" ? Array.from(rows, (row) => column.labels[column.codes[row]!]) : sessions.map((session) => session.player);
  return [...new Set(stated)].filter((player) => typeof player === "string");
}

function stintOf(table: Table, rows: Int32Array, sessions: readonly SessionFacts[]): Float64Array | null {
  const column = findColumn(table, "stint");
  if (column?.kind !== "number" || sessions.some((session) => !session.orderKnown)) return null;
  const stint = Float64Array.from(rows, (row) => column.values[row]!);
  return stint.some(Number.isNaN) ? null : stint;
}

function groupNames(by: TextColumn, rows: Int32Array, sessions: readonly SessionFacts[]): readonly string[] {
  const present = new Set(Array.from(rows, (row) => by.labels[by.codes[row]!]!));
  const listed = by.name === "head" ? sessions.flatMap((session) => session.heads.map((head) => head.name)) : [];
  return [...new Set([...listed.filter((name) => present.has(name)), ...present])];
}

function rowsWhere(count: number, holds: (row: number) => boolean): Int32Array {
  const rows = new Int32Array(count);
  let kept = 0;
  for (let row = 0; row < count; row++) if (holds(row)) rows[kept++] = row;
  return rows.slice(0, kept);
}
