import { mean, squaredDeviations, sum } from "./moments";

/** An estimate with the standard error that leaving out one stint after another gives it. */
export interface JackknifeEstimate {
  /** Of all stints together. */
  readonly estimate: number;
  /** In the unit of the estimate; `NaN` below two stints. */
  readonly standardError: number;
  /** Stints less one. */
  readonly df: number;
  /** The estimate without each stint, in the order of the stints. */
  readonly leftOut: readonly number[];
}

/**
 * The standard error of an estimate from what it becomes without one stint after another.
 *
 * The pseudo-values Bθ − (B − 1)θ₋ᵢ count as B independent values: SE² = Σ (θ₋ᵢ − θ̄)² (B − 1)/B. Stints are left out
 * whole, since the shots of one share tee, timing and swing feel.
 *
 * @param stints the shots of each stint, in any form that `estimate` takes.
 * @param estimate an estimate from some shots; `NaN` where they do not determine it.
 * @returns `NaN` errors when there are fewer than two stints or the estimate without one of them is not determined.
 * Source: J. W. Tukey, Annals of Mathematical Statistics 29 (1958) 614; for groups of observations H. R. Künsch,
 * Annals of Statistics 17 (1989) 1217.
 * @example blockJackknife([[1], [2], [3]], mean).standardError // 0.577: for a mean it is s/√B
 */
export function blockJackknife<T>(stints: readonly (readonly T[])[], estimate: (shots: readonly T[]) => number): JackknifeEstimate {
  const count = stints.length;
  const leftOut = stints.map((_, left) => estimate(stints.flatMap((stint, i) => (i === left ? [] : stint))));
  const isKnown = count > 1 && !leftOut.some(Number.isNaN);
  return {
    estimate: estimate(stints.flat()),
    standardError: isKnown ? Math.sqrt((squaredDeviations(leftOut) * (count - 1)) / count) : Number.NaN,
    df: isKnown ? count - 1 : Number.NaN,
    leftOut,
  };
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
