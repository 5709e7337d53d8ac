import { mean, sum } from "./moments";
import type { StintMean } from "./stints";

/** Sessions with fewer stints than this say nothing of how heads lie in time: any order of few fits a curve. */
const leastStints = 8;

/** For each group the largest share of its place in a session that time explains, over sessions of 8 stints or more. */
export function timeShares(stints: readonly StintMean[], groupCount: number): readonly number[] {
  const sessions = [...new Set(stints.map((stint) => stint.session))]
    .map((session) => stints.filter((stint) => stint.session === session))
    .filter((own) => own.length >= leastStints);
  return Array.from({ length: groupCount }, (_, group) =>
    Math.max(0, ...sessions.map((own) => timeShare(own.map((each) => each.stint), own.map((each) => each.group === group)))),
  );
}

/**
 * How much of a head's place in a session the course of time explains: R² of the head's indicator on 1, t and t².
 *
 * Above one half, heads and time are mixed, and a difference between heads cannot be told from drift.
 *
 * @param time when each stint was hit, such as its number; n values, none missing.
 * @param isHead for each stint whether it is the head's.
 * @returns 0 to 1; 0 when the head is in all stints or in none.
 * @example timeShare([1, 2, 3, 4], [true, false, true, false]) // 0.2
 */
export function timeShare(time: readonly number[], isHead: readonly boolean[]): number {
  const indicator = centred(isHead.map(Number));
  const total = dot(indicator, indicator);
  if (total === 0) return 0;
  const linear = centred(time);
  const curved = without(centred(linear.map((t) => t * t)), linear);
  return Math.min(1, (explained(indicator, linear) + explained(indicator, curved)) / total);
}

function centred(values: readonly number[]): number[] {
  const centre = mean(values);
  return values.map((value) => value - centre);
}

function dot(a: readonly number[], b: readonly number[]): number {
  return sum(a.map((value, i) => value * b[i]!));
}

/** `values` less their projection on `direction`. */
function without(values: readonly number[], direction: readonly number[]): number[] {
  const length = dot(direction, direction);
  if (length === 0) return [...values];
  const slope = dot(values, direction) / length;
  return values.map((value, i) => value - slope * direction[i]!);
}

/** Sum of squares of `values` along `direction`; 0 when the direction is nothing but rounding. */
function explained(values: readonly number[], direction: readonly number[]): number {
  const length = dot(direction, direction);
  return length > 1e-12 ? dot(values, direction) ** 2 / length : 0;
}
