import { median } from "./quantile";

/**
 * The median of the slopes of all pairs of points at different places: a slope that a few odd points cannot turn.
 *
 * @param x n places, none missing; takes n² steps.
 * @param y n numbers, none missing.
 * @returns the slope in the unit of y for one of x; `NaN` when no two places differ.
 * Source: H. Theil, Proc. Kon. Ned. Akad. Wetensch. A 53 (1950) 386; P. K. Sen, JASA 63 (1968) 1379.
 * @example theilSen([1, 2, 3, 4], [1, 2, 3, 100]) // 17
 */
export function theilSen(x: ArrayLike<number>, y: ArrayLike<number>): number {
  const slopes = new Float64Array((x.length * (x.length - 1)) / 2);
  let count = 0;
  for (let i = 0; i < x.length; i++) {
    for (let j = i + 1; j < x.length; j++) {
      if (x[i] !== x[j]) slopes[count++] = (y[j]! - y[i]!) / (x[j]! - x[i]!);
    }
  }
  return median(slopes.subarray(0, count));
}
