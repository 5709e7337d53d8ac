import betainc from "@stdlib/math-base-special-betainc";
import stdNormalCdf from "@stdlib/stats-base-dists-normal-cdf";
import stdNormalQuantile from "@stdlib/stats-base-dists-normal-quantile";
import stdTCdf from "@stdlib/stats-base-dists-t-cdf";
import { risingRoot } from "./root";

const rootOfTwoPi = Math.sqrt(2 * Math.PI);

/** Density of the standard normal distribution. */
export function normalDensity(x: number): number {
  return Math.exp(-0.5 * x * x) / rootOfTwoPi;
}

/** Probability that a standard normal variable is at most `x`; accurate in the far lower tail as well. */
export function normalCdf(x: number): number {
  return stdNormalCdf(x, 0, 1);
}

/**
 * The value that a standard normal variable stays below with probability `p`.
 *
 * @param p probability, 0..1; 0 and 1 give infinities.
 * @throws {RangeError} when `p` is outside 0..1.
 * @example normalQuantile(0.975) // 1.959963984540054
 */
export function normalQuantile(p: number): number {
  requireProbability(p);
  if (p > 0.5) return -normalQuantile(1 - p);
  const start = stdNormalQuantile(p, 0, 1);
  if (!Number.isFinite(start) || p === 0.5) return start;
  // The library is off by 2e-9 at p = 1e-10; one step of Newton's method takes that to rounding.
  return start - (normalCdf(start) - p) / normalDensity(start);
}

/**
 * Probability that a variable of Student's t distribution is at most `x`.
 *
 * @param df degrees of freedom, above 0, fractional or infinite (the normal distribution).
 * @throws {RangeError} when `df` is not above 0.
 */
export function tCdf(x: number, df: number): number {
  requireDegreesOfFreedom(df);
  return df === Infinity ? normalCdf(x) : stdTCdf(x, df);
}

/**
 * The value that a variable of Student's t distribution stays below with probability `p`.
 *
 * Solved from the distribution itself: the library's own quantile brings a logger that reads the environment.
 *
 * @param df degrees of freedom, above 0, fractional or infinite (the normal distribution).
 * @throws {RangeError} when `p` is outside 0..1 or `df` not above 0.
 * @example tQuantile(0.975, 5) // 2.5705818356363155
 */
export function tQuantile(p: number, df: number): number {
  requireProbability(p);
  requireDegreesOfFreedom(df);
  if (df === Infinity) return normalQuantile(p);
  if (p > 0.5) return -tQuantile(1 - p, df);
  if (p === 0.5 || p === 0) return p === 0 ? -Infinity : 0;
  return -risingRoot((x) => Math.log(p / tCdf(-x, df)), 0, Math.max(1, -normalQuantile(p)), 1e-14);
}

/**
 * Probability that a variable of the F distribution is above `f`, accurate however small it is.
 *
 * @param df1 degrees of freedom of the numerator, above 0.
 * @param df2 degrees of freedom of the denominator, above 0.
 * @throws {RangeError} when a number of degrees of freedom is not above 0.
 * Source: M. Abramowitz, I. Stegun, Handbook of Mathematical Functions (1964), 26.6.2.
 */
export function fUpperTail(f: number, df1: number, df2: number): number {
  requireDegreesOfFreedom(df1);
  requireDegreesOfFreedom(df2);
  if (Number.isNaN(f)) return Number.NaN;
  return f <= 0 ? 1 : betainc(df2 / (df2 + df1 * f), df2 / 2, df1 / 2);
}

/** @throws {RangeError} when `p` is not a probability. */
export function requireProbability(p: number): void {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`a probability is from 0 to 1, not ${p}`);
}

/** @throws {RangeError} when `df` is not above 0. */
export function requireDegreesOfFreedom(df: number): void {
  if (!(df > 0)) throw new RangeError(`degrees of freedom are above 0, not ${df}`);
}
