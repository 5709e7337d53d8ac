import { presentValues, readPresent } from "./present-values";

/**
 * The sum of the numbers, with the rounding errors of the additions carried along.
 *
 * @param values n numbers, none missing.
 * Source: A. Neumaier, ZAMM 54 (1974) 39, the improved form of Kahan's summation.
 * @example sum([1e16, 1, -1e16]) // 1
 */
export function sum(values: ArrayLike<number>): number {
  let total = 0;
  let lost = 0;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    const next = total + value;
    lost += Math.abs(total) >= Math.abs(value) ? total - next + value : value - next + total;
    total = next;
  }
  return total + lost;
}

/**
 * The arithmetic mean. `NaN` values are left out; `NaN` when none is left.
 *
 * @example mean([1, 2, 6]) // 3
 */
export function mean(values: ArrayLike<number>): number {
  const present = readPresent(values);
  return present.length === 0 ? Number.NaN : sum(present) / present.length;
}

/**
 * Sum of squared deviations from the mean, in two passes; never negative.
 *
 * The second pass is corrected for the rounding of the mean. `NaN` values are left out; 0 when none is left.
 * Source: T. F. Chan, G. H. Golub, R. J. LeVeque, The American Statistician 37 (1983) 242, equation 1.7.
 */
export function squaredDeviations(values: ArrayLike<number>): number {
  const present = readPresent(values);
  if (present.length === 0) return 0;
  const centre = sum(present) / present.length;
  let total = 0;
  let lost = 0;
  let off = 0;
  // One loop without copies: columns have millions of rows. The squares are summed as in `sum`.
  for (let i = 0; i < present.length; i++) {
    const deviation = present[i]! - centre;
    off += deviation;
    const square = deviation * deviation;
    const next = total + square;
    lost += total >= square ? total - next + square : square - next + total;
    total = next;
  }
  return Math.max(0, total + lost - (off * off) / present.length);
}

/**
 * Sample variance, divisor n − 1, in the squared unit of `values`.
 *
 * `NaN` values are left out; `NaN` when fewer than two are left.
 * @example sampleVariance([1, 2, 3]) // 1
 */
export function sampleVariance(values: ArrayLike<number>): number {
  const present = readPresent(values);
  return present.length < 2 ? Number.NaN : squaredDeviations(present) / (present.length - 1);
}

/**
 * Sample standard deviation, the root of the sample variance. `NaN` for fewer than two values.
 *
 * @example sampleSd([1, 2, 3]) // 1
 */
export function sampleSd(values: ArrayLike<number>): number {
  return Math.sqrt(sampleVariance(values));
}

/**
 * Mean of the values that remain when the smallest and the largest are left out.
 *
 * @param share share left out at each end, 0 up to (not including) 0.5; the count is rounded down.
 * @returns the trimmed mean in the unit of `values`; `NaN` when no value is there.
 * @throws {RangeError} when `share` is outside its range.
 * @example trimmedMean([1, 2, 3, 4, 5, 6, 7, 8, 9, 100], 0.1) // 5.5
 */
export function trimmedMean(values: ArrayLike<number>, share = 0.1): number {
  if (!(share >= 0 && share < 0.5)) throw new RangeError(`the share to trim is from 0 to below 0.5, not ${share}`);
  const sorted = presentValues(values).sort();
  const cut = Math.floor(sorted.length * share);
  return mean(sorted.subarray(cut, sorted.length - cut));
}
