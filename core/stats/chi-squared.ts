import gammaln from "@stdlib/math-base-special-gammaln";
import { requireDegreesOfFreedom, requireProbability } from "./distributions";
import { risingRoot } from "./root";

const mostTerms = 10_000;

/**
 * Probability that a chi-squared variable is at most `x`.
 *
 * The regularised lower incomplete gamma function of df/2 and x/2, by its series below the mean and by its continued
 * fraction above.
 *
 * @param df degrees of freedom, above 0, fractional.
 * @throws {RangeError} when `df` is not above 0.
 * Source: M. Abramowitz, I. Stegun, Handbook of Mathematical Functions (1964), 26.4.19, 6.5.29 and 6.5.31.
 */
export function chiSquaredCdf(x: number, df: number): number {
  requireDegreesOfFreedom(df);
  if (Number.isNaN(x)) return Number.NaN;
  if (x <= 0) return 0;
  return x < df + 2 ? lowerShare(df / 2, x / 2) : 1 - upperShare(df / 2, x / 2);
}

/**
 * The value that a chi-squared variable stays below with probability `p`.
 *
 * @param p probability, 0 up to (not including) 1.
 * @throws {RangeError} when `p` is outside 0..1 or `df` not above 0.
 * @example chiSquaredQuantile(0.95, 2) // 5.991464547107979
 */
export function chiSquaredQuantile(p: number, df: number): number {
  requireProbability(p);
  if (p === 0) return 0;
  if (p === 1) return Infinity;
  // Solved on the logarithmic scale, since a small p of few degrees of freedom lies many powers of ten below the mean.
  const lowest = -1400 / Math.min(df, 2);
  return Math.exp(risingRoot((logX) => Math.log(chiSquaredCdf(Math.exp(logX), df) / p), lowest, Math.log(df + 1), 1e-15));
}

/** γ(a, x)/Γ(a) = x^a e^−x Σ xⁿ / Γ(a + n + 1). */
function lowerShare(a: number, x: number): number {
  let term = 1 / a;
  let total = term;
  for (let n = 1; n < mostTerms && term > total * 1e-17; n++) {
    term *= x / (a + n);
    total += term;
  }
  return total * Math.exp(a * Math.log(x) - x - gammaln(a));
}

/** Γ(a, x)/Γ(a) by the continued fraction, evaluated forwards from the convergents' recurrence. */
function upperShare(a: number, x: number): number {
  let c = Infinity;
  let d = 1 / (x + 1 - a);
  let fraction = d;
  for (let n = 1; n < mostTerms; n++) {
    const numerator = n * (a - n);
    const denominator = x + 2 * n + 1 - a;
    d = 1 / (denominator + numerator * d);
    c = denominator + numerator / c;
    const step = c * d;
    fraction *= step;
    if (Math.abs(step - 1) < 1e-16) break;
  }
  return fraction * Math.exp(a * Math.log(x) - x - gammaln(a));
}
