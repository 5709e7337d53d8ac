import { chiSquaredQuantile } from "./chi-squared";
import { normalQuantile } from "./distributions";
import { planningCritical } from "./planning-critical";
import { powerOfEquivalence, powerToSee } from "./power";
import { pairsCritical } from "./simultaneous";

/** What is known of a difference when it is asked how many more shots would settle it. */
export interface DifferenceSoFar {
  /** Of the difference, in the unit of the margin. */
  readonly standardError: number;
  /** Degrees of freedom with which the standard error is known. */
  readonly df: number;
  /** Stints of that one of the two heads that has fewer. */
  readonly stints: number;
  /** Shots in a stint of the usual length, above 0. */
  readonly shotsPerStint: number;
  /** Heads hit in turn: each of them gets the stints that are added. */
  readonly heads: number;
  /** How many heads are compared with one another at once, for the critical value. */
  readonly familySize: number;
  /** Differences judged at once by Bonferroni's inequality, where they are not all pairs of the family. */
  readonly pairs?: number;
  /** What is too small to matter, above 0. */
  readonly margin: number;
  /** Confidence of the interval that decides whether there is a difference. */
  readonly confidence: number;
  /** Power asked of both questions, 0.5 to 1; 0.8 unless told. */
  readonly power?: number;
}

/** More shots for each of the two heads, in whole stints. */
export interface PlannedShots {
  /** As many as settle both questions. */
  readonly shots: number;
  /** The same with the variance at its 80 % limits. */
  readonly from: number;
  readonly to: number;
  /** As many as show a true difference of the margin not to be none. */
  readonly toSee: number;
  /** As many as show a true difference of none to be within the margin. */
  readonly toShow: number;
}

/** Power asked of both questions unless told. Common practice, no source. */
export const usualPower = 0.8;

/** More shots than this no one hits for one question. Common practice, no source. */
export const mostByHitting = 10_000;

/** Confidence of the interval that decides equivalence. */
const equivalenceConfidence = 0.9;

/** Beyond this many more stints, a question for several sessions, the normal answer is within a few per cent. */
const mostSolved = 60;

/**
 * How many more shots with each head would settle whether a difference matters: a true difference of the margin would be
 * seen, and a true difference of none be shown to be within it, each with the power asked for.
 *
 * Planned for the margin and never for the difference observed, which would say nothing new (J. M. Hoenig, D. M.
 * Heisey, The American Statistician 55 (2001) 19). From the fit in hand: the standard error falls with the root of the
 * stints, and each stint added to each head adds as many degrees of freedom as there are heads. Solved upwards from the
 * normal approximation with the noncentral t distribution and the exact power of two one-sided tests.
 *
 * @returns 0 when as many as there are would do; `null` when the standard error or its df is not known.
 * @throws {RangeError} when `margin` or `shotsPerStint` is not above 0.
 */
export function planMore(known: DifferenceSoFar): PlannedShots | null {
  const { df, standardError, stints, shotsPerStint, margin } = known;
  if (!(margin > 0)) throw new RangeError(`a margin is above 0, not ${margin}`);
  if (!(shotsPerStint > 0)) throw new RangeError(`a stint has a shot at least, not ${shotsPerStint}`);
  if (!(df >= 1) || !(standardError > 0) || !(stints > 0) || !Number.isFinite(standardError)) return null;
  const shotsIn = (more: number): number => (more === 0 ? 0 : Math.ceil(more * shotsPerStint - 1e-9));
  const [toSee, toShow] = [stintsToSee(known, 1), stintsToShow(known, 1)];
  const withVariance = (factor: number): number => Math.max(stintsToSee(known, factor), stintsToShow(known, factor));
  return {
    shots: shotsIn(Math.max(toSee, toShow)),
    from: shotsIn(withVariance(df / chiSquaredQuantile(0.9, df))),
    to: shotsIn(withVariance(df / chiSquaredQuantile(0.1, df))),
    toSee: shotsIn(toSee),
    toShow: shotsIn(toShow),
  };
}

function stintsToSee(known: DifferenceSoFar, factor: number): number {
  const wanted = known.power ?? usualPower;
  const reach = critical(known, known.confidence, Infinity) + normalQuantile(wanted);
  return solve(known, factor, reach, (standardError, df) => {
    return powerToSee(known.margin, { standardError, df, critical: critical(known, known.confidence, df) }) >= wanted;
  });
}

function stintsToShow(known: DifferenceSoFar, factor: number): number {
  const wanted = known.power ?? usualPower;
  const reach = critical(known, equivalenceConfidence, Infinity) + normalQuantile((1 + wanted) / 2);
  return solve(known, factor, reach, (standardError, df) => {
    return powerOfEquivalence(known.margin, { standardError, df, critical: critical(known, equivalenceConfidence, df) }) >= wanted;
  });
}

/** Standard errors on either side of a difference. */
function critical({ pairs, familySize }: DifferenceSoFar, confidence: number, df: number): number {
  return pairs === undefined ? planningCritical(confidence, familySize, df) : pairsCritical(confidence, pairs, df);
}

/**
 * The least number of more stints that is enough.
 *
 * @param factor by which the true variance exceeds the estimate.
 * @param reach standard errors that the margin must hold if the standard error were known.
 */
function solve(known: DifferenceSoFar, factor: number, reach: number, isEnough: (standardError: number, df: number) => boolean): number {
  const variance = factor * known.standardError ** 2;
  // Never far above the exact answer.
  const start = Math.max(0, Math.floor(known.stints * ((variance * reach ** 2) / known.margin ** 2 - 1)));
  if (start > mostSolved) return start;
  const holds = (more: number): boolean =>
    isEnough(Math.sqrt((variance * known.stints) / (known.stints + more)), known.df + known.heads * more);
  if (holds(start)) return start;
  // Power rises with every stint: double the step until there are enough, then halve the gap.
  let [low, step] = [start, 1];
  while (!holds(low + step)) {
    low += step;
    step *= 2;
  }
  let high = low + step;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (holds(middle)) high = middle;
    else low = middle;
  }
  return high;
}
