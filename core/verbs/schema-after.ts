import type { Inferred, VerbProblem } from "../query/vocabulary";
import type { ColumnSchema, Schema } from "../table/schema";
import { verbProblem } from "./verb-problem";

/** What inference gives. */
export function inferred(schema: Schema, problems: readonly VerbProblem[] = []): Inferred {
  return { schema, problems };
}

/** What is known of the rows of a summary of `input`: they are no shots, but made from shots where those of `input` are or were. */
export function summaryAfter(input: Schema): Pick<Schema, "fromShots" | "isSummary"> {
  const isSummary = input.isSummary === true || (input.fromShots && !input.open);
  return { fromShots: false, ...(isSummary ? { isSummary } : {}) };
}

/** The sessions whose shots two tables together are, where they are known of both; and whether no row of theirs is a shot. */
export function sessionsAfter(input: Schema, other: Schema): Pick<Schema, "fromShots" | "isSummary" | "sessions"> {
  const fromShots = input.fromShots || other.fromShots;
  const isSummary = !fromShots && (input.isSummary ?? other.isSummary) === true;
  const sessions = input.sessions && other.sessions && [...new Set([...input.sessions, ...other.sessions])];
  return { fromShots, ...(isSummary ? { isSummary } : {}), ...(sessions === undefined ? {} : { sessions }) };
}

/** The schema of a table whose rows are other ones: how many there are, how many values are missing and between which they are is not known. */
export function otherRows(input: Schema): Schema {
  const { rowCount: _, ...rest } = input;
  return { ...rest, columns: input.columns.map(uncounted) };
}

/** The column without its count of missing values and its range, which are of other rows. */
export function uncounted(column: ColumnSchema): ColumnSchema {
  const { missing: _missing, range: _range, ...rest } = column;
  return rest;
}

/** The named columns that are known, in the order of the names. */
export function knownColumns(input: Schema, names: readonly string[]): readonly ColumnSchema[] {
  return names.flatMap((name) => input.columns.filter((column) => column.name === name));
}

/** True when every name is that of a column that is known. */
export function allKnown(input: Schema, names: readonly string[]): boolean {
  return names.every((name) => input.columns.some((column) => column.name === name));
}

/** A problem for each name that several of the columns have, at the parameter `at`. */
export function duplicates(columns: readonly { readonly name: string }[], at: string | null): readonly VerbProblem[] {
  const names = columns.map((column) => column.name);
  const twice = new Set(names.filter((name, index) => names.indexOf(name) !== index));
  return [...twice].map((name) => verbProblem(at, "query.duplicate-column", { name }));
}
