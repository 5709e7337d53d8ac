import { standardisedDifference } from "./effect-size";
import { isFlat, leastEllipsePoints, pointCloud, squaredDistance, squaredRadius } from "./ellipses";
import { allPairs } from "./pair-methods";
import { thinQr } from "./qr";
import type { ShotData } from "./shot-data";
import type { StrikeDistribution } from "./standardise";
import { restrictStrikes } from "./standardise";

/** Strikes of a head within this many mm of a place, so many of which show that it was hit there. Common practice, no source. */
export const nearDistance = 6;
export const leastNear = 3;

/** Share of the common strikes that every head must have been hit at for them to be used whole, and to be used at all. */
const wholeShare = 0.8;
const leastShare = 0.5;

/** Standardised differences above which strikes count as noticeably, and as strongly, different. Common practice, no source. */
export const noticeableDifference = 0.25;
export const strongDifference = 1;

/** How far apart two heads' strikes lie, in units of their scatter: (mean of `of` − mean of `against`)/√((s² + s²)/2). */
export interface StrikeDifference {
  readonly of: number;
  readonly against: number;
  readonly x: number;
  readonly y: number;
}

/** How well the heads' strikes cover one another. */
export interface StrikeOverlap {
  readonly differences: readonly StrikeDifference[];
  /** For each head the share of the common strikes inside its own support, by weight, 0..1. */
  readonly shares: readonly number[];
  /**
   * "whole": all common strikes are used. "restricted": only those where every head was hit. "refused": the heads were
   * not hit in the same places.
   */
  readonly state: "whole" | "restricted" | "refused";
  /** The strikes to standardise to; those of the common region when restricted or refused. */
  readonly strikes: StrikeDistribution;
  /** Shots whose strikes are kept, of `shots`. */
  readonly kept: number;
  readonly shots: number;
}

/**
 * Whether the heads were hit in the same places, so that they can be compared at the same strikes.
 *
 * A head's support is the ellipse that holds its next strike with 95 %, and wherever 3 of its shots are within 6 mm. The
 * strikes are restricted to the supports of all heads where some head's holds less than 80 % of them, and refused where
 * less than half would then be left.
 *
 * @param strikes the common strikes.
 */
export function strikeOverlap(data: ShotData, strikes: StrikeDistribution): StrikeOverlap {
  const heads = Array.from({ length: data.groupCount }, (_, group) => group);
  const supports = heads.map((group) => {
    const isHit = strikeSupport(data, group, 0.95);
    return Array.from(strikes.x, (x, i) => isHit(x, strikes.y[i]!));
  });
  const share = (isIn: (place: number) => boolean): number => strikes.weight.reduce((total, weight, i) => total + (isIn(i) ? weight : 0), 0);
  const isCommon = (place: number): boolean => supports.every((support) => support[place]!);
  const shares = supports.map((support) => share((place) => support[place]!));
  const isWhole = shares.every((each) => each >= wholeShare);
  const kept = isWhole ? strikes : restrictStrikes(strikes, isCommon);
  return {
    differences: strikeDifferences(data),
    shares,
    state: isWhole ? "whole" : share(isCommon) < leastShare ? "refused" : "restricted",
    strikes: kept,
    kept: kept.x.length,
    shots: strikes.x.length,
  };
}

/** The standardised mean differences of strikes, across and up, of every pair; `NaN` where a head has fewer than 2 shots. */
export function strikeDifferences(data: ShotData): readonly StrikeDifference[] {
  const own = Array.from({ length: data.groupCount }, (_, group) => strikesOf(data, group));
  return allPairs(data.groupCount).map(({ of, against }) => ({
    of,
    against,
    x: standardisedDifference(own[of]!.x, own[against]!.x),
    y: standardisedDifference(own[of]!.y, own[against]!.y),
  }));
}

/** How many shots of a head struck within 6 mm of a place. */
export function strikesNear(data: ShotData, group: number, x: number, y: number): number {
  return countNear(strikesOf(data, group), x, y);
}

function countNear(own: Strikes, x: number, y: number): number {
  let count = 0;
  for (let i = 0; i < own.x.length; i++) {
    const [across, up] = [Math.abs(own.x[i]! - x), Math.abs(own.y[i]! - y)];
    // Most strikes are too far off one way alone, which is sooner known than the distance.
    if (across <= nearDistance && up <= nearDistance && Math.hypot(across, up) <= nearDistance) count++;
  }
  return count;
}

/**
 * Whether a head was hit at a place: 3 of its shots within 6 mm, or inside the ellipse that holds its next strike with
 * the given probability.
 */
export function strikeSupport(data: ShotData, group: number, probability: number): (x: number, y: number) => boolean {
  const own = strikesOf(data, group);
  const isInside = strikeEllipse(own, probability);
  return (x, y) => isInside(x, y) || countNear(own, x, y) >= leastNear;
}

/** Membership of the ellipse that holds the next strike; never for fewer than 6 strikes, or strikes on a line. */
function strikeEllipse(own: Strikes, probability: number): (x: number, y: number) => boolean {
  const cloud = pointCloud(Array.from(own.x, (x, i) => ({ x, y: own.y[i]! })));
  if (cloud.n < leastEllipsePoints || isFlat(cloud)) return () => false;
  const most = squaredRadius("next shot", cloud.n, probability);
  return (x, y) => squaredDistance(cloud, { x, y }) <= most;
}

/** True when the strikes of a head lie all on one line, or all in one place. */
export function isStrikeLine(data: ShotData, group: number): boolean {
  const own = strikesOf(data, group);
  return isFlat(pointCloud(Array.from(own.x, (x, i) => ({ x, y: own.y[i]! }))));
}

interface Strikes {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** The strikes of one head. */
export function strikesOf(data: ShotData, group: number): Strikes {
  const { strike } = data;
  if (strike === null) throw new RangeError("these shots have no strikes");
  const isOwn = (_: number, i: number): boolean => data.group[i] === group;
  return { x: strike.x.filter(isOwn), y: strike.y.filter(isOwn) };
}

/**
 * The largest leverage of any shot, 0..1: how much of its own fitted value one shot makes, by ordinary least squares.
 *
 * @returns `NaN` when the columns are linearly dependent.
 */
export function largestLeverage(columns: readonly Float64Array[]): number {
  const qr = thinQr(columns);
  if (qr === null) return Number.NaN;
  const rows = columns[0]?.length ?? 0;
  return Array.from({ length: rows }, (_, row) => qr.q.reduce((total, column) => total + column[row]! ** 2, 0)).reduce((a, b) => Math.max(a, b), 0);
}
