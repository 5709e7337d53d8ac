import type { Intervals } from "./agree";
import { agreedVerdict, lessCertain } from "./agree";
import { tCdf } from "./distributions";
import { holm } from "./holm";
import type { Interval, MeanContrast } from "./mean-contrast";
import { planMore } from "./more-stints";
import type { PairEstimate } from "./pair-estimate";
import { familyCritical, familyP, pairsCritical } from "./simultaneous";
import type { Verdict } from "./verdict";

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

/** What the pairs of a comparison are judged by. */
export interface Rules {
  readonly orderKnown: boolean;
  readonly groups: number;
  /** How often any group was turned to: stints with nothing but a break between them count once. */
  readonly turnsInAll: number;
  /** What is too small to matter, above 0, in the unit of the estimates. */
  readonly margin: number;
  /** Of the simultaneous interval, 0.5 to 1. */
  readonly confidence: number;
  /**
   * False for all pairs of groups at once, by the studentized range. True for pairs with one named group: intervals
   * by Bonferroni's inequality, p values by Holm's method.
   */
  readonly oneNamed: boolean;
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
  | "few strikes"
  | "not the same places"
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
  /** The difference that is shown, with its intervals: that of the model, or of the check where scatter is uneven. */
  readonly shown: MeanContrast;
  readonly isCheckShown: boolean;
  readonly wide: Interval;
  readonly narrow: Interval;
  /** The wide interval of the method that is not shown; `NaN` where there is none. */
  readonly otherWide: Interval;
  /** Its 90 % interval. */
  readonly otherNarrow: Interval;
  readonly p: number;
  readonly verdict: Verdict;
  /** What leaves a pair undecided that one session, one method or one strike model alone might decide. */
  readonly dependsOn: "session" | "method" | "strike model" | null;
  /** Only for an undecided pair, and only where more shots are likely to settle it. */
  readonly more: MoreShots | null;
}

const noInterval: Interval = { from: Number.NaN, to: Number.NaN };

/**
 * The intervals of all pairs, their verdicts and how many more shots would settle them.
 *
 * A verdict needs 5 shots and 3 stints of each head and 8 stints in all, a known order, and two heads that are not mixed
 * with the course of time; one stint of a head leaves no standard error at all, and heads hit in one go, whatever the
 * breaks, have no interval, since none would hold what changed between them. It says what model and check both
 * support, and nothing where the forms of a strike surface differ by more than the margin, or where the heads do not differ
 * alike in all sessions.
 */
export function judgePairs(pairs: readonly PairEstimate[], rules: Rules): readonly JudgedPair[] {
  const judged = pairs.map((pair) => judgePair(pair, rules, countJudged(pairs)));
  if (!rules.oneNamed) return judged;
  const tested = judged.filter((pair) => !Number.isNaN(pair.p));
  // A pair that was asked for and cannot be tested counts as one that shows nothing.
  const untested = Math.max(0, countJudged(pairs) - tested.length);
  const adjusted = holm([...tested.map((pair) => pair.p), ...Array.from({ length: untested }, () => 1)]);
  return judged.map((pair) => (Number.isNaN(pair.p) ? pair : { ...pair, p: adjusted[tested.indexOf(pair)]! }));
}

/** Pairs with one named group that are judged at once: those that have an interval, and those of a group that lost its strikes. */
function countJudged(pairs: readonly PairEstimate[]): number {
  const lost = pairs.filter((pair) => pair.strikes === "same").map((pair) => pair.familySize - 1);
  return Math.max(1, ...lost, pairs.filter((pair) => pair.df > 0).length);
}

function judgePair(pair: PairEstimate, rules: Rules, count: number): JudgedPair {
  const ground = groundOf(pair, rules);
  const isBounded = ground === "enough" || ground === "few stints" || ground === "mixed with time" || ground === "order unknown";
  const intervals = (contrast: MeanContrast | null): Intervals => {
    if (!isBounded || contrast === null) return { wide: noInterval, narrow: noInterval };
    return { wide: interval(contrast, pair, rules, count, rules.confidence), narrow: interval(contrast, pair, rules, count, equivalenceConfidence) };
  };
  const [model, check] = [intervals(pair), intervals(pair.check)];
  const isCheckShown = pair.isUneven && !Number.isNaN(check.wide.from);
  const shown = isCheckShown ? pair.check! : { difference: pair.difference, standardError: pair.standardError, df: pair.df };
  const { verdict, dependsOn } = verdictFor(pair, ground, model, check, rules.margin);
  // What the methods differ about is settled when the one that knows less sees it.
  const planned = dependsOn === "method" ? lessCertain(pair, pair.check) : shown;
  return {
    ...pair,
    ground,
    shown,
    isCheckShown,
    ...(isCheckShown ? check : model),
    otherWide: isCheckShown ? model.wide : check.wide,
    otherNarrow: isCheckShown ? model.narrow : check.narrow,
    p: isBounded ? pValue(shown, pair.familySize, rules.oneNamed) : Number.NaN,
    verdict,
    dependsOn,
    more: verdict === "undecided" && (dependsOn === null || dependsOn === "method") ? moreShots(pair, planned, rules, count) : null,
  };
}

function groundOf(pair: PairEstimate, rules: Rules): Ground {
  if (pair.n === 0 || pair.nAgainst === 0) return "no shots";
  if (!pair.comparable) return "never together";
  if (Math.min(pair.n, pair.nAgainst) < leastShots) return "few shots";
  if (rules.orderKnown && !pair.scatters) return "one stint";
  if (pair.inTime === "in one go") return "one go";
  if (pair.adjustment?.overlap === "refused") return "not the same places";
  if (pair.strikes === "same" && pair.adjustment === null) return "few strikes";
  if (Number.isNaN(pair.standardError)) return "mixed with time";
  if (Number.isNaN(pair.df)) return "no scatter";
  if (!rules.orderKnown) return "order unknown";
  if (pair.inTime === "at different times") return "mixed with time";
  if (Math.min(pair.turns, pair.turnsAgainst) < leastStints || rules.turnsInAll < leastStintsInAll) return "few stints";
  return "enough";
}

function verdictFor(
  pair: PairEstimate,
  ground: Ground,
  model: Intervals,
  check: Intervals,
  margin: number,
): Pick<JudgedPair, "verdict" | "dependsOn"> {
  if (ground !== "enough") return { verdict: ground === "few stints" ? "undecided" : "no verdict", dependsOn: null };
  const { verdict, dependsOnMethod } = agreedVerdict(model, check, margin);
  if (pair.bySession?.areUnlike === true) return { verdict: "undecided", dependsOn: "session" };
  if (dependsOnMethod) return { verdict, dependsOn: "method" };
  const isDecided = verdict !== "undecided" && verdict !== "no verdict";
  const forms = pair.adjustment?.forms;
  if (isDecided && forms !== undefined && forms.to - forms.from > margin) return { verdict: "undecided", dependsOn: "strike model" };
  return { verdict, dependsOn: null };
}

/** The simultaneous interval of one difference. */
function interval(contrast: MeanContrast, pair: PairEstimate, rules: Rules, count: number, confidence: number): Interval {
  const { difference, standardError, df } = contrast;
  const critical = rules.oneNamed ? pairsCritical(confidence, count, df) : familyCritical(confidence, pair.familySize, df);
  return { from: difference - critical * standardError, to: difference + critical * standardError };
}

/** Adjusted for all pairs; of pairs with one named group that of the pair alone, still to be adjusted. */
function pValue(contrast: MeanContrast, familySize: number, oneNamed: boolean): number {
  if (!oneNamed) return familyP(contrast, familySize);
  return contrast.df >= 1 ? 2 * tCdf(-Math.abs(contrast.difference) / contrast.standardError, contrast.df) : Number.NaN;
}

/** Whole stints of the usual length, and never fewer than a verdict needs; `null` when none more are asked for. */
function moreShots(pair: PairEstimate, contrast: MeanContrast, rules: Rules, count: number): MoreShots | null {
  const shotsPerStint = (pair.n + pair.nAgainst) / (pair.stints + pair.stintsAgainst);
  const planned = planMore({
    standardError: contrast.standardError,
    df: contrast.df,
    stints: Math.min(pair.stints, pair.stintsAgainst),
    shotsPerStint,
    heads: rules.groups,
    familySize: pair.familySize,
    ...(rules.oneNamed ? { pairs: count } : {}),
    margin: rules.margin,
    confidence: rules.confidence,
  });
  if (planned === null) return null;
  const missing = Math.max(
    leastStints - Math.min(pair.turns, pair.turnsAgainst),
    Math.ceil((leastStintsInAll - rules.turnsInAll) / rules.groups),
  );
  const least = Math.ceil(Math.max(missing, 0) * shotsPerStint - 1e-9);
  const [shots, from, to] = [planned.shots, planned.from, planned.to].map((each) => Math.max(each, least));
  return shots! > 0 ? { shots: shots!, from: from!, to: to! } : null;
}
