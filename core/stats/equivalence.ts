import { tCdf } from "./distributions";
import type { MeanContrast } from "./mean-contrast";

/** Two one-sided tests of whether a difference lies within a margin. */
export interface EquivalenceTest {
  /** Statistic against "the difference is −margin or lower", and its p value. */
  readonly tLower: number;
  readonly pLower: number;
  /** Statistic against "the difference is margin or higher", and its p value. */
  readonly tUpper: number;
  readonly pUpper: number;
  /** The larger of the two p values: below α exactly when the 1 − 2α interval lies inside the margin. */
  readonly p: number;
}

/**
 * Whether a difference is practically none: within ±margin, by two one-sided tests.
 *
 * @param contrast the difference with its standard error and df; `NaN` gives `NaN`.
 * @param margin what is too small to matter, above 0, in the unit of the difference.
 * @throws {RangeError} when `margin` is not above 0.
 * Source: D. J. Schuirmann, J. Pharmacokinetics and Biopharmaceutics 15 (1987) 657.
 */
export function twoOneSidedTests(contrast: MeanContrast, margin: number): EquivalenceTest {
  if (!(margin > 0)) throw new RangeError(`a margin is above 0, not ${margin}`);
  const { difference, standardError, df } = contrast;
  const tLower = (difference + margin) / standardError;
  const tUpper = (difference - margin) / standardError;
  const known = df > 0;
  const pLower = known ? tCdf(-tLower, df) : Number.NaN;
  const pUpper = known ? tCdf(tUpper, df) : Number.NaN;
  return { tLower, pLower, tUpper, pUpper, p: Math.max(pLower, pUpper) };
}
