import type { OneWayAnalysis } from "./one-way";
import { oneWayAnalysis } from "./one-way";
import { median } from "./quantile";

/**
 * Each value's distance from its group's median, the response of Brown and Forsythe's test.
 *
 * @param group the number of each value's group, from 0.
 * @param value none missing.
 * Source: M. B. Brown, A. B. Forsythe, JASA 69 (1974) 364.
 */
export function medianDistances(group: ArrayLike<number>, value: ArrayLike<number>): Float64Array {
  const byGroup = new Map<number, number[]>();
  for (let i = 0; i < value.length; i++) {
    const known = byGroup.get(group[i]!);
    if (known === undefined) byGroup.set(group[i]!, [value[i]!]);
    else known.push(value[i]!);
  }
  const centres = new Map([...byGroup].map(([number, values]) => [number, median(values)]));
  return Float64Array.from({ length: value.length }, (_, i) => Math.abs(value[i]! - centres.get(group[i]!)!));
}

/**
 * Whether several groups scatter alike: one-way analysis of variance of the distances from the medians.
 *
 * Counts single shots as independent; the same distances in a model with stints do not.
 *
 * @param groups two or more groups of values, none missing and no group empty.
 * Source: M. B. Brown, A. B. Forsythe, JASA 69 (1974) 364.
 */
export function brownForsythe(groups: readonly (readonly number[])[]): OneWayAnalysis {
  return oneWayAnalysis(groups.map((values) => [...medianDistances(new Int32Array(values.length), values)]));
}
