import { inWords } from "../chart/field-name";
import { digitsAmongReadings, digitsAsStated, digitsFor, formatMeasure, formatNumber, formatShare } from "../present/format-number";
import { notesOf } from "../present/present-table";
import type { OptionValue, OptionValues, RunContext, Verb, VerbProblem, VerbResult } from "../query/vocabulary";
import { leastShots } from "../stats/judge-pair";
import type { Description } from "../stats/describe-shots";
import { describeShots } from "../stats/describe-shots";
import type { HeadMean, WithoutInterval } from "../stats/head-means";
import { headMeans } from "../stats/head-means";
import type { ColumnSchema, Schema } from "../table/schema";
import type { Column, NumberColumn, Table } from "../table/table";
import { findColumn, makeTable, numberColumn, textColumn } from "../table/table";
import type { Unit } from "../units";
import { airSentences } from "./air-sentences";
import { byOption, confidenceOf, confidenceOption, groupColumn, groupingProblem, groupName } from "./group-column";
import { tooManyGroups } from "./group-count";
import {
  buildSentences,
  capitalised,
  closingSentence,
  countValues,
  errorSentences,
  missingSentences,
  originSentences,
} from "./session-sentences";
import { shotData } from "./shot-data";
import type { UsedShots } from "./used-shots";
import { usedShots } from "./used-shots";
import { verbProblem } from "./verb-problem";

/** What is told of each group, in the order of the columns; a measure is in the unit of what is described. */
const told: readonly (readonly [name: string, kind: "count" | "measure", value: (row: Row) => number])[] = [
  ["n", "count", (row) => row.n],
  ["missing", "count", (row) => row.missing],
  ["mean", "measure", (row) => row.mean],
  ["from", "measure", (row) => row.interval.from],
  ["to", "measure", (row) => row.interval.to],
  ["sd", "measure", (row) => row.sd],
  ["median", "measure", (row) => row.median],
  ["q1", "measure", (row) => row.q1],
  ["q3", "measure", (row) => row.q3],
  ["mad", "measure", (row) => row.mad],
  ["trimmed_mean", "measure", (row) => row.trimmedMean],
  ["min", "measure", (row) => row.min],
  ["max", "measure", (row) => row.max],
  ["stints", "count", (row) => row.stints],
];

/** Groups beyond which nobody reads a sentence for each. */
const mostGroups = 200;

/** One head at a time: where its shots lie and how they scatter. */
export const describe: Verb = {
  name: "describe",
  family: "trade",
  help: {
    summary: "Describes each head's shots: how many, the mean with its interval, scatter, median and quartiles, smallest and largest.",
    example: 'shots.describe({ of: ["carry", "ball_speed"], by: "head" })',
    method:
      "The mean's interval comes from the scatter of the head's own stints, the trend of the session taken out: least squares with errors robust to clusters (Bell and McCaffrey 2002). Quartiles are of type 7 (Hyndman and Fan 1996), the MAD is Hampel's (1974).",
  },
  parameters: [
    {
      name: "options",
      help: "What to describe, and how.",
      kind: "options",
      optional: false,
      options: {
        of: { kind: "columns", of: "number", required: true, help: 'One or several columns of numbers, such as "carry" or ["carry", "offline"].' },
        by: byOption,
        confidence: confidenceOption,
      },
    },
  ],
  infer: (input, given) => {
    const values = given[0]?.kind === "options" ? given[0].values : {};
    return {
      schema: { columns: columnsAfter(input, values), open: false, groupedBy: [], fromShots: input.fromShots },
      problems: groupingProblem(input, values, "describe")?.problems ?? takenName(values),
    };
  },
  run: (input, given, context) => run(input, given[0]?.kind === "options" ? given[0].values : {}, context),
};

function columnsAfter(input: Schema, values: OptionValues): readonly ColumnSchema[] {
  const units = namesOf(values["of"]).map((name) => input.columns.find((column) => column.name === name)?.unit ?? null);
  const text = (name: string): ColumnSchema => ({ name, kind: "text", unit: null, origin: "computed" });
  return [
    text(groupName(values)),
    text("of"),
    ...(areMixed(units) ? [text("unit")] : []),
    ...told.map(([name, kind]): ColumnSchema => ({ name, kind: "number", unit: unitOf(kind, units), origin: "computed" })),
  ];
}

/** The problem of grouping by a column that has the name of one of the results. */
function takenName(values: OptionValues): readonly VerbProblem[] {
  const name = groupName(values);
  const taken = name === "of" || name === "unit" || told.some(([other]) => other === name);
  return taken ? [verbProblem("by", "query.duplicate-column", { name })] : [];
}

/** What is described: a column, its group of shots, and the numbers. */
interface Row extends Description, Pick<HeadMean, "interval" | "without" | "stints"> {
  readonly group: string;
  readonly column: NumberColumn;
  readonly values: readonly number[];
}

function run(input: Table, values: OptionValues, context: RunContext): VerbResult {
  const by = groupColumn(input, values, "describe");
  if ("type" in by) return by;
  const taken = takenName(values);
  if (taken.length > 0) return { type: "refused", problems: taken };
  const used = usedShots(input, by, "describe", context);
  if ("type" in used) return used;
  const countRefused = tooManyGroups(used.groups, by.name, mostGroups);
  if (countRefused !== null) return countRefused;
  if (used.stint === null) context.warn(verbProblem(null, "trade.order-unknown", { by: by.name }));

  const of = namesOf(values["of"]).flatMap((name) => findColumn(input, name) ?? []).filter((column) => column.kind === "number");
  const confidence = confidenceOf(values);
  const shotsOf = shotsByGroup(used);
  const rows = of.flatMap((column) => {
    context.checkpoint();
    const means = headMeans(shotData(input, column, used), used.stint !== null, confidence);
    return used.groups.map((group, number): Row => {
      context.checkpoint();
      const numbers = Float64Array.from(shotsOf[number]!, (i) => column.values[used.rows[i]!]!);
      const { interval, without, stints } = means[number]!;
      return { group, column, values: [...numbers].filter((value) => !Number.isNaN(value)), ...describeShots(numbers), interval, without, stints };
    });
  });
  const table = makeTable(columnsOf(by.name, rows), rows.length, { sessions: used.sessions });
  const sentences = [
    ...of.flatMap((column) => {
      const own = rows.filter((row) => row.column === column);
      const digits = (areMixed(of.map(({ unit }) => unit)) ? digitsAsReadings(own) : null) ?? digitsFrom(own);
      return own.map((row) => rowSentence(row, by.name, digits, confidence, used.stint !== null));
    }),
    ...(by.name !== "session" && rows.some((row) => row.without === "one go") ? [inTurns(by.name)] : []),
    ...used.sentences,
    ...errorSentences(used.sessions),
    ...missingSentences(of.map((column) => ({ column: column.name, counts: countValues(input, column, used) }))),
    ...(by.name === "head" ? buildSentences(used.groups, used.sessions) : []),
    ...of.flatMap((column) => originSentences(column, used.sessions)),
    ...airSentences(of.map(({ name }) => name), used.sessions),
    ...notesOf({ sessions: used.sessions }),
    closingSentence(used),
  ];
  return { ...table, report: { method: methodLine(confidence, used), sentences, hidden: [], picture: null } };
}

/** For each group its used shots, by their place among them. */
function shotsByGroup(used: UsedShots): readonly (readonly number[])[] {
  const shots: number[][] = used.groups.map(() => []);
  used.group.forEach((group, i) => shots[group]!.push(i));
  return shots;
}

function columnsOf(by: string, rows: readonly Row[]): readonly Column[] {
  const units = rows.map((row) => row.column.unit);
  return [
    textColumn(by, rows.map((row) => row.group)),
    textColumn("of", rows.map((row) => row.column.name)),
    ...(areMixed(units) ? [textColumn("unit", units)] : []),
    ...told.map(([name, kind, value]) => numberColumn(name, rows.map(value), unitOf(kind, units))),
  ];
}

/** True when columns of different units stand in one table, so that their unit goes into a column of its own. */
function areMixed(units: readonly (Unit | null)[]): boolean {
  return new Set(units).size > 1;
}

function unitOf(kind: "count" | "measure", units: readonly (Unit | null)[]): Unit | null {
  return kind === "count" || areMixed(units) ? null : (units[0] ?? null);
}

function namesOf(of: OptionValue | undefined): readonly string[] {
  if (typeof of === "string") return [of];
  return Array.isArray(of) ? (of as readonly string[]) : [];
}

function methodLine(confidence: number, used: UsedShots): string {
  const interval =
    used.stint === null
      ? `${formatShare(confidence)} interval as if shots were independent, since their order is not known`
      : `${formatShare(confidence)} interval from the scatter of its own stints, with the trend of the session taken out (least squares, errors robust to stints: CR2)`;
  return `Mean of shots with its ${interval}; quartiles by linear interpolation (type 7), MAD times 1.4826, mean trimmed by 10 % at each end.`;
}

function rowSentence(row: Row, by: string, digits: number, confidence: number, orderKnown: boolean): string {
  const { unit } = row.column;
  const name = inWords(row.column.name);
  if (row.n === 0) return `${row.group}: no value of ${name}.`;
  if (row.n < leastShots) {
    const list = row.values.map((value) => formatNumber(value, digitsAsStated(value))).join(", ");
    return `${row.group}: ${name} ${list}${unit === null ? "" : ` ${unit}`}, too few for an interval.`;
  }
  const place = orderKnown ? `${row.n} shots in ${row.stints} ${row.stints === 1 ? "stint" : "stints"}` : `${row.n} shots`;
  const bounds =
    row.without === null
      ? `${formatShare(confidence)} interval ${formatNumber(row.interval.from, digits)} to ${formatNumber(row.interval.to, digits)}`
      : `no interval, since ${whyWithout(row.without, by, orderKnown)}`;
  const scatter = formatMeasure(row.sd, digits, unit);
  return `${capitalised(name)} of ${row.group}: ${formatMeasure(row.mean, digits, unit)} on average (${bounds}; ${place}), standard deviation ${scatter}.`;
}

function whyWithout(why: WithoutInterval, by: string, orderKnown: boolean): string {
  switch (why) {
    case "few shots":
      return "it has too few shots";
    case "several sessions":
      return "its shots are of several sessions, which differ by more than stints do";
    case "one go":
      // Heads may well have been hit in turns within what is told apart by something else.
      return by === "head" ? "it was hit in one go" : `no shot of another ${by} lies between its own`;
    case "few stints":
      return "there are too few stints to tell how much they scatter";
    case "no scatter":
      return orderKnown ? "all its stints have the same mean" : "all its shots are equal";
  }
}

/** How to hit so that there is an interval next time. */
function inTurns(by: string): string {
  return `A mean has an interval once its ${by} is hit in turns with another: a few shots with each, three times round or more, since a break alone does not show what changed in the meantime.`;
}

/** Decimals as a table of several units shows them; `null` where no mean has an interval. */
function digitsAsReadings(rows: readonly Row[]): number | null {
  const bound = (end: "from" | "to") => numberColumn(end, rows.map((row) => row.interval[end]));
  return digitsAmongReadings(bound("from"), bound("to"), rows[0]?.column.unit ?? null);
}

/** Decimals for all means of one column, so that they can be compared: those that the widest interval bears. */
function digitsFrom(rows: readonly Row[]): number {
  // Half the width of a 95 % interval is about two standard errors.
  const errors = rows.filter((row) => row.n >= leastShots).map((row) => (row.interval.to - row.interval.from) / 4 || row.sd / Math.sqrt(row.n));
  return digitsFor(Math.max(0, ...errors));
}
