import { presentValues } from "./present-values";

/**
 * The Hodges–Lehmann shift: the median of all differences between a value of `x` and a value of `y`.
 *
 * A description of how far apart two groups are that a few far-out values cannot drive. Nothing is tested with it.
 * The differences are counted, never listed, so that long columns cost little.
 *
 * @param x n₁ values in any order; `NaN` is left out.
 * @param y n₂ values.
 * @returns the shift in the unit of the values, accurate to about 1e-14 of their range; `NaN` when a side is empty.
 * Source: J. L. Hodges, E. L. Lehmann, Annals of Mathematical Statistics 34 (1963) 598.
 * @example hodgesLehmann([5, 6, 100], [1, 2, 3]) // 4
 */
export function hodgesLehmann(x: ArrayLike<number>, y: ArrayLike<number>): number {
  const a = presentValues(x).sort();
  const b = presentValues(y).sort();
  if (a.length === 0 || b.length === 0) return Number.NaN;
  const pairs = a.length * b.length;
  const lower = differenceOfRank(a, b, Math.ceil(pairs / 2));
  return pairs % 2 === 1 ? lower : (lower + differenceOfRank(a, b, pairs / 2 + 1)) / 2;
}

/** The `rank`-th smallest of the differences aᵢ − bⱼ (from 1), by halving the range that holds it. */
function differenceOfRank(a: Float64Array, b: Float64Array, rank: number): number {
  let low = a[0]! - b[b.length - 1]!;
  let high = a[a.length - 1]! - b[0]!;
  const enough = 1e-15 * Math.max(Math.abs(low), Math.abs(high));
  while (high - low > enough) {
    const middle = low + (high - low) / 2;
    if (middle <= low || middle >= high) break;
    if (countUpTo(a, b, middle) >= rank) high = middle;
    else low = middle;
  }
  return nearestDifference(a, b, high);
}

/** How many differences are at most `limit`. */
function countUpTo(a: Float64Array, b: Float64Array, limit: number): number {
  let count = 0;
  // How many of the largest b keep the difference within the limit: more and more of them as a falls.
  let within = 0;
  for (let i = a.length - 1; i >= 0; i--) {
    while (within < b.length && a[i]! - b[b.length - 1 - within]! <= limit) within++;
    count += within;
  }
  return count;
}

/** The largest difference that is at most `limit`: undoes what halving left in the last digits. */
function nearestDifference(a: Float64Array, b: Float64Array, limit: number): number {
  let nearest = -Infinity;
  let within = 0;
  for (let i = a.length - 1; i >= 0; i--) {
    while (within < b.length && a[i]! - b[b.length - 1 - within]! <= limit) within++;
    if (within > 0) nearest = Math.max(nearest, a[i]! - b[b.length - within]!);
  }
  return Number.isFinite(nearest) ? nearest : limit;
}
