import { normalCdf, normalQuantile } from "./distributions";
import type { Interval } from "./mean-contrast";
import { sampleVariance, squaredDeviations, sum, trimmedMean } from "./moments";
import { risingRoot } from "./root";

/** Fewest values of each group for which there is an interval: of 5 the trimmed mean leaves none. */
const leastValues = 6;

/** The ratio of two standard deviations, with an interval that allows for long tails. A pure number. */
export interface SdRatio {
  /** Standard deviation of the first group by that of the second. */
  readonly ratio: number;
  /** Kurtosis of both groups together, about their trimmed means: 3 for normal values, more for long tails. */
  readonly kurtosis: number;
  /** Standard error of the logarithm of the ratio of the variances. */
  readonly logVarianceError: number;
  /** The small-sample factor on the ratio of the variances; 1 for groups of equal size. */
  readonly correction: (z: number) => number;
  readonly interval: (confidence: number) => Interval;
  /** One-sided p value against "the ratio is at most `limit`"; it is below α exactly when the 1 − 2α interval is above. */
  readonly pAbove: (limit: number) => number;
  /** One-sided p value against "the ratio is at least `limit`". */
  readonly pBelow: (limit: number) => number;
}

/**
 * The ratio of the standard deviations of two groups by Bonett's method.
 *
 * log(s₁²/s₂²) + log c ± z √[(γ₄ − k₁)/(n₁ − 1) + (γ₄ − k₂)/(n₂ − 1)], with the kurtosis γ₄ of both groups together about
 * their means trimmed by 1/(2√(n − 4)) at each end, k = (n − 3)/n and c = [n₁/(n₁ − z)]/[n₂/(n₂ − z)]. Assumes
 * independent values of one kurtosis, not normal ones.
 *
 * @param first 6 or more values, none missing, that are not all alike.
 * @param second the same.
 * @returns `NaN` numbers for fewer values or for values without scatter.
 * Source: D. G. Bonett, Computational Statistics & Data Analysis 50 (2006) 775.
 */
export function sdRatio(first: readonly number[], second: readonly number[]): SdRatio {
  const sizes = [first.length, second.length] as const;
  const variances = [sampleVariance(first), sampleVariance(second)] as const;
  const isKnown = Math.min(...sizes) >= leastValues && variances[0] > 0 && variances[1] > 0;
  const logRatio = isKnown ? Math.log(variances[0] / variances[1]) : Number.NaN;
  const kurtosis = isKnown ? pooledKurtosis(first, second) : Number.NaN;
  const share = (n: number): number => (kurtosis - (n - 3) / n) / (n - 1);
  const logVarianceError = Math.sqrt(share(sizes[0]) + share(sizes[1]));
  const correction = (z: number): number => sizes[0] / (sizes[0] - z) / (sizes[1] / (sizes[1] - z));
  /** The logarithm of the lower bound of the ratio, z standard errors down; falls as z grows. */
  const lower = (z: number): number => (logRatio + Math.log(correction(z)) - z * logVarianceError) / 2;
  const upper = (z: number): number => (logRatio + Math.log(correction(z)) + z * logVarianceError) / 2;
  // Beyond half the smaller size the correction is no longer small, and p is far below what anybody reads.
  const farthest = Math.min(...sizes) / 2;
  return {
    ratio: Math.exp(logRatio / 2),
    kurtosis,
    logVarianceError,
    correction,
    interval: (confidence) => {
      const z = normalQuantile((1 + confidence) / 2);
      return { from: Math.exp(lower(z)), to: Math.exp(upper(z)) };
    },
    pAbove: (limit) => (isKnown ? normalCdf(-crossing((z) => Math.log(limit) - lower(z), farthest)) : Number.NaN),
    pBelow: (limit) => (isKnown ? normalCdf(-crossing((z) => upper(z) - Math.log(limit), farthest)) : Number.NaN),
  };
}

/** Where a function that rises on −most..most is 0; the end nearest to it when it is 0 nowhere in between. */
function crossing(rising: (z: number) => number, most: number): number {
  if (rising(-most) >= 0) return -most;
  return rising(most) <= 0 ? most : risingRoot(rising, -most, most);
}

function pooledKurtosis(first: readonly number[], second: readonly number[]): number {
  const groups = [first, second].map((values) => {
    const centre = trimmedMean(values, 1 / (2 * Math.sqrt(values.length - 4)));
    return { fourth: sum(values.map((value) => (value - centre) ** 4)), squares: squaredDeviations(values) };
  });
  const squares = sum(groups.map((group) => group.squares));
  return ((first.length + second.length) * sum(groups.map((group) => group.fourth))) / (squares * squares);
}
