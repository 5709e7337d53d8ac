import type { Interval } from "./mean-contrast";
import { sum } from "./moments";
import { tQuantile } from "./distributions";

/**
 * The interval of the mean of a head's shots, from the scatter of its stints.
 *
 * Shots of one stint go together, so that the scatter of shots over the root of their number is too small. The mean is
 * that of all shots; its standard error is that of a ratio, Σ mᵢ(ȳᵢ − ȳ) over Σ mᵢ with mᵢ shots in stint i, which for
 * stints of one length is the scatter of their means over the root of their number. Degrees of freedom: stints less 1.
 *
 * @param stints shots and mean of each stint.
 * @param confidence 0..1, such as 0.95.
 * @returns bounds in the unit of the means; `NaN` both for fewer than two stints, and for means without any scatter,
 *   which say nothing of how far off they may be.
 * Source: L. Kish, Survey Sampling (1965), 6.3, clusters of unequal size.
 */
export function meanOfStints(stints: readonly { readonly n: number; readonly mean: number }[], confidence: number): Interval {
  const shots = sum(stints.map((stint) => stint.n));
  const centre = sum(stints.map((stint) => stint.n * stint.mean)) / shots;
  const df = stints.length - 1;
  if (df < 1) return { from: Number.NaN, to: Number.NaN };
  const squares = sum(stints.map((stint) => ((stint.n / shots) * (stint.mean - centre)) ** 2));
  const standardError = Math.sqrt((squares * stints.length) / df);
  // Means of equal shots differ by rounding alone.
  if (standardError <= 1e-12 * Math.abs(centre)) return { from: Number.NaN, to: Number.NaN };
  const reach = tQuantile((1 + confidence) / 2, df) * standardError;
  return { from: centre - reach, to: centre + reach };
}
