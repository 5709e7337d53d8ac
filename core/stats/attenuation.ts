import type { MeanContrast } from "./mean-contrast";

/** The reliability below which a slope is not corrected: the correction would be larger than what was read. Common practice, no source. */
export const leastReliability = 0.6;

/**
 * The share of the variance of a reading that is no reading error: λ = 1 − σ_e²/s².
 *
 * @param errorVariance variance of the reading error, in the squared unit of the reading, 0 or more.
 * @param variance sample variance of the readings, errors included.
 * @returns at most 1; below 0 when the errors alone would scatter more than the readings do; `NaN` without scatter.
 * Source: W. A. Fuller, Measurement Error Models (1987), 1.1.
 * @example reliability(1, 5) // 0.8
 */
export function reliability(errorVariance: number, variance: number): number {
  return variance > 0 ? 1 - errorVariance / variance : Number.NaN;
}

/**
 * A slope corrected for errors of what it is a slope on, which flatten it: s/λ, with its standard error.
 *
 * SE² = (SE_s/λ)² + (s/λ²)² Var λ, where λ is estimated from n readings of normal scatter and a known error variance,
 * so that Var λ = (1 − λ)² · 2/(n − 1). The df are the slope's. Other columns of the model are taken to go along with
 * the readings not at all, and the scatter to be the same all along.
 *
 * @param slope as fitted, with its standard error.
 * @param share the reliability λ, above 0 and at most 1.
 * @param n readings from which the reliability is known, 2 or more; `Infinity` for one that is given.
 * @throws {RangeError} when `share` is outside its range.
 * Source of the correction: C. Spearman, American Journal of Psychology 15 (1904) 72; the standard error by the delta
 * method.
 */
export function correctedSlope(slope: MeanContrast, share: number, n: number): MeanContrast {
  if (!(share > 0 && share <= 1)) throw new RangeError(`a reliability is above 0 and at most 1, not ${share}`);
  const spread = ((1 - share) ** 2 * 2) / (n - 1);
  const variance = (slope.standardError / share) ** 2 + (slope.difference / share ** 2) ** 2 * spread;
  return { difference: slope.difference / share, standardError: Math.sqrt(variance), df: slope.df };
}
