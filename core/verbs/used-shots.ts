import type { RunContext } from "../query/vocabulary";
import type { SessionFacts } from "../session/session-facts";
import type { Table, TextColumn } from "../table/table";
import { findColumn, sessionsBehind } from "../table/table";
import type { Refused } from "./verb-problem";
import { refuse, verbProblem } from "./verb-problem";

/** The shots of a table that a verb of the trade looks at, told apart by group, session and stint. */
export interface UsedShots {
  /** Rows of the table, in order; the columns below have one entry for each. */
  readonly rows: Int32Array;
  readonly group: Int32Array;
  readonly session: Int32Array;
  /** Stint numbers; `null` when the hitting order is not known or the table has no stints any more. */
  readonly stint: Float64Array | null;
  /** When each shot was hit, 0 for the first and 1 for the last used of its session, by rank; all 0 when the order is not known. */
  readonly time: Float64Array;
  /** Names of the groups: heads in the order in which the sessions list them, then by first appearance. */
  readonly groups: readonly string[];
  /** Names of the table's sessions, by the numbers in `session`. */
  readonly sessionNames: readonly string[];
  /** The sessions that the used shots come from. */
  readonly sessions: readonly SessionFacts[];
  /** How many players hit them; `null` when it is not known whether it was one. */
  readonly players: number | null;
  /** What was left out, in sentences with counts. */
  readonly sentences: readonly string[];
}

/**
 * The shots of `table` that a verb looks at when it tells groups apart by the column `by`.
 *
 * Stock shots only where the table has intents, unless it tells intents apart or has no stock shot at all; rows
 * without a group are left out. Both are said. Several players are never taken together, and no shot is taken twice.
 * What cannot be made sure of, since the table has lost the columns for it, is warned of.
 *
 * @param also intents that count beside stock, for a question that shots hit so on purpose answer best.
 */
export function usedShots(
  table: Table,
  by: TextColumn,
  verb: string,
  context: Pick<RunContext, "warn">,
  also: readonly string[] = [],
): UsedShots | Refused {
  const sentences: string[] = [];
  const grouped = withGroup(table, by, sentences);
  if (table.sessions.length === 0 && sessionsBehind(table).length > 0) return refuse(null, "trade.not-shots", { verb });
  const counted = findColumn(table, "stint");
  if (counted !== undefined && counted.origin !== "derived") return refuse(null, "trade.computed-stint", {});
  const rows = stockOf(table, by, grouped, sentences, also);
  if (rows.length === 0) return refuse("by", "trade.no-shots", { by: by.name, rows: table.rowCount });

  const session = sessionOf(table, rows);
  if (session === null) return refuse(null, "trade.no-session-column", { sessions: table.sessions.map((each) => each.name) });
  const numbers = new Set(session);
  const sessions = table.sessions.filter((_, i) => numbers.has(i));
  const players = playersOf(table, rows, sessions);
  if (players.length > 1 && by.name !== "player") return refuse(null, "trade.several-players", { players });

  const groups = groupNames(by, rows, sessions);
  const places = new Map(groups.map((name, place) => [name, place]));
  const group = rows.map((row) => places.get(by.labels[by.codes[row]!]!)!);
  const repeated = repeatedShots(table, rows, session, group);
  if (repeated !== null) return refuse(null, "trade.repeated-shots", repeated);
  const lost = lostColumns(table);
  if (lost.length > 0) context.warn(verbProblem(null, "trade.lost-columns", { columns: lost }));
  const stint = stintOf(table, rows, sessions);
  return {
    rows,
    group,
    session,
    stint,
    time: stint === null ? new Float64Array(rows.length) : timeOf(table, rows, session, stint),
    groups,
    sessionNames: table.sessions.map((each) => each.name),
    sessions,
    players: isPlayerKnown(table, rows) ? players.length : null,
    sentences,
  };
}

function withGroup(table: Table, by: TextColumn, sentences: string[]): Int32Array {
  const rows = rowsWhere(table.rowCount, (row) => by.codes[row]! >= 0);
  const left = table.rowCount - rows.length;
  if (left > 0) sentences.push(`${left} of ${table.rowCount} shots ${left === 1 ? `has no ${by.name} and is` : `have no ${by.name} and are`} left out.`);
  return rows;
}

function stockOf(table: Table, by: TextColumn, rows: Int32Array, sentences: string[], also: readonly string[]): Int32Array {
  const intent = findColumn(table, "intent");
  if (intent === undefined && table.sessions.length > 0 && rows.length > 0)
    sentences.push("The table no longer has the column intent: all shots are used, those that are no stock shots among them.");
  if (intent?.kind !== "text" || by.name === "intent" || rows.length === 0) return rows;
  // A shot whose intent is not stated is a stock shot: that is what the column means.
  const others = new Map<string, number>();
  const found = new Set<string>();
  const stock = rows.filter((row) => {
    const label = intent.labels[intent.codes[row]!] ?? "stock";
    const counts = label === "stock" || also.includes(label);
    if (counts) found.add(label);
    else others.set(label, (others.get(label) ?? 0) + 1);
    return counts;
  });
  const counts = [...others].map(([label, count]) => `${count} ${label}`).join(", ");
  if (stock.length === 0) {
    sentences.push(`None of the ${rows.length} shots is a stock shot; all of them are used (${counts}).`);
    return rows;
  }
  const kinds = ["stock", ...also].filter((label) => found.has(label)).join(", ");
  sentences.push(
    stock.length === rows.length
      ? `All ${rows.length} shots are ${kinds} shots.`
      : `${kinds.charAt(0).toUpperCase()}${kinds.slice(1)} shots only: ${stock.length} of ${rows.length}; left out: ${counts}.`,
  );
  return stock;
}

/** The number of each row's session among the table's; `null` when several are behind it and it does not say which. */
export function sessionOf(table: Table, rows: Int32Array): Int32Array | null {
  if (table.sessions.length < 2) return new Int32Array(rows.length);
  const column = findColumn(table, "session");
  if (column?.kind !== "text") return null;
  const numbers = new Map(table.sessions.map((session, i) => [session.name, i]));
  const session = rows.map((row) => numbers.get(column.labels[column.codes[row]!] ?? "") ?? -1);
  return session.includes(-1) ? null : session;
}

function playersOf(table: Table, rows: Int32Array, sessions: readonly SessionFacts[]): readonly string[] {
  const column = findColumn(table, "player");
  const stated = column?.kind === "text" ? Array.from(rows, (row) => column.labels[column.codes[row]!]) : sessions.map((session) => session.player);
  return [...new Set(stated)].filter((player) => typeof player === "string");
}

/** False when the table does not say of every row who hit it. */
function isPlayerKnown(table: Table, rows: Int32Array): boolean {
  const column = findColumn(table, "player");
  return column?.kind === "text" && rows.every((row) => column.codes[row]! >= 0);
}

/** Columns that a session's table always has, this one no longer, and without which something cannot be made sure of. */
function lostColumns(table: Table): readonly string[] {
  if (table.sessions.length === 0) return [];
  const kept = table.sessions.some((session) => session.player !== null) ? ["intent", "player", "shot"] : ["intent", "shot"];
  return kept.filter((name) => findColumn(table, name) === undefined);
}

/** How many rows are of a shot that the same group has already, and the first such shot; `null` when there is none. */
export function repeatedShots(
  table: Table,
  rows: Int32Array,
  session: Int32Array,
  group: Int32Array,
): { readonly count: number; readonly shot: number; readonly session: string } | null {
  const shot = findColumn(table, "shot");
  if (shot?.kind !== "number" || table.sessions.length === 0) return null;
  const seen = new Map<number, Set<number>>();
  let count = 0;
  let first = -1;
  rows.forEach((row, i) => {
    if (Number.isNaN(shot.values[row]!)) return;
    const place = group[i]! * table.sessions.length + session[i]!;
    const known = seen.get(place) ?? new Set();
    seen.set(place, known);
    if (!known.has(shot.values[row]!)) known.add(shot.values[row]!);
    else if (count++ === 0) first = i;
  });
  return first < 0 ? null : { count, shot: shot.values[rows[first]!]!, session: table.sessions[session[first]!]!.name };
}

function stintOf(table: Table, rows: Int32Array, sessions: readonly SessionFacts[]): Float64Array | null {
  const column = findColumn(table, "stint");
  if (column?.kind !== "number" || sessions.some((session) => !session.orderKnown)) return null;
  const stint = Float64Array.from(rows, (row) => column.values[row]!);
  return stint.some(Number.isNaN) ? null : stint;
}

/** Ranks in each session by shot number, or by stint and row where the table no longer has the numbers, from 0 to 1. */
function timeOf(table: Table, rows: Int32Array, session: Int32Array, stint: Float64Array): Float64Array {
  const shot = findColumn(table, "shot");
  const number = (i: number): number => (shot?.kind === "number" ? shot.values[rows[i]!]! : Number.NaN);
  const time = new Float64Array(rows.length);
  for (const one of new Set(session)) {
    const own = Array.from(rows.keys()).filter((i) => session[i] === one);
    own.sort((a, b) => number(a) - number(b) || stint[a]! - stint[b]! || a - b);
    own.forEach((i, rank) => (time[i] = own.length < 2 ? 0 : rank / (own.length - 1)));
  }
  return time;
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
