import gammaln from "@stdlib/math-base-special-gammaln";
import { requireDegreesOfFreedom } from "./distributions";
import { panelQuadrature } from "./gauss-legendre";

/** Beyond this many standard deviations from 1 the scale has no weight that a double can show. */
const reach = 9;

const panels = 6;

/**
 * The mean of `g(s)` over the sampling distribution of an estimated standard deviation, as a share of the true one.
 *
 * `s` is the root of a chi-squared variable over its degrees of freedom, with density
 * 2 (ν/2)^(ν/2) / Γ(ν/2) · s^(ν−1) exp(−ν s²/2). It is what stands under every statistic that divides by an estimated
 * standard error: Student's t, its noncentral form, the studentized range, the power of two one-sided tests.
 * Integrated over u with s = u⁴, which makes the integrand smooth at 0 for fractional degrees of freedom as well.
 *
 * @param df degrees of freedom, at least 1; infinite means that s is 1.
 * @param g a smooth bounded function.
 * @param upTo the integral runs over s below this; for a `g` with a corner there.
 * @throws {RangeError} when `df` is below 1.
 */
export function meanOverScale(df: number, g: (scale: number) => number, upTo = Infinity): number {
  return overScale(df, upTo)(g);
}

/** The same for several functions: the weights of the distribution are computed once. */
export function overScale(df: number, upTo = Infinity): (g: (scale: number) => number) => number {
  requireDegreesOfFreedom(df);
  if (df < 1) throw new RangeError(`degrees of freedom are at least 1 here, not ${df}`);
  if (df === Infinity) return (g) => (upTo >= 1 ? g(1) : 0);
  const spread = 1 / Math.sqrt(2 * df);
  const from = Math.max(0, 1 - reach * spread) ** 0.25;
  const to = Math.min(1 + reach * spread, upTo) ** 0.25;
  if (to <= from) return () => 0;
  const { nodes, weights } = panelQuadrature(from, to, panels);
  const constant = Math.log(8) + (df / 2) * Math.log(df / 2) - gammaln(df / 2);
  const scales: number[] = [];
  const masses: number[] = [];
  for (let i = 0; i < nodes.length; i++) {
    const u = nodes[i]!;
    const scale = u ** 4;
    const density = Math.exp(constant + (4 * df - 1) * Math.log(u) - 0.5 * df * scale * scale);
    if (!(density > 0)) continue;
    scales.push(scale);
    masses.push(weights[i]! * density);
  }
  return (g) => {
    let total = 0;
    for (let i = 0; i < scales.length; i++) total += masses[i]! * g(scales[i]!);
    return total;
  };
}
