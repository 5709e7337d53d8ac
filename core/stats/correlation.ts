import { normalQuantile, tCdf } from "./distributions";
import type { Interval } from "./mean-contrast";
import { mean, squaredDeviations, sum } from "./moments";

/** How far two columns go together on a straight line. */
export interface Correlation {
  /** −1 to 1. */
  readonly r: number;
  /** `NaN` both for fewer than 4 points. */
  readonly interval: Interval;
  /** Two-sided, by Student's t with n − 2 degrees of freedom. */
  readonly p: number;
}

/**
 * Pearson's correlation of two columns, with its interval by Fisher's transformation.
 *
 * @param x n numbers, none missing.
 * @param y n numbers, none missing.
 * @param confidence 0..1, such as 0.95.
 * @returns `NaN` throughout when either column has no scatter or there are fewer than 3 points.
 * Source: R. A. Fisher, Metron 1 (1921) 3.
 */
export function pearsonCorrelation(x: ArrayLike<number>, y: ArrayLike<number>, confidence: number): Correlation {
  const n = x.length;
  const r = coefficient(x, y);
  const reach = n > 3 ? normalQuantile((1 + confidence) / 2) / Math.sqrt(n - 3) : Number.NaN;
  const t = Math.abs(r) * Math.sqrt((n - 2) / Math.max(0, 1 - r * r));
  return {
    r,
    interval: { from: Math.tanh(Math.atanh(r) - reach), to: Math.tanh(Math.atanh(r) + reach) },
    p: n < 3 || Number.isNaN(r) ? Number.NaN : 2 * tCdf(-t, n - 2),
  };
}

/**
 * Spearman's correlation: Pearson's of the ranks, equal values sharing the mean of theirs.
 *
 * @param x n numbers, none missing.
 * @param y n numbers, none missing.
 * @returns −1 to 1; `NaN` when either column has no scatter.
 * Source: C. Spearman, American Journal of Psychology 15 (1904) 72.
 * @example spearmanCorrelation([1, 2, 3], [1, 8, 27]) // 1
 */
export function spearmanCorrelation(x: ArrayLike<number>, y: ArrayLike<number>): number {
  return coefficient(ranks(x), ranks(y));
}

function coefficient(x: ArrayLike<number>, y: ArrayLike<number>): number {
  const [centreX, centreY] = [mean(x), mean(y)];
  const products = sum(Array.from(x, (value, i) => (value - centreX) * (y[i]! - centreY)));
  const squares = Math.sqrt(squaredDeviations(x)) * Math.sqrt(squaredDeviations(y));
  return squares > 0 ? Math.max(-1, Math.min(1, products / squares)) : Number.NaN;
}

function ranks(values: ArrayLike<number>): Float64Array {
  const order = Array.from({ length: values.length }, (_, i) => i).sort((a, b) => values[a]! - values[b]!);
  const ranked = new Float64Array(values.length);
  for (let first = 0; first < order.length; ) {
    let next = first + 1;
    while (next < order.length && values[order[next]!] === values[order[first]!]) next++;
    for (let place = first; place < next; place++) ranked[order[place]!] = (first + 1 + next) / 2;
    first = next;
  }
  return ranked;
}
