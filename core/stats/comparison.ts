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

/** The shots of two groups, and how they lie in the course of the sessions: what a comparison of the two can rest on. */
export interface PairShots {
  readonly of: number;
  readonly against: number;
  /** Sessions whose shots are used: those that tell the two from the course of time, or all that have both. */
  readonly sessions: readonly number[];
  /** Sessions of both groups that are not used, since they cannot tell the pair from the course of time. */
  readonly leftOut: readonly number[];
  /** Whether the two groups were hit in one session at least; if not, nothing is estimated. */
  readonly comparable: boolean;
  /** Shots and stints of either group in these sessions. */
  readonly n: number;
  readonly nAgainst: number;
  readonly stints: number;
  readonly stintsAgainst: number;
  /** How often either group was turned to: stints with nothing but a break between them count once. */
  readonly turns: number;
  readonly turnsAgainst: number;
  /** False when one of the two has no session with two stints: nothing then says how its stints scatter. */
  readonly scatters: boolean;
  /** How the two lie in the course of the sessions used. */
  readonly inTime: InTime;
}
