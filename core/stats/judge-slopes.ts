import type { Intervals } from "./agree";
import { agreedVerdict, lessCertain } from "./agree";
import { fitBlockModel } from "./block-model";
import { fitClusterRobust } from "./cluster-robust";
import type { PairShots } from "./comparison";
import { tQuantile } from "./distributions";
import { equivalenceConfidence } from "./judge-pair";
import type { LinearFit } from "./linear-fit";
import { linearRegression } from "./linear-regression";
import type { Interval, MeanContrast } from "./mean-contrast";
import { sampleSd } from "./moments";
import type { PlannedShots } from "./more-stints";
import { planMore } from "./more-stints";
import { pairShots } from "./pair-shots";
import { familyInterval, familyP } from "./simultaneous";
import { stintMeans } from "./stints";
import { turnsIn } from "./time-share";
import type { Verdict } from "./verdict";
import { verdictOf } from "./verdict";
import type { SlopeData, SlopeModel } from "./workability-model";
import { onlyGroups, slopeModel } from "./workability-model";

/** What a group needs for a slope to be judged: shots, stints, and the SD of what the slope is on. Common practice, no source. */
export interface LeastForSlope {
  readonly shots: number;
  readonly stints: number;
  readonly spread: number;
}

/** Shots below which not even a slope without an interval is given. Common practice, no source. */
const leastDescribed = 5;

/** Why a group's slope is judged or not. */
export type SlopeGround = "enough" | "no shots" | "few shots" | "one go" | "few stints" | "little spread" | "order unknown" | "calculated" | "not told apart";

/** The slope of one group. */
export interface GroupSlope {
  readonly group: number;
  readonly ground: SlopeGround;
  readonly n: number;
  readonly stints: number;
  /** Standard deviation of what the slope is on. */
  readonly spread: number;
  /** `NaN` where not determined; a slope that is not judged has no standard error. */
  readonly slope: MeanContrast;
  readonly interval: Interval;
  /** The value expected at a place, half-way through the session; `null` without a slope. */
  readonly valueAt: ((along: number) => number) | null;
}

/** Why the slopes of a pair are compared or not. */
export type SlopePairGround = "enough" | "not judged" | "never together" | "one go" | "mixed with time" | "few stints";

/** The slope of group `of` less that of group `against`. */
export interface SlopePair extends MeanContrast {
  readonly of: number;
  readonly against: number;
  /** "not judged" where one of the two has no slope with an interval, or both have no value. */
  readonly ground: SlopePairGround;
  /** By the cluster-robust standard error, simultaneous over the groups that are judged; `NaN` where there is none. */
  readonly wide: Interval;
  readonly narrow: Interval;
  /** The same two from the block model. */
  readonly byModel: Intervals;
  readonly p: number;
  /** What both methods say. */
  readonly verdict: Verdict;
  /** False when the two methods say different things. */
  readonly agree: boolean;
  /** True for an undecided pair of which one of the two methods would say more. */
  readonly dependsOnMethod: boolean;
  /** Only for an undecided pair. */
  readonly more: PlannedShots | null;
}

/** The slopes of all groups and the differences of all pairs. */
export interface JudgedSlopes {
  readonly groups: readonly GroupSlope[];
  readonly pairs: readonly SlopePair[];
}

/** What the slopes are judged by. */
export interface SlopeQuestion {
  readonly orderKnown: boolean;
  /** True when the values were worked out from what the slope is on, so that a slope says nothing. */
  readonly isCalculated: boolean;
  readonly least: LeastForSlope;
  /** Difference of slopes that is too small to matter, above 0. */
  readonly margin: number;
  readonly confidence: number;
}

const none: Interval = { from: Number.NaN, to: Number.NaN };
const unknown: MeanContrast = { difference: Number.NaN, standardError: Number.NaN, df: Number.NaN };

/**
 * The slopes of all groups with their intervals, and each pair's difference with a verdict.
 *
 * From least squares with standard errors from the stints (CR2), which do not take the scatter of the groups for equal,
 * and a second time by the block model with Kenward and Roger's: a verdict is what both say, and "undecided" where they have nothing in common. Groups that have
 * too little for that get a slope by least squares, without an interval, and none of their pairs a verdict. Nor does a pair
 * that no session can tell from the course of time: heads of which one was hit before the other bend alike for a tester
 * who changes in between.
 */
export function judgeSlopes(data: SlopeData, question: SlopeQuestion): JudgedSlopes {
  const looked = Array.from({ length: data.groupCount }, (_, group) => lookAt(data, group, question));
  const enough = looked.filter((each) => each.ground === "enough").map((each) => each.group);
  const fits = enough.length === 0 ? null : fitBoth(onlyGroups(data, enough));
  const grounds = looked.map((each) => (each.ground === "enough" && fits === null ? { ...each, ground: "not told apart" as const } : each));
  return {
    groups: grounds.map((each) => ({ ...each, ...slopeOfGroup(data, each, enough, fits, question.confidence) })),
    pairs: pairShots(data, question.orderKnown).map((pair) => judge(data, pair, enough, fits, question)),
  };
}

type Looked = Pick<GroupSlope, "group" | "ground" | "n" | "stints" | "spread">;

function lookAt(data: SlopeData, group: number, { orderKnown, isCalculated, least }: SlopeQuestion): Looked {
  const along = data.along.filter((_, i) => data.group[i] === group);
  const stints = stintMeans(data).filter((stint) => stint.group === group);
  const turns = turnsIn(stints);
  const spread = sampleSd(along);
  const ground = (): SlopeGround => {
    if (along.length === 0) return "no shots";
    if (isCalculated) return "calculated";
    if (along.length < least.shots) return "few shots";
    if (!orderKnown) return "order unknown";
    if (turns < 2) return "one go";
    if (turns < least.stints) return "few stints";
    return spread >= least.spread ? "enough" : "little spread";
  };
  return { group, ground: ground(), n: along.length, stints: orderKnown ? stints.length : Number.NaN, spread };
}

interface Fits {
  readonly model: SlopeModel;
  readonly block: LinearFit;
  readonly robust: LinearFit;
}

function fitBoth(data: SlopeData): Fits | null {
  const model = slopeModel(data);
  const [block, robust] = [fitBlockModel(model), fitClusterRobust(model)];
  return block === null || robust === null ? null : { model, block, robust };
}

function slopeOfGroup(
  data: SlopeData,
  looked: Looked,
  enough: readonly number[],
  fits: Fits | null,
  confidence: number,
): Pick<GroupSlope, "slope" | "interval" | "valueAt"> {
  const place = enough.indexOf(looked.group);
  if (fits !== null && place >= 0) {
    const { model, robust } = fits;
    const slope = robust.contrast(model.slopeOf(place));
    const own = data.value.filter((_, i) => data.group[i] === looked.group);
    // Of values that are all equal only the columns shared with other groups leave residuals.
    const scatters = own.some((value) => value !== own[0]);
    const reach = scatters && slope.df > 0 ? tQuantile((1 + confidence) / 2, slope.df) * slope.standardError : Number.NaN;
    return {
      slope,
      interval: { from: slope.difference - reach, to: slope.difference + reach },
      valueAt: (along) => robust.contrast(model.valueAt(place, along)).difference,
    };
  }
  const isDescribed = looked.ground !== "calculated" && looked.n >= leastDescribed && looked.spread > 0;
  const model = isDescribed ? slopeModel(onlyGroups(data, [looked.group])) : null;
  const fit = model === null ? null : linearRegression(model.columns, model.value);
  if (model === null || fit === null) return { slope: unknown, interval: none, valueAt: null };
  return {
    slope: { ...unknown, difference: fit.contrast(model.slopeOf(0)).difference },
    interval: none,
    valueAt: (along) => fit.contrast(model.valueAt(0, along)).difference,
  };
}

function groundOf(pair: PairShots, isJudged: boolean, least: LeastForSlope): SlopePairGround {
  if (pair.n === 0 || pair.nAgainst === 0) return "not judged";
  if (!pair.comparable) return "never together";
  if (!isJudged) return "not judged";
  if (pair.inTime === "in one go") return "one go";
  if (pair.inTime === "at different times") return "mixed with time";
  return Math.min(pair.turns, pair.turnsAgainst) < least.stints ? "few stints" : "enough";
}

function judge(data: SlopeData, pair: PairShots, enough: readonly number[], fits: Fits | null, { least, margin, confidence }: SlopeQuestion): SlopePair {
  const { of, against } = pair;
  const [place, placeAgainst] = [enough.indexOf(of), enough.indexOf(against)];
  const ground = groundOf(pair, fits !== null && place >= 0 && placeAgainst >= 0, least);
  const nothing = { of, against, ground, wide: none, narrow: none, byModel: { wide: none, narrow: none }, p: Number.NaN, verdict: "no verdict" as const, agree: true, dependsOnMethod: false, more: null };
  if (fits === null || ground === "not judged" || ground === "never together" || ground === "one go") return { ...unknown, ...nothing };

  const otherSlope = fits.model.slopeOf(placeAgainst);
  const weights = fits.model.slopeOf(place).map((weight, j) => weight - otherSlope[j]!);
  const familySize = Math.max(2, enough.length);
  const [robust, block] = [fits.robust.contrast(weights), fits.block.contrast(weights)];
  const intervals = (contrast: MeanContrast): Intervals => ({
    wide: familyInterval(contrast, familySize, confidence),
    narrow: familyInterval(contrast, familySize, equivalenceConfidence),
  });
  const [first, second] = [intervals(robust), intervals(block)];
  const estimated = { ...nothing, ...robust, ...first, byModel: second, p: familyP(robust, familySize) };
  if (ground !== "enough") return estimated;

  const { verdict, dependsOnMethod } = agreedVerdict(first, second, margin);
  const { standardError, df } = lessCertain(robust, block);
  const more = planMore({
    standardError,
    df,
    stints: Math.min(pair.stints, pair.stintsAgainst),
    shotsPerStint: (pair.n + pair.nAgainst) / (pair.stints + pair.stintsAgainst),
    heads: data.groupCount,
    familySize,
    margin,
    confidence,
  });
  return {
    ...estimated,
    verdict,
    agree: verdictOf(first.wide, first.narrow, margin) === verdictOf(second.wide, second.narrow, margin),
    dependsOnMethod,
    more: verdict === "undecided" && more !== null && more.shots > 0 ? more : null,
  };
}
