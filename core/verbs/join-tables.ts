import type { CheckedArgument, Inferred, RunContext, VerbProblem } from "../query/vocabulary";
import type { ColumnSchema, Schema } from "../table/schema";
import { findColumn, sessionsBehind, type Table } from "../table/table";
import { matchedRows } from "./arquero-rows";
import { columnInWords } from "./column-in-words";
import { groupRows } from "./group-rows";
import { pickRows } from "./keep-rows";
import { duplicates, inferred, sessionsAfter, uncounted } from "./schema-after";
import { joinSessions, sessionInTwoAirs, stackColumns } from "./stack-columns";
import { tooLarge } from "./table-size";
import { refuse, unknownText, verbProblem, type Refused } from "./verb-problem";

/** The parameters of every join. */
export const joinParameters = [
  { name: "other", kind: "table", help: "Another table: a cell, a const, or verbs on one." },
  { name: "columns", kind: "columns", least: 1, help: "Names of the columns that both tables have and by which rows match, in quotes." },
] as const;

/** A key for each row of two tables: equal for equal values of the named columns, −1 where one of them is missing. */
export function joinKeys(
  left: Table,
  right: Table,
  names: readonly string[],
  checkpoint: () => void,
): { readonly left: Int32Array; readonly right: Int32Array } {
  const columns = names.map((name) => {
    const column = findColumn(left, name)!;
    return stackColumns(column, { column, rowCount: left.rowCount }, { column: findColumn(right, name)!, rowCount: right.rowCount });
  });
  const rowCount = left.rowCount + right.rowCount;
  const keys = groupRows({ ...left, columns, rowCount }, names, checkpoint).of;
  for (const column of columns) {
    const codes = column.kind === "text" ? column.codes : column.values;
    for (let row = 0; row < rowCount; row++) if (Number.isNaN(codes[row]!) || (column.kind !== "number" && codes[row]! < 0)) keys[row] = -1;
  }
  return { left: keys.subarray(0, left.rowCount), right: keys.subarray(left.rowCount) };
}

/** What is wrong with the columns by which two tables are joined. */
export function keyProblems(left: Schema, right: Schema, names: readonly string[]): readonly VerbProblem[] {
  return names.flatMap((name) => {
    const here = left.columns.find((column) => column.name === name);
    const there = right.columns.find((column) => column.name === name);
    if (there === undefined) {
      const candidates = right.columns.map((column) => column.name);
      if (right.open) return [];
      // The problem stands on all the names together: with one name, that name can be replaced.
      const facts = { name, candidates };
      return [names.length === 1 ? unknownText("columns", "query.unknown-column", facts, name, candidates) : verbProblem("columns", "query.unknown-column", facts)];
    }
    if (here === undefined || (here.kind === there.kind && here.unit === there.unit)) return [];
    return [verbProblem("columns", "query.different-columns", { name, here: columnInWords(here), there: columnInWords(there) })];
  });
}

/** The schema of two tables side by side. */
export function inferJoin(input: Schema, given: readonly CheckedArgument[]): Inferred {
  const [other, keys] = given;
  if (other?.kind !== "table" || keys?.kind !== "columns") return inferred(input);
  const beside = other.schema.columns.filter((column) => !keys.names.includes(column.name));
  const name = namesBeside(input.columns, beside, keys.names);
  const columns: readonly ColumnSchema[] = [
    ...input.columns.map((column) => ({ ...uncounted(column), name: name(column.name, "_1") })),
    ...beside.map((column) => ({ ...uncounted(column), name: name(column.name, "_2") })),
  ];
  const schema = {
    columns,
    open: input.open || other.schema.open,
    groupedBy: input.groupedBy.map((column) => name(column, "_1")),
    ...sessionsAfter(input, other.schema),
  };
  return inferred(schema, [...keyProblems(input, other.schema, keys.names), ...duplicates(columns, "other")]);
}

/** Two tables side by side, a row for each pair of rows with equal keys. */
export function runJoin(input: Table, other: Table, names: readonly string[], unmatched: boolean, verb: string, context: RunContext): Table | Refused {
  const twofold = sessionInTwoAirs(input.sessions, other.sessions);
  if (twofold !== undefined) return refuse("other", "trade.two-airs", { session: twofold.name, verb });
  const keys = joinKeys(input, other, names, context.checkpoint);
  const rowCount = countPairs(keys.left, keys.right, unmatched);
  const refused = tooLarge("other", rowCount, input.columns.length + other.columns.length - names.length, context.limits);
  if (refused !== null) return refused;
  if (!unmatched) warnMissingKeys(keys.left, verb, context);
  context.checkpoint();
  const pairs = matchedRows(keys.left, keys.right, unmatched);
  const beside = other.columns.filter((column) => !names.includes(column.name));
  const name = namesBeside(input.columns, beside, names);
  const columns = [
    ...input.columns.map((column) => pickRows({ ...column, name: name(column.name, "_1") }, pairs.left)),
    ...beside.map((column) => pickRows({ ...column, name: name(column.name, "_2") }, pairs.right)),
  ];
  return {
    type: "table",
    columns,
    rowCount: pairs.left.length,
    sessions: joinSessions(input.sessions, other.sessions),
    behind: joinSessions(sessionsBehind(input), sessionsBehind(other)),
    groupedBy: input.groupedBy.map((column) => name(column, "_1")),
    report: null,
  };
}

/** Says how many rows have a key that is missing, and so match nothing. */
export function warnMissingKeys(keys: Int32Array, verb: string, context: RunContext): void {
  const count = keys.reduce((sum, key) => sum + (key < 0 ? 1 : 0), 0);
  if (count > 0) context.warn(verbProblem("columns", "query.missing-keys", { count, verb }));
}

/** Rows that a join would give, counted before it is made. */
function countPairs(left: Int32Array, right: Int32Array, unmatched: boolean): number {
  const matches = new Map<number, number>();
  for (const key of right) if (key >= 0) matches.set(key, (matches.get(key) ?? 0) + 1);
  let count = 0;
  for (const key of left) count += matches.get(key) ?? (unmatched ? 1 : 0);
  return count;
}

/** Names for columns of both sides: those that both have, and that are no keys, get an ending. */
function namesBeside(
  left: readonly { readonly name: string }[],
  right: readonly { readonly name: string }[],
  keys: readonly string[],
): (name: string, ending: string) => string {
  const leftNames = new Set(left.map(({ name }) => name));
  const shared = new Set(right.map(({ name }) => name).filter((name) => leftNames.has(name) && !keys.includes(name)));
  return (name, ending) => (shared.has(name) ? name + ending : name);
}
