import { inWords } from "../chart/field-name";
import { formatShare } from "../present/format-number";
import { notesOf } from "../present/present-table";
import type { OptionValue, OptionValues, RunContext, Verb, VerbProblem, VerbResult } from "../query/vocabulary";
import type { Window } from "../query/window";
import type { ColumnSchema, Schema } from "../table/schema";
import { shapeOf } from "../table/schema";
import { shotColumnNames, shotColumns } from "../table/shot-columns";
import type { Column, NumberColumn, Table } from "../table/table";
import { findColumn, makeTable, numberColumn, textColumn } from "../table/table";
import type { Measure } from "../units";
import { convert } from "../units";
import { airSentences } from "./air-sentences";
import { centredStrikes } from "./centred-strikes";
import { byOption, confidenceOf, confidenceOption, groupColumn, groupingProblem, groupName } from "./group-column";
import { tooManyGroups } from "./group-count";
import type { Asked, ScoreRow } from "./scorecard-rows";
import { lowSpinShare, scoreRows } from "./scorecard-rows";
import { scoreSentences } from "./scorecard-sentences";
import { asStated, buildSentences, closingSentence, countValues, errorSentences, listed, missingTogether, originsTogether } from "./session-sentences";
import type { UsedShots } from "./used-shots";
import { usedShots } from "./used-shots";
import { refuse, verbProblem } from "./verb-problem";

/** The numbers of a scorecard, in the order of its columns; each row has them in its own unit. */
const numbers: readonly (readonly [name: string, value: (row: ScoreRow) => number])[] = [
  ["typical", (row) => row.typical],
  ["from", (row) => row.interval.from],
  ["to", (row) => row.interval.to],
  ["sd", (row) => row.sd],
  ["n", (row) => row.n],
  ["centred", (row) => row.centred],
  ["n_centred", (row) => row.nCentred],
  ["poor", (row) => row.poor],
  ["n_poor", (row) => row.nPoor],
  ["median", (row) => row.median],
  ["stints", (row) => row.stints],
];

const hidden: readonly string[] = ["median", "stints"];
const ofStrikes: readonly string[] = ["centred", "n_centred", "poor", "n_poor"];

/** All that was recorded, head by head: typical values, centred and poor strikes, how many shots are inside windows. */
export const scorecard: Verb = {
  name: "scorecard",
  family: "trade",
  help: {
    summary: "Sets every reading of each head in one table: its mean with interval and scatter, from centred and from poor strikes, and how many shots are inside stated windows.",
    example: 'shots.scorecard({ windows: { launch_angle: "17 to 20 deg", peak_height: "from 85 ft" } })',
    method:
      "Means have the interval of `describe`: least squares with errors robust to stints (Bell and McCaffrey 2002); shares inside windows have Wilson's interval (1927), as if shots were independent.",
  },
  parameters: [
    {
      name: "options",
      help: "What to set side by side, and how.",
      kind: "options",
      optional: true,
      options: {
        of: { kind: "columns", of: "number", required: false, help: "Columns of numbers to tell of; all readings that have a value unless told." },
        by: byOption,
        windows: {
          kind: "windows",
          required: false,
          help: 'Windows by column, of which the share of shots inside is told: { launch_angle: "14 to 18 deg", descent_angle: "from 45 deg", spin_rate: "up to 7000 rpm" }.',
        },
        low_spin: {
          kind: "measure",
          unitOf: "spin_rate",
          required: false,
          help: `Spin below this is low, such as "4500 rpm"; ${formatShare(lowSpinShare)} of each head's own median unless told.`,
        },
        confidence: confidenceOption,
      },
    },
  ],
  infer: (input, given) => {
    const values = given[0]?.kind === "options" ? given[0].values : {};
    return {
      schema: { columns: columnsAfter(values), open: false, groupedBy: [], fromShots: input.fromShots },
      problems: groupingProblem(input, values, "scorecard")?.problems ?? [...takenName(values), ...badLowSpin(values), ...noSpin(input, values)],
    };
  },
  run: (input, given, context) => run(input, given[0]?.kind === "options" ? given[0].values : {}, context),
};

function columnsAfter(values: OptionValues): readonly ColumnSchema[] {
  const column = (name: string, kind: "text" | "number"): ColumnSchema => ({ name, kind, unit: null, origin: "computed" });
  return [...["of", groupName(values), "unit"].map((name) => column(name, "text")), ...numbers.map(([name]) => column(name, "number"))];
}

/** The problem of grouping by a column that has the name of one of the results. */
function takenName(values: OptionValues): readonly VerbProblem[] {
  const name = groupName(values);
  const taken = name === "of" || name === "unit" || numbers.some(([other]) => other === name);
  return taken ? [verbProblem("by", "query.duplicate-column", { name })] : [];
}

/** The problem of a limit that no spin is below. */
function badLowSpin(values: OptionValues): readonly VerbProblem[] {
  const limit = values["low_spin"] as Measure | number | undefined;
  if (limit === undefined || (typeof limit === "number" ? limit : limit.value) > 0) return [];
  return [verbProblem("low_spin", "trade.bad-low-spin", { limit: typeof limit === "number" ? String(limit) : asStated(limit) })];
}

/** The problem of a limit of low spin for a table without spin. */
function noSpin(input: Schema, values: OptionValues): readonly VerbProblem[] {
  if (values["low_spin"] === undefined || input.open || input.columns.some(({ name, kind }) => name === "spin_rate" && kind === "number")) return [];
  const candidates = input.columns.filter(({ kind }) => kind === "number").map(({ name }) => name);
  return [verbProblem("low_spin", "query.unknown-column", { name: "spin_rate", candidates })];
}

function run(input: Table, values: OptionValues, context: RunContext): VerbResult {
  const by = groupColumn(input, values, "scorecard");
  if ("type" in by) return by;
  const wrong = [...takenName(values), ...badLowSpin(values), ...noSpin(shapeOf(input), values)];
  if (wrong.length > 0) return { type: "refused", problems: wrong };
  const used = usedShots(input, by, "scorecard", context);
  if ("type" in used) return used;
  const countRefused = tooManyGroups(used.groups, by.name);
  if (countRefused !== null) return countRefused;
  const { told, empty } = columnsToTell(input, used, values);
  if (told.length === 0) return refuse("of", "trade.no-readings", { candidates: input.columns.filter(({ kind }) => kind === "number").map(({ name }) => name) });
  if (used.stint === null) context.warn(verbProblem(null, "trade.order-unknown", { by: by.name }));

  const asked: Asked = { columns: told, windows: windowsOf(values), lowSpin: lowSpinOf(input, values), confidence: confidenceOf(values) };
  // Zones apart, centred and poor strikes are nothing but the zones themselves.
  const centred = by.name === "zone" ? null : centredStrikes(input, used);
  const rows = scoreRows(input, used, centred, asked, context.checkpoint);
  const answer = [
    ...scoreSentences(rows, { by: by.name, used, confidence: asked.confidence, centred, isLimitStated: asked.lowSpin !== null }),
    ...(by.name === "head" ? buildSentences(used.groups, used.sessions) : []),
  ];
  const sentences = [
    ...answer,
    ...used.sentences,
    ...errorSentences(used.sessions),
    ...missingSentences(input, used, told, empty),
    ...originsTogether(told, used.sessions),
    ...airSentences(told.map(({ name }) => name), used.sessions),
    ...notesOf({ sessions: used.sessions }),
    closingSentence(used),
  ];
  return {
    ...makeTable(columnsOf(by.name, rows, used), rows.length, { sessions: used.sessions }),
    report: {
      method: methodLine(asked, used),
      sentences,
      answer: answer.length,
      confidence: asked.confidence,
      hidden: centred === null ? [...hidden, ...ofStrikes] : hidden,
      picture: null,
    },
  };
}

/** The columns asked for, else all readings that have a value, with those of windows; and the readings that have none. */
function columnsToTell(input: Table, used: UsedShots, values: OptionValues): { readonly told: readonly NumberColumn[]; readonly empty: readonly NumberColumn[] } {
  const named = [...namesOf(values["of"]), ...windowsOf(values).map((window) => window.column)];
  const wanted = new Set(values["of"] === undefined ? [...readingNames, ...named] : named);
  const columns = [...wanted].flatMap((name) => findColumn(input, name) ?? []).filter((column) => column.kind === "number");
  const isTold = (column: NumberColumn): boolean => named.includes(column.name) || used.rows.some((row) => !Number.isNaN(column.values[row]!));
  return { told: columns.filter(isTold), empty: columns.filter((column) => !isTold(column)) };
}

/** The shot columns that are readings, in the order in which tables show them. */
const readingNames: readonly string[] = shotColumnNames.filter((name) => shotColumns[name].kind === "number" && shotColumns[name].group !== "identity");

function namesOf(of: OptionValue | undefined): readonly string[] {
  return typeof of === "string" ? [of] : Array.isArray(of) ? (of as readonly string[]) : [];
}

function windowsOf(values: OptionValues): readonly Window[] {
  return (values["windows"] as readonly Window[] | undefined) ?? [];
}

/** The stated limit of low spin in the unit of the table's spin; `null` where none is stated. */
function lowSpinOf(input: Table, values: OptionValues): number | null {
  const limit = values["low_spin"];
  const spin = findColumn(input, "spin_rate");
  if (limit === undefined || spin?.kind !== "number") return null;
  if (typeof limit === "number" || spin.unit === null) return limit as number;
  return convert((limit as Measure).value, (limit as Measure).unit, spin.unit);
}

function columnsOf(by: string, rows: readonly ScoreRow[], used: UsedShots): readonly Column[] {
  return [
    textColumn("of", rows.map((row) => row.of)),
    textColumn(by, rows.map((row) => used.groups[row.group]!)),
    textColumn("unit", rows.map((row) => row.unit)),
    ...numbers.map(([name, value]) => numberColumn(name, rows.map(value))),
  ];
}

function missingSentences(input: Table, used: UsedShots, told: readonly NumberColumn[], empty: readonly NumberColumn[]): readonly string[] {
  const gaps = missingTogether(told.map((column) => ({ column: column.name, counts: countValues(input, column, used) })));
  const left = empty.length === 0 ? [] : [`Left out, as no shot has a value: ${listed(empty.map((column) => inWords(column.name)))}.`];
  return [...(gaps.length === 0 ? ["No value is missing."] : gaps), ...left];
}

function methodLine({ confidence }: Asked, used: UsedShots): string {
  const means =
    used.stint === null
      ? `${formatShare(confidence)} intervals of means as if shots were independent, since their order is not known`
      : `${formatShare(confidence)} intervals of means from the scatter of each one's own stints, with the trend of the session taken out (least squares, errors robust to stints: CR2)`;
  return `${means}; of shares Wilson's, as if shots were independent; as struck; nothing adjusted for several columns.`;
}
