import { inWords } from "../chart/field-name";
import { doubtsOf } from "../quality/doubts";
import type { RunContext } from "../query/vocabulary";
import { derivedFrom } from "../session/derive-columns";
import { withPutBack } from "../session/put-back";
import type { Column, Table } from "../table/table";
import { findColumn, valueAt } from "../table/table";
import { listed } from "./session-sentences";

/** One verdict and what it is of, such as `Heron against Wren as struck`. */
export interface Conclusion {
  readonly of: string;
  readonly verdict: string;
}

/** What a result concludes, thing by thing: of each the verdict that stands first, and then those beside it. */
export type Conclusions = readonly (readonly Conclusion[])[];

/** A result that is asked what it would conclude from other values. */
export interface Questioned {
  readonly input: Table;
  /** The rows that it looks at. */
  readonly rows: Int32Array;
  /** The columns that it hangs on; both strike columns where it takes strikes into account. */
  readonly columns: readonly string[];
  readonly found: Conclusions;
  /** What it concludes from another table of the same rows; `null` where it refuses that. */
  readonly conclude: (table: Table) => Conclusions | null;
}

/** What is said of other values: what belongs to the answer, since it would be another one, and what does not. */
export interface WhatIf {
  readonly answer: readonly string[];
  readonly details: readonly string[];
}

/** Changes beyond which they are counted and not listed. */
const mostListed = 6;

/** Rows beyond which the rules are not asked: they take about a millisecond a shot. */
const mostJudged = 1000;

/**
 * What the result would conclude with the values put back that a person has set aside, and without those that the rules
 * on misreads doubt: which verdicts would be others, or that none would.
 *
 * Nothing is computed again where no value of the columns and rows that count is set aside, or doubted.
 */
export function whatIf(question: Questioned, context: RunContext): WhatIf {
  const said = [backAgain(question, context), withoutSuspects(question, context)].filter((each) => each !== null);
  return { answer: said.flatMap((each) => each.answer), details: said.flatMap((each) => each.details) };
}

function backAgain({ input, rows, columns, found, conclude }: Questioned, context: RunContext): WhatIf | null {
  const isAside = input.sessions.some((session) => (session.putBack ?? []).some((value) => columns.includes(value.column)));
  if (!isAside) return null;
  const { table } = withPutBack(input);
  const { text, count } = differing(input, table, rows, columns, "value");
  if (count === 0) return null;
  context.checkpoint();
  const which = `${text} that ${count === 1 ? "was" : "were"} set aside`;
  return told(found, conclude(table), `With ${which} put back`, `Putting back ${which}`, "");
}

function withoutSuspects({ input, rows, columns, found, conclude }: Questioned, context: RunContext): WhatIf | null {
  // Rules judge readings: of a column that a query computed they say nothing.
  if (!columns.some((name) => isReading(findColumn(input, name)))) return null;
  if (input.rowCount > mostJudged)
    return { answer: [], details: [`Whether a verdict hangs on doubtful values was not looked into, for ${input.rowCount} shots; suspects() lists such values.`] };
  const { suspects } = doubtsOf(input, { checkpoint: context.checkpoint, seed: context.seed });
  const without = columns.map((name): readonly [string, ReadonlySet<number>] => {
    const column = findColumn(input, name);
    const sources: readonly string[] = column?.origin === "derived" ? [name, ...(derivedFrom[name] ?? [])] : [name];
    return [name, new Set(isReading(column) ? suspects.filter((each) => sources.includes(each.column)).map((each) => each.row) : [])];
  });
  const blanks = new Map(without);
  const table = { ...input, columns: input.columns.map((column) => withoutRows(column, blanks.get(column.name))) };
  const { text, count } = differing(input, table, rows, columns, "doubted value");
  if (count === 0) return null;
  context.checkpoint();
  return told(found, conclude(table), `Without ${text}`, `Leaving out ${text}`, count === 1 ? "; suspects() shows it" : "; suspects() lists them");
}

function isReading(column: Column | undefined): boolean {
  return column?.kind === "number" && column.origin !== "computed";
}

function withoutRows(column: Column, rows: ReadonlySet<number> | undefined): Column {
  if (column.kind !== "number" || rows === undefined || rows.size === 0) return column;
  return { ...column, values: column.values.map((value, row) => (rows.has(row) ? Number.NaN : value)) };
}

/** How many values are there in one of two tables and not in the other, in words: `the 4 values of carry and 2 strikes`. */
function differing(before: Table, after: Table, rows: Int32Array, columns: readonly string[], noun: string): { readonly text: string; readonly count: number } {
  const rowsOf = (name: string): readonly number[] => {
    const [a, b] = [findColumn(before, name), findColumn(after, name)];
    if (a === undefined || b === undefined || a === b) return [];
    return [...rows].filter((row) => (valueAt(a, row) === null) !== (valueAt(b, row) === null));
  };
  const isStrike = (name: string): boolean => columns.length > 1 && (name === "strike_x" || name === "strike_y");
  const strikes = new Set(columns.filter(isStrike).flatMap(rowsOf)).size;
  const kind = noun === "value" ? "" : "doubted ";
  const parts = columns.filter((name) => !isStrike(name)).flatMap((name) => {
    const { length } = rowsOf(name);
    return length === 0 ? [] : [[length, `${noun}${length === 1 ? "" : "s"} of ${inWords(name)}`] as readonly [number, string]];
  });
  if (strikes > 0) parts.push([strikes, `${kind}strike${strikes === 1 ? "" : "s"}`]);
  const count = parts.reduce((total, [each]) => total + each, 0);
  return { text: count === 1 ? `the one ${parts[0]![1]}` : `the ${listed(parts.map(([each, words]) => `${each} ${words}`))}`, count };
}

function told(before: Conclusions, after: Conclusions | null, condition: string, doing: string, more: string): WhatIf | null {
  if (after === null) return null;
  const others = new Map(after.flat().map(({ of, verdict }) => [of, verdict]));
  const changes = before.flatMap((each) => {
    // What changes beside a verdict that changes itself is no news.
    const changed = each.find(({ of, verdict }) => (others.get(of) ?? verdict) !== verdict);
    return changed === undefined ? [] : [`${changed.of} would ${instead(others.get(changed.of)!, changed.verdict)}`];
  });
  if (changes.length === 0) return { answer: [], details: [`${doing} would change no verdict${more}.`] };
  const words = changes.length > mostListed ? `${changes.length} of ${before.length} verdicts would be others` : listed(changes);
  return { answer: [`${condition}, ${words}${more}.`], details: [] };
}

function instead(verdict: string, before: string): string {
  if (verdict === "no verdict") return `have no verdict instead of being ${before}`;
  return before === "no verdict" ? `be ${verdict}, where there is no verdict now` : `be ${verdict} instead of ${before}`;
}
