import type { ComparisonData, PairShots } from "./comparison";
import type { MeanContrast } from "./mean-contrast";
import { satterthwaite } from "./mean-contrast";
import { mean, sampleSd, squaredDeviations, sum } from "./moments";
import type { Comparison, PairEstimate } from "./pair-estimate";
import { bySession, pairShots, shotsAsStints } from "./pair-shots";
import type { StintMean } from "./stints";

/**
 * All pairs where the hitting order is not known: every shot counts as a stint of its own, as a rule of thumb, each
 * group with its own variance.
 *
 * Source: P. A. Games, J. F. Howell, Journal of Educational Statistics 1 (1976) 113.
 */
export function compareIndependentShots(data: ComparisonData): Comparison {
  const shots = shotsAsStints(data);
  const pairs = pairShots(data, false).map((pair) => ({ ...pair, ...stintMeansContrast(shots, pair) }));
  return {
    pairs: withFamily(pairs.map((pair) => ({ ...pair, strikes: "as struck" as const, check: null, isUneven: false, bySession: null, adjustment: null }))),
    allAlike: null,
    trend: null,
    bends: false,
  };
}

/**
 * The pairs with the size of their family: as many groups as have an interval in some pair.
 *
 * @param least groups that are compared at once whatever these pairs have, such as those compared as struck.
 */
export function withFamily(pairs: readonly Omit<PairEstimate, "familySize">[], least = 2): readonly PairEstimate[] {
  const judged = new Set(pairs.filter((pair) => pair.df > 0).flatMap((pair) => [pair.of, pair.against]));
  return pairs.map((pair) => ({ ...pair, familySize: Math.max(2, least, judged.size) }));
}

/**
 * The difference of a pair by means of stints, each stint one observation of equal weight, each head with a variance of
 * its own: Welch's t on the means, without anything taken out for drift. What a reader can do by hand.
 *
 * Several sessions: differences are taken within each session used and averaged with the weights B₁B₂/(B₁+B₂) of their
 * stints, variances pooled within sessions, so that a difference between days is never one between heads.
 *
 * @param stints those of all groups, in any order.
 * @returns `NaN` for all where the two are not comparable; no standard error where a group has one stint a session.
 * Sources: B. L. Welch, Biometrika 34 (1947) 28; F. E. Satterthwaite, Biometrics Bulletin 2 (1946) 110.
 */
export function stintMeansContrast(stints: readonly StintMean[], pair: PairShots): MeanContrast {
  if (!pair.comparable) return { difference: Number.NaN, standardError: Number.NaN, df: Number.NaN };
  const used = (group: number) => {
    const sessions = bySession(stints.filter((stint) => stint.group === group));
    return pair.sessions.map((session) => sessions.get(session)!.map((stint) => stint.mean));
  };
  const [mine, theirs] = [used(pair.of), used(pair.against)];
  const [own, other] = [within(mine), within(theirs)];
  const weights = mine.map((means, i) => (means.length * theirs[i]!.length) / (means.length + theirs[i]!.length));
  const shares = weights.map((weight) => weight / sum(weights));
  const parts = [
    { amount: own.variance * sum(shares.map((share, i) => (share * share) / mine[i]!.length)), df: own.df },
    { amount: other.variance * sum(shares.map((share, i) => (share * share) / theirs[i]!.length)), df: other.df },
  ];
  const standardError = Math.sqrt(parts[0]!.amount + parts[1]!.amount);
  return {
    difference: sum(shares.map((share, i) => share * (mean(mine[i]!) - mean(theirs[i]!)))),
    standardError,
    df: Number.isNaN(standardError) ? Number.NaN : satterthwaite(parts),
  };
}

/** Variance of stint means within sessions, pooled over sessions; `NaN` when no session has two stints. */
function within(sessions: readonly (readonly number[])[]): { readonly variance: number; readonly df: number } {
  const df = sum(sessions.map((means) => means.length - 1));
  return { variance: df > 0 ? sum(sessions.map((means) => squaredDeviations(means))) / df : Number.NaN, df };
}

/** Complete passes of both groups from which their differences are compared by a paired t. Common practice, no source. */
const leastPasses = 4;

/** A paired comparison over passes. */
export interface PassContrast extends MeanContrast {
  readonly passes: number;
}

/**
 * The difference of a pair within each complete pass, by a paired t; `null` with fewer than 4.
 *
 * Walking the stints in order, a stint whose group has already occurred in the present pass begins the next one. A pass
 * is complete for a pair when both are in it, in one of the sessions that tell them apart.
 *
 * @param stints those of all groups, in any order.
 */
export function passContrast(stints: readonly StintMean[], pair: PairShots): PassContrast | null {
  const differences: number[] = [];
  for (const session of pair.sessions) {
    let pass = new Map<number, number>();
    const endPass = (): void => {
      const [mine, theirs] = [pass.get(pair.of), pass.get(pair.against)];
      if (mine !== undefined && theirs !== undefined) differences.push(mine - theirs);
      pass = new Map();
    };
    for (const stint of stints.filter((each) => each.session === session).sort((a, b) => a.stint - b.stint)) {
      if (pass.has(stint.group)) endPass();
      pass.set(stint.group, stint.mean);
    }
    endPass();
  }
  const passes = differences.length;
  if (passes < leastPasses) return null;
  const standardError = sampleSd(differences) / Math.sqrt(passes);
  return { difference: mean(differences), standardError, df: standardError > 0 ? passes - 1 : Number.NaN, passes };
}

