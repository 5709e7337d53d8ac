import { effectiveCount, lagOneWithin } from "./autocorrelation";
import { fitBlockModel } from "./block-model";
import { fitClusterRobust } from "./cluster-robust";
import type { BlockData } from "./linear-fit";
import type { DriftFit, DriftShots } from "./drift-model";
import { driftColumns, fitDrift, levelled, only } from "./drift-model";
import type { DriftVerdict } from "./drift-verdict";
import { driftVerdict } from "./drift-verdict";
import { equivalenceConfidence, leastShots } from "./judge-pair";
import { kendallTau } from "./kendall";
import { linearRegression } from "./linear-regression";
import type { Interval, MeanContrast } from "./mean-contrast";
import { mean } from "./moments";
import { hasScatter } from "./qr";
import { seededRandom } from "./random";
import { regressionLine } from "./regression-line";
import { familyInterval, familyP } from "./simultaneous";
import type { StepChange } from "./step-change";
import { stepChange } from "./step-change";
import { stintMeans } from "./stints";
import { theilSen } from "./theil-sen";
import { turnsIn } from "./time-share";

/** Stints below which a change has no interval. Common practice, no source. */
export const leastDriftStints = 3;

/** p below which the groups are said not to change alike. Common practice, no source. */
const unlikeBelow = 0.01;

/** p below which a step, or shots that go with their neighbours, are worth a sentence. Common practice, no source. */
const rareBelow = 0.05;

/** Lag-1 autocorrelation beyond which shots of a stint are not counted as independent. Common practice, no source. */
const strongNeighbours = 0.2;

/** Shots on either side of a yes-or-no of shots below which its effect is not given. Common practice, no source. */
const leastMarked = 3;

/** Random orders for the p value of a step or of neighbours. */
const permutations = 2000;

/** What may be said of a change, and if not everything, why. */
export type DriftGround = "enough" | "no values" | "few shots" | "one go" | "few stints" | "not told apart" | "no scatter";

/** An estimate with its interval. */
export interface Effect extends MeanContrast {
  readonly interval: Interval;
}

/** The mean of one stint with its group's level taken out, and when it was, 0 to 1. */
export interface LevelStint {
  readonly stint: number;
  readonly time: number;
  readonly mean: number;
}

/** What there is to say of one column in one session; sizes are in the unit of the column. */
export interface Drift {
  readonly ground: DriftGround;
  readonly n: number;
  readonly stints: number;
  /** From the first to the last shot used; bounds `NaN` where there is no interval. */
  readonly change: Effect;
  readonly narrow: Interval;
  readonly p: number;
  /** The change by ordinary least squares with robust errors clustered in stints; `null` where not determined. */
  readonly cross: Effect | null;
  readonly verdict: DriftVerdict;
  /** True when the two methods give different verdicts. */
  readonly dependsOnMethod: boolean;
  /** Whether the groups change alike: false when p of the joint test is below 0.01; `null` where it cannot be tested. */
  readonly alike: boolean | null;
  /** Each group's own change, where they do not change alike. */
  readonly byGroup: readonly (Effect & { readonly group: number })[];
  /** Change from first to last by the median of slopes between stint means, and rank correlation with time. */
  readonly theilSen: number;
  readonly kendall: number;
  readonly drift: DriftFit | null;
  readonly levelStints: readonly LevelStint[];
  /** A step that explains more than the trend does, where so good a one is rare. */
  readonly step: StepChange | null;
  /** First pass against the rest, beyond the trend and its bend. */
  readonly warmUp: Effect | null;
  /** First shot after a change of head against the others, and the change of the session without those shots. */
  readonly carryOver: (Effect & { readonly changeWithout: Effect | null }) | null;
  /** Set where shots of a stint go with their neighbours: the lag-1 autocorrelation, and what the shots are worth. */
  readonly neighbours: { readonly r1: number; readonly worth: number } | null;
  /** Mean change from the first to the last shot of a stint, where nothing but the stints themselves can be told. */
  readonly withinStint: number;
}

/** How drifts are looked at. */
export interface DriftQuestion {
  /** Of the intervals, 0.5 to 1. */
  readonly confidence: number;
  /** What is too small to matter, above 0, in the unit of the values; `null` when that is not known. */
  readonly margin: number | null;
  readonly seed: number;
}

const none: Interval = { from: Number.NaN, to: Number.NaN };
const noEffect: Effect = { difference: Number.NaN, standardError: Number.NaN, df: Number.NaN, interval: none };

/**
 * How a column changed over one session, whichever groups were hit, and whether all groups changed alike.
 *
 * The change γ is that of the block model Y = level of the group + γ t + stint + shot, by REML with Kenward and Roger's
 * errors. Fewer than 5 shots or 3 stints, and groups each hit in one go, give no interval: what went on between such
 * groups cannot be told from the groups.
 */
export function analyseDrift(shots: DriftShots, question: DriftQuestion): Drift {
  const n = shots.value.length;
  const stints = new Set(shots.stint).size;
  const bare = bareDrift(shots, stints);
  if (n === 0) return { ...bare, ground: "no values" };
  if (n < leastShots) return { ...bare, ground: "few shots" };
  const model = driftColumns(shots);
  const plain = linearRegression(model.columns, model.value);
  const slope = plain?.coefficients[shots.groupCount] ?? Number.NaN;
  if (shots.groupCount > 1 && isEachInOneGo(shots)) return { ...bare, ground: "one go", withinStint: slope * stintSpan(shots) };
  const described = { ...bare, change: { ...noEffect, difference: slope } };
  if (stints < leastDriftStints || stints < shots.groupCount + 2) return { ...described, ground: "few stints" };
  if (plain !== null && !hasScatter(plain.residuals, shots.value)) return { ...described, ground: "no scatter" };
  const drift = fitDrift(shots);
  if (drift === null) return { ...described, ground: "not told apart" };
  return judge(drift, shots, described, question);
}

function bareDrift(shots: DriftShots, stints: number): Drift {
  return {
    ground: "enough",
    n: shots.value.length,
    stints,
    change: noEffect,
    narrow: none,
    p: Number.NaN,
    cross: null,
    verdict: "no verdict",
    dependsOnMethod: false,
    alike: null,
    byGroup: [],
    theilSen: Number.NaN,
    kendall: Number.NaN,
    drift: null,
    levelStints: [],
    step: null,
    warmUp: null,
    carryOver: null,
    neighbours: null,
    withinStint: Number.NaN,
  };
}

function judge(drift: DriftFit, shots: DriftShots, bare: Drift, { confidence, margin, seed }: DriftQuestion): Drift {
  const weights = only(shots.groupCount, drift.data.columns.length);
  const found = drift.fit.contrast(weights);
  const change = effectOf(found, confidence);
  if (Number.isNaN(change.interval.from)) return { ...bare, change: { ...change, interval: none }, ground: "not told apart" };
  const robust = fitClusterRobust(drift.data)?.contrast(weights) ?? null;
  const cross = robust === null || !(robust.df >= 1) ? null : effectOf(robust, confidence);
  const bounds = (of: MeanContrast): { wide: Interval; narrow: Interval } => ({ wide: familyInterval(of, 2, confidence), narrow: familyInterval(of, 2, equivalenceConfidence) });
  const { verdict, dependsOnMethod } = driftVerdict(bounds(found), cross === null ? null : bounds(cross), margin);
  const unlike = testAlike(shots, drift, confidence);
  const levels = levelled(drift, shots);
  const levelStints = stintLevels(shots, levels);
  const times = levelStints.map((stint) => stint.time);
  const means = levelStints.map((stint) => stint.mean);
  return {
    ...bare,
    ground: "enough",
    change,
    narrow: bounds(found).narrow,
    p: familyP(found, 2),
    cross,
    verdict: unlike.alike === false ? "do not change alike" : verdict,
    dependsOnMethod: unlike.alike !== false && dependsOnMethod,
    ...unlike,
    theilSen: theilSen(times, means),
    kendall: kendallTau(times, means).tau,
    drift,
    levelStints,
    step: stepOf(times, means, seed),
    warmUp: warmUpOf(shots, drift, confidence),
    carryOver: carryOverOf(shots, confidence),
    neighbours: neighboursOf(shots, drift, seed),
  };
}

function effectOf(found: MeanContrast, confidence: number): Effect {
  return { ...found, interval: familyInterval(found, 2, confidence) };
}

/** True when an effect's interval leaves out 0. */
export function isClear({ interval }: Effect): boolean {
  return interval.from > 0 || interval.to < 0;
}

/** Groups each turned to once: stints with nothing but a break between them count once. */
function isEachInOneGo({ groupCount, group, stint, value }: DriftShots): boolean {
  const stints = stintMeans({ group, session: new Int32Array(value.length), stint, value });
  return Array.from({ length: groupCount }, (_, g) => turnsIn(stints.filter((each) => each.group === g))).every((turns) => turns <= 1);
}

/** Mean time from the first to the last shot of a stint, as a share of the session. */
function stintSpan({ stint, time }: DriftShots): number {
  const spans = runsOf(stint, time, time).map((run) => run.at(-1)! - run[0]!).filter((span) => span > 0);
  return spans.length === 0 ? Number.NaN : mean(spans);
}

/** The values of each stint in the order of time, stints in the order in which they began. */
function runsOf(stint: Float64Array, time: Float64Array, values: Float64Array): readonly (readonly number[])[] {
  const runs = new Map<number, number[]>();
  for (const i of Array.from(time.keys()).sort((a, b) => time[a]! - time[b]!)) {
    const known = runs.get(stint[i]!);
    if (known === undefined) runs.set(stint[i]!, [values[i]!]);
    else known.push(values[i]!);
  }
  return [...runs.values()];
}

/** Whether groups of three or more stints change alike, by the joint test of their own trends. */
function testAlike(shots: DriftShots, drift: DriftFit, confidence: number): Pick<Drift, "alike" | "byGroup"> {
  const untested = { alike: null, byGroup: [] };
  const { groupCount, group, stint } = shots;
  const able = Array.from({ length: groupCount }, (_, g) => g).filter((g) => new Set(stint.filter((_, i) => group[i] === g)).size >= leastDriftStints);
  if (able.length < 2) return untested;
  const own = able.slice(1).map((g) => drift.data.columns[groupCount]!.map((t, i) => (group[i] === g ? t : 0)));
  const before = drift.data.columns.length;
  const count = before + own.length;
  const fit = fitBlockModel({ ...drift.data, columns: [...drift.data.columns, ...own] });
  if (fit === null) return untested;
  const { p } = fit.jointTest(own.map((_, k) => only(before + k, count)));
  if (Number.isNaN(p)) return untested;
  if (p >= unlikeBelow) return { alike: true, byGroup: [] };
  const weightsOf = (k: number): Float64Array => Float64Array.from({ length: count }, (_, i) => (i === groupCount || (k > 0 && i === before + k - 1) ? 1 : 0));
  return { alike: false, byGroup: able.map((g, k) => ({ group: g, ...effectOf(fit.contrast(weightsOf(k)), confidence) })) };
}

function stintLevels({ stint, time }: DriftShots, levels: Float64Array): readonly LevelStint[] {
  const times = runsOf(stint, time, time);
  const numbers = runsOf(stint, time, stint);
  return runsOf(stint, time, levels).map((run, b) => ({ stint: numbers[b]![0]!, time: mean(times[b]!), mean: mean(run) }));
}

/** The best step between stints, where it is rare and takes away more than a line does. */
function stepOf(times: readonly number[], means: readonly number[], seed: number): StepChange | null {
  const step = stepChange(means.map((value) => [value]), { least: 2, permutations, random: seededRandom(seed) });
  return step !== null && step.p < rareBelow && step.explained > regressionLine(times, means).explained ? step : null;
}

/**
 * The first pass against the rest beyond the trend of the model, which alone would set the two apart; where either has enough
 * shots and the rest enough stints.
 */
function warmUpOf(shots: DriftShots, drift: DriftFit, confidence: number): Effect | null {
  const { pass, stint } = shots;
  if (pass === null || pass.some(Number.isNaN)) return null;
  const first = pass.reduce((least, each) => Math.min(least, each), Infinity);
  const later = new Set(stint.filter((_, i) => pass[i] !== first));
  if (later.size < leastDriftStints) return null;
  return markedEffect(drift.data.columns, drift.data, Array.from(pass, (each) => each === first), confidence);
}

/** The first shots after a change of head against the others, and where that is clear the change without them. */
function carryOverOf(shots: DriftShots, confidence: number): Drift["carryOver"] {
  const model = driftColumns(shots);
  const effect = markedEffect(model.columns, model, shots.afterChange, confidence);
  if (effect === null) return null;
  return { ...effect, changeWithout: isClear(effect) ? changeWithoutFirst(shots, confidence) : null };
}

function changeWithoutFirst(shots: DriftShots, confidence: number): Effect | null {
  const kept = Int32Array.from(shots.value.keys()).filter((i) => !shots.afterChange[i]);
  if (new Set(kept.map((i) => shots.group[i]!)).size < shots.groupCount) return null;
  const model = driftColumns({
    ...shots,
    group: kept.map((i) => shots.group[i]!),
    stint: Float64Array.from(kept, (i) => shots.stint[i]!),
    time: Float64Array.from(kept, (i) => shots.time[i]!),
    value: Float64Array.from(kept, (i) => shots.value[i]!),
  });
  const found = fitBlockModel(model)?.contrast(only(shots.groupCount, model.columns.length));
  return found === undefined || !(found.df >= 1) ? null : effectOf(found, confidence);
}

/** What sets the marked shots apart, beside the other columns. */
function markedEffect(columns: readonly Float64Array[], model: BlockData, marked: readonly boolean[], confidence: number): Effect | null {
  const count = marked.filter(Boolean).length;
  if (count < leastMarked || marked.length - count < leastMarked) return null;
  const all = [...columns, Float64Array.from(marked, Number)];
  const found = fitBlockModel({ ...model, columns: all })?.contrast(only(all.length - 1, all.length));
  return found === undefined || !(found.df >= 1) || !(found.standardError > 0) ? null : effectOf(found, confidence);
}

function neighboursOf(shots: DriftShots, { fit }: DriftFit, seed: number): Drift["neighbours"] {
  const lag = lagOneWithin(runsOf(shots.stint, shots.time, fit.residuals), permutations, seededRandom(seed));
  // p takes thousands of random orders, so that it is read only where it counts.
  if (!(Math.abs(lag.r1) > strongNeighbours && lag.p < rareBelow)) return null;
  return { r1: lag.r1, worth: effectiveCount(shots.value.length, lag.r1) };
}
