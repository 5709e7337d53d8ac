import { buildWorkability } from "../chart/kinds/workability";
import { inWords } from "../chart/field-name";
import { formatNumber, formatShare } from "../present/format-number";
import { notesOf } from "../present/present-table";
import type { OptionValues, RunContext, Verb, VerbResult } from "../query/vocabulary";
import type { SessionFacts } from "../session/session-facts";
import { correctedSlope, leastReliability, reliability } from "../stats/attenuation";
import { equivalenceConfidence } from "../stats/judge-pair";
import type { GroupSlope } from "../stats/judge-slopes";
import { judgeSlopes } from "../stats/judge-slopes";
import { sum } from "../stats/moments";
import type { ShotData } from "../stats/shot-data";
import { stintMeans } from "../stats/stints";
import { turnsIn } from "../stats/time-share";
import type { SlopeData } from "../stats/workability-model";
import { shareExplained } from "../stats/workability-model";
import type { Schema } from "../table/schema";
import { schemaOf } from "../table/schema";
import type { NumberColumn, Table } from "../table/table";
import { findColumn, makeTable, takeRows } from "../table/table";
import { convert, convertDifference, isConvertible } from "../units";
import { byOption, confidenceOf, confidenceOption, groupColumn, groupingProblem } from "./group-column";
import { tooManyGroups } from "./group-count";
import { buildSentences, closingSentence, countValues, errorSentences, listed, missingSentences, originSentences } from "./session-sentences";
import { shotData } from "./shot-data";
import type { UsedShots } from "./used-shots";
import { usedShots } from "./used-shots";
import type { Refused } from "./verb-problem";
import { refuse } from "./verb-problem";
import { correctionSentences, leastForWorkability, slopeSentences } from "./workability-sentences";
import type { HeadRow } from "./workability-table";
import { hiddenWorkability, workabilityColumns, workabilitySchema } from "./workability-table";

/** Difference of slopes that is too small to matter unless told, in degrees for a degree. Common practice, no source. */
const usualMargin = 0.15;

/** Share of the spin axis that face, path and strike explain, above which it was worked out from them. Common practice, no source. */
const mostExplained = 0.99;

/** Share of the shots of which the strike must be known for it to be taken out, since those without it are left out. */
const leastStrikes = 0.5;

const readings = ["spin_axis", "face_to_path"] as const;

/** Intents that answer the question best and are used beside stock shots. */
const shaped = ["draw", "fade"];

/** Which head curves most for the same delivery. */
export const workability: Verb = {
  name: "workability",
  family: "trade",
  help: {
    summary: "Tells which head curves most for the same delivery: the degrees by which a degree of face-to-path tilts the spin axis, head by head and pair by pair.",
    example: 'shots.workability({ by: "head" })',
    method:
      "The slope of spin axis on face-to-path, by least squares with the trend of the session and errors robust to stints (Bell and McCaffrey 2002), pairs checked by a model of shots in stints (Kenward and Roger 1997); reading errors that are stated are allowed for (Fuller 1987).",
  },
  parameters: [
    {
      name: "options",
      help: "How to look.",
      kind: "options",
      optional: true,
      options: {
        by: byOption,
        margin: {
          kind: "number",
          above: 0,
          below: 10,
          whole: false,
          usual: usualMargin,
          required: false,
          help: `Largest difference of slopes that does not matter, in degrees of spin axis for a degree of face-to-path; ${usualMargin} unless told.`,
        },
        confidence: confidenceOption,
      },
    },
  ],
  infer: (input, given) => {
    const values = given[0]?.kind === "options" ? given[0].values : {};
    const problem = groupingProblem(input, values, "workability") ?? missingReadings(input);
    return { schema: { columns: workabilitySchema, open: false, groupedBy: [], fromShots: input.fromShots }, problems: problem?.problems ?? [] };
  },
  run: (input, given, context) => run(input, given[0]?.kind === "options" ? given[0].values : {}, context),
};

/** The refusal of a table that lacks what the question is about; `null` when it has it. */
function missingReadings(input: Schema): Refused | null {
  const isThere = (name: string): boolean =>
    input.columns.some((column) => column.name === name && column.kind === "number" && column.unit !== null && isConvertible(column.unit, "deg"));
  const missing = readings.filter((name) => !isThere(name));
  return input.open || missing.length === 0 ? null : refuse(null, "trade.workability-columns", { missing });
}

function run(input: Table, values: OptionValues, context: RunContext): VerbResult {
  const by = groupColumn(input, values, "workability");
  if ("type" in by) return by;
  const lacking = missingReadings(schemaOf(input));
  if (lacking !== null) return lacking;
  const used = usedShots(input, by, "workability", context, shaped);
  if ("type" in used) return used;
  const countRefused = tooManyGroups(used.groups, by.name);
  if (countRefused !== null) return countRefused;

  const [margin, confidence] = [typeof values["margin"] === "number" ? values["margin"] : usualMargin, confidenceOf(values)];
  const seen = slopeShots(input, used);
  context.checkpoint();
  const explained = calculatedShare(input, seen);
  const stated = isStatedCalculated(input, used.sessions);
  const question = { orderKnown: used.stint !== null, isCalculated: stated || explained > mostExplained, least: leastForWorkability, margin, confidence };
  const { groups, pairs } = judgeSlopes(seen.data, question);
  context.checkpoint();
  const errors = readingErrors(used.sessions);
  const rows = { heads: groups.map((group) => withCorrection(group, used.groups[group.group]!, errors)), pairs, margin, confidence, withStrike: seen.data.beside !== null };
  const table = makeTable(workabilityColumns(rows), rows.heads.length + pairs.length, { sessions: used.sessions });
  const answer = [...whyNone(question.orderKnown, stated, explained), ...slopeSentences(rows, by.name)];
  const lines = rows.heads.flatMap((head) => (head.valueAt === null ? [] : [{ label: head.name, valueAt: head.valueAt }]));
  return {
    ...table,
    report: {
      method: methodLine(rows.withStrike, rows.heads, confidence),
      sentences: [
        ...answer,
        ...correctionSentences(rows, errors),
        `The margin of ${formatNumber(margin, 2)}° for a degree is ${typeof values["margin"] === "number" ? "stated here" : "the default"}.`,
        ...background(input, used, seen, by.name),
      ],
      answer: answer.length,
      hidden: hiddenWorkability,
      confidence,
      picture: buildWorkability(drawnShots(input, by.name, seen), by.name, lines),
    },
  };
}

/** The used shots of which everything is known, as data, with their rows. */
interface SlopeShots {
  readonly data: SlopeData;
  readonly rows: Int32Array;
  /** Why the strike is not taken out; `null` when it is. */
  readonly withoutStrike: "not there" | "often missing" | "too few" | null;
  /** Groups of which the strike is known too seldom for a slope, though all else is known often enough. */
  readonly seldomStruck: readonly string[];
}

function slopeShots(table: Table, used: UsedShots): SlopeShots {
  const [axis, along] = readings.map((name) => inDegrees(findColumn(table, name) as NumberColumn));
  const strike = findColumn(table, "strike_x");
  const across = strike?.kind === "number" && strike.unit !== null && isConvertible(strike.unit, "mm") ? strike : null;
  const isRead = (row: number): boolean => !Number.isNaN(axis!.values[row]! + along!.values[row]!);
  const read = Array.from(used.rows.keys()).filter((i) => isRead(used.rows[i]!));
  const struck = across === null ? [] : read.filter((i) => !Number.isNaN(across.values[used.rows[i]!]!));
  const isOften = read.length > 0 && struck.length >= leastStrikes * read.length;
  const [enoughRead, enoughStruck] = [read, struck].map((places) => hasEnough(shotData(table, axis!, restricted(used, places))));
  const seldomStruck = used.groups.filter((_, group) => enoughRead![group]! && !enoughStruck![group]!);
  const takesOut = across !== null && isOften && seldomStruck.length === 0;
  const kept = restricted(used, takesOut ? struck : read);
  return {
    data: {
      ...shotData(table, axis!, kept),
      along: Float64Array.from(kept.rows, (row) => along!.values[row]!),
      beside: takesOut ? Float64Array.from(kept.rows, (row) => convert(across.values[row]!, across.unit!, "mm")) : null,
    },
    rows: kept.rows,
    withoutStrike: takesOut ? null : across === null ? "not there" : isOften ? "too few" : "often missing",
    seldomStruck,
  };
}

/** For each group whether it has the shots and stints that a slope needs. */
function hasEnough(data: ShotData): readonly boolean[] {
  const stints = stintMeans(data);
  return Array.from({ length: data.groupCount }, (_, group) => {
    const own = stints.filter((stint) => stint.group === group);
    return sum(own.map(({ n }) => n)) >= leastForWorkability.shots && turnsIn(own) >= leastForWorkability.stints;
  });
}

/** The shots at the given places alone; groups and sessions keep their numbers. */
function restricted(used: UsedShots, places: readonly number[]): UsedShots {
  const at = Int32Array.from(places);
  return {
    ...used,
    rows: at.map((i) => used.rows[i]!),
    group: at.map((i) => used.group[i]!),
    session: at.map((i) => used.session[i]!),
    stint: used.stint === null ? null : Float64Array.from(at, (i) => used.stint![i]!),
    time: Float64Array.from(at, (i) => used.time[i]!),
  };
}

function inDegrees(column: NumberColumn): NumberColumn {
  const { unit } = column;
  return unit === null || unit === "deg" ? column : { ...column, unit: "deg", values: column.values.map((value) => convert(value, unit, "deg")) };
}

/**
 * R² of the spin axis on face, path and strike, on face-to-path where face and path are not there; `NaN` when unknown.
 *
 * Of all heads together or, where that is more, the least of any head by itself: an axis that was worked out from the
 * loft as well has another slope with each head.
 */
function calculatedShare(table: Table, { data, rows }: SlopeShots): number {
  const parts = (["face_angle", "club_path"] as const).flatMap((name) => {
    const column = findColumn(table, name);
    return column?.kind === "number" ? [Float64Array.from(rows, (row) => column.values[row]!)] : [];
  });
  const areKnown = parts.length === 2 && parts.every((part) => !part.some(Number.isNaN));
  const columns = [...(areKnown ? parts : [data.along]), ...(data.beside === null ? [] : [data.beside])];
  const own = Array.from({ length: data.groupCount }, (_, group) => {
    const pick = (values: Float64Array): Float64Array => values.filter((__, i) => data.group[i] === group);
    return pick(data.value).length < leastForWorkability.shots ? Number.NaN : shareExplained(columns.map(pick), pick(data.value));
  }).filter((share) => !Number.isNaN(share));
  return Math.max(shareExplained(columns, data.value), own.length === 0 ? Number.NEGATIVE_INFINITY : Math.min(...own));
}

/** Whether a session says that the monitor works the spin axis out, or the spins from which it was worked out here. */
function isStatedCalculated(table: Table, sessions: readonly SessionFacts[]): boolean {
  const axis = findColumn(table, "spin_axis")!;
  const behind = axis.origin === "derived" ? ["side_spin", "back_spin"] : ["spin_axis"];
  return axis.origin === "calculated" || sessions.some((session) => session.calculated.some((name) => behind.includes(name)));
}

/** The stated reading errors of face angle and club path in degrees, the largest of the sessions; `null` unless all state both. */
function readingErrors(sessions: readonly SessionFacts[]): { readonly face: number; readonly path: number } | null {
  const largest = (name: string): number => {
    const stated = sessions.map((session) => session.readingErrors?.[name]);
    const inDeg = stated.map((error) => (error !== undefined && isConvertible(error.unit, "deg") ? convertDifference(error.value, error.unit, "deg") : Number.NaN));
    return Math.max(...inDeg);
  };
  const [face, path] = [largest("face_angle"), largest("club_path")];
  return sessions.length > 0 && face + path >= 0 ? { face, path } : null;
}

function withCorrection(group: GroupSlope, name: string, errors: { readonly face: number; readonly path: number } | null): HeadRow {
  const share = errors === null ? Number.NaN : reliability(errors.face ** 2 + errors.path ** 2, group.spread ** 2);
  const corrected = group.ground === "enough" && share >= leastReliability ? correctedSlope(group.slope, share, group.n) : null;
  return { ...group, name, reliability: share, corrected };
}

function whyNone(orderKnown: boolean, isStated: boolean, explained: number): readonly string[] {
  if (isStated) return ["Spin axis is calculated, not measured, as the session says; workability cannot be judged."];
  if (explained > mostExplained) {
    return [`Spin axis is calculated, not measured; workability cannot be judged: face angle, club path and strike explain ${formatNumber(100 * explained, 1)} % of its variance, more than readings of their own would leave.`];
  }
  return orderKnown ? [] : ["Order unknown: how much stints differ is not known, so that no slope has an interval. No verdict."];
}

function methodLine(withStrike: boolean, heads: readonly HeadRow[], confidence: number): string {
  const takenOut = `the trend of the session${withStrike ? " and the strike across the face" : ""} taken out`;
  const pairs = heads.length < 2 ? "" : `; ${heads.length > 2 ? "simultaneous " : ""}${formatShare(confidence)} intervals of pairs, ${formatShare(equivalenceConfidence)} for equivalence, checked by a model of shots in stints (REML, Kenward and Roger)`;
  return `Slope of spin axis on face-to-path for each head, ${takenOut}; least squares with errors robust to stints (CR2)${pairs}.`;
}

function background(table: Table, used: UsedShots, { withoutStrike, seldomStruck, rows }: SlopeShots, by: string): readonly string[] {
  const columns = readings.map((name) => findColumn(table, name) as NumberColumn);
  const strike = findColumn(table, "strike_x");
  const counted = withoutStrike === null && strike?.kind === "number" ? [...columns, strike] : columns;
  const left = used.rows.length - rows.length;
  const without = {
    "not there": "Where the face was hit is not known and not taken out: a strike beside the middle tilts the spin axis by itself, which passes for slope where the two go together.",
    "often missing": "Where the face was hit is known of fewer than half of the shots and not taken out: a strike beside the middle tilts the spin axis by itself.",
    "too few": `Where the face was hit is known of too few shots of ${listed(seldomStruck)} and taken out of no slope: a strike beside the middle tilts the spin axis by itself.`,
  };
  return [
    ...(withoutStrike === null ? [] : [without[withoutStrike]]),
    ...used.sentences,
    ...errorSentences(used.sessions),
    ...missingSentences(counted.map((column) => ({ column: column.name, counts: countValues(table, column, used) }))),
    ...(left > 0 ? [`${left} of ${used.rows.length} shots ${left === 1 ? "lacks" : "lack"} one of these and ${left === 1 ? "is" : "are"} left out.`] : []),
    ...(by === "head" ? buildSentences(used.groups, used.sessions) : []),
    ...columns.flatMap((column) => originSentences(column, used.sessions)),
    ...notesOf({ sessions: used.sessions }),
    `A slope belongs to ${inWords(by)} and tester together: it holds for deliveries like these.`,
    closingSentence(used),
  ];
}

/** The shots behind the slopes, with the columns that the picture draws. */
function drawnShots(table: Table, by: string, { rows }: SlopeShots): Table {
  const columns = [...new Set([by, "session", "shot", ...readings])].flatMap((name) => {
    const column = findColumn(table, name);
    if (column === undefined) return [];
    return [takeRows((readings as readonly string[]).includes(name) ? inDegrees(column as NumberColumn) : column, rows)];
  });
  return makeTable(columns, rows.length, table);
}
