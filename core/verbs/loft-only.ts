import { inWords } from "../chart/field-name";
import type { LoftChange, Modelled } from "../flight/loft-change";
import { loftChange } from "../flight/loft-change";
import { formatShare } from "../present/format-number";
import { notesOf } from "../present/present-table";
import type { OptionValues, RunContext, Verb, VerbProblem, VerbResult } from "../query/vocabulary";
import type { HeadKind } from "../session/session-facts";
import type { JudgedPair } from "../stats/judge-pair";
import { judgePairs } from "../stats/judge-pair";
import { sum } from "../stats/moments";
import { compareIndependentShots } from "../stats/stint-means-model";
import { compareAsStruck } from "../stats/stint-model";
import { stintMeans } from "../stats/stints";
import { turnsIn } from "../stats/time-share";
import type { Schema } from "../table/schema";
import { shapeOf } from "../table/schema";
import type { ShotColumn } from "../table/shot-columns";
import type { NumberColumn, Table } from "../table/table";
import { findColumn, makeTable } from "../table/table";
import { convertDifference } from "../units";
import { airSentences } from "./air-sentences";
import { againstFirst, againstOf, againstOption, againstProblems } from "./against-option";
import { checkInWords } from "./comparison-sentences";
import { byOption, confidenceOf, confidenceOption, groupColumn, groupingProblem } from "./group-column";
import { notComparable } from "./group-count";
import { loftOnlyPicture } from "./loft-only-picture";
import type { LoftPair } from "./loft-only-sentences";
import { leadSentence, modelSentences, pairDetails, untoldSentences, withoutSpinLoft } from "./loft-only-sentences";
import type { PairStrike, StatedLoft } from "./loft-only-strike";
import { pairStrike, statedLofts } from "./loft-only-strike";
import type { LoftRow } from "./loft-only-table";
import { hiddenLoftColumns, lessRange, loftOnlyColumns, loftOnlySchema, loftVerdict } from "./loft-only-table";
import { buildSentences, closingSentence, countValues, errorSentences, listed, missingTogether, originsTogether } from "./session-sentences";
import { shotData } from "./shot-data";
import type { UsedShots } from "./used-shots";
import { usedShots } from "./used-shots";
import { refuse, verbProblem } from "./verb-problem";

/** The columns that are told where they are there, with what the model calls them and its unit. */
const told: readonly (readonly [column: ShotColumn, effect: keyof LoftChange, unit: "m" | "m/s" | "rad" | "rad/s"])[] = [
  ["carry", "carry", "m"],
  ["ball_speed", "ballSpeed", "m/s"],
  ["launch_angle", "launchAngle", "rad"],
  ["spin_rate", "spinRate", "rad/s"],
];

/** What a simulated carry needs. */
const launchColumns: readonly ShotColumn[] = ["ball_speed", "launch_angle", "spin_rate"];

/** What the stated lofts alone would do between two heads, beside what was measured. */
export const loftOnly: Verb = {
  name: "loftOnly",
  family: "trade",
  help: {
    summary: "Tells what the difference of the stated lofts alone would do to carry, ball speed, launch angle and spin between two heads, beside what was measured, and what is left over.",
    example: 'shots.loftOnly({ by: "head", against: "Plover" })',
    method:
      "The impact of rigid bodies (Penner 2001) at the pair's mean strike is solved for both lofts; carry is flown with the lift and drag of Naruo, Mizota and Shimozono (2004). What was measured is compared as `compare` does (Kenward and Roger 1997).",
  },
  parameters: [
    {
      name: "options",
      help: "What to tell apart, and how.",
      kind: "options",
      optional: true,
      options: { by: byOption, against: againstOption, confidence: confidenceOption },
    },
  ],
  infer: (input, given) => {
    const values = given[0]?.kind === "options" ? given[0].values : {};
    return {
      schema: { columns: loftOnlySchema, open: false, groupedBy: [], fromShots: input.fromShots },
      problems: [...(groupingProblem(input, values, "loftOnly")?.problems ?? []), ...againstProblems(input, values), ...missingColumns(input)],
    };
  },
  run: (input, given, context) => run(input, given[0]?.kind === "options" ? given[0].values : {}, context),
};

/** The problem of a table that has no column to tell of, or nothing to find the spin loft from. */
function missingColumns(input: Schema): readonly VerbProblem[] {
  if (input.open) return [];
  const has = (name: ShotColumn): boolean => input.columns.some((column) => column.name === name && column.kind === "number");
  if (!has("launch_angle") && !(has("dynamic_loft") && has("angle_of_attack"))) return [verbProblem(null, "trade.no-spin-loft", {})];
  if (!told.some(([name]) => has(name) && (name !== "carry" || launchColumns.every(has)))) return [verbProblem(null, "trade.nothing-of-loft", { columns: told.map(([name]) => name) })];
  return [];
}

function run(input: Table, values: OptionValues, context: RunContext): VerbResult {
  const by = groupColumn(input, values, "loftOnly");
  if ("type" in by) return by;
  const missing = missingColumns(shapeOf(input));
  if (missing.length > 0) return { type: "refused", problems: missing };
  const all = usedShots(input, by, "loftOnly", context);
  if ("type" in all) return all;
  const countRefused = notComparable(all.groups, by.name);
  if (countRefused !== null) return countRefused;
  const used = againstFirst(all, values);
  if ("type" in used) return used;
  const lofts = statedLofts(input, used);
  if (lofts.filter(({ loft }) => loft !== null).length < 2) return refuseLofts(used, lofts);
  if (used.stint === null) context.warn(verbProblem(null, "trade.order-unknown", { by: by.name }));

  const confidence = confidenceOf(values);
  const columns = columnsToTell(input);
  const judged = columns.map(({ column }) => {
    context.checkpoint();
    return judge(input, column, used, confidence, againstOf(values) !== null);
  });
  const without: string[] = [];
  const pairs = (judged[0] ?? []).flatMap((pair, i): readonly LoftPair[] => {
    context.checkpoint();
    const [own, other] = [lofts[pair.of]!, lofts[pair.against]!];
    if (own.loft === null || other.loft === null || own.loft === other.loft) return [];
    const kinds = [...new Set([...own.kinds, ...other.kinds])];
    const found = pairStrike(input, used, pair, kinds);
    const names = { head: used.groups[pair.of]!, against: used.groups[pair.against]! };
    if (found === null) {
      without.push(withoutSpinLoft(names.head, names.against));
      return [];
    }
    const rows = rowsOf(columns, judged.map((each) => each[i]!), { found, lofts: [own.loft, other.loft], kinds, ...names });
    return [{ ...names, lofts: [own.loft, other.loft], found, rows }];
  });

  const rows = pairs.flatMap((pair) => pair.rows);
  const table = makeTable(loftOnlyColumns(rows), rows.length, { sessions: used.sessions });
  const answer = [...pairs.map(leadSentence), ...untoldSentences(used.groups, lofts), ...without];
  const isCarryTold = columns.some(({ column }) => column.name === "carry");
  const counts = columns.map(({ column }) => ({ column: column.name, counts: countValues(input, column, used) }));
  const sentences = [
    ...answer,
    ...pairDetails(pairs, confidence, input),
    ...modelSentences(pairs, isCarryTold),
    ...notTold(input, columns),
    ...used.sentences,
    ...errorSentences(used.sessions),
    ...missingTogether(counts),
    ...(by.name === "head" ? buildSentences(used.groups, used.sessions) : []),
    ...originsTogether(columns.map(({ column }) => column), used.sessions),
    ...airSentences(columns.map(({ column }) => column.name), used.sessions),
    ...notesOf({ sessions: used.sessions }),
    closingSentence(used),
  ];
  return {
    ...table,
    report: {
      method: methodLine(used, confidence, isCarryTold),
      sentences,
      answer: answer.length,
      hidden: hiddenLoftColumns,
      confidence,
      picture: pairs.length === 0 ? null : loftOnlyPicture(rows, table, confidence),
    },
  };
}

/** Why no two groups have a loft each. */
function refuseLofts(used: UsedShots, lofts: readonly StatedLoft[]): VerbResult {
  const unstated = [...new Set(lofts.flatMap((each) => each.unstated))];
  if (unstated.length > 0 || lofts.every(({ heads }) => heads.length === 0)) return refuse("by", "trade.no-lofts", { heads: unstated.length > 0 ? unstated : used.groups });
  const several = used.groups.flatMap((name, i) => (lofts[i]!.all.length > 1 ? [`${name} has ${listed(lofts[i]!.all.map((loft) => `${loft}°`))}`] : []));
  return refuse("by", "trade.several-lofts", { groups: several });
}

interface ToldColumn {
  readonly column: NumberColumn;
  readonly effect: keyof LoftChange;
  readonly unit: (typeof told)[number][2];
}

function columnsToTell(input: Table): readonly ToldColumn[] {
  return told.flatMap(([name, effect, unit]) => {
    const column = numbers(input, name);
    if (column === null || (name === "carry" && launchColumns.some((each) => numbers(input, each) === null))) return [];
    return [{ column, effect, unit }];
  });
}

function numbers(input: Table, name: ShotColumn): NumberColumn | null {
  const column = findColumn(input, name);
  return column?.kind === "number" && column.unit !== null ? column : null;
}

/** Said where carry is there and its model is not. */
function notTold(input: Table, columns: readonly ToldColumn[]): readonly string[] {
  if (numbers(input, "carry") === null || columns.some(({ column }) => column.name === "carry")) return [];
  const missing = launchColumns.filter((name) => numbers(input, name) === null);
  return [`Nothing is told of carry: that needs ${missing.map(inWords).join(" and ")} too.`];
}

/** The pairs of one column as struck. No margin is asked for: whether anything is left over does not hang on one. */
function judge(input: Table, column: NumberColumn, used: UsedShots, confidence: number, oneNamed: boolean): readonly JudgedPair[] {
  const shots = shotData(input, column, used);
  const { pairs } = used.stint === null ? compareIndependentShots(shots) : compareAsStruck(shots);
  const stints = stintMeans(shots);
  const turns = used.groups.map((_, group) => turnsIn(stints.filter((stint) => stint.group === group)));
  const wanted = oneNamed ? pairs.filter((pair) => pair.against === 0) : pairs;
  return judgePairs(wanted, { orderKnown: used.stint !== null, groups: used.groups.length, turnsInAll: sum(turns), margin: 1, confidence, oneNamed });
}

interface PairFacts {
  readonly found: PairStrike;
  /** Degrees. */
  readonly lofts: readonly [own: number, other: number];
  readonly kinds: readonly HeadKind[];
  readonly head: string;
  readonly against: string;
}

function rowsOf(columns: readonly ToldColumn[], judged: readonly JudgedPair[], { found, lofts, kinds, head, against }: PairFacts): readonly LoftRow[] {
  const difference = Number((lofts[0] - lofts[1]).toFixed(6));
  const change = loftChange(found.strike, convertDifference(difference, "deg", "rad"), kinds, found.air.air);
  return columns.map(({ column, effect, unit }, i): LoftRow => {
    const pair = judged[i]!;
    const inUnit = (value: number): number => convertDifference(value, unit, column.unit!);
    const { usual, low, high } = change[effect];
    const alone: Modelled = { usual: inUnit(usual), low: inUnit(low), high: inUnit(high) };
    return {
      column,
      pair,
      head,
      against,
      difference,
      loftOnly: alone,
      leftOver: pair.shown.difference - alone.usual,
      leftOverInterval: lessRange(pair.wide, alone),
      verdict: loftVerdict(pair, alone),
    };
  });
}

function methodLine(used: UsedShots, confidence: number, isCarryTold: boolean): string {
  const flight = isCarryTold ? "; carry by Naruo, Mizota & Shimozono 2004, its range also by Ferguson, McNally & McPhee 2022" : "";
  const level = formatShare(confidence);
  const measured =
    used.stint === null
      ? `${level} intervals on single shots as if they were independent, since their order is not known`
      : `model of shots in stints (REML, Kenward and Roger), checked by ${checkInWords}; ${level} intervals, simultaneous for all pairs of a column`;
  return `Impact of rigid bodies (Penner 2001) at the pair's mean strike, half of the difference of the stated lofts to either side${flight}. Measured as struck: ${measured}. What is left over is bounded by both together.`;
}
