import { median } from "./quantile";
import { projectOn, solveUpper, thinQr } from "./qr";

/** A linear model fitted so that a minority of odd values cannot pull it along. */
export interface RobustRegression {
  /** One a column. */
  readonly coefficients: Float64Array;
  /** Values less what the columns explain. */
  readonly residuals: Float64Array;
  /** How much each value counts, 0 to 1. */
  readonly weights: Float64Array;
  /** Median of the sizes of the residuals over 0.6745: a standard deviation of normal data. */
  readonly scale: number;
  /** False when the weights had not settled. */
  readonly converged: boolean;
}

const huberLimit = 1.345; // scales; 95 % efficient for normal data: P. J. Huber, Annals of Mathematical Statistics 35 (1964) 73
const bisquareLimit = 4.685; // scales; likewise: A. E. Beaton, J. W. Tukey, Technometrics 16 (1974) 147
const normalMedian = 0.6745; // Φ⁻¹(3/4)
const mostRounds = 200;
const startRounds = 30;
const leastShare = 0.01; // of the scale, below which residuals weigh alike at the start
const settled = 1e-10; // of the scale

/**
 * Robust regression by reweighted least squares: from nearly least absolute residuals Huber's weights until they settle,
 * then Tukey's bisquare, which gives a value far off no weight at all.
 *
 * Good against odd values, up to about a third of them; not against odd columns (leverage), which the caller bounds.
 *
 * @param columns p columns of N numbers, none missing; there is no other constant than these make.
 * @param value N numbers, none missing.
 * @returns `null` when the columns are linearly dependent or more than the values.
 * Source: W. N. Venables, B. D. Ripley, Modern Applied Statistics with S, 4th edition (2002), section 6.5.
 * @example robustRegression([Float64Array.of(1, 1, 1, 1, 1)], Float64Array.of(1, 2, 3, 4, 1000))!.coefficients[0] // 2.5
 */
export function robustRegression(columns: readonly Float64Array[], value: Float64Array): RobustRegression | null {
  const start = leastAbsolute(columns, value);
  if (start === null) return null;
  const huber = reweight(columns, value, start, { weightOf: (u) => Math.min(1, huberLimit / u), scale: start.scale });
  return reweight(columns, value, huber, { weightOf: (u) => (u < bisquareLimit ? (1 - (u / bisquareLimit) ** 2) ** 2 : 0) });
}

/**
 * Nearly the least sum of absolute residuals, by reweighting too: a start that a third of the values, all off to one side,
 * do not pull along as they do least squares.
 */
function leastAbsolute(columns: readonly Float64Array[], value: Float64Array): RobustRegression | null {
  let fit = weightedFit(columns, value, new Float64Array(value.length).fill(1));
  for (let round = 0; round < startRounds && fit !== null && fit.scale > 0; round++) {
    const least = leastShare * fit.scale;
    fit = weightedFit(columns, value, fit.residuals.map((residual) => least / Math.max(Math.abs(residual), least))) ?? fit;
  }
  return fit;
}

interface Weighting {
  /** The weight of a residual by its size in scales. */
  readonly weightOf: (size: number) => number;
  /** The scale throughout; without one it is that of the residuals each time. */
  readonly scale?: number;
}

/** Fits and weighs in turn until the residuals stay. */
function reweight(columns: readonly Float64Array[], value: Float64Array, start: RobustRegression, { weightOf, scale: fixed }: Weighting): RobustRegression {
  let fit = start;
  for (let round = 0; round < mostRounds; round++) {
    // Half of the values or more lie on the model: there is no scale to weigh by, and nothing left to fit.
    const scale = fixed ?? fit.scale;
    if (!(scale > 0)) return { ...fit, converged: true };
    const weights = fit.residuals.map((residual) => weightOf(Math.max(Math.abs(residual) / scale, Number.MIN_VALUE)));
    const next = weightedFit(columns, value, weights);
    if (next === null) return { ...fit, converged: false };
    const moved = next.residuals.reduce((most, residual, i) => Math.max(most, Math.abs(residual - fit.residuals[i]!)), 0);
    fit = next;
    if (moved <= settled * scale) return { ...fit, converged: true };
  }
  return { ...fit, converged: false };
}

function weightedFit(columns: readonly Float64Array[], value: Float64Array, weights: Float64Array): RobustRegression | null {
  const roots = weights.map(Math.sqrt);
  const qr = thinQr(columns.map((column) => column.map((x, i) => x * roots[i]!)));
  if (qr === null) return null;
  const { effects } = projectOn(qr.q, value.map((y, i) => y * roots[i]!));
  const coefficients = solveUpper(qr.r, effects);
  const residuals = value.map((y, i) => columns.reduce((rest, column, j) => rest - column[i]! * coefficients[j]!, y));
  return { coefficients, residuals, weights, scale: median(residuals.map(Math.abs)) / normalMedian, converged: false };
}
