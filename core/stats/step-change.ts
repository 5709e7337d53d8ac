import { mean, squaredDeviations } from "./moments";
import { shuffle } from "./random";

/** Where one step in the level of a series fits best. */
export interface Split {
  /** How many values come before the step. */
  readonly after: number;
  /** Mean of the values after it less the mean of those before, in the unit of the values. */
  readonly shift: number;
  /** Sum of squares that the step takes away, in the squared unit of the values. */
  readonly explained: number;
  /** What it explains over what it leaves for one degree of freedom; infinite when it leaves nothing. */
  readonly f: number;
}

/** A step and how rare so good a fit is when the order is chance. */
export interface StepChange extends Split {
  readonly p: number;
}

/** How to look for a step. */
export interface StepSearch {
  /** Values that either side must have, 1 or more. */
  readonly least: number;
  readonly permutations: number;
  /** Source of numbers from 0 to below 1. */
  readonly random: () => number;
}

/**
 * The step in the level of a series that leaves the least squares, the earliest of equals.
 *
 * @param values n numbers in their order, none missing.
 * @param least values that either side must have, 1 or more.
 * @returns `null` when there is no room for a step, or no scatter at all.
 * Source: least squares; D. M. Hawkins, JASA 72 (1977) 180 for the statistic.
 * @example bestSplit([1, 1, 1, 5, 5]) // after 3, shift 4
 */
export function bestSplit(values: ArrayLike<number>, least = 1): Split | null {
  const squares = squaredDeviations(values);
  if (!(squares > 0)) return null;
  const centre = mean(values);
  const off = Float64Array.from(values, (value) => value - centre);
  const { after, explained } = bestGain(off, least);
  if (after === 0) return null;
  const left = Math.max(0, squares - explained);
  const isExact = left <= 1e-12 * squares;
  return {
    after,
    shift: mean(off.subarray(after)) - mean(off.subarray(0, after)),
    explained,
    f: isExact ? Infinity : (explained * (values.length - 2)) / left,
  };
}

/** The best step in deviations that add up to 0: after how many, 0 when there is no room, and what it explains. */
function bestGain(off: Float64Array, least: number): Pick<Split, "after" | "explained"> {
  const n = off.length;
  let [after, explained, before] = [0, -1, 0];
  for (let count = 1; count < n; count++) {
    before += off[count - 1]!;
    if (count < least || n - count < least) continue;
    // The sum of one side tells both means.
    const gain = (before * before * n) / (count * (n - count));
    if (gain > explained * (1 + 1e-12)) [after, explained] = [count, gain];
  }
  return { after, explained };
}

/**
 * The best step in a series that was made in runs, with its p value from random orders of the runs.
 *
 * Values of one run stay together and in their order, so that what they share does not pass for a step. A step within
 * a run is looked for too. For a series of values that stand each for itself, give runs of one.
 *
 * @param runs values in their order, none missing.
 * @returns `null` when there is no room for a step, or no scatter at all. Its p is never below 1/(permutations + 1).
 * Source of the test: E. J. G. Pitman, Supplement to the JRSS 4 (1937) 225.
 */
export function stepChange(runs: readonly (readonly number[])[], { least, permutations, random }: StepSearch): StepChange | null {
  const values = runs.flat();
  const found = bestSplit(values, least);
  if (found === null) return null;
  const centre = mean(values);
  const off = runs.map((run) => run.map((value) => value - centre));
  const inOrder = Int32Array.from(off.keys());
  const [order, series] = [inOrder.slice(), new Float64Array(values.length)];
  let asGood = 0;
  for (let i = 0; i < permutations; i++) {
    order.set(inOrder);
    shuffle(order, random);
    let count = 0;
    for (const run of order) for (const value of off[run]!) series[count++] = value;
    if (bestGain(series, least).explained >= found.explained * (1 - 1e-9)) asGood++;
  }
  return { ...found, p: (1 + asGood) / (1 + permutations) };
}
