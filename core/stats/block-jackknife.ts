import { mean, squaredDeviations, sum } from "./moments";

/** What leaving out one stint after another says of an estimate. */
export interface JackknifeError {
  /** In the unit of the estimate; `NaN` below two stints. */
  readonly standardError: number;
  /** Stints less one; `NaN` where the standard error is. */
  readonly df: number;
}

/**
 * The standard error of an estimate from what it becomes without one stint after another.
 *
 * The pseudo-values Bθ − (B − 1)θ₋ᵢ count as B independent values: SE² = Σ (θ₋ᵢ − θ̄)² (B − 1)/B. Stints are left out
 * whole, since the shots of one share tee, timing and swing feel.
 *
 * @param leftOut the estimate without each of the stints; `NaN` where the others do not determine it.
 * @returns `NaN` when there are fewer than two or one of them is not determined.
 * Source: J. W. Tukey, Annals of Mathematical Statistics 29 (1958) 614; for groups of observations H. R. Künsch,
 * Annals of Statistics 17 (1989) 1217.
 * @example blockJackknife([2.5, 2, 1.5]).standardError // 0.577, as s/√n for the mean of 1, 2 and 3
 */
export function blockJackknife(leftOut: readonly number[]): JackknifeError {
  const count = leftOut.length;
  if (count < 2 || leftOut.some(Number.isNaN)) return { standardError: Number.NaN, df: Number.NaN };
  return { standardError: Math.sqrt((squaredDeviations(leftOut) * (count - 1)) / count), df: count - 1 };
}

/**
 * The acceleration that a BCa interval needs, from the estimates without one unit after another.
 *
 * @returns Σ dᵢ³ / 6 (Σ dᵢ²)^{3/2} with dᵢ = θ̄₍.₎ − θ₍ᵢ₎; 0 when all estimates are alike.
 * Source: B. Efron, JASA 82 (1987) 171, equation 6.6 and section 7.
 */
export function jackknifeAcceleration(leftOut: readonly number[]): number {
  const centre = mean(leftOut);
  const differences = leftOut.map((value) => centre - value);
  const squares = sum(differences.map((d) => d * d));
  return squares === 0 ? 0 : sum(differences.map((d) => d ** 3)) / (6 * squares ** 1.5);
}
