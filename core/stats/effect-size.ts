import gammaln from "@stdlib/math-base-special-gammaln";
import { mean, sampleVariance, squaredDeviations } from "./moments";

/** Differences of two groups as pure numbers, for readers who know no unit of the trade. */
export interface EffectSize {
  /** Difference of the means by the pooled standard deviation. */
  readonly cohenD: number;
  /** The same without its bias in small samples. */
  readonly hedgesG: number;
  /** Difference of the means by the root of the mean of both variances, which no size of the groups weighs. */
  readonly standardised: number;
  /** How often a value of the first group is above one of the second, ties counted half: 0..1. */
  readonly superiority: number;
}

/**
 * How far apart two groups lie, compared with how they scatter.
 *
 * @param first two or more values, none missing.
 * @param second the same.
 * @returns `NaN` for groups without scatter.
 * Sources: L. V. Hedges, Journal of Educational Statistics 6 (1981) 107, equation 6e, for the exact correction;
 * R. J. Grissom, Journal of Applied Psychology 79 (1994) 314, for the probability of superiority.
 */
export function effectSize(first: readonly number[], second: readonly number[]): EffectSize {
  const difference = mean(first) - mean(second);
  const df = first.length + second.length - 2;
  const pooled = Math.sqrt((squaredDeviations(first) + squaredDeviations(second)) / df);
  const cohenD = pooled > 0 ? difference / pooled : Number.NaN;
  const unbiased = Math.exp(gammaln(df / 2) - gammaln((df - 1) / 2)) / Math.sqrt(df / 2);
  return { cohenD, hedgesG: cohenD * unbiased, standardised: standardisedDifference(first, second), superiority: superiority(first, second) };
}

/**
 * The standardised mean difference, (x̄₁ − x̄₂)/√((s₁² + s₂²)/2); `NaN` without scatter.
 *
 * @example standardisedDifference([1, 3], [2, 4]) // −0.71
 */
export function standardisedDifference(first: ArrayLike<number>, second: ArrayLike<number>): number {
  const scale = Math.sqrt((sampleVariance(first) + sampleVariance(second)) / 2);
  return scale > 0 ? (mean(first) - mean(second)) / scale : Number.NaN;
}

function superiority(first: readonly number[], second: readonly number[]): number {
  let wins = 0;
  for (const a of first) for (const b of second) wins += a > b ? 1 : a === b ? 0.5 : 0;
  return wins / (first.length * second.length);
}
