import { inWords } from "../chart/field-name";
import { buildEnough } from "../chart/kinds/enough";
import { formatShare } from "../present/format-number";
import { notesOf } from "../present/present-table";
import type { OptionValues, RunContext, Verb, VerbResult } from "../query/vocabulary";
import { equivalenceConfidence, judgePairs } from "../stats/judge-pair";
import { usualPower } from "../stats/more-stints";
import type { Comparison } from "../stats/pair-estimate";
import { pairShots } from "../stats/pair-shots";
import type { PairPlan, PlanQuestion } from "../stats/plan-pairs";
import { planPair, scatterOf } from "../stats/plan-pairs";
import { compareAtSameStrikes } from "../stats/same-strikes-model";
import type { ShotData } from "../stats/shot-data";
import { compareAsStruck } from "../stats/stint-model";
import { stintMeans } from "../stats/stints";
import { turnsIn } from "../stats/time-share";
import type { NumberColumn, Table, TextColumn } from "../table/table";
import { makeTable } from "../table/table";
import { airSentences } from "./air-sentences";
import { cautionSentences, planSentences, sameStrikesSentence, scatterSentences } from "./enough-sentences";
import type { EnoughWords, PlannedPair } from "./enough-table";
import { enoughColumns, enoughSchema, hiddenEnough } from "./enough-table";
import { byOption, confidenceOf, confidenceOption, groupColumn, groupingProblem, numbersNamed } from "./group-column";
import { notComparable } from "./group-count";
import type { Margin } from "./margins";
import { marginFor, missingMargin } from "./margins";
import { asStated, buildSentences, closingSentence, countValues, errorSentences, missingSentences, originSentences } from "./session-sentences";
import { withoutSameStrikes } from "./same-strikes";
import { shotData } from "./shot-data";
import type { UsedShots } from "./used-shots";
import { usedShots } from "./used-shots";

/** How many more shots settle whether heads differ. */
export const enough: Verb = {
  name: "enough",
  family: "trade",
  help: {
    summary: "Plans how many more shots with each head settle whether they differ by a margin, from how the shots in hand scatter.",
    example: 'shots.enough({ of: "carry", by: "head", margin: "3 yd" })',
    method:
      "The standard error that the stints in hand give (Kenward and Roger 1997) is carried on to more stints; the power of the interval is that of the noncentral t (Owen 1968), that of showing equivalence that of two one-sided tests (Phillips 1990).",
  },
  parameters: [
    {
      name: "options",
      help: "What to settle, and how surely.",
      kind: "options",
      optional: false,
      options: {
        of: { kind: "column", of: "number", required: true, help: 'Column of numbers that the question is about, such as "carry".' },
        by: byOption,
        margin: {
          kind: "measure",
          unitOf: "of",
          required: false,
          help: 'The difference worth finding, such as "3 yd", chosen before looking; else of the notebook, the session, or the default of the column.',
        },
        confidence: confidenceOption,
        power: { kind: "number", above: 0.5, below: 1, whole: false, usual: 0.8, required: false, help: "Probability with which the question is to be settled, above 0.5 and below 1; 0.8 unless told." },
        shots_per_stint: { kind: "number", above: 0, below: 51, whole: true, usual: 6, required: false, help: "Shots in each stint yet to be hit, 1 to 50; as many as there were unless told." },
      },
    },
  ],
  infer: (input, given) => {
    const values = given[0]?.kind === "options" ? given[0].values : {};
    const unit = input.columns.find((column) => column.name === values["of"])?.unit ?? null;
    const schema = { columns: enoughSchema(unit), open: false, groupedBy: [], fromShots: input.fromShots };
    return { schema, problems: (groupingProblem(input, values, "enough") ?? missingMargin(input, values))?.problems ?? [] };
  },
  run: (input, given, context) => run(input, given[0]?.kind === "options" ? given[0].values : {}, context),
};

function run(input: Table, values: OptionValues, context: RunContext): VerbResult {
  const column = numbersNamed(input, values["of"]);
  const by = groupColumn(input, values, "enough");
  if ("type" in by) return by;
  const used = usedShots(input, by, "enough", context);
  if ("type" in used) return used;
  const countRefused = notComparable(used.groups, by.name);
  if (countRefused !== null) return countRefused;
  const margin = marginFor(column, values["margin"], context, used.sessions);
  if ("type" in margin) return margin;

  const data = shotData(input, column, used);
  const orderKnown = used.stint !== null;
  const words: EnoughWords = {
    column,
    by: by.name,
    groups: used.groups,
    margin: margin.value,
    confidence: confidenceOf(values),
    power: typeof values["power"] === "number" ? values["power"] : usualPower,
    orderKnown,
    scatter: orderKnown ? scatterOf(data) : null,
  };
  const shotsPerStint = typeof values["shots_per_stint"] === "number" ? values["shots_per_stint"] : null;
  const asStruck = orderKnown ? compareAsStruck(data) : null;
  const pairs = asStruck === null ? withoutOrder(data) : plannedPairs(data, asStruck, words, shotsPerStint, context);
  const longest = longestOf(pairs);
  const atSame = longest === null || asStruck === null ? [] : sameStrikes(input, column, by, used, words, shotsPerStint, asStruck.pairs[0]!.familySize, context);
  const table = makeTable(enoughColumns(pairs, words), pairs.length, { sessions: used.sessions });
  const answer = planSentences(pairs, words, longest);
  return {
    ...table,
    report: {
      method: methodLine(words),
      sentences: [
        ...answer,
        ...(longest === null ? [] : [...sameStrikesSentence(longestOf(atSame), atSame, words), ...scatterSentences(pairs, words, longest), ...cautionSentences(words, longest)]),
        ...background(input, margin, used, words),
      ],
      answer: answer.length,
      hidden: hiddenEnough,
      confidence: words.confidence,
      picture: buildEnough(table),
    },
  };
}

function plannedPairs(data: ShotData, comparison: Comparison, words: EnoughWords, shotsPerStint: number | null, context: RunContext): readonly PlannedPair[] {
  const { margin, confidence, power, scatter } = words;
  const heads = data.groupCount;
  const turnsInAll = turnsIn(stintMeans(data));
  const question: PlanQuestion = { margin, confidence, power, shotsPerStint, heads, turnsInAll };
  const judged = judgePairs(comparison.pairs, { orderKnown: true, groups: heads, turnsInAll, margin, confidence, oneNamed: false });
  return judged.map((pair) => {
    context.checkpoint();
    return { shots: pair, ground: pair.ground, plan: planPair(pair, scatter, question) };
  });
}

function withoutOrder(data: ShotData): readonly PlannedPair[] {
  return pairShots(data, false).map((shots) => ({ shots, ground: "order unknown", plan: null }));
}

/** The plan that needs most, and of several the one whose difference is known least. */
function longestOf(pairs: readonly PlannedPair[]): PairPlan | null {
  const plans = pairs.flatMap(({ plan }) => plan ?? []);
  return plans.sort((a, b) => b.more.shots - a.more.shots || b.outlook.standardError - a.outlook.standardError)[0] ?? null;
}

/** The plans at the same strikes; none where nothing can be said of the same strikes. */
function sameStrikes(input: Table, column: NumberColumn, by: TextColumn, used: UsedShots, words: EnoughWords, shotsPerStint: number | null, familySize: number, context: RunContext): readonly PlannedPair[] {
  if (withoutSameStrikes(input, column, by, used) !== null) return [];
  const data = shotData(input, column, used, true);
  // How much stints of another length are worth is known from the shots as struck, which scatter a little more.
  return data.value.length === 0 ? [] : plannedPairs(data, compareAtSameStrikes(data, familySize), words, shotsPerStint, context);
}

function methodLine({ confidence, power, groups }: EnoughWords): string {
  const interval = `${groups.length > 2 ? "simultaneous " : ""}${formatShare(confidence)} interval`;
  return `Standard errors of the model of shots in stints (REML, Kenward and Roger), the trend of the session taken out, carried on to more stints; a difference of the margin found by the ${interval} (noncentral t), none shown to be within it by the ${formatShare(equivalenceConfidence)} interval (two one-sided tests), each with a power of ${formatShare(power)}; ranges from the 80 % limits of the variance.`;
}

function background(input: Table, margin: Margin, used: UsedShots, words: EnoughWords): readonly string[] {
  const { column } = words;
  const chosen = { option: "stated here", notebook: "stated in the notebook", session: "stated in the session", default: `the default for ${inWords(column.name)}` };
  const shown = column.unit === null ? String(margin.value) : asStated({ value: margin.value, unit: column.unit });
  return [
    `The margin of ${shown} is ${chosen[margin.chosenBy]}.`,
    ...used.sentences,
    ...errorSentences(used.sessions),
    ...missingSentences([{ column: column.name, counts: countValues(input, column, used) }]),
    ...(words.by === "head" ? buildSentences(used.groups, used.sessions) : []),
    ...originSentences(column, used.sessions),
    ...airSentences([column.name], used.sessions),
    ...notesOf({ sessions: used.sessions }),
    closingSentence(used),
  ];
}
