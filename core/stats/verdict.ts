import type { Interval } from "./mean-contrast";

/** Every verdict on a difference. Not finding a difference is never one of equality. */
export const verdicts = [
  "different by more than the margin",
  "different",
  "different but too small to matter",
  "practically equivalent",
  "undecided",
  "no verdict",
] as const;

/** One of the verdicts on a difference. */
export type Verdict = (typeof verdicts)[number];

/**
 * The verdict that two intervals of one difference give against a margin; every pair of intervals gives exactly one.
 *
 * @param wide the simultaneous interval of the chosen confidence (95 %), which decides whether there is a difference.
 * @param narrow the 90 % interval, which decides whether it is too small to matter: two one-sided tests at 5 %.
 * @param margin what is too small to matter, above 0, in the unit of the intervals.
 * @returns `no verdict` when an interval is missing.
 * @throws {RangeError} when `margin` is not above 0.
 * Source of the equivalence rule: D. J. Schuirmann, J. Pharmacokinetics and Biopharmaceutics 15 (1987) 657.
 * @example verdictOf({ from: 4, to: 8 }, { from: 4.4, to: 7.6 }, 3) // "different by more than the margin"
 */
export function verdictOf(wide: Interval, narrow: Interval, margin: number): Verdict {
  if (!(margin > 0)) throw new RangeError(`a margin is above 0, not ${margin}`);
  if ([wide.from, wide.to, narrow.from, narrow.to].some(Number.isNaN)) return "no verdict";
  if (wide.from > margin || wide.to < -margin) return "different by more than the margin";
  const differs = wide.from > 0 || wide.to < 0;
  const tooSmall = narrow.from > -margin && narrow.to < margin;
  if (differs) return tooSmall ? "different but too small to matter" : "different";
  return tooSmall ? "practically equivalent" : "undecided";
}
