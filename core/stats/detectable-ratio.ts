import { tQuantile } from "./distributions";

/** What decides which ratios of two standard deviations can be seen. */
export interface RatioPlan {
  /** Shots of either head, 2 or more. */
  readonly n: number;
  readonly nAgainst: number;
  /** Kurtosis of both: 3 for normal values. Tails shorter than normal promise nothing. */
  readonly kurtosis: number;
  /** Confidence of the interval that decides: for one of k pairs judged at once, 1 − (1 − c)/k. */
  readonly confidence: number;
  /** Degrees of freedom of that interval, 1 or more; `Infinity` where shots are counted one by one. */
  readonly df: number;
  /** Probability of finding the ratio: 0.5 to 1. Where two methods must both find it, 0.9 each gives 0.8 at least. */
  readonly power: number;
}

/** What decides how many shots a ratio takes: either head hit as often, in stints of so many shots. */
export interface ShotsPlan extends Pick<RatioPlan, "kurtosis" | "confidence" | "power"> {
  readonly shotsInStint: number;
}

/**
 * The smallest ratio of two standard deviations, above 1, that so many shots find with the probability `power`.
 *
 * SE(log s) ≈ 1/√(2(n − 1)) for normal values; tails multiply its square by (γ₄ − 1)/2. With n shots of each head it is
 * exp(2.80/√(n − 1)) for 80 % at 95 % with many degrees of freedom.
 *
 * @returns a number above 1; `NaN` below two shots.
 * Source: the large-sample variance of a standard deviation (H. Cramér, Mathematical Methods of Statistics (1946), 28.1).
 * @example detectableRatio({ n: 30, nAgainst: 30, kurtosis: 3, confidence: 0.95, df: Infinity, power: 0.8 }) // 1.68
 */
export function detectableRatio({ n, nAgainst, kurtosis, ...plan }: RatioPlan): number {
  if (n < 2 || nAgainst < 2) return Number.NaN;
  return Math.exp(reach(plan) * Math.sqrt(tails(kurtosis) * (1 / (2 * (n - 1)) + 1 / (2 * (nAgainst - 1)))));
}

/**
 * The smallest ratio of two ellipses' areas, above 1, that so many shots find with the probability `power`.
 *
 * @returns a number above 1; `NaN` below three shots.
 */
export function detectableAreaRatio({ n, nAgainst, kurtosis, ...plan }: RatioPlan): number {
  return Math.exp(reach(plan) * Math.sqrt(logAreaVariance(n, kurtosis) + logAreaVariance(nAgainst, kurtosis)));
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
 * Shots of each head with which a ratio of two standard deviations would be found with the probability `power`.
 *
 * @param ratio above 1, or below it: 0.8 takes as many as 1.25.
 * @throws {RangeError} when `ratio` is 1 or not above 0.
 * @example shotsForRatio(1.25, { kurtosis: 3, confidence: 0.95, power: 0.8, shotsInStint: 1 }) // 160
 */
export function shotsForRatio(ratio: number, { shotsInStint, ...plan }: ShotsPlan): number {
  if (!(ratio > 0) || ratio === 1) throw new RangeError(`a ratio to be found is above 0 and not 1, not ${ratio}`);
  const wanted = Math.exp(Math.abs(Math.log(ratio)));
  const isEnough = (n: number): boolean => detectableRatio({ ...plan, n, nAgainst: n, df: jackknifeDf(n / shotsInStint, n / shotsInStint) }) <= wanted;
  let [tooFew, enough] = [1, 2];
  while (!isEnough(enough)) [tooFew, enough] = [enough, 2 * enough];
  while (enough - tooFew > 1) {
    const middle = Math.floor((tooFew + enough) / 2);
    if (isEnough(middle)) enough = middle;
    else tooFew = middle;
  }
  return enough;
}

/** Degrees of freedom of two heads' jackknife over stints, 1 or more. */
export function jackknifeDf(stints: number, stintsAgainst: number): number {
  return Math.max(1, stints + stintsAgainst - 2);
}

function reach({ confidence, df, power }: Pick<RatioPlan, "confidence" | "df" | "power">): number {
  return tQuantile((1 + confidence) / 2, df) + tQuantile(power, df);
}

function tails(kurtosis: number): number {
  return Math.max(1, (kurtosis - 1) / 2);
}
