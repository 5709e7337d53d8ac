import type { MeanContrast } from "./mean-contrast";
import { mean, squaredDeviations, sum } from "./moments";

/** The straight line that leaves the least squares; its slope is the `difference` for one unit of x. */
export interface RegressionLine extends MeanContrast {
  readonly intercept: number;
  /** Sum of squares that the line takes away, in the squared unit of y. */
  readonly explained: number;
}

/**
 * The line of y on x by least squares, with the standard error of its slope as if the points were independent.
 *
 * @param x n numbers, none missing.
 * @param y n numbers, none missing.
 * @returns `NaN` for the line when x has no scatter, and for the standard error when n is below 3.
 * Source: C. F. Gauss, Theoria combinationis (1823).
 * @example regressionLine([1, 2, 3], [2, 4, 6]).difference // 2
 */
export function regressionLine(x: ArrayLike<number>, y: ArrayLike<number>): RegressionLine {
  const [centreX, centreY] = [mean(x), mean(y)];
  const squares = squaredDeviations(x);
  const products = sum(Array.from(x, (value, i) => (value - centreX) * (y[i]! - centreY)));
  const slope = squares > 0 ? products / squares : Number.NaN;
  const intercept = centreY - slope * centreX;
  const df = x.length - 2;
  const left = squaredDeviations(Array.from(x, (value, i) => y[i]! - centreY - slope * (value - centreX)));
  return {
    difference: slope,
    standardError: df > 0 ? Math.sqrt(left / df / squares) : Number.NaN,
    df: df > 0 ? df : Number.NaN,
    intercept,
    explained: slope * products,
  };
}
