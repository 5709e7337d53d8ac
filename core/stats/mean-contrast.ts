import { mean, sampleVariance } from "./moments";

/**
 * A difference of two means with what is needed to judge it.
 *
 * `difference` and `standardError` are in the unit of the values. All three are `NaN` where the data do not
 * determine them.
 */
export interface MeanContrast {
  readonly difference: number;
  readonly standardError: number;
  readonly df: number;
}

/** Lower and upper bound, in the unit of what is bounded; `NaN` both when there is no interval. */
export interface Interval {
  readonly from: number;
  readonly to: number;
}

/** One variance in the sum that makes a squared standard error: its share of the sum, and its degrees of freedom. */
export interface VariancePart {
  readonly amount: number;
  readonly df: number;
}

/**
 * Degrees of freedom of a sum of independent variance estimates: (Σ aᵢ)² / Σ (aᵢ²/νᵢ).
 *
 * `NaN` when all amounts are 0, or when a part that counts has no degrees of freedom.
 * Source: F. E. Satterthwaite, Biometrics Bulletin 2 (1946) 110, equation 17.
 * @example satterthwaite([{ amount: 2, df: 4 }, { amount: 2, df: 4 }]) // 8
 */
export function satterthwaite(parts: readonly VariancePart[]): number {
  let total = 0;
  let below = 0;
  for (const { amount, df } of parts) {
    total += amount;
    if (amount > 0) below += (amount * amount) / df;
  }
  return total > 0 && Number.isFinite(below) ? (total * total) / below : Number.NaN;
}

/**
 * The mean of `x` less the mean of `y`, each with its own variance.
 *
 * @param x n₁ ≥ 2 values; `NaN` is left out.
 * @param y n₂ ≥ 2 values.
 * Source: B. L. Welch, Biometrika 34 (1947) 28; degrees of freedom by Satterthwaite.
 */
export function welchContrast(x: Float64Array | readonly number[], y: Float64Array | readonly number[]): MeanContrast {
  const [sizeX, sizeY] = [countPresent(x), countPresent(y)];
  const parts = [
    { amount: sampleVariance(x) / sizeX, df: sizeX - 1 },
    { amount: sampleVariance(y) / sizeY, df: sizeY - 1 },
  ];
  return {
    difference: mean(x) - mean(y),
    standardError: Math.sqrt(parts[0]!.amount + parts[1]!.amount),
    df: satterthwaite(parts),
  };
}

/**
 * The mean of `x` less the mean of `y`, with one variance for both: Student's two-sample t.
 *
 * @param x n₁ values, `NaN` left out; n₁ + n₂ ≥ 3.
 * @param y n₂ values.
 */
export function pooledContrast(x: Float64Array | readonly number[], y: Float64Array | readonly number[]): MeanContrast {
  const [sizeX, sizeY] = [countPresent(x), countPresent(y)];
  const df = sizeX + sizeY - 2;
  const within = (size: number, values: Float64Array | readonly number[]) =>
    size > 1 ? sampleVariance(values) * (size - 1) : 0;
  const pooled = df > 0 ? (within(sizeX, x) + within(sizeY, y)) / df : Number.NaN;
  return {
    difference: mean(x) - mean(y),
    standardError: Math.sqrt(pooled * (1 / sizeX + 1 / sizeY)),
    df: df > 0 ? df : Number.NaN,
  };
}

function countPresent(values: ArrayLike<number>): number {
  let count = 0;
  for (let i = 0; i < values.length; i++) if (!Number.isNaN(values[i]!)) count++;
  return count;
}
