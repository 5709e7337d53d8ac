import { presentValues } from "./present-values";

/**
 * Sample quantile by linear interpolation between order statistics (type 7).
 *
 * @param values n numbers, any order, not modified; `NaN` is missing and left out.
 * @param p probability, 0..1.
 * @returns the quantile, in the unit of `values`; `NaN` when no value is left.
 * @throws {RangeError} when `p` is outside 0..1.
 * Source: R. J. Hyndman, Y. Fan, Sample quantiles in statistical packages, The American Statistician 50 (1996) 361,
 * definition 7.
 * @example quantile([3, 1, 2], 0.5) // 2
 */
export function quantile(values: ArrayLike<number>, p: number): number {
  return quantileOfSorted(presentValues(values).sort(), p);
}

/**
 * The same for values that are sorted and complete already, so that several quantiles cost one sort.
 *
 * @throws {RangeError} when `p` is outside 0..1.
 * @example quantileOfSorted(Float64Array.of(1, 2, 3, 4), 0.25) // 1.75
 */
export function quantileOfSorted(sorted: Float64Array, p: number): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`the probability of a quantile is from 0 to 1, not ${p}`);
  if (sorted.length === 0) return Number.NaN;
  const place = (sorted.length - 1) * p;
  const below = Math.floor(place);
  const low = sorted[below]!;
  const high = sorted[Math.min(below + 1, sorted.length - 1)]!;
  return low + (place - below) * (high - low);
}

/**
 * The median: half of the values are below it, half above. `NaN` when no value is left.
 *
 * @example median([4, 1, 3, 2]) // 2.5
 */
export function median(values: ArrayLike<number>): number {
  return quantile(values, 0.5);
}

/** Makes the median absolute deviation estimate the standard deviation of normal data: 1/Φ⁻¹(3/4). */
const madScale = 1.4826;

/**
 * Median absolute deviation from the median, times 1.4826.
 *
 * @returns a measure of spread in the unit of `values` that up to half of them cannot spoil; `NaN` for fewer than 2.
 * Source: F. R. Hampel, JASA 69 (1974) 383.
 * @example medianAbsoluteDeviation([1, 2, 3, 4, 100]) // 1.4826
 */
export function medianAbsoluteDeviation(values: ArrayLike<number>): number {
  const present = presentValues(values);
  if (present.length < 2) return Number.NaN;
  const centre = median(present);
  return madScale * median(present.map((value) => Math.abs(value - centre)));
}
