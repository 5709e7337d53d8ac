import { tQuantile } from "./distributions";
import { mean, sum } from "./moments";
import type { StintMean } from "./stints";

/** Stints of a pair below which any order of them fits a curve. */
const leastForCurve = 6;

/** Confidence of the point of Student's t from which drift must keep away. */
const driftConfidence = 0.95;

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
  const [a, b] = [mine, theirs].map((stints) => stints.map((stint) => stint.stint));
  return Math.max(...a!) < Math.min(...b!) || Math.max(...b!) < Math.min(...a!);
}

/**
 * Whether drift, however strong, could pass for a difference of the pair.
 *
 * The share R² of the groups' places that drift explains gives the t that values of nothing but drift would have:
 * t² = ν R²/(1 − R²) with the ν = N − 2S degrees of freedom of N stints in S sessions. It must stay below half the
 * square of Student's 95 % point, since scatter comes on top: for 8 stints in one session R² ≤ 0.33, for 12 R² ≤ 0.2;
 * with more stints less is borne, since a comparison of many stints finds smaller differences. In simulated sessions
 * with heads alike, hit in random orders just within the limit (8, 12 and 20 stints, 1300 sessions each; stint means
 * of SD 1.5 yd; a line, a bend, a warm-up or a drop, of 3 to 8 yd), they were called different in at most 5 % of
 * sessions, whichever the drift.
 *
 * Heads hit alternately, in rotation, in balanced orders (ABBA BAAB) or in random order within each pass stay within
 * it; of orders without passes, random throughout, about a third does not. Always ABBA, session after session, does
 * not: one head is in the middle of every session. Below 6 stints this says nothing, since any order of few fits a
 * curve.
 *
 * Source of the simulation and of the limit: our own.
 */
function isMixedWithTime(sessions: readonly PairInSession[]): boolean {
  const stints = sum(sessions.map(({ mine, theirs }) => mine.length + theirs.length));
  const df = stints - 2 * sessions.length;
  if (stints < leastForCurve || df < 1) return false;
  const t = tQuantile((1 + driftConfidence) / 2, df);
  const most = (t * t) / 2;
  return timeShare(sessions.map(placesOf)) > most / (most + df);
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

/**
 * How much of a head's places the course of time explains: R² of the head's indicator on t and t², each about its mean
 * within the session, with one drift for all sessions.
 *
 * One drift, since that is what adds up over sessions; what differs from day to day is scatter.
 *
 * @returns 0 to 1; 0 when the head is in all stints or in none.
 * @example timeShare([{ time: [1, 2, 3, 4], isHead: [true, false, true, false] }]) // 0.2
 */
export function timeShare(sessions: readonly Places[]): number {
  const indicator = sessions.flatMap(({ isHead }) => centred(isHead.map(Number)));
  const total = dot(indicator, indicator);
  if (total === 0) return 0;
  const linear = sessions.flatMap(({ time }) => centred(time));
  const curved = without(sessions.flatMap(({ time }) => centred(centred(time).map((t) => t * t))), linear);
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
