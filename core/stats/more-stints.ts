import { chiSquaredQuantile } from "./chi-squared";
import { normalQuantile } from "./distributions";
import { satterthwaite } from "./mean-contrast";
import { powerOfEquivalence, powerToSee } from "./power";
import { familyCritical } from "./simultaneous";

/** What is known of a pair when it is asked how many more stints would settle it. */
export interface PairSoFar {
  readonly stints: number;
  readonly stintsAgainst: number;
  /** Variance of one stint's mean, in the squared unit of the margin. */
  readonly stintVariance: number;
  readonly stintVarianceAgainst: number;
  readonly familySize: number;
  /** Degrees of freedom with which the variances are known. */
  readonly df: number;
}

/** More stints for each of the two heads. */
export interface MoreStints {
  readonly stints: number;
  /** The same with the variance at its 80 % limits. */
  readonly from: number;
  readonly to: number;
}

/** Power asked of both questions. */
const wanted = 0.8;

/** Confidence of the interval that decides equivalence. */
const equivalenceConfidence = 0.9;

/** Beyond this many more stints, a question for several sessions, the normal answer is within a few per cent. */
const mostSolved = 60;

/**
 * How many more stints each head needs so that a difference of the margin would be seen, and none shown to be none,
 * each with probability 0.8.
 *
 * Planned for the margin and never for the difference observed, which would say nothing new (J. M. Hoenig, D. M.
 * Heisey, The American Statistician 55 (2001) 19). Solved upwards from the normal approximation with the noncentral t
 * distribution and the exact power of two one-sided tests.
 *
 * @param margin above 0, in the unit of the values.
 * @param confidence of the interval that decides whether there is a difference.
 * @returns 0 when as many as there are would do; `null` when the variances are not known.
 */
export function moreStints(pair: PairSoFar, margin: number, confidence: number): MoreStints | null {
  const { df } = pair;
  if (!(df > 0) || !(pair.stintVariance + pair.stintVarianceAgainst > 0)) return null;
  const withVariance = (factor: number) => solve(pair, factor, margin, confidence);
  return {
    stints: withVariance(1),
    from: withVariance(df / chiSquaredQuantile(0.9, df)),
    to: withVariance(df / chiSquaredQuantile(0.1, df)),
  };
}

function solve(pair: PairSoFar, factor: number, margin: number, confidence: number): number {
  const start = normalStart(pair, factor, margin, confidence);
  if (start > mostSolved) return start;
  let more = start;
  while (!isEnough(pair, more, factor, margin, confidence)) more++;
  return more;
}

/** More stints by the normal approximation, which is never far above the exact answer; 0 when none are needed. */
function normalStart(pair: PairSoFar, factor: number, margin: number, confidence: number): number {
  const see = familyCritical(confidence, pair.familySize, Infinity) + normalQuantile(wanted);
  const show = familyCritical(equivalenceConfidence, pair.familySize, Infinity) + normalQuantile((1 + wanted) / 2);
  const variance = factor * (pair.stintVariance + pair.stintVarianceAgainst);
  const stints = (variance * Math.max(see, show) ** 2) / margin ** 2;
  return Math.max(0, Math.floor(stints) - Math.max(pair.stints, pair.stintsAgainst));
}

function isEnough(pair: PairSoFar, more: number, factor: number, margin: number, confidence: number): boolean {
  const [size, sizeAgainst] = [pair.stints + more, pair.stintsAgainst + more];
  const parts = [
    { amount: (factor * pair.stintVariance) / size, df: size - 1 },
    { amount: (factor * pair.stintVarianceAgainst) / sizeAgainst, df: sizeAgainst - 1 },
  ];
  const standardError = Math.sqrt(parts[0]!.amount + parts[1]!.amount);
  const df = satterthwaite(parts);
  if (!(df >= 1)) return false;
  const planFor = (level: number) => ({ standardError, df, critical: familyCritical(level, pair.familySize, df) });
  // Equivalence is usually the dearer of the two and is asked first, since a critical value costs milliseconds.
  return (
    powerOfEquivalence(margin, planFor(equivalenceConfidence)) >= wanted &&
    powerToSee(margin, planFor(confidence)) >= wanted
  );
}
