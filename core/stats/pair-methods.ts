import type { MeanContrast } from "./mean-contrast";
import { welchContrast } from "./mean-contrast";
import { oneWayAnalysis } from "./one-way";
import { mean } from "./moments";

/** The difference of two groups: the mean of group `of` less the mean of group `against`, both by number. */
export interface GroupContrast extends MeanContrast {
  readonly of: number;
  readonly against: number;
}

/** All pairs of `count` groups, each later group against each earlier one. */
export function allPairs(count: number): readonly { readonly of: number; readonly against: number }[] {
  const pairs: { of: number; against: number }[] = [];
  for (let against = 0; against < count; against++) {
    for (let of = against + 1; of < count; of++) pairs.push({ of, against });
  }
  return pairs;
}

/**
 * All pairs of groups with one variance for all groups, for simultaneous intervals of Tukey and Kramer.
 *
 * @param groups two or more groups of values, none missing, more values than groups.
 * Source: C. Y. Kramer, Biometrics 12 (1956) 307.
 */
export function tukeyKramer(groups: readonly (readonly number[])[]): readonly GroupContrast[] {
  const { residualVariance, dfWithin } = oneWayAnalysis(groups);
  return allPairs(groups.length).map(({ of, against }) => ({
    of,
    against,
    difference: mean(groups[of]!) - mean(groups[against]!),
    standardError: Math.sqrt(residualVariance * (1 / groups[of]!.length + 1 / groups[against]!.length)),
    df: dfWithin,
  }));
}

/**
 * All pairs of groups, each group with its own variance, for simultaneous intervals of Games and Howell.
 *
 * @param groups two or more groups of two or more values, none missing.
 * Source: P. A. Games, J. F. Howell, Journal of Educational Statistics 1 (1976) 113.
 */
export function gamesHowell(groups: readonly (readonly number[])[]): readonly GroupContrast[] {
  return allPairs(groups.length).map(({ of, against }) => ({
    of,
    against,
    ...welchContrast(groups[of]!, groups[against]!),
  }));
}
