import { buildIntervals } from "../chart/kinds/intervals";
import { formatShare } from "../present/format-number";
import type { OptionValues, RunContext, Verb, VerbProblem, VerbResult } from "../query/vocabulary";
import type { JudgedPair } from "../stats/judge-pair";
import { equivalenceConfidence, judgePairs } from "../stats/judge-pair";
import { sum } from "../stats/moments";
import type { Comparison, Strikes } from "../stats/pair-estimate";
import { compareAtSameStrikes } from "../stats/same-strikes-model";
import type { ShotData } from "../stats/shot-data";
import { compareIndependentShots } from "../stats/stint-means-model";
import { compareAsStruck } from "../stats/stint-model";
import { stintMeans } from "../stats/stints";
import { turnsIn } from "../stats/time-share";
import type { Schema } from "../table/schema";
import type { NumberColumn, Table } from "../table/table";
import { makeTable } from "../table/table";
import { againstFirst, againstOf, againstOption, againstProblems } from "./against-option";
import { backgroundSentences } from "./comparison-background";
import type { PairFound } from "./comparison-checks";
import {
  byHandSentence,
  fewShotsSentences,
  headline,
  leftOutSentences,
  methodSentences,
  modelSentences,
  overlapSentences,
  strikeSentences,
} from "./comparison-checks";
import type { ComparisonWords } from "./comparison-sentences";
import { checkInWords, otherDaysSentence, pairNames, pairSentences, strikesInWords } from "./comparison-sentences";
import { comparisonColumns, comparisonSchema, hiddenColumns } from "./comparison-table";
import { byOption, confidenceOf, confidenceOption, groupColumn, groupingProblem, numbersNamed } from "./group-column";
import { notComparable } from "./group-count";
import type { Margin } from "./margins";
import { marginFor, missingMargin } from "./margins";
import type { GroupCount } from "./session-sentences";
import { countValues, isUneven } from "./session-sentences";
import { withoutSameStrikes } from "./same-strikes";
import { shotData } from "./shot-data";
import type { UsedShots } from "./used-shots";
import { usedShots } from "./used-shots";
import type { Refused } from "./verb-problem";
import { refuse, verbProblem } from "./verb-problem";
import type { Conclusions } from "./what-if";
import { whatIf } from "./what-if";

/** Pairs beyond which a comparison is called an exploration. Common practice, no source. */
const mostPairs = 20;

/** Both kinds of differences. */
const kindsOfStrikes: readonly Strikes[] = ["as struck", "same"];

/** Which head is longer, faster, higher: every pair, with intervals, a verdict and the shots that would settle it. */
export const compare: Verb = {
  name: "compare",
  family: "trade",
  help: {
    summary:
      "Compares heads pair by pair, as struck and at the same strikes: the difference with its interval, a verdict against a margin, and how many more shots would settle it.",
    example: 'shots.compare({ of: "carry", by: "head", margin: "3 yd" })',
    method:
      "A model of shots in stints with the trend of the session (REML; Kenward and Roger 1997), checked by a second method; intervals of several pairs by Tukey and Kramer (Kramer 1956), equivalence by two one-sided tests (Schuirmann 1987). At the same strikes, a quadratic surface over the face is averaged over the strikes of all heads (Lane and Nelder 1982).",
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
          choices: kindsOfStrikes,
          required: false,
          help: 'Which differences: "as struck" is what happened, wherever the face was hit; "same" is what the heads would have done had all been hit in the same places. Both unless told, where strikes are known.',
        },
        margin: {
          kind: "measure",
          unitOf: "of",
          required: false,
          help: 'Largest difference that does not matter, such as "3 yd", chosen before looking; else of the notebook, the session, or the default of the column.',
        },
        against: againstOption,
        confidence: confidenceOption,
      },
    },
  ],
  infer: (input, given) => {
    const values = given[0]?.kind === "options" ? given[0].values : {};
    const unit = input.columns.find((column) => column.name === values["of"])?.unit ?? null;
    const schema = { columns: comparisonSchema(unit), open: false, groupedBy: [], fromShots: input.fromShots };
    const problems = [...((groupingProblem(input, values, "compare") ?? missingMargin(input, values))?.problems ?? []), ...againstProblems(input, values), ...strikesProblems(input, values)];
    return { schema, problems };
  },
  run: (input, given, context) => run(input, given[0]?.kind === "options" ? given[0].values : {}, context),
};

/** Whether there are strikes where they are asked for. */
function strikesProblems(input: Schema, values: OptionValues): readonly VerbProblem[] {
  if (values["strikes"] !== "same" || input.open) return [];
  const has = (name: string): boolean => input.columns.some((column) => column.name === name && column.kind === "number");
  if (has("strike_x") && has("strike_y")) return [];
  return [verbProblem("strikes", "trade.no-same-strikes", { why: "the table has no strikes" })];
}

/** The pairs of a table's groups, compared, and what they were compared by. */
interface Compared {
  readonly column: NumberColumn;
  readonly used: UsedShots;
  readonly margin: Margin;
  readonly words: ComparisonWords;
  readonly data: ShotData;
  /** Those with a known strike; `null` where nothing is said at the same strikes. */
  readonly sameShots: ShotData | null;
  /** Why nothing is said at the same strikes; `null` when something is. */
  readonly without: string | null;
  /** As struck; `null` where that was not asked for. */
  readonly struck: Comparison | null;
  readonly found: readonly PairFound[];
}

function comparePairs(input: Table, values: OptionValues, context: RunContext): Compared | Refused {
  const column = numbersNamed(input, values["of"]);
  const by = groupColumn(input, values, "compare");
  if ("type" in by) return by;
  const all = usedShots(input, by, "compare", context);
  if ("type" in all) return all;
  const countRefused = notComparable(all.groups, by.name);
  if (countRefused !== null) return countRefused;
  const margin = marginFor(column, values["margin"], context, all.sessions);
  if ("type" in margin) return margin;
  const used = againstFirst(all, values);
  if ("type" in used) return used;
  const without = withoutSameStrikes(input, column, by, used);
  if (values["strikes"] === "same" && without !== null) return refuse("strikes", "trade.no-same-strikes", { why: without });

  const data = shotData(input, column, used);
  const words: ComparisonWords = {
    column,
    by: by.name,
    groups: used.groups,
    margin: margin.value,
    confidence: confidenceOf(values),
    sessionNames: used.sessionNames,
    valuesOf: (group) => Array.from(data.value).filter((_, i) => data.group[i] === group),
  };
  const judge = (comparison: Comparison, shots: ShotData): readonly JudgedPair[] => judged(comparison, shots, used, words, againstOf(values) !== null);
  context.checkpoint();
  const asStruck = used.stint === null ? compareIndependentShots(data) : compareAsStruck(data);
  const struck = values["strikes"] === "same" ? null : asStruck;
  const struckPairs = struck === null ? null : judge(struck, data);
  context.checkpoint();
  const sameShots = values["strikes"] === "as struck" || without !== null ? null : shotData(input, column, used, true);
  const samePairs = sameShots === null ? null : judge(compareAtSameStrikes(sameShots, asStruck.pairs[0]!.familySize), sameShots);
  context.checkpoint();
  const found = (struckPairs ?? samePairs!).map((_, i): PairFound => ({ struck: struckPairs?.[i] ?? null, same: samePairs?.[i] ?? null }));
  return { column, used, margin, words, data, sameShots, without, struck, found };
}

function run(input: Table, values: OptionValues, context: RunContext): VerbResult {
  const compared = comparePairs(input, values, context);
  if ("type" in compared) return compared;
  const { column, used, words, data, sameShots, struck, found } = compared;
  const counts = countValues(input, column, used);
  warn(column, words.by, used, counts, context);
  const question = {
    input,
    rows: used.rows,
    columns: [column.name, ...(sameShots === null ? [] : ["strike_x", "strike_y"])],
    found: verdictsOf(compared),
    conclude: (table: Table) => {
      const again = comparePairs(table, values, { ...context, warn: () => undefined });
      return "type" in again ? null : verdictsOf(again);
    },
  };
  const other = whatIf(question, context);

  const pairs = found.flatMap((each) => [each.struck, each.same]).filter((pair) => pair !== null);
  const columns = comparisonColumns(pairs, words);
  const rows = makeTable(columns, pairs.length, { sessions: used.sessions });
  const headlines = found.map(headline);
  const answer = [
    ...pairSentences(headlines, words),
    ...otherDaysSentence(headlines, words),
    ...(sameShots === null ? [] : strikeSentences(found, sameShots, words)),
    ...other.answer,
  ];
  const checks = [
    ...manyPairs(found),
    ...overlapSentences(found, words),
    ...methodSentences(found, words),
    ...(used.stint === null ? [] : byHandSentence(found, data, words)),
    ...(struck === null ? [] : modelSentences(struck, words)),
    ...(used.sessions.length > 1 ? [] : fewShotsSentences(found, words)),
    ...leftOutSentences(found, words),
    ...other.details,
  ];
  return {
    ...rows,
    report: {
      method: methodLine(used, pairs, words, againstOf(values)),
      sentences: [...answer, ...checks, ...backgroundSentences({ ...compared, input, counts })],
      answer: answer.length,
      hidden: hiddenColumns,
      confidence: words.confidence,
      picture: buildIntervals(rows, words.confidence),
    },
  };
}

/** Of each pair the verdict that stands, then those as struck and at the same strikes where there are both. */
function verdictsOf({ found, words }: Compared): Conclusions {
  return found.map((pair) => {
    const main = headline(pair);
    const name = pairNames(main, words).join(" against ");
    const both = pair.struck === null || pair.same === null ? [] : [pair.struck, pair.same];
    return [{ of: name, verdict: main.verdict }, ...both.map((each) => ({ of: `${name} ${strikesInWords(each)}`, verdict: each.verdict }))];
  });
}

/** The pairs of a comparison, judged; all of them, or those with the first group alone. */
function judged(comparison: Comparison, shots: ShotData, used: UsedShots, words: ComparisonWords, oneNamed: boolean): readonly JudgedPair[] {
  const stints = stintMeans(shots);
  const turns = used.groups.map((_, group) => turnsIn(stints.filter((stint) => stint.group === group)));
  const pairs = oneNamed ? comparison.pairs.filter((pair) => pair.against === 0) : comparison.pairs;
  const { margin, confidence } = words;
  return judgePairs(pairs, { orderKnown: used.stint !== null, groups: used.groups.length, turnsInAll: sum(turns), margin, confidence, oneNamed });
}

function warn(column: NumberColumn, by: string, used: UsedShots, counts: readonly GroupCount[], context: RunContext): void {
  if (used.stint === null) context.warn(verbProblem(null, "trade.order-unknown", { by }));
  if (isUneven(counts, "missing")) {
    const shares = counts.map((each) => `${each.name} ${each.missing} of ${each.shots}`);
    context.warn(verbProblem("of", "trade.unequal-missing", { column: column.name, rates: shares }));
  }
  const sessions = used.groups.map((_, group) => new Set(used.session.filter((__, i) => used.group[i] === group)));
  // Sessions differ in that by their nature, which each pair says.
  if (by !== "session" && sessions.some((own) => own.size < used.sessions.length)) context.warn(verbProblem("by", "trade.sessions-differ", { by, names: used.groups }));
}

function methodLine(used: UsedShots, pairs: readonly JudgedPair[], words: ComparisonWords, against: string | null): string {
  const level = formatShare(words.confidence);
  const several = pairs.filter((pair) => pair.strikes === pairs[0]!.strikes).length > 1;
  const family = !several ? "" : against === null ? "simultaneous " : "simultaneous (Bonferroni) ";
  const holm = several && against !== null ? ", p values by Holm's method" : "";
  const intervals = `${family}${level} intervals${holm}, ${formatShare(equivalenceConfidence)} for equivalence (two one-sided tests)`;
  const kinds = [...new Set(pairs.map(strikesInWords))].join(", and ");
  if (used.stint === null) {
    const test = used.groups.length === 2 ? "Welch's t" : "Games and Howell's method";
    return `${test} on single shots as if they were independent, since their order is not known; ${intervals}; ${kinds}.`;
  }
  const forms = [...new Set(pairs.flatMap(({ adjustment }) => (adjustment === null || adjustment.overlap === "refused" ? [] : [formWords[adjustment.form]])))];
  const surface = forms.length === 0 ? "" : ` by a quadratic strike surface (${forms.join(" or ")})`;
  const tukey = several && against === null ? " (Tukey and Kramer)" : "";
  return `Model of shots in stints: ${words.by}, trend of the session (REML, Kenward and Roger), checked by ${checkInWords}; ${intervals.replace(" intervals", ` intervals${tukey}`)}; ${kinds}${surface}.`;
}

/** What the heads share of the strike surface. */
const formWords: Record<NonNullable<JudgedPair["adjustment"]>["form"], string> = {
  additive: "shared by all but for the level",
  shared: "shared by all but for the level",
  reduced: "fall-off of each its own, tilt and twist shared",
  full: "of each its own",
};

/** Said of so many pairs that one of them stands out by chance easily. */
function manyPairs(found: readonly PairFound[]): readonly string[] {
  return found.length > mostPairs ? [`${found.length} pairs at once are an exploration: confirm what stands out with shots of its own.`] : [];
}
