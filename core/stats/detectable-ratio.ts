import { normalQuantile } from "./distributions";

/** Power with which a ratio is called detectable. */
const wanted = 0.8;

/** What decides which ratios of two standard deviations can be seen. */
export interface RatioPlan {
  /** Shots of either head, 2 or more. */
  readonly n: number;
  readonly nAgainst: number;
  /** Kurtosis of both: 3 for normal values. Tails shorter than normal promise nothing. */
  readonly kurtosis: number;
  /** Confidence of the interval that decides. */
  readonly confidence: number;
}

/**
 * The smallest ratio of two standard deviations, above 1, that so many shots find with a probability of 80 %.
 *
 * SE(log s) ≈ 1/√(2(n − 1)) for normal values; tails multiply its square by (γ₄ − 1)/2. With n shots of each head it is
 * exp(2.80/√(n − 1)).
 *
 * @returns a number above 1; `NaN` below two shots.
 * Source: the large-sample variance of a standard deviation (H. Cramér, Mathematical Methods of Statistics (1946), 28.1).
 * @example detectableRatio({ n: 30, nAgainst: 30, kurtosis: 3, confidence: 0.95 }) // 1.68
 */
export function detectableRatio({ n, nAgainst, kurtosis, confidence }: RatioPlan): number {
  if (n < 2 || nAgainst < 2) return Number.NaN;
  return Math.exp(reach(confidence) * Math.sqrt(tails(kurtosis) * (1 / (2 * (n - 1)) + 1 / (2 * (nAgainst - 1)))));
}

/**
 * The smallest ratio of two ellipses' areas, above 1, that so many shots find with a probability of 80 %.
 *
 * @returns a number above 1; `NaN` below three shots.
 */
export function detectableAreaRatio({ n, nAgainst, kurtosis, confidence }: RatioPlan): number {
  return Math.exp(reach(confidence) * Math.sqrt(logAreaVariance(n, kurtosis) + logAreaVariance(nAgainst, kurtosis)));
}

/**
 * The variance of the logarithm of an ellipse's area, ½ log |S|, from n independent points.
 *
 * ½/(n − 1) + ½/(n − 2) for normal points; tails multiply it as they do for one coordinate.
 *
 * @returns a pure number; `NaN` below three points.
 * Source: the moments of the logarithm of a Wishart determinant to first order (T. W. Anderson, An Introduction to
 * Multivariate Statistical Analysis, 3rd ed. (2003), 7.5); the factor for tails is that of a standard deviation.
 */
export function logAreaVariance(n: number, kurtosis: number): number {
  return n < 3 ? Number.NaN : tails(kurtosis) * (0.5 / (n - 1) + 0.5 / (n - 2));
}

/**
 * Shots of each head with which a ratio of two standard deviations would be found with a probability of 80 %.
 *
 * @param ratio above 1, or below it: 0.8 takes as many as 1.25.
 * @throws {RangeError} when `ratio` is 1 or not above 0.
 * @example shotsForRatio(1.25, 3, 0.95) // 159
 */
export function shotsForRatio(ratio: number, kurtosis: number, confidence: number): number {
  if (!(ratio > 0) || ratio === 1) throw new RangeError(`a ratio to be found is above 0 and not 1, not ${ratio}`);
  return Math.ceil(1 + tails(kurtosis) * (reach(confidence) / Math.log(ratio)) ** 2);
}

function reach(confidence: number): number {
  return normalQuantile((1 + confidence) / 2) + normalQuantile(wanted);
}

function tails(kurtosis: number): number {
  return Math.max(1, (kurtosis - 1) / 2);
}
