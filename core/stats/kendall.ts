import { normalCdf } from "./distributions";

/** How far two columns rise and fall together by rank. */
export interface KendallTau {
  /** τ_b, −1 to 1. */
  readonly tau: number;
  /** The statistic over its standard deviation under chance, without continuity correction. */
  readonly z: number;
  /** Two-sided, by the normal approximation: rough below about 10 points. */
  readonly p: number;
}

/**
 * Kendall's τ_b of two columns, ties allowed for.
 *
 * @param x n numbers, none missing; takes n² steps.
 * @param y n numbers, none missing.
 * @returns `NaN` throughout when either column has no two values that differ.
 * Source: M. G. Kendall, Rank Correlation Methods, 4th ed. (1970), equations 3.3 and 4.3.
 * @example kendallTau([1, 2, 3], [1, 3, 2]).tau // 1/3
 */
export function kendallTau(x: ArrayLike<number>, y: ArrayLike<number>): KendallTau {
  const n = x.length;
  let score = 0;
  for (let i = 0; i < n; i++) {
    for (let j = i + 1; j < n; j++) score += Math.sign(x[j]! - x[i]!) * Math.sign(y[j]! - y[i]!);
  }
  const pairs = (n * (n - 1)) / 2;
  const [tiesX, tiesY] = [tiesOf(x), tiesOf(y)];
  const total = (of: readonly number[], term: (t: number) => number): number => of.reduce((all, t) => all + term(t), 0);
  const twos = (t: number): number => t * (t - 1);
  const threes = (t: number): number => t * (t - 1) * (t - 2);
  const both = (term: (t: number) => number): number => total(tiesX, term) * total(tiesY, term);
  const spread = (t: number): number => t * (t - 1) * (2 * t + 5);
  const variance =
    (spread(n) - total(tiesX, spread) - total(tiesY, spread)) / 18 +
    both(twos) / (2 * n * (n - 1)) +
    (n > 2 ? both(threes) / (9 * n * (n - 1) * (n - 2)) : 0);
  const untied = (pairs - total(tiesX, twos) / 2) * (pairs - total(tiesY, twos) / 2);
  if (!(untied > 0)) return { tau: Number.NaN, z: Number.NaN, p: Number.NaN };
  const z = score / Math.sqrt(variance);
  return { tau: score / Math.sqrt(untied), z, p: 2 * normalCdf(-Math.abs(z)) };
}

/** How often each value occurs. */
function tiesOf(values: ArrayLike<number>): readonly number[] {
  const counts = new Map<number, number>();
  for (let i = 0; i < values.length; i++) counts.set(values[i]!, (counts.get(values[i]!) ?? 0) + 1);
  return [...counts.values()];
}
