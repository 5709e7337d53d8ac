import { tQuantile } from "./distributions";
import { mean, sum } from "./moments";
import type { StintMean } from "./stints";

/** Stints of a pair below which any order of them fits a curve. */
const leastForCurve = 6;

/** Confidence of the point of Student's t from which drift must keep away. */
const driftConfidence = 0.95;

/** Share of a head's places that time may explain before head and time are one. Common practice, no source. */
const mostExplained = 0.5;

/** The stints of the two groups of a pair in one session. */
export interface PairInSession {
  readonly mine: readonly StintMean[];
  readonly theirs: readonly StintMean[];
}

/** How the two groups of a pair lie in the course of their sessions. */
export type InTime = "in turns" | "in one go" | "at different times";

/**
 * Whether one session can tell a difference of the two groups from the course of time.
 *
 * Never when all stints of one come before all of the other: whatever changed in between, tester, ball or air, is then
 * part of the difference. Breaks between stints of one head make no difference to that, nor do stints of a third head.
 * Not when drift could pass for a difference either.
 */
export function tellsApart(session: PairInSession): boolean {
  return !isOneBeforeOther(session) && !isMixedWithTime([session]);
}

/**
 * How a pair lies in time over the sessions that are compared.
 *
 * "in one go" when in none of them either group was turned to twice; "at different times" when drift could pass for a
 * difference between the two.
 */
export function pairInTime(sessions: readonly PairInSession[]): InTime {
  const told = sessions.filter(tellsApart);
  if (told.length > 0) return isMixedWithTime(told) ? "at different times" : "in turns";
  const isOneGo = ({ mine, theirs }: PairInSession): boolean => turnsIn(mine) === 1 && turnsIn(theirs) === 1;
  return sessions.every(isOneGo) ? "in one go" : "at different times";
}

/** How often a group was turned to: stints with nothing but a break between them count once. */
export function turnsIn(stints: readonly StintMean[]): number {
  return new Set(stints.map((stint) => `${stint.session} ${stint.turn}`)).size;
}

function isOneBeforeOther({ mine, theirs }: PairInSession): boolean {
  const [a, b] = [rangeOf(mine), rangeOf(theirs)];
  return a.last < b.first || b.last < a.first;
}

/** Numbers of the first and the last of some stints. */
function rangeOf(stints: readonly StintMean[]): { readonly first: number; readonly last: number } {
  let [first, last] = [Infinity, -Infinity];
  for (const { stint } of stints) {
    first = Math.min(first, stint);
    last = Math.max(last, stint);
  }
  return { first, last };
}

/**
 * Whether drift, however strong, could pass for a difference of the pair beside the straight trend of each session that
 * the models take out.
 *
 * The share R² of the groups' places, as far as the trends leave them, that a bend explains gives the t that values of
 * nothing but that bend would have: t² = ν R²/(1 − R²) with the ν = N − 2S − 1 degrees of freedom of N stints in S
 * sessions. It must stay below half the square of Student's 95 % point, since scatter comes on top: for 8 stints in one
 * session R² ≤ 0.40, for 12 R² ≤ 0.22; with more stints less is borne, since a comparison of many stints finds smaller
 * differences. And whatever the trends would take out, line and bend together must not explain more than half of the
 * places.
 *
 * Heads hit alternately, in rotation, in balanced orders (ABBA BAAB) or in random order within each pass stay within
 * it; of orders without passes, random throughout, a fifth or so does not. Always ABBA, session after session, does
 * not: one head is in the middle of every session. Below 6 stints this says nothing, since any order of few fits a
 * curve.
 *
 * In simulated sessions with heads alike, hit in orders random throughout that stay within the limit (8, 10, 12, 16 and
 * 20 stints of 3 shots, about 300 orders of each; stints of SD 1 yd, shots of SD 2 yd), they were called different in
 * 2 to 6 % of sessions, whichever the drift: none, a line, a bend, a warm-up, a drop a quarter or half-way through, of 3 or 8 yd.
 *
 * Source of the simulation and of the limit: our own.
 */
function isMixedWithTime(sessions: readonly PairInSession[]): boolean {
  const stints = sum(sessions.map(({ mine, theirs }) => mine.length + theirs.length));
  const df = stints - 2 * sessions.length - 1;
  if (stints < leastForCurve || df < 1) return false;
  const t = tQuantile((1 + driftConfidence) / 2, df);
  const most = (t * t) / 2;
  const { bend, all } = timeShare(sessions.map(placesOf));
  return all > mostExplained || bend > most / (most + df);
}

/** Stints of a session: when each was hit, such as its number, and whether it is the head's. None missing. */
export interface Places {
  readonly time: readonly number[];
  readonly isHead: readonly boolean[];
}

function placesOf({ mine, theirs }: PairInSession): Places {
  return {
    time: [...mine, ...theirs].map((stint) => stint.stint),
    isHead: [...mine.map(() => true), ...theirs.map(() => false)],
  };
}

/** Shares of a head's places, 0 to 1. */
export interface TimeShare {
  /** What trend and bend explain together: R² on t and t². */
  readonly all: number;
  /** What the bend explains of what the trends leave. */
  readonly bend: number;
}

/**
 * How much of a head's places the course of time explains: its indicator against a trend in each session of its own, and
 * against a bend that is the same in all.
 *
 * One bend, since that is what adds up over sessions; what differs from day to day is scatter.
 *
 * @returns 0 for both when the head is in all stints or in none.
 * @example timeShare([{ time: [1, 2, 3, 4], isHead: [true, false, true, false] }]).all // 0.2
 */
export function timeShare(sessions: readonly Places[]): TimeShare {
  const indicator = sessions.flatMap(({ isHead }) => centred(isHead.map(Number)));
  const total = dot(indicator, indicator);
  if (total === 0) return { all: 0, bend: 0 };
  const untrended = sessions.flatMap(({ time, isHead }) => without(centred(isHead.map(Number)), centred(time)));
  const bend = sessions.flatMap(({ time }) => without(centred(centred(time).map((t) => t * t)), centred(time)));
  const left = dot(untrended, untrended);
  const bent = explained(untrended, bend);
  return {
    all: Math.min(1, (total - left + bent) / total),
    // Places on a line are explained by the trend, whatever rounding leaves of them.
    bend: left <= 1e-12 * total ? 0 : Math.min(1, bent / left),
  };
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
