import type { Interval } from "./mean-contrast";

/** Two estimates with their variances and their covariance. */
export interface TwoEstimates {
  readonly numerator: number;
  readonly denominator: number;
  readonly numeratorVariance: number;
  readonly denominatorVariance: number;
  /** 0 for independent estimates. */
  readonly covariance: number;
}

/** A ratio of two estimates. */
export interface Ratio {
  readonly ratio: number;
  /** Standard error of the ratio's logarithm by the delta method; `NaN` when the ratio is not positive. */
  readonly logStandardError: number;
  /** t² times the squared coefficient of variation of the denominator: below 1 the interval is bounded. */
  readonly g: number;
  /** Fieller's interval; `NaN` both when it is not bounded. */
  readonly interval: Interval;
}

/**
 * The ratio of two estimates with Fieller's interval: all θ with (a − θb)² ≤ t² Var(a − θb).
 *
 * @param critical the point of Student's t for the interval, such as `tQuantile(0.975, df)`.
 * Source: E. C. Fieller, Journal of the Royal Statistical Society B 16 (1954) 175.
 */
export function fiellerRatio(estimates: TwoEstimates, critical: number): Ratio {
  const { numerator: a, denominator: b, numeratorVariance: va, denominatorVariance: vb, covariance: c } = estimates;
  const square = critical * critical;
  const ratio = a / b;
  const g = (square * vb) / (b * b);
  // The bounds are the roots of A θ² − 2 B θ + C = 0.
  const [A, B, C] = [b * b - square * vb, a * b - square * c, a * a - square * va];
  const discriminant = B * B - A * C;
  const isBounded = A > 0 && discriminant >= 0;
  const root = Math.sqrt(discriminant);
  const relative = va / (a * a) + vb / (b * b) - (2 * c) / (a * b);
  return {
    ratio,
    logStandardError: ratio > 0 ? Math.sqrt(Math.max(0, relative)) : Number.NaN,
    g,
    interval: isBounded ? { from: (B - root) / A, to: (B + root) / A } : { from: Number.NaN, to: Number.NaN },
  };
}
