import { tCdf, tQuantile } from "./distributions";
import type { Interval, MeanContrast } from "./mean-contrast";
import { studentizedRangeCdf, studentizedRangeQuantile } from "./studentized-range";

/**
 * How many standard errors to go on either side of a difference, so that all pairs of `familySize` means hold at once.
 *
 * q(confidence; familySize, df)/√2 with the quantile q of the studentized range; for two means Student's t, which is
 * the same thing.
 *
 * @param confidence 0..1, such as 0.95.
 * @param familySize means compared with one another, 2 or more.
 * @returns the number of standard errors; `NaN` when `df` is `NaN` or below 1.
 * Source: J. W. Tukey's method; C. Y. Kramer, Biometrics 12 (1956) 307.
 */
export function familyCritical(confidence: number, familySize: number, df: number): number {
  if (!(df >= 1)) return Number.NaN;
  if (familySize <= 2) return tQuantile((1 + confidence) / 2, df);
  return studentizedRangeQuantile(confidence, familySize, df) / Math.SQRT2;
}

/**
 * How many standard errors to go on either side of a difference, so that `pairs` differences hold at once whatever they
 * have in common.
 *
 * @returns the number of standard errors; `NaN` when `df` is `NaN` or below 1.
 * Source: C. E. Bonferroni's inequality; O. J. Dunn, JASA 56 (1961) 52.
 */
export function pairsCritical(confidence: number, pairs: number, df: number): number {
  return df >= 1 ? tQuantile(1 - (1 - confidence) / (2 * pairs), df) : Number.NaN;
}

/**
 * The simultaneous interval of one pair's difference.
 *
 * @returns bounds in the unit of the difference; `NaN` both when the standard error or its df is not determined.
 */
export function familyInterval(contrast: MeanContrast, familySize: number, confidence: number): Interval {
  const reach = familyCritical(confidence, familySize, contrast.df) * contrast.standardError;
  return { from: contrast.difference - reach, to: contrast.difference + reach };
}

/**
 * The p value of one pair's difference, adjusted for all pairs of `familySize` means.
 *
 * @returns the smallest 1 − confidence at which the simultaneous interval leaves out 0; `NaN` when there is none.
 */
export function familyP(contrast: MeanContrast, familySize: number): number {
  const { difference, standardError, df } = contrast;
  const statistic = Math.abs(difference) / standardError;
  if (!(df >= 1) || Number.isNaN(statistic)) return Number.NaN;
  if (familySize <= 2) return 2 * tCdf(-statistic, df);
  return 1 - studentizedRangeCdf(Math.SQRT2 * statistic, familySize, df);
}
