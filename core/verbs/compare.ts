import { buildIntervals } from "../chart/kinds/intervals";
import { inWords } from "../chart/field-name";
import { formatShare } from "../present/format-number";
import { notesOf } from "../present/present-table";
import type { OptionValues, RunContext, Verb, VerbResult } from "../query/vocabulary";
import type { ComparisonData, ComparisonModel } from "../stats/comparison";
import { hodgesLehmann } from "../stats/hodges-lehmann";
import type { JudgedPair } from "../stats/judge-pair";
import { equivalenceConfidence, judgePair, leastShots } from "../stats/judge-pair";
import { independentShotsModel, stintMeansModel } from "../stats/stint-means-model";
import { sum } from "../stats/moments";
import { stintMeans } from "../stats/stints";
import { turnsIn } from "../stats/time-share";
import type { NumberColumn, Table } from "../table/table";
import { findColumn, makeTable } from "../table/table";
import type { ComparisonWords } from "./comparison-sentences";
import { fewShotsSentence, pairSentences } from "./comparison-sentences";
import { asStruck, comparisonColumns, comparisonSchema, hiddenColumns } from "./comparison-table";
import { byOption, confidenceOf, confidenceOption, groupColumn, groupingProblem, numbersNamed } from "./group-column";
import type { Margin } from "./margins";
import { marginFor } from "./margins";
import type { GroupCount } from "./session-sentences";
import {
  asStated,
  buildSentences,
  closingSentence,
  errorSentences,
  countValues,
  listed,
  missingSentence,
  originSentences,
} from "./session-sentences";
import type { UsedShots } from "./used-shots";
import { usedShots } from "./used-shots";
import { refuse, verbProblem } from "./verb-problem";

/** Groups beyond which pairs are too many to be looked at one by one. */
const mostGroups = 12;

/** Pairs beyond which a comparison is called an exploration. Common practice, no source. */
const mostPairs = 20;

/** Difference of the shares of missing values, between two groups, above which a warning is given. */
const mostRateDifference = 0.1;

/** Which head is longer, faster, higher: every pair, with intervals, a verdict and the shots that would settle it. */
export const compare: Verb = {
  name: "compare",
  family: "trade",
  help: {
    summary: "Compares heads pair by pair: the difference with its interval, a verdict against a margin, and how many more shots would settle it.",
    example: 'shots.compare({ of: "carry", by: "head", margin: "3 yd" })',
  },
  parameters: [
    {
      name: "options",
      help: "What to compare, and how.",
      kind: "options",
      optional: false,
      options: {
        of: { kind: "column", of: "number", required: true, help: 'Column of numbers to compare, such as "carry".' },
        by: byOption,
        strikes: {
          kind: "choice",
          choices: [asStruck],
          required: false,
          help: 'Which differences: "as struck" is what happened, wherever the face was hit.',
        },
        margin: {
          kind: "measure",
          unitOf: "of",
          required: false,
          help: 'Largest difference that does not matter, such as "3 yd", chosen before looking; else of the notebook, the session, or the default of the column.',
        },
        confidence: confidenceOption,
      },
    },
  ],
  infer: (input, given) => {
    const values = given[0]?.kind === "options" ? given[0].values : {};
    const unit = input.columns.find((column) => column.name === values["of"])?.unit ?? null;
    const schema = { columns: comparisonSchema(unit), open: false, groupedBy: [], fromShots: input.fromShots };
    return { schema, problems: groupingProblem(input, values, "compare")?.problems ?? [] };
  },
  run: (input, given, context) => run(input, given[0]?.kind === "options" ? given[0].values : {}, context),
};

function run(input: Table, values: OptionValues, context: RunContext): VerbResult {
  const column = numbersNamed(input, values["of"]);
  const by = groupColumn(input, values, "compare");
  if ("type" in by) return by;
  const used = usedShots(input, by, "compare", context);
  if ("type" in used) return used;
  if (used.groups.length < 2) return refuse("by", "trade.one-group", { by: by.name, name: used.groups[0]! });
  if (used.groups.length > mostGroups) {
    return refuse("by", "trade.too-many-groups", { by: by.name, count: used.groups.length, most: mostGroups });
  }
  const margin = marginFor(column, values["margin"], context, used.sessions);
  if ("type" in margin) return margin;

  const counts = countValues(input, column, used);
  warn(column, by.name, used, counts, context);
  const data = comparisonData(column, used);
  const model = used.stint === null ? independentShotsModel : stintMeansModel;
  const words: ComparisonWords = {
    column,
    by: by.name,
    groups: used.groups,
    margin: margin.value,
    confidence: confidenceOf(values),
    valuesOf: (group) => valuesOf(data, group),
  };
  const pairs = judgedPairs(model, data, used, words, context);
  const columns = comparisonColumns(pairs, words);
  const rows = makeTable(columns, pairs.length, { sessions: used.sessions });
  return {
    ...rows,
    report: {
      method: methodLine(model, used.groups.length, words.confidence),
      sentences: [
        ...pairSentences(pairs, words),
        ...manyPairs(pairs),
        ...fewShots(pairs, data, used, words),
        ...background(input, pairs, margin, used, counts, words),
      ],
      hidden: hiddenColumns,
      confidence: words.confidence,
      picture: buildIntervals(rows, words.confidence),
    },
  };
}

/** The seam: any model that gives differences with standard errors and df can stand here. */
function judgedPairs(
  model: ComparisonModel,
  data: ComparisonData,
  used: UsedShots,
  words: ComparisonWords,
  context: RunContext,
): readonly JudgedPair[] {
  const stints = stintMeans(data);
  const turns = used.groups.map((_, group) => turnsIn(stints.filter((stint) => stint.group === group)));
  const situation = { orderKnown: used.stint !== null, groups: used.groups.length, turnsInAll: sum(turns) };
  return model.fit(data).map((pair) => {
    context.checkpoint();
    return judgePair(pair, situation, words.margin, words.confidence);
  });
}

/** The used shots that have a value, as columns for a model. */
function comparisonData(column: NumberColumn, used: UsedShots): ComparisonData {
  const present = Int32Array.from(used.rows.keys()).filter((i) => !Number.isNaN(column.values[used.rows[i]!]!));
  return {
    groupCount: used.groups.length,
    group: present.map((i) => used.group[i]!),
    session: present.map((i) => used.session[i]!),
    stint: Float64Array.from(present, (i) => used.stint?.[i] ?? 0),
    value: Float64Array.from(present, (i) => column.values[used.rows[i]!]!),
  };
}

function valuesOf(data: ComparisonData, group: number): readonly number[] {
  return Array.from(data.value).filter((_, i) => data.group[i] === group);
}

function warn(column: NumberColumn, by: string, used: UsedShots, counts: readonly GroupCount[], context: RunContext): void {
  if (used.stint === null) context.warn(verbProblem(null, "trade.order-unknown", { by }));
  // A group too small for a verdict anyway says nothing about rates.
  const rates = counts.filter((each) => each.shots >= leastShots).map((each) => each.missing / each.shots);
  if (Math.max(...rates) - Math.min(...rates) > mostRateDifference) {
    const shares = counts.map((each) => `${each.name} ${each.missing} of ${each.shots}`);
    context.warn(verbProblem("of", "trade.unequal-missing", { column: column.name, rates: shares }));
  }
  const sessions = used.groups.map((_, group) => new Set(used.session.filter((__, i) => used.group[i] === group)));
  // Sessions differ in that by their nature, which each pair says.
  if (by !== "session" && sessions.some((own) => own.size < used.sessions.length)) context.warn(verbProblem("by", "trade.sessions-differ", { by, names: used.groups }));
}

function methodLine(model: ComparisonModel, groups: number, confidence: number): string {
  const simultaneous = groups > 2 ? "simultaneous " : "";
  return `${model.words(groups)}; ${simultaneous}${formatShare(confidence)} intervals, ${formatShare(equivalenceConfidence)} for equivalence (two one-sided tests); ${asStruck}.`;
}

/** For each pair of one session whose means and whose single shots tell different stories. */
function fewShots(pairs: readonly JudgedPair[], data: ComparisonData, used: UsedShots, words: ComparisonWords): readonly string[] {
  if (used.sessions.length > 1) return [];
  return pairs.flatMap((pair) => {
    if (Number.isNaN(pair.wide.from)) return [];
    return fewShotsSentence(pair, hodgesLehmann(valuesOf(data, pair.of), valuesOf(data, pair.against)), words) ?? [];
  });
}

/** What a reader must know besides the verdicts. */
function background(
  input: Table,
  pairs: readonly JudgedPair[],
  margin: Margin,
  used: UsedShots,
  counts: readonly GroupCount[],
  words: ComparisonWords,
): readonly string[] {
  const { column } = words;
  const chosen = { option: "stated here", notebook: "stated in the notebook", session: "stated in the session", default: `the default for ${inWords(column.name)}` };
  return [
    `The margin of ${marginShown(margin, column)} is ${chosen[margin.chosenBy]}.`,
    ...used.sentences,
    ...errorSentences(used.sessions),
    missingSentence(column.name, counts),
    ...sharedSessions(used, pairs, words),
    ...sessionsLeftOut(used, pairs, words),
    ...(words.by === "head" ? buildSentences(used.groups, used.sessions) : mixedHeads(input, used, words)),
    ...originSentences(column, used.sessions),
    ...notesOf({ sessions: used.sessions }),
    closingSentence(used),
  ];
}

/** The margin in the column's unit, and as it was given where that is another one. */
function marginShown(margin: Margin, column: NumberColumn): string {
  if (column.unit === null) return String(margin.value);
  const shown = asStated({ value: margin.value, unit: column.unit });
  return margin.stated === null || margin.stated.unit === column.unit ? shown : `${shown} (${asStated(margin.stated)})`;
}

function sharedSessions(used: UsedShots, pairs: readonly JudgedPair[], words: ComparisonWords): readonly string[] {
  if (used.sessions.length < 2 || !pairs.some((pair) => pair.comparable)) return [];
  return [`Shots of ${used.sessions.length} sessions: differences are taken within each session in which both of a pair were hit; ${words.by}s that differ otherwise on other days are not allowed for.`];
}

/** Said of each pair for which a session does not count, since there the two cannot be told from the course of time. */
function sessionsLeftOut(used: UsedShots, pairs: readonly JudgedPair[], words: ComparisonWords): readonly string[] {
  return pairs.flatMap(({ of, against, leftOut }) => {
    if (leftOut.length === 0) return [];
    const sessions = listed(leftOut.map((session) => used.sessionNames[session]!));
    const pair = listed([words.groups[of]!, words.groups[against]!]);
    return [`${sessions} ${leftOut.length === 1 ? "is" : "are"} left out of the difference of ${pair}: there the two were hit at different times, and it cannot be told from drift.`];
  });
}

/** Said of so many pairs that one of them stands out by chance easily. */
function manyPairs(pairs: readonly JudgedPair[]): readonly string[] {
  return pairs.length > mostPairs ? [`${pairs.length} pairs at once are an exploration: confirm what stands out with shots of its own.`] : [];
}

/** Said where groups are not heads and one of them holds several heads. */
function mixedHeads(input: Table, used: UsedShots, words: ComparisonWords): readonly string[] {
  const head = findColumn(input, "head");
  if (head?.kind !== "text") return [];
  const heads = new Set(Array.from(used.rows, (row) => head.labels[head.codes[row]!]).filter((name) => name !== undefined));
  return heads.size < 2 ? [] : [`Shots of ${listed([...heads])} are taken together within each ${words.by}.`];
}

