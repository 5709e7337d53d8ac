import { normalQuantile } from "./distributions";
import type { Interval } from "./mean-contrast";

/**
 * Wilson's interval of a share, as if the n were independent.
 *
 * @param count how many of the n, a whole number from 0 to n.
 * @param confidence 0 to 1, such as 0.95.
 * @returns bounds of the share, 0 to 1; `NaN` both for n = 0.
 * Source: E. B. Wilson, JASA 22 (1927) 209.
 * @example wilsonInterval(0, 10, 0.95) // { from: 0, to: 0.2775… }
 */
export function wilsonInterval(count: number, n: number, confidence: number): Interval {
  if (n === 0) return { from: Number.NaN, to: Number.NaN };
  const z = normalQuantile((1 + confidence) / 2);
  const share = count / n;
  const centre = (share + (z * z) / (2 * n)) / (1 + (z * z) / n);
  const reach = ((z / (1 + (z * z) / n)) * Math.sqrt((share * (1 - share)) / n + (z * z) / (4 * n * n)));
  // At none or all of the n a bound is the end of the scale but for rounding.
  return { from: count === 0 ? 0 : centre - reach, to: count === n ? 1 : centre + reach };
}
