import { chebyshevStandIn } from "./chebyshev";
import { normalCdf, normalDensity, requireProbability, tQuantile } from "./distributions";
import { panelQuadrature } from "./gauss-legendre";
import { risingRoot } from "./root";
import { overScale } from "./scaled-chi";

/**
 * The places over which the largest of the normal variables is integrated, with the weights that do not change.
 * Beyond them less than 1e-12 of the integral is left, for two variables as for many.
 */
const grid = panelQuadrature(-5.5, 7, 4);
const below = grid.nodes.map((z) => normalCdf(z));
const mass = grid.nodes.map((z, i) => grid.weights[i]! * normalDensity(z));

/** Probability that the range of `count` independent standard normal variables is at most `width`. */
function normalRangeCdf(width: number, count: number): number {
  let total = 0;
  for (let i = 0; i < mass.length; i++) {
    total += mass[i]! * (below[i]! - normalCdf(grid.nodes[i]! - width)) ** (count - 1);
  }
  return count * total;
}

/** A range wider than this has a probability of 1, to the last digit of a double. */
const widest = 14;

const standIns = new Map<number, (width: number) => number>();

/** The same, by a stand-in that is made once for each count: a quantile asks thousands of times. */
function fastRangeCdf(count: number): (width: number) => number {
  let standIn = standIns.get(count);
  if (standIn === undefined) standIns.set(count, (standIn = chebyshevStandIn((width) => normalRangeCdf(width, count), widest, 14, 22)));
  const found = standIn;
  return (width) => (width >= widest ? 1 : found(width));
}

/** The distribution function of the studentized range for one count and one df. */
function rangeDistribution(count: number, df: number): (q: number) => number {
  const cdf = fastRangeCdf(count);
  const mean = overScale(df);
  return (q) => Math.min(1, Math.max(0, mean((scale) => cdf(q * scale))));
}

/**
 * Probability that the studentized range of `count` means is at most `q`.
 *
 * The range of `count` standard normal variables, divided by an independent estimate of their standard deviation.
 * From its two defining integrals, P = ∫ f(s) · k ∫ φ(z) [Φ(z) − Φ(z − q s)]^(k−1) dz ds, by Gauss–Legendre panels;
 * absolute error below 1e-9.
 *
 * @param count number of means, 2 or more.
 * @param df degrees of freedom of the estimate, at least 1, fractional or infinite.
 * @throws {RangeError} when `count` is not a whole number from 2, or `df` is below 1.
 * Source of the integrals: M. D. Copenhaver, B. Holland, J. Stat. Comput. Simul. 30 (1988) 1, equations 1.1 and 1.2.
 */
export function studentizedRangeCdf(q: number, count: number, df: number): number {
  if (!Number.isInteger(count) || count < 2) throw new RangeError(`a range needs 2 or more means, not ${count}`);
  if (Number.isNaN(q)) return Number.NaN;
  if (q <= 0) return 0;
  return rangeDistribution(count, df)(q);
}

/**
 * The value that the studentized range of `count` means stays below with probability `p`.
 *
 * @param p probability, 0 up to (not including) 1.
 * @throws {RangeError} when `p`, `count` or `df` is outside its range.
 * @example studentizedRangeQuantile(0.95, 3, 20) // 3.577935
 */
export function studentizedRangeQuantile(p: number, count: number, df: number): number {
  requireProbability(p);
  if (p === 1) return Infinity;
  // The quantile of two means is too small for more, and by Bonferroni's inequality that of all pairs apart too large.
  const low = Math.SQRT2 * tQuantile((1 + p) / 2, df);
  const high = Math.SQRT2 * tQuantile(1 - (1 - p) / (count * (count - 1)), df);
  const cdf = rangeDistribution(count, df);
  return risingRoot((q) => cdf(q) - p, count === 2 ? 0 : low, high, 1e-10);
}
