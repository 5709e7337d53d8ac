import { median, medianAbsoluteDeviation } from "./quantile";

/** What surrounds one value of a series: the median of its window, and how they scatter about it. */
export interface Surroundings {
  readonly centre: number;
  /** 1.4826 times the median absolute deviation; `NaN` where fewer than two values are in the window. */
  readonly scale: number;
}

/**
 * The median and its scale in a window about each value of a series: Hampel's identifier calls a value odd that is more
 * than 3 scales from the median.
 *
 * At the ends the window is the first or the last full one; a short series has one window. Missing values are left out.
 *
 * @param window how many values are in it, 7 for instance.
 * Source: F. R. Hampel, JASA 69 (1974) 383.
 * @example hampelSurroundings([1, 2, 30, 4, 5], 5)[2].centre // 4
 */
export function hampelSurroundings(values: ArrayLike<number>, window: number): readonly Surroundings[] {
  const all = Float64Array.from(values);
  return Array.from(all, (_, i) => {
    const from = Math.max(0, Math.min(i - (window >> 1), all.length - window));
    const near = all.subarray(from, from + window);
    return { centre: median(near), scale: medianAbsoluteDeviation(near) };
  });
}
