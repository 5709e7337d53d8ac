import { tQuantile } from "./distributions";
import type { Intervals } from "./agree";
import { agreedVerdict, lessCertain } from "./agree";
import type { PairShots } from "./comparison";
import { equivalenceConfidence, leastStints, leastStintsInAll } from "./judge-pair";
import type { HeadShots, LossModel } from "./loss-model";
import { fitLossModel, headShots, leastForLosses, supportProbability } from "./loss-model";
import type { Interval, MeanContrast } from "./mean-contrast";
import type { PlannedShots } from "./more-stints";
import { planMore } from "./more-stints";
import { pairShots } from "./pair-shots";
import type { ShotData } from "./shot-data";
import { familyInterval, familyP } from "./simultaneous";
import { subtractWeights } from "./standardise";
import { centreWeights, expectedLossWeights, lossWeights, retention } from "./strike-losses";
import { isStrikeLine, strikeSupport, strikesNear } from "./strike-overlap";
import type { Verdict } from "./verdict";

/** Where a loss is told: over the strikes of all heads, or at the standard miss in one direction. */
export type LossPlace = "common strikes" | "toe" | "heel" | "high" | "low";

/** A place on the face, in mm from the strike reference. */
interface FacePoint {
  readonly x: number;
  readonly y: number;
}

/** Why a loss is told or not. */
export type LossState = "told" | "few shots" | "not hit there" | "centre not hit" | "not the same places" | "not determined";

/** What one head loses at one place against its own centre. */
export interface PlaceLoss {
  readonly place: LossPlace;
  /** `null` for the common strikes. */
  readonly at: FacePoint | null;
  readonly state: LossState;
  /** Shots of the head within 6 mm; `NaN` for the common strikes, and for a head that has no part in the surface. */
  readonly near: number;
  /** In the unit of the values; `NaN` unless told. */
  readonly loss: MeanContrast;
  /** Of this one loss, not simultaneous; `NaN` both for a head hit in one go. */
  readonly interval: Interval;
  /** Share kept, 0..1, with its interval. */
  readonly retained: { readonly share: number; readonly interval: Interval };
}

/** One head with what it loses. */
export interface HeadLosses extends HeadShots {
  readonly head: number;
  readonly places: readonly PlaceLoss[];
}

/** Why a pair gets a verdict or not. */
export type LossGround =
  | "enough"
  | "few stints"
  | "one go"
  | "few shots"
  | "never together"
  | "order unknown"
  | "mixed with time"
  | "not the same places"
  | "centre not hit"
  | "not determined";

/** The expected loss of head `of` less that of head `against`, over the common strikes. */
export interface LossPair extends MeanContrast {
  readonly of: number;
  readonly against: number;
  readonly ground: LossGround;
  /** Simultaneous intervals by the cluster-robust standard error; `NaN` where there is none. */
  readonly wide: Interval;
  readonly narrow: Interval;
  /** The same two by the block model. */
  readonly byModel: Intervals;
  readonly p: number;
  readonly verdict: Verdict;
  /** True for an undecided pair of which one of the two methods would say more. */
  readonly dependsOnMethod: boolean;
  readonly more: PlannedShots | null;
}

/** What is asked of losses. */
export interface LossQuestion {
  /** For each head how far off its standard misses are, in mm. */
  readonly misses: readonly FacePoint[];
  readonly orderKnown: boolean;
  /** Difference of two losses that is too small to matter, above 0, in the unit of the values. */
  readonly margin: number;
  readonly confidence: number;
}

/** The losses of all heads and what may be said of them. */
export interface JudgedLosses {
  /** `null` where the shots determine no surface. */
  readonly model: LossModel | null;
  readonly heads: readonly HeadLosses[];
  /** Heads with the shots for a verdict whose strikes lie all on one line, or all in one place. */
  readonly onLine: readonly number[];
  readonly pairs: readonly LossPair[];
  /** The head whose expected loss is below that of every other head judged; `null` when that is shown of none. */
  readonly mostForgiving: number | null;
}

const unknown: MeanContrast = { difference: Number.NaN, standardError: Number.NaN, df: Number.NaN };
const noInterval: Interval = { from: Number.NaN, to: Number.NaN };

/**
 * What each head loses off its centre, and whether that differs between heads.
 *
 * The headline is the expected loss over the common strikes, which asks for nothing where no shot was hit. A loss at a
 * place is told only where the head was hit: 3 of its shots within 6 mm, or inside the ellipse that holds its next
 * strike with 90 %; and only where its centre was hit. A loss below 0 stays as it is. A verdict needs 20 shots and 4
 * turns of each head, and claims what least squares with cluster-robust errors and the block model both support.
 *
 * Losses and differences are those of least squares, whose errors do not take the scatter of the heads for equal. In
 * simulated sessions of three heads of 30 shots, one with 1 to 3 times the scatter of the others, 95 % intervals of a
 * head's loss held it in 93 to 98 %; those of the block model held that of the loose head in 80 to 87 %. The simulation is
 * our own.
 */
export function judgeLosses(data: ShotData, question: LossQuestion): JudgedLosses {
  const counts = headShots(data, question.orderKnown);
  const model = fitLossModel(data, counts);
  const heads = counts.map((count, head): HeadLosses => {
    return { ...count, head, places: placesOf(model, head, question, count) };
  });
  const pairs = pairsOf(data, model, heads, question);
  const onLine = heads.flatMap(({ head, shots, turns }) =>
    shots >= leastForLosses.shots && turns >= leastForLosses.turns && isStrikeLine(data, head) ? [head] : [],
  );
  return { model, heads, onLine, pairs, mostForgiving: mostForgivingOf(pairs, model) };
}

function placesOf(model: LossModel | null, head: number, question: LossQuestion, count: HeadShots): readonly PlaceLoss[] {
  const miss = question.misses[head]!;
  const points: readonly (readonly [LossPlace, FacePoint | null])[] = [
    ["common strikes", null],
    ["toe", { x: miss.x, y: 0 }],
    ["heel", { x: -miss.x, y: 0 }],
    ["high", { x: 0, y: miss.y }],
    ["low", { x: 0, y: -miss.y }],
  ];
  const place = model?.heads.indexOf(head) ?? -1;
  if (model === null || place < 0) {
    const state = count.shots < leastForLosses.shots || count.turns < leastForLosses.turns ? "few shots" : "not determined";
    return points.map(([which, at]) => ({ place: which, at, near: Number.NaN, ...nothingTold(state) }));
  }
  const { surface, data, overlap } = model;
  const isHit = strikeSupport(data, place, supportProbability);
  const values = data.value.filter((_, i) => data.group[i] === place);
  // Of values that are all equal only the columns shared with other heads leave residuals.
  const isBounded = count.turns > 1 && values.some((value) => value !== values[0]);
  return points.map(([which, at]): PlaceLoss => {
    const near = at === null ? Number.NaN : strikesNear(data, place, at.x, at.y);
    if (!isHit(0, 0)) return { place: which, at, near, ...nothingTold("centre not hit") };
    if (at !== null && !isHit(at.x, at.y)) return { place: which, at, near, ...nothingTold("not hit there") };
    if (at === null && overlap.state === "refused") return { place: which, at, near, ...nothingTold("not the same places") };
    const weights = at === null ? expectedLossWeights(surface, place, overlap.strikes) : lossWeights(surface, place, at.x, at.y);
    return { place: which, at, near, ...lossBy(model, centreWeights(surface, place), weights, isBounded, question.confidence) };
  });
}

function lossBy(model: LossModel, centre: Float64Array, weights: Float64Array, isBounded: boolean, confidence: number): Told {
  const loss = model.fit.contrast(weights);
  const retained = retention(model.fit, centre, weights, confidence);
  if (!isBounded || !model.hasErrors || !(loss.df > 0)) {
    return { state: "told", loss: { ...unknown, difference: loss.difference }, interval: noInterval, retained: { ...retained, interval: noInterval } };
  }
  const reach = tQuantile((1 + confidence) / 2, loss.df) * loss.standardError;
  return { state: "told", loss, interval: { from: loss.difference - reach, to: loss.difference + reach }, retained };
}

type Told = Pick<PlaceLoss, "state" | "loss" | "interval" | "retained">;

function nothingTold(state: LossState): Told {
  return { state, loss: unknown, interval: noInterval, retained: { share: Number.NaN, interval: noInterval } };
}

function pairsOf(data: ShotData, model: LossModel | null, heads: readonly HeadLosses[], question: LossQuestion): readonly LossPair[] {
  const turnsInAll = heads.reduce((total, head) => total + head.turns, 0);
  return pairShots(data, question.orderKnown).map((pair): LossPair => {
    const { of, against } = pair;
    const ground = groundOf(pair, [heads[of]!, heads[against]!], model, turnsInAll, question.orderKnown);
    if (model === null || ground === "few shots" || ground === "one go" || ground === "not determined") return withoutVerdict(of, against, ground);
    const judged = judge(model, pair, question);
    if (Number.isNaN(judged.wide.from)) return withoutVerdict(of, against, "not determined");
    if (ground === "enough") return { of, against, ground, ...judged };
    const isTold = ground === "few stints" || ground === "order unknown" || ground === "mixed with time";
    if (!isTold) return withoutVerdict(of, against, ground);
    return { of, against, ground, ...judged, verdict: ground === "few stints" ? "undecided" : "no verdict", dependsOnMethod: false, more: null };
  });
}

function groundOf(pair: PairShots, heads: readonly HeadLosses[], model: LossModel | null, turnsInAll: number, orderKnown: boolean): LossGround {
  const small = heads.filter(({ shots, turns }) => shots < leastForLosses.shots || turns < leastForLosses.turns);
  if (small.length > 0) return small.some(({ shots }) => shots < leastForLosses.shots) || small.every(({ turns }) => turns > 1) ? "few shots" : "one go";
  if (!pair.comparable) return "never together";
  if (model === null || !model.hasErrors) return "not determined";
  if (model.overlap.state === "refused") return "not the same places";
  if (heads.some(({ places }) => places.some(({ state }) => state === "centre not hit"))) return "centre not hit";
  if (!orderKnown) return "order unknown";
  if (pair.inTime !== "in turns") return "mixed with time";
  if (Math.min(pair.turns, pair.turnsAgainst) < leastStints || turnsInAll < leastStintsInAll) return "few stints";
  return "enough";
}

/** What both methods say of the expected losses of a pair. */
function judge(model: LossModel, pair: PairShots, question: LossQuestion): Omit<LossPair, "of" | "against" | "ground"> {
  const { margin, confidence } = question;
  const [mine, theirs] = [pair.of, pair.against].map((head) => expectedLossWeights(model.surface, model.heads.indexOf(head), model.overlap.strikes));
  const weights = subtractWeights(mine!, theirs!);
  const familySize = Math.max(2, model.heads.length);
  const [robust, block] = [model.fit.contrast(weights), model.check?.contrast(weights) ?? unknown];
  const intervals = ({ difference, standardError, df }: MeanContrast) => ({
    wide: familyInterval({ difference, standardError, df }, familySize, confidence),
    narrow: familyInterval({ difference, standardError, df }, familySize, equivalenceConfidence),
  });
  const [first, second] = [intervals(robust), intervals(block)];
  const agreed = agreedVerdict(first, second, margin);
  const more = agreed.verdict === "undecided" ? moreShots(model, pair, lessCertain(robust, block), question) : null;
  return { ...robust, ...first, byModel: second, p: familyP(robust, familySize), ...agreed, more };
}

/** How many more shots with either head are likely to settle what is undecided; `null` when that can't be said. */
function moreShots(model: LossModel, pair: PairShots, found: MeanContrast, { margin, confidence }: LossQuestion): PlannedShots | null {
  const { standardError, df } = found;
  const stints = Math.min(pair.stints, pair.stintsAgainst);
  const shotsPerStint = (pair.n + pair.nAgainst) / (pair.stints + pair.stintsAgainst);
  const heads = model.heads.length;
  const more = planMore({ standardError, df, stints, shotsPerStint, heads, familySize: Math.max(2, heads), margin, confidence });
  return more !== null && more.shots > 0 ? more : null;
}

function withoutVerdict(of: number, against: number, ground: LossGround): LossPair {
  return { of, against, ground, ...unknown, wide: noInterval, narrow: noInterval, byModel: { wide: noInterval, narrow: noInterval }, p: Number.NaN, verdict: "no verdict", dependsOnMethod: false, more: null };
}

/** The head that loses less than every other head in the model, each time by a difference that is shown. */
function mostForgivingOf(pairs: readonly LossPair[], model: LossModel | null): number | null {
  const heads = model?.heads ?? [];
  const losesLess = (head: number, other: number): boolean =>
    pairs.some(({ of, against, verdict, difference }) => {
      if (!verdict.startsWith("different")) return false;
      return difference < 0 ? of === head && against === other : of === other && against === head;
    });
  return heads.length < 2 ? null : (heads.find((head) => heads.every((other) => other === head || losesLess(head, other))) ?? null);
}
