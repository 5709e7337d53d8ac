import type { MeanContrast } from "./mean-contrast";
import type { InTime } from "./time-share";

/**
 * What a comparison rests on: columns of equal length, one entry a shot that has a value.
 *
 * Groups and sessions are numbered from 0; a stint's number is its own within its session. Where the hitting order is
 * not known, every shot has a stint number of its own, and the shots count as if they were independent.
 */
export interface ComparisonData {
  readonly groupCount: number;
  readonly group: Int32Array;
  readonly session: Int32Array;
  readonly stint: Float64Array;
  /** In the unit of the column; none missing. */
  readonly value: Float64Array;
}

/** What one model says of one pair: the mean of group `of` less that of group `against`, in the unit of the values. */
export interface PairEstimate extends MeanContrast {
  readonly of: number;
  readonly against: number;
  /** How many groups are compared with one another at once, for the critical value. */
  readonly familySize: number;
  /** Shots and stints of either group that the estimate uses. */
  readonly n: number;
  readonly nAgainst: number;
  readonly stints: number;
  readonly stintsAgainst: number;
  /** How often either group was turned to: stints with nothing but a break between them count once. */
  readonly turns: number;
  readonly turnsAgainst: number;
  /** How the two lie in the course of the sessions used. */
  readonly inTime: InTime;
  /** Sessions of both groups that are not used, since they cannot tell the pair from the course of time. */
  readonly leftOut: readonly number[];
  /** Whether the two groups were hit in one session at least; if not, nothing is estimated. */
  readonly comparable: boolean;
  /** Variance of one stint's mean about its group's, from which more stints are planned; `NaN` when unknown. */
  readonly stintVariance: number;
  readonly stintVarianceAgainst: number;
}

/**
 * A way of estimating differences. Intervals, verdicts and sentences are made of what it gives and do not know which
 * one it was.
 */
export interface ComparisonModel {
  /** The model in words, for the method line of `groupCount` groups. */
  readonly words: (groupCount: number) => string;
  /** All pairs, each later group against each earlier one. */
  readonly fit: (data: ComparisonData) => readonly PairEstimate[];
}
