import { mean } from "./moments";
import { median, medianAbsoluteDeviation, quantileOfSorted } from "./quantile";
import { shuffle } from "./random";

/** Neighbouring values of a series with one level: from place `from` to the place before `end`. */
export interface Segment {
  readonly from: number;
  readonly end: number;
  readonly mean: number;
}

/** A series cut into segments. */
export interface Segmentation {
  readonly segments: readonly Segment[];
  /** Sum of squares that the changes take away, less their penalties; 0 without a change. */
  readonly gain: number;
}

/** How to cut a series. */
export interface SegmentSearch {
  /** Values that a segment must have; 8. */
  readonly least?: number;
  /** Sum of squares that a change must take away; 3 σ² ln N, with the σ of `noiseOfSeries`. */
  readonly penalty?: number;
}

const leastOfSegment = 8;

/**
 * Standard deviation of a series about its levels, from the differences of neighbours, which steps of the level hardly touch.
 *
 * @param values n numbers in their order, none missing.
 * @returns the median absolute deviation of the differences times 1.4826, over √2; `NaN` for fewer than 3 values.
 * Source: J. von Neumann and others, Annals of Mathematical Statistics 12 (1941) 153, for differences; the MAD of F. R. Hampel.
 * @example noiseOfSeries([0, 1, 0, 1, 0, 1]) > 0 // true
 */
export function noiseOfSeries(values: ArrayLike<number>): number {
  const differences = Array.from({ length: Math.max(0, values.length - 1) }, (_, i) => values[i + 1]! - values[i]!);
  return medianAbsoluteDeviation(differences) / Math.SQRT2;
}

/**
 * The segments of a series that leave the least squares about their means, each change paid for by a penalty.
 *
 * Exact: every way of cutting is weighed, with those that can no longer win left out. One segment where there is no room
 * for a change, or no scatter to set a penalty by.
 *
 * @param values n numbers in their order, none missing; the time grows with n².
 * Source: B. Jackson and others, IEEE Signal Processing Letters 12 (2005) 105; left out as in R. Killick, P. Fearnhead,
 * I. A. Eckley, JASA 107 (2012) 1590.
 * @example segmentsOf([0, 0, 0, 9, 9, 9], { least: 2, penalty: 1 }).segments.length // 2
 */
export function segmentsOf(values: ArrayLike<number>, { least = leastOfSegment, penalty = 3 * noiseOfSeries(values) ** 2 * Math.log(values.length) }: SegmentSearch = {}): Segmentation {
  const n = values.length;
  const centre = n === 0 ? 0 : mean(values);
  const sums = cumulated(values, centre);
  const whole: Segmentation = { segments: n === 0 ? [] : [{ from: 0, end: n, mean: centre }], gain: 0 };
  if (n < 2 * least || !(penalty > 0)) return whole;
  const { cost, before } = cheapest(sums, n, least, penalty);
  const segments: Segment[] = [];
  for (let end = n; end > 0; end = before[end]!) segments.unshift({ from: before[end]!, end, mean: centre + (sums.of[end]! - sums.of[before[end]!]!) / (end - before[end]!) });
  return { segments, gain: Math.max(0, squaresOf(sums, 0, n) - cost) };
}

interface Sums {
  readonly of: Float64Array;
  readonly ofSquares: Float64Array;
}

/** Sums of the first deviations from the mean and of their squares. */
function cumulated(values: ArrayLike<number>, centre: number): Sums {
  const sums: Sums = { of: new Float64Array(values.length + 1), ofSquares: new Float64Array(values.length + 1) };
  for (let i = 0; i < values.length; i++) {
    const off = values[i]! - centre;
    sums.of[i + 1] = sums.of[i]! + off;
    sums.ofSquares[i + 1] = sums.ofSquares[i]! + off * off;
  }
  return sums;
}

/** Sum of squares about the mean, from place `from` to before `end`. */
function squaresOf({ of, ofSquares }: Sums, from: number, end: number): number {
  const total = of[end]! - of[from]!;
  return ofSquares[end]! - ofSquares[from]! - (total * total) / (end - from);
}

/** The least cost of all values, and for each end where the last of the segments up to there begins. */
function cheapest(sums: Sums, n: number, least: number, penalty: number): { readonly cost: number; readonly before: Int32Array } {
  const best = new Float64Array(n + 1).fill(Infinity);
  const before = new Int32Array(n + 1);
  best[0] = -penalty;
  // A start that costs more without a further change than the best with one never wins where such a change has room.
  const lastEnd = new Int32Array(n + 1).fill(n);
  const starts = new Int32Array(n + 1);
  const costs = new Float64Array(n + 1);
  let count = 0;
  for (let end = least; end <= n; end++) {
    starts[count++] = end - least;
    for (let i = 0; i < count; i++) {
      const cost = (costs[i] = best[starts[i]!]! + squaresOf(sums, starts[i]!, end));
      if (cost + penalty < best[end]!) [best[end], before[end]] = [cost + penalty, starts[i]!];
    }
    let kept = 0;
    for (let i = 0; i < count; i++) {
      const from = starts[i]!;
      if (costs[i]! > best[end]!) lastEnd[from] = Math.min(lastEnd[from]!, end + least - 1);
      if (lastEnd[from]! > end) starts[kept++] = from;
    }
    count = kept;
  }
  return { cost: best[n]!, before };
}

/** How a p value is found by random orders. */
export interface OrderSearch extends Required<SegmentSearch> {
  readonly permutations: number;
  /** Source of numbers from 0 to below 1. */
  readonly random: () => number;
}

const enoughAsGood = 10;

/**
 * How often segments take away as much as those of the series when its blocks come in a random order.
 *
 * Values of one block stay together, so that what neighbours share does not pass for a level. Random orders end early once
 * ten have been as good.
 *
 * @param blocks values in their order, none missing.
 * @returns never below 1/(permutations + 1); 1 for a series without a change.
 * Source: E. J. G. Pitman, Supplement to the JRSS 4 (1937) 225; ended early as in J. Besag, P. Clifford, Biometrika 78 (1991) 301.
 */
export function segmentsByChance(blocks: readonly (readonly number[])[], { permutations, random, ...search }: OrderSearch): number {
  const { gain } = segmentsOf(blocks.flat(), search);
  if (!(gain > 0)) return 1;
  const order = [...blocks];
  let asGood = 0;
  for (let tried = 1; tried <= permutations; tried++) {
    shuffle(order, random);
    if (segmentsOf(order.flat(), search).gain >= gain * (1 - 1e-9)) asGood++;
    if (asGood === enoughAsGood) return asGood / tried;
  }
  return (1 + asGood) / (1 + permutations);
}

/** A difference of medians with an interval. */
export interface MedianShift {
  readonly shift: number;
  readonly low: number;
  readonly high: number;
}

/** How an interval is found by resampling. */
export interface Resampling {
  readonly samples: number;
  /** 0..1. */
  readonly confidence: number;
  readonly random: () => number;
}

/**
 * Median of some values less the median of others, with the interval that resampled blocks of either give (percentiles).
 *
 * @param inside blocks of values, none missing, at least one block.
 * @param outside likewise.
 * Source: H. R. Künsch, Annals of Statistics 17 (1989) 1217 for blocks; B. Efron, Annals of Statistics 7 (1979) 1.
 * @example medianShift([[3, 3]], [[1], [1]], { samples: 99, confidence: 0.95, random: () => 0.5 }).shift // 2
 */
export function medianShift(inside: readonly (readonly number[])[], outside: readonly (readonly number[])[], { samples, confidence, random }: Resampling): MedianShift {
  const again = (blocks: readonly (readonly number[])[]): readonly number[] => blocks.flatMap(() => blocks[Math.floor(random() * blocks.length)]!);
  const shifts = Float64Array.from({ length: samples }, () => median(again(inside)) - median(again(outside))).sort();
  return {
    shift: median(inside.flat()) - median(outside.flat()),
    low: quantileOfSorted(shifts, (1 - confidence) / 2),
    high: quantileOfSorted(shifts, (1 + confidence) / 2),
  };
}
