import { normalCdf } from "./distributions";
import { meanOverScale } from "./scaled-chi";

/**
 * Probability that a noncentral t variable, (Z + δ)/S, is at most `x`.
 *
 * P = E Φ(x S − δ) over the scale S of an estimated standard deviation; absolute error below 1e-10.
 *
 * @param df degrees of freedom, at least 1, fractional or infinite.
 * @param noncentrality the true difference over its true standard error, δ.
 * @throws {RangeError} when `df` is below 1.
 * Source of the integral: D. B. Owen, Technometrics 10 (1968) 445.
 */
export function noncentralTCdf(x: number, df: number, noncentrality: number): number {
  return meanOverScale(df, (scale) => normalCdf(x * scale - noncentrality));
}
