import type { PairEstimate } from "./comparison";
import type { Interval } from "./mean-contrast";
import { planMore } from "./more-stints";
import { familyInterval, familyP } from "./simultaneous";
import type { Verdict } from "./verdict";
import { verdictOf } from "./verdict";

/** Shots of each head below which their values are listed and no interval is given. Common practice, no source. */
export const leastShots = 5;

/**
 * Stints of each head, and in all, below which a verdict is at best "undecided". Common practice, no source.
 *
 * Stints of one head with nothing but a break between them count once: what wanders in a session wanders on over a
 * break, and only another head's stint shows that it did.
 */
export const leastStints = 3;
export const leastStintsInAll = 8;

/** Confidence of the interval that decides equivalence: two one-sided tests at 5 %. */
export const equivalenceConfidence = 0.9;

/** How a session stands, as far as it decides what may be said of a pair. */
export interface Situation {
  readonly orderKnown: boolean;
  readonly groups: number;
  /** How often any group was turned to: stints with nothing but a break between them count once. */
  readonly turnsInAll: number;
}

/** What may be said of a pair, and if not everything, why. */
export type Ground =
  | "enough"
  | "few stints"
  | "one go"
  | "mixed with time"
  | "order unknown"
  | "no scatter"
  | "one stint"
  | "few shots"
  | "never together"
  | "no shots";

/** More shots for each of the two heads, with the range that the uncertain variance leaves. */
export interface MoreShots {
  readonly shots: number;
  readonly from: number;
  readonly to: number;
}

/** A pair with its intervals and its verdict. Bounds and p are `NaN` where there is no interval. */
export interface JudgedPair extends PairEstimate {
  readonly ground: Ground;
  readonly wide: Interval;
  readonly narrow: Interval;
  readonly p: number;
  readonly verdict: Verdict;
  /** Only for an undecided pair, and only where more shots are likely to settle it. */
  readonly more: MoreShots | null;
}

const noInterval: Interval = { from: Number.NaN, to: Number.NaN };

/**
 * The intervals of one pair, its verdict and how many more shots would settle it, whichever model estimated it.
 *
 * A verdict needs 5 shots and 3 stints of each head and 8 stints in all, a known order, and two heads that are not mixed
 * with the course of time; one stint of a head leaves no standard error at all, and heads hit in one go, whatever the
 * breaks, have no interval, since none would hold what changed between them.
 *
 * @param margin what is too small to matter, above 0, in the unit of the estimate.
 * @param confidence of the simultaneous interval, 0.5 to 1.
 */
export function judgePair(pair: PairEstimate, situation: Situation, margin: number, confidence: number): JudgedPair {
  const ground = groundOf(pair, situation);
  const isBounded = ground === "enough" || ground === "few stints" || ground === "mixed with time" || ground === "order unknown";
  const wide = isBounded ? familyInterval(pair, pair.familySize, confidence) : noInterval;
  const narrow = isBounded ? familyInterval(pair, pair.familySize, equivalenceConfidence) : noInterval;
  const verdict = ground === "enough" ? verdictOf(wide, narrow, margin) : ground === "few stints" ? "undecided" : "no verdict";
  return {
    ...pair,
    ground,
    wide,
    narrow,
    p: isBounded ? familyP(pair, pair.familySize) : Number.NaN,
    verdict,
    more: verdict === "undecided" ? moreShots(pair, situation, margin, confidence) : null,
  };
}

function groundOf(pair: PairEstimate, situation: Situation): Ground {
  if (pair.n === 0 || pair.nAgainst === 0) return "no shots";
  if (!pair.comparable) return "never together";
  if (Math.min(pair.n, pair.nAgainst) < leastShots) return "few shots";
  if (Number.isNaN(pair.standardError)) return "one stint";
  if (Number.isNaN(pair.df)) return "no scatter";
  if (!situation.orderKnown) return "order unknown";
  if (pair.inTime === "in one go") return "one go";
  if (pair.inTime === "at different times") return "mixed with time";
  if (Math.min(pair.turns, pair.turnsAgainst) < leastStints || situation.turnsInAll < leastStintsInAll) return "few stints";
  return "enough";
}

/** Whole stints of the usual length, and never fewer than a verdict needs; `null` when none more are asked for. */
function moreShots(pair: PairEstimate, situation: Situation, margin: number, confidence: number): MoreShots | null {
  const shotsPerStint = (pair.n + pair.nAgainst) / (pair.stints + pair.stintsAgainst);
  const { standardError, df, familySize } = pair;
  const stints = Math.min(pair.stints, pair.stintsAgainst);
  const planned = planMore({ standardError, df, stints, shotsPerStint, heads: situation.groups, familySize, margin, confidence });
  if (planned === null) return null;
  const missing = Math.max(
    leastStints - Math.min(pair.turns, pair.turnsAgainst),
    Math.ceil((leastStintsInAll - situation.turnsInAll) / situation.groups),
  );
  const least = Math.ceil(Math.max(missing, 0) * shotsPerStint - 1e-9);
  const [shots, from, to] = [planned.shots, planned.from, planned.to].map((each) => Math.max(each, least));
  return shots! > 0 ? { shots: shots!, from: from!, to: to! } : null;
}
