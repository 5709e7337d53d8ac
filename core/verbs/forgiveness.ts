import { buildSurface } from "../chart/kinds/surface";
import { digitsAsStated, formatMeasure, formatShare } from "../present/format-number";
import type { OptionValues, RunContext, Verb, VerbResult } from "../query/vocabulary";
import type { JudgedLosses } from "../stats/judge-losses";
import { judgeLosses } from "../stats/judge-losses";
import { supportProbability } from "../stats/loss-model";
import { leastNear, nearDistance } from "../stats/strike-overlap";
import { schemaOf } from "../table/schema";
import { shotColumnFacts } from "../table/shot-columns";
import type { NumberColumn, Table } from "../table/table";
import { findColumn, makeTable } from "../table/table";
import { background, modelSentences } from "./forgiveness-background";
import { lossMargin, missesOf, missingLossMargin, missProblem } from "./forgiveness-options";
import { answerSentences, headSentences } from "./forgiveness-sentences";
import type { ForgivenessWords } from "./forgiveness-table";
import { forgivenessColumns, forgivenessRows, forgivenessSchema, hiddenForgiveness } from "./forgiveness-table";
import { byOption, confidenceOf, confidenceOption, groupColumn, groupingProblem } from "./group-column";
import { tooManyGroups } from "./group-count";
import { lossName, missingLossColumns, offCentre } from "./loss-columns";
import { shotData, strikeColumns } from "./shot-data";
import type { UsedShots } from "./used-shots";
import { usedShots } from "./used-shots";
import { verbProblem } from "./verb-problem";

/** Which head loses least off a bad strike. */
export const forgiveness: Verb = {
  name: "forgiveness",
  family: "trade",
  help: {
    summary: "Tells which head loses least when the face is not hit in the centre: over the strikes of all heads and at a standard miss in each direction.",
    example: 'shots.forgiveness({ of: "ball_speed", by: "head" })',
    method:
      "A quadratic surface over the face is fitted by least squares with the trend of the session, errors robust to stints (Bell and McCaffrey 2002), and checked by a model of shots in stints (Kenward and Roger 1997); losses over the common strikes are averages of it (Lane and Nelder 1982).",
  },
  parameters: [
    {
      name: "options",
      help: "What may be lost, and where to look.",
      kind: "options",
      optional: true,
      options: {
        of: { kind: "column", of: "number", required: false, help: 'Column of numbers that is lost off the centre; "ball_speed" unless told.' },
        by: byOption,
        miss_across: { kind: "measure", unitOf: "strike_x", required: false, help: 'How far to toe and heel losses are told, such as "10 mm"; else of the session, or the default for the kind of head.' },
        miss_up: { kind: "measure", unitOf: "strike_y", required: false, help: 'How far high and low losses are told, such as "6 mm"; else of the session, or the default for the kind of head.' },
        margin: { kind: "measure", unitOf: "of", unless: "ball_speed", required: false, help: 'Largest difference of two losses that does not matter, such as "1 mph"; else the default of the column.' },
        confidence: confidenceOption,
      },
    },
  ],
  infer: (input, given) => {
    const values = given[0]?.kind === "options" ? given[0].values : {};
    const problem = groupingProblem(input, values, "forgiveness") ?? missingLossColumns(input, values) ?? missProblem(values) ?? missingLossMargin(input, values, lossName(values));
    const unit = input.columns.find((column) => column.name === lossName(values))?.unit ?? null;
    return { schema: { columns: forgivenessSchema(unit), open: false, groupedBy: [], fromShots: input.fromShots }, problems: problem?.problems ?? [] };
  },
  run: (input, given, context) => run(input, given[0]?.kind === "options" ? given[0].values : {}, context),
};

function run(input: Table, values: OptionValues, context: RunContext): VerbResult {
  const by = groupColumn(input, values, "forgiveness");
  if ("type" in by) return by;
  const lacking = missingLossColumns(schemaOf(input), values) ?? missProblem(values);
  if (lacking !== null) return lacking;
  const column = findColumn(input, lossName(values)) as NumberColumn;
  const used = usedShots(input, by, "forgiveness", context, offCentre);
  if ("type" in used) return used;
  const countRefused = tooManyGroups(used.groups, by.name);
  if (countRefused !== null) return countRefused;
  const margin = lossMargin(column, values["margin"], used.sessions);
  if ("type" in margin) return margin;
  const misses = missesOf(values, used, by.name);
  const orderKnown = used.stint !== null;
  if (!orderKnown) context.warn(verbProblem(null, "trade.order-unknown", { by: by.name }));

  const data = shotData(input, column, used, true);
  const confidence = confidenceOf(values);
  const judged = judgeLosses(data, { misses: misses.each, orderKnown, margin: margin.value, confidence });
  context.checkpoint();
  const isRatio = (shotColumnFacts(column.name)?.direction ?? null) === null;
  const words: ForgivenessWords = { column, by: by.name, groups: used.groups, used: usedOf(input, column, used), margin: margin.value, confidence, orderKnown, isRatio };
  const rows = forgivenessRows(judged);
  const answer = answerSentences(judged, words);
  return {
    ...makeTable(forgivenessColumns(rows, words), rows.length, { sessions: used.sessions }),
    report: {
      method: methodLine(judged, words),
      sentences: [
        ...answer,
        ...headSentences(judged, words),
        ...modelSentences(judged.model, used),
        `The margin of ${formatMeasure(margin.value, digitsAsStated(margin.value), column.unit)} for the difference of two losses is ${margin.chosenBy === "option" ? "stated here" : "the default"}; standard misses are ${misses.source}.`,
        ...background(input, column, used, by.name),
      ],
      answer: answer.length,
      hidden: hiddenForgiveness,
      confidence,
      picture: buildSurface({ table: input, column, by: by.name, used, data, model: judged.model, misses: misses.each }),
    },
  };
}

/** For each group its used shots, and how many of them have a strike and a value. */
function usedOf(input: Table, column: NumberColumn, used: UsedShots): ForgivenessWords["used"] {
  const { x, y } = strikeColumns(input)!;
  return used.groups.map((_, group) => {
    const rows = used.rows.filter((__, i) => used.group[i] === group);
    const count = (isKnown: (row: number) => boolean): number => rows.filter(isKnown).length;
    return {
      shots: rows.length,
      struck: count((row) => !Number.isNaN(x.values[row]! + y.values[row]!)),
      valued: count((row) => !Number.isNaN(column.values[row]!)),
    };
  });
}

function methodLine({ model }: JudgedLosses, words: ForgivenessWords): string {
  if (model === null) return "A surface of level, tilt and fall-off over the face, which these shots do not determine.";
  const form = {
    additive: "level of each, tilt and fall-off common to all",
    shared: "level of each, tilt, twist and fall-off common to all",
    reduced: "level and fall-off of each, tilt and twist common to all",
    full: "level, tilt, twist and fall-off of each",
  }[model.form.form];
  const count = model.heads.length;
  const errors = model.hasErrors
    ? `least squares with a trend, errors robust to stints (CR2), differences checked by a model of shots in stints (REML, Kenward and Roger); ${count > 2 ? `simultaneous ${formatShare(words.confidence)} intervals of differences over ${count} groups (Tukey and Kramer)` : `${formatShare(words.confidence)} intervals`}`
    : "least squares with a trend, for a description only";
  return `Quadratic surface over the face (${form}); ${errors}; losses against each one's own centre, told where ${leastNear} of its shots fell within ${nearDistance} mm or the ellipse of its next strike (${formatShare(supportProbability)}) reaches; common strikes with equal weight for each.`;
}
