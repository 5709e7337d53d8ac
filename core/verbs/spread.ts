import { inWords } from "../chart/field-name";
import { buildSpreads, ellipseOption, ellipseOf } from "../chart/kinds/spreads";
import { buildResiduals } from "../chart/residuals";
import { formatNumber, formatShare } from "../present/format-number";
import { notesOf } from "../present/present-table";
import type { OptionValues, RunContext, Verb, VerbProblem, VerbResult } from "../query/vocabulary";
import { leastShots } from "../stats/judge-pair";
import { meanResiduals } from "../stats/mean-residuals";
import { mean, sampleSd } from "../stats/moments";
import { quantile } from "../stats/quantile";
import { seededRandom } from "../stats/random";
import { leastForSameStrikes } from "../stats/same-strikes-model";
import { sameStrikeSpread } from "../stats/same-strike-spread";
import type { ShotData } from "../stats/shot-data";
import type { PairSpread } from "../stats/spread-comparison";
import { compareSpread, isJudged, leastToJudge } from "../stats/spread-comparison";
import { brownForsytheInStints } from "../stats/spread-in-stints";
import { stintMeans } from "../stats/stints";
import type { ResampledSpread } from "../stats/tightest";
import { resampleSpread } from "../stats/tightest";
import type { Schema } from "../table/schema";
import { schemaOf } from "../table/schema";
import type { Chart, NumberColumn, Table } from "../table/table";
import { findColumn, makeTable, numberColumn, takeRows } from "../table/table";
import { airSentences } from "./air-sentences";
import { byOption, confidenceOf, confidenceOption, groupColumn, groupingProblem } from "./group-column";
import { notComparable } from "./group-count";
import { buildSentences, closingSentence, countValues, errorSentences, isUneven, missingTogether, originsTogether } from "./session-sentences";
import { shotData, strikeColumns } from "./shot-data";
import type { SpreadWords } from "./spread-sentences";
import {
  allAlikeSentence,
  detectableSentence,
  farShotsSentence,
  fewStintsSentence,
  marginShown,
  nextTimeSentence,
  sameStrikesSentence,
  scatterSentence,
  spreadLine,
  tightestSentence,
} from "./spread-sentences";
import type { SpreadTopic } from "./spread-table";
import { ellipseName, hiddenColumns, spreadColumns, spreadSchema } from "./spread-table";
import type { UsedShots } from "./used-shots";
import { usedShots } from "./used-shots";
import type { Refused } from "./verb-problem";
import { refuse, verbProblem } from "./verb-problem";
import type { Conclusions } from "./what-if";
import { whatIf } from "./what-if";

/** Columns whose scatter is compared unless told, where the table has them. */
const usualColumns = ["carry", "offline"] as const;

/** Largest ratio of standard deviations that does not matter, unless told. Common practice, no source. */
const usualMargin = 1.25;

/** Which head is tighter: ratios of standard deviations and of ellipses, pair by pair, with a verdict. */
export const spread: Verb = {
  name: "spread",
  family: "trade",
  help: {
    summary: "Compares how much heads scatter, pair by pair: ratios of standard deviations and of ellipses with intervals, a verdict, and which ratios so many shots can show.",
    example: 'shots.spread({ of: ["carry", "offline"], by: "head" })',
    method:
      "Ratios of standard deviations with Bonett's intervals (2006), which allow for long tails, checked by the jackknife over stints (Tukey 1958); several pairs go by Holm's steps (1979). Areas of ellipses by the variance of the log determinant (Anderson 2003).",
  },
  parameters: [
    {
      name: "options",
      help: "Whose scatter to compare, and how.",
      kind: "options",
      optional: true,
      options: {
        of: { kind: "columns", of: "number", required: false, help: 'One or several columns of numbers; ["carry", "offline"] unless told, with the ellipse of both.' },
        by: byOption,
        margin: {
          kind: "number",
          above: 1,
          below: 100,
          whole: false,
          usual: 1.25,
          required: false,
          help: "Largest ratio of two standard deviations that does not matter, chosen before looking; 1.25 unless told, which stands for 0.80 to 1.25.",
        },
        ellipse: ellipseOption,
        confidence: confidenceOption,
      },
    },
  ],
  infer: (input, given) => {
    const values = given[0]?.kind === "options" ? given[0].values : {};
    const names = namesOf(input, values);
    const units = names.map((name) => input.columns.find((column) => column.name === name)?.unit ?? null);
    return {
      schema: { columns: spreadSchema(units), open: false, groupedBy: [], fromShots: input.fromShots },
      problems: [...(groupingProblem(input, values, "spread")?.problems ?? []), ...(names.length > 0 || input.open ? [] : nothingToCompare())],
    };
  },
  run: (input, given, context) => run(input, given[0]?.kind === "options" ? given[0].values : {}, context),
};

/** The columns to compare: as told, each once, else those of carry and offline that are there. */
function namesOf(input: Schema, values: OptionValues): readonly string[] {
  const told = values["of"];
  if (typeof told === "string") return [told];
  if (Array.isArray(told)) return [...new Set(told as readonly string[])];
  return usualColumns.filter((name) => input.columns.some((column) => column.name === name && column.kind === "number"));
}

function nothingToCompare(): readonly VerbProblem[] {
  return refuse(null, "trade.no-spread-column", {}).problems;
}

/** One column with the shots that have a value of it. */
interface Residuals {
  readonly column: NumberColumn;
  readonly data: ShotData;
  /** Values less their group's mean and the session's drift, one a shot of `data`. */
  readonly residuals: Float64Array;
}

interface Measured extends Residuals {
  readonly resampled: ResampledSpread | null;
}

/** What is compared, and by what. */
interface Compared {
  readonly columns: readonly NumberColumn[];
  readonly used: UsedShots;
  readonly words: SpreadWords;
  readonly residuals: readonly Residuals[];
  readonly topics: readonly SpreadTopic[];
  /** True where the ellipse of carry and offline is among the topics. */
  readonly isPlane: boolean;
}

function compareScatter(input: Table, values: OptionValues, context: RunContext): Compared | Refused {
  const columns = namesOf(schemaOf(input), values).flatMap((name) => findColumn(input, name) ?? []).filter((column) => column.kind === "number");
  if (columns.length === 0) return { type: "refused", problems: nothingToCompare() };
  const by = groupColumn(input, values, "spread");
  if ("type" in by) return by;
  const used = usedShots(input, by, "spread", context);
  if ("type" in used) return used;
  const countRefused = notComparable(used.groups, by.name);
  if (countRefused !== null) return countRefused;
  const isPlane = usualColumns.every((name) => columns.some((column) => column.name === name));
  const words: SpreadWords = {
    by: by.name,
    groups: used.groups,
    margin: typeof values["margin"] === "number" ? values["margin"] : usualMargin,
    confidence: confidenceOf(values),
    seed: context.seed,
  };
  const residuals = columns.map((column): Residuals => {
    context.checkpoint();
    const data = shotData(input, column, used);
    return { column, data, residuals: meanResiduals(data) };
  });
  const topics = [...residuals.map((each) => topicOf(each, used, words)), ...(isPlane ? [ellipseTopic(input, residuals, used, words)] : [])];
  return { columns, used, words, residuals, topics, isPlane };
}

function run(input: Table, values: OptionValues, context: RunContext): VerbResult {
  const compared = compareScatter(input, values, context);
  if ("type" in compared) return compared;
  const { columns, used, words, topics, isPlane } = compared;
  if (values["ellipse"] !== undefined && !isPlane) context.warn(verbProblem("ellipse", "trade.no-ellipse", {}));
  warn(input, columns, words.by, used, context);
  const measured = compared.residuals.map((each): Measured => {
    context.checkpoint();
    const resampled = used.stint === null ? null : resampleSpread({ ...each.data, value: each.residuals }, words.confidence, seededRandom(context.seed), context.checkpoint);
    return { ...each, resampled };
  });
  const conclude = (table: Table): Conclusions | null => {
    const again = compareScatter(table, values, { ...context, warn: () => undefined });
    return "type" in again ? null : verdictsOf(again);
  };
  const other = whatIf({ input, rows: used.rows, columns: columns.map(({ name }) => name), found: verdictsOf(compared), conclude }, context);
  const units = columns.map((column) => column.unit);
  const table = makeTable(spreadColumns(topics, used.groups, units), topics.reduce((count, topic) => count + topic.pairs.length, 0), { sessions: used.sessions });
  const answer = [...answerSentences(measured, topics, used, words), ...other.answer];
  return {
    ...table,
    report: {
      method: methodLine(used, words, isPlane),
      sentences: [...answer, ...details(input, measured, topics, used, words), ...other.details, ...background(input, measured, topics, used, words)],
      answer: answer.length,
      hidden: hiddenColumns,
      confidence: words.confidence,
      picture: pictureOf(input, measured, used, words, values, context),
    },
  };
}

/** The verdict on each pair, column by column and then of the ellipse. */
function verdictsOf({ topics, words }: Compared): Conclusions {
  return topics.flatMap((topic) =>
    topic.pairs.map((pair) => [{ of: `${words.groups[pair.of]!} against ${words.groups[pair.against]!} in ${topic.kind === "ellipse" ? "the ellipse" : inWords(topic.of)}`, verdict: pair.verdict }]),
  );
}

function topicOf({ column, data, residuals }: Residuals, used: UsedShots, { margin, confidence }: SpreadWords): SpreadTopic {
  const pairs = compareSpread({ shots: { ...data, value: residuals }, second: null, orderKnown: used.stint !== null }, { margin, confidence });
  return { of: column.name, unit: column.unit, kind: "column", pairs };
}

/** The areas of the ellipses of carry and offline, from the shots that have both. A ratio of areas goes with the square. */
function ellipseTopic(input: Table, measured: readonly Residuals[], used: UsedShots, { margin, confidence }: SpreadWords): SpreadTopic {
  const { data, carry, offline } = planeOf(input, measured, used);
  const pairs = compareSpread({ shots: { ...data, value: carry }, second: offline, orderKnown: used.stint !== null }, { margin: margin ** 2, confidence });
  return { of: ellipseName, unit: null, kind: "ellipse", pairs };
}

/** The residuals of carry and of offline for the shots that have both. */
function planeOf(input: Table, measured: readonly Residuals[], used: UsedShots): { data: ShotData; carry: Float64Array; offline: Float64Array; rows: Int32Array } {
  const [carry, offline] = usualColumns.map((name) => measured.find((each) => each.column.name === name)!.column);
  const both = { ...carry!, values: carry!.values.map((value, row) => (Number.isNaN(offline!.values[row]!) ? Number.NaN : value)) };
  const data = shotData(input, both, used);
  const rows = used.rows.filter((row) => !Number.isNaN(both.values[row]!));
  const offlines = Float64Array.from(rows, (row) => offline!.values[row]!);
  return { data, rows, carry: meanResiduals(data), offline: meanResiduals({ ...data, value: offlines }) };
}

function answerSentences(measured: readonly Measured[], topics: readonly SpreadTopic[], used: UsedShots, words: SpreadWords): readonly string[] {
  return [
    ...topics.map((topic) => spreadLine(topic, words)),
    ...measured.map((each) => scatterOf(each, used, words)),
    ...detectableSentence(topics, words),
    ...nextTimeSentence(topics, words),
  ];
}

function scatterOf({ column, data, residuals, resampled }: Measured, used: UsedShots, words: SpreadWords): string {
  const stints = used.stint === null ? null : stintMeans(data);
  const groups = words.groups.map((name, group) => {
    const values = Array.from(data.value).filter((_, i) => data.group[i] === group);
    const sd = values.length < leastShots ? Number.NaN : sampleSd(residuals.filter((_, i) => data.group[i] === group));
    return { name, values, stints: stints?.filter((stint) => stint.group === group).length ?? null, sd };
  });
  return scatterSentence(column, groups, resampled, words);
}

function details(input: Table, measured: readonly Measured[], topics: readonly SpreadTopic[], used: UsedShots, words: SpreadWords): readonly string[] {
  const isStrikeKnown = strikeColumns(input) !== null;
  return [
    ...measured.flatMap(({ column, resampled }, i) => {
      const isEnough = topics[i]!.pairs.every(({ n, nAgainst }) => Math.min(n, nAgainst) >= leastToJudge.shots);
      return isEnough ? tightestSentence(column, resampled, words) : [];
    }),
    ...(used.stint !== null && measured.some(({ resampled }) => resampled === null) ? [fewStintsSentence(words)] : []),
    ...measured.flatMap(({ column, data, residuals }, i) =>
      topics[i]!.pairs.every(isJudged) ? allAlikeSentence(column, brownForsytheInStints({ ...data, value: residuals }), words) : [],
    ),
    ...measured.flatMap(({ column, data, residuals }, i) =>
      topics[i]!.pairs.filter(isJudged).flatMap((pair) => farShotsSentence(pair, column, middleRatio(pair, data, residuals), words)),
    ),
    ...(isStrikeKnown ? measured.flatMap(({ column }) => sameStrikes(input, column, used, words)) : []),
  ];
}

/** The ratio of the ranges that hold the middle 80 % of shots. */
function middleRatio(pair: PairSpread, data: ShotData, residuals: Float64Array): number {
  const [mine, theirs] = [pair.of, pair.against].map((group) => {
    const own = residuals.filter((_, i) => data.group[i] === group && pair.sessions.includes(data.session[i]!));
    return quantile(own, 0.9) - quantile(own, 0.1);
  });
  return mine! / theirs!;
}

function sameStrikes(input: Table, column: NumberColumn, used: UsedShots, words: SpreadWords): readonly string[] {
  const data = shotData(input, column, used, true);
  const isEnough = words.groups.every((_, group) => data.group.filter((each) => each === group).length >= leastForSameStrikes);
  return isEnough ? sameStrikesSentence(column, sameStrikeSpread(data), words) : [];
}

/** What a reader must know besides the verdicts. */
function background(input: Table, measured: readonly Measured[], topics: readonly SpreadTopic[], used: UsedShots, words: SpreadWords): readonly string[] {
  const ellipse = topics.find((topic) => topic.kind === "ellipse");
  const areas = ellipse === undefined ? "" : `, of areas ${marginShown(ellipse, words)}`;
  const isUsual = words.margin === usualMargin ? "the default" : "stated here";
  return [
    `Ratios of ${formatNumber(1 / words.margin, 2)} to ${formatNumber(words.margin, 2)} count as alike (${isUsual})${areas}.`,
    ...used.sentences,
    ...errorSentences(used.sessions),
    ...missingSentences(input, measured, used),
    ...(words.by === "head" ? buildSentences(used.groups, used.sessions) : []),
    ...originsTogether(measured.map(({ column }) => column), used.sessions),
    ...airSentences(measured.map(({ column }) => column.name), used.sessions),
    ...notesOf({ sessions: used.sessions }),
    closingSentence(used),
  ];
}

function missingSentences(input: Table, measured: readonly Measured[], used: UsedShots): readonly string[] {
  const some = missingTogether(measured.map(({ column }) => ({ column: column.name, counts: countValues(input, column, used) })));
  return some.length > 0 ? some : ["No value is missing."];
}

function warn(input: Table, columns: readonly NumberColumn[], by: string, used: UsedShots, context: RunContext): void {
  if (used.stint === null) context.warn(verbProblem(null, "trade.order-unknown", { by }));
  for (const column of columns) {
    const counts = countValues(input, column, used);
    if (!isUneven(counts, "missing")) continue;
    context.warn(verbProblem("of", "trade.unequal-missing", { column: column.name, rates: counts.map((each) => `${each.name} ${each.missing} of ${each.shots}`) }));
  }
}

function methodLine(used: UsedShots, { confidence }: SpreadWords, isPlane: boolean): string {
  const pairs = used.groups.length > 2 ? "; each pair at its step of Holm's method over all pairs (Holm intervals), so not simultaneous" : "";
  const stints = used.stint === null ? "; shots as if they were independent, since their order is not known" : "; a verdict needs the jackknife over stints to agree";
  const area = isPlane ? "; areas of ellipses by the large-sample variance of log |S| with the same allowance" : "";
  return `Ratios of standard deviations about each group's mean${used.stint === null ? "" : " and the session's trend"}: Bonett's ${formatShare(confidence)} intervals, which allow for long tails${area}${pairs}${stints}.`;
}

/** Carry against offline with ellipses where both are compared and nothing else is, else how each column scatters. */
function pictureOf(input: Table, measured: readonly Measured[], used: UsedShots, words: SpreadWords, values: OptionValues, context: RunContext): Chart | null {
  if (used.rows.length > context.limits.marks) return null;
  const hasPlane = measured.length === 2 && usualColumns.every((name) => measured.some((each) => each.column.name === name));
  const also = ["session", "shot", words.by].flatMap((name) => findColumn(input, name) ?? []);
  const sources = { sessions: used.sessions };
  if (!hasPlane) {
    return buildResiduals(
      measured.map(({ column, residuals }) => {
        const rows = used.rows.filter((row) => !Number.isNaN(column.values[row]!));
        const taken = also.map((each) => takeRows(each, rows));
        return makeTable([...taken, numberColumn(column.name, residuals, column.unit)], rows.length, sources);
      }),
      measured.map(({ column }) => column.name),
      words.by,
      words.groups,
    );
  }
  const plane = planeOf(input, measured, used);
  const levelled = (name: (typeof usualColumns)[number]): NumberColumn => {
    const { column } = measured.find((each) => each.column.name === name)!;
    const own = Float64Array.from(plane.rows, (row) => column.values[row]!);
    const means = words.groups.map((_, group) => mean(own.filter((__, i) => plane.data.group[i] === group)));
    return numberColumn(name, plane[name].map((residual, i) => residual + means[plane.data.group[i]!]!), column.unit);
  };
  const shots = makeTable([...also.map((each) => takeRows(each, plane.rows)), levelled("offline"), levelled("carry")], plane.rows.length, sources);
  return buildSpreads(shots, words.by, { ellipse: ellipseOf(values), probability: words.confidence, seed: words.seed, isLevelled: used.stint !== null });
}

