import { expect } from "vitest";
import { defaultLimits } from "../../../core/limits";
import type { Problem } from "../../../core/problem";
import type { OptionValues, RunContext, Verb, VerbProblem } from "../../../core/query/vocabulary";
import type { SessionFacts } from "../../../core/session/session-facts";
import { schemaOf } from "../../../core/table/schema";
import type { Column, Report, Table } from "../../../core/table/table";
import { findColumn, makeTable, numberColumn, textColumn, valueAt } from "../../../core/table/table";
import { textStart } from "../../../core/text-position";
import { plainSession as facts } from "../../support/session-facts";
import { normals } from "../stats/check-values";

export { facts };

/** One shot: its head, its stint, its carry in yards (`null` for missing), and what else it may have. */
export interface Shot {
  readonly head: string | null;
  readonly stint: number;
  readonly carry: number | null;
  readonly intent?: string;
  readonly player?: string;
  readonly session?: string;
}

/** A table of shots as a session gives it, in the unit yd unless told. */
export function shotTable(shots: readonly Shot[], sessions: readonly SessionFacts[] = [facts()], extra: readonly Column[] = []): Table {
  const columns: Column[] = [
    textColumn("session", shots.map((shot) => shot.session ?? "s1"), "stated"),
    numberColumn("shot", shots.map((_, i) => i + 1), null, "stated"),
    textColumn("head", shots.map((shot) => shot.head), "stated"),
    numberColumn("stint", shots.map((shot) => shot.stint), null, "derived"),
    numberColumn("carry", shots.map((shot) => shot.carry), "yd", "measured"),
  ];
  const playerOf = (shot: Shot) => shot.player ?? sessions.find((session) => session.name === (shot.session ?? "s1"))?.player ?? null;
  columns.push(textColumn("intent", shots.map((shot) => shot.intent ?? "stock"), "stated"));
  if (shots.some((shot) => playerOf(shot) !== null)) columns.push(textColumn("player", shots.map(playerOf), "stated"));
  return makeTable([...columns, ...extra], shots.length, { sessions });
}

/** What an invented session is like. */
export interface Invented {
  readonly heads: readonly string[];
  readonly passes: number;
  readonly shotsInStint?: number;
  /** What each head adds to 150 yd. */
  readonly add?: readonly number[];
  readonly stintSd?: number;
  readonly shotSd?: number;
  readonly seed?: number;
}

/** Shots of heads hit in rotation, with scatter between stints and within them. */
export function rotation({ heads, passes, shotsInStint = 3, add = [], stintSd = 1, shotSd = 3, seed = 1 }: Invented): readonly Shot[] {
  const normal = normals(seed);
  return Array.from({ length: passes * heads.length }, (_, stint) => {
    const level = 150 + (add[stint % heads.length] ?? 0) + stintSd * normal();
    return Array.from({ length: shotsInStint }, (): Shot => ({ head: heads[stint % heads.length]!, stint: stint + 1, carry: level + shotSd * normal() }));
  }).flat();
}

/** What running a verb gave, as plain values. */
export interface Outcome {
  readonly table: Table;
  readonly report: Report;
  readonly rows: readonly Readonly<Record<string, number | string | boolean | null>>[];
  readonly problems: readonly Problem[];
}

/** What a run hands to a verb; what the verb warns of goes to `problems`. */
export function context(problems: VerbProblem[] = [], given: Partial<RunContext> = {}): RunContext {
  return {
    limits: defaultLimits,
    units: "yd-mph",
    margins: {},
    seed: 1,
    warn: (found) => problems.push(found),
    checkpoint: () => undefined,
    ...given,
  };
}

const made = (found: readonly VerbProblem[]): readonly Problem[] => found.map((each) => each.make(textStart));

/** Runs a verb that must give a table, and checks that its columns are those inferred and that no NaN is in sight. */
export function runVerb(verb: Verb, table: Table, values: OptionValues, given: Partial<RunContext> = {}): Outcome {
  const problems: VerbProblem[] = [];
  const result = verb.run(table, [{ kind: "options", values }], context(problems, given));
  if (result.type === "refused") throw new Error(`refused: ${made(result.problems).map((each) => each.message).join("; ")}`);
  const inferred = verb.infer(schemaOf(table), [{ kind: "options", values }], "yd-mph");
  expect(made(inferred.problems)).toEqual([]);
  const plain = (columns: readonly { name: string; kind: string; unit?: unknown }[]) => columns.map(({ name, kind, unit }) => [name, kind, unit ?? null]);
  expect(plain(result.columns)).toEqual(plain(inferred.schema.columns));
  expect(result.report!.sentences.join(" ") + result.report!.method).not.toMatch(/NaN|undefined|Infinity|significant/i);
  const rows = Array.from({ length: result.rowCount }, (_, row) =>
    Object.fromEntries(result.columns.map((column) => [column.name, valueAt(column, row)])),
  );
  return { table: result, report: result.report!, rows, problems: made(problems) };
}

/** The codes for which a verb refuses. */
export function refusal(verb: Verb, table: Table, values: OptionValues, given: Partial<RunContext> = {}): readonly string[] {
  const result = verb.run(table, [{ kind: "options", values }], context([], given));
  return result.type === "refused" ? made(result.problems).map((each) => each.code) : [];
}

/** The codes found before a verb runs. */
export function inferredProblems(verb: Verb, table: Table, values: OptionValues): readonly string[] {
  return made(verb.infer(schemaOf(table), [{ kind: "options", values }], "yd-mph").problems).map((each) => each.code);
}

/** The values of a column of numbers. */
export function numbers(table: Table, name: string): readonly number[] {
  const column = findColumn(table, name);
  return column?.kind === "number" ? [...column.values] : [];
}
