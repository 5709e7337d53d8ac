import { tQuantile } from "./distributions";
import { fitBlockModel } from "./block-model";
import type { JudgedPair } from "./judge-pair";
import { equivalenceConfidence, leastStints, leastStintsInAll } from "./judge-pair";
import { meanModel } from "./mean-model";
import type { DifferenceSoFar, PlannedShots } from "./more-stints";
import { planMore } from "./more-stints";
import { powerOfEquivalence, powerToSee } from "./power";
import type { ShotData } from "./shot-data";
import { familyCritical } from "./simultaneous";

/** How the shots of a session scatter. */
export interface ShotScatter {
  /** σ_b², of the levels of stints, and σ², of shots in their stint, in the squared unit of the values. */
  readonly stintVariance: number;
  readonly shotVariance: number;
  /** ρ = σ_b²/(σ_b² + σ²), how much two shots of one stint have in common. */
  readonly correlation: number;
  /** Shots of a stint as they count in the design effect: Σ m²/Σ m. */
  readonly stintLength: number;
  /** deff = 1 + (m̄ − 1) ρ, how many shots are worth one that is independent. */
  readonly designEffect: number;
}

/**
 * How the shots scatter between stints and within them, from the block model with the trend taken out; `null` where the
 * shots do not tell.
 *
 * Source of the design effect: L. Kish, Survey Sampling (1965), 5.4 and 8.2.
 */
export function scatterOf(data: ShotData): ShotScatter | null {
  const model = meanModel(data);
  const fit = fitBlockModel(model);
  if (fit === null || !(fit.stintVariance + fit.residualVariance > 0)) return null;
  const sizes = new Float64Array(model.blockCount);
  for (const block of model.block) sizes[block]!++;
  const stintLength = sizes.reduce((total, size) => total + size * size, 0) / model.value.length;
  const correlation = fit.stintVariance / (fit.stintVariance + fit.residualVariance);
  return {
    stintVariance: fit.stintVariance,
    shotVariance: fit.residualVariance,
    correlation,
    stintLength,
    designEffect: 1 + (stintLength - 1) * correlation,
  };
}

/**
 * How many independent shots with each of two heads find a difference of the margin: 16 (s/Δ)², rounded.
 *
 * A rule of thumb for an interval of 95 % and a power of 80 %: 2 (1.96 + 0.84)² = 15.7. Common practice, no source.
 */
export function shotsByThumb(scatter: ShotScatter, margin: number): number {
  return Math.round((16 * (scatter.stintVariance + scatter.shotVariance)) / margin ** 2);
}

/** What is planned for. */
export interface PlanQuestion {
  readonly margin: number;
  readonly confidence: number;
  readonly power: number;
  /** Shots in a stint yet to be hit; `null` for as many as there were. */
  readonly shotsPerStint: number | null;
  readonly heads: number;
  /** How often any group was turned to: stints with nothing but a break between them count once. */
  readonly turnsInAll: number;
}

/** What is known of a pair and how it goes on, as far as its power depends on it. */
export interface PairOutlook extends DifferenceSoFar {
  readonly power: number;
  /** Shots of that one of the two heads that has fewer. */
  readonly shots: number;
}

/** How many shots settle one pair. */
export interface PairPlan {
  readonly pair: JudgedPair;
  readonly question: PlanQuestion;
  readonly outlook: PairOutlook;
  /** The smallest true difference that is found with the power asked for by the shots in hand; `NaN` where these have too few stints for a verdict. */
  readonly detectable: number;
  /** With which probability the shots in hand find a true difference of the margin; `NaN` where these have too few stints for a verdict. */
  readonly powerNow: number;
  /** More shots with each head that a verdict needs, whatever its power; 0 where one is possible. */
  readonly leastMore: number;
  /** Never fewer than a verdict needs. */
  readonly more: PlannedShots;
}

/**
 * The plan of one pair; `null` where nothing may be planned: its standard error is not known, or is that of shots which
 * do not tell the pair from the course of time.
 *
 * The smallest detectable difference is (critical + t_{power, ν}) SE, with the critical value of the verdict.
 *
 * @param scatter of the shots, for stints of another length than those in hand: a stint of m shots is worth as much as
 *   its mean is certain, 1/(σ_b² + σ²/m).
 */
export function planPair(pair: JudgedPair, scatter: ShotScatter | null, question: PlanQuestion): PairPlan | null {
  if (pair.ground !== "enough" && pair.ground !== "few stints") return null;
  const { standardError, df } = pair.shown;
  if (!(standardError > 0) || !(df >= 1)) return null;
  const more = planWithStints(pair, scatter, question);
  if (more === null) return null;
  const critical = familyCritical(question.confidence, pair.familySize, df);
  const outlook = outlookOf(pair, scatter, question);
  const isVerdictPossible = pair.ground === "enough";
  return {
    pair,
    question,
    outlook,
    detectable: isVerdictPossible ? (critical + tQuantile(question.power, df)) * standardError : Number.NaN,
    powerNow: isVerdictPossible ? powerToSee(question.margin, { standardError, df, critical }) : Number.NaN,
    leastMore: leastMore(pair, outlook, question),
    more,
  };
}

/** How many more shots settle a pair in stints of the length asked for, never fewer than a verdict needs; `null` when the standard error is not known. */
export function planWithStints(pair: JudgedPair, scatter: ShotScatter | null, question: PlanQuestion): PlannedShots | null {
  const outlook = outlookOf(pair, scatter, question);
  const planned = planMore(outlook);
  return planned === null ? null : atLeast(planned, leastMore(pair, outlook, question));
}

/** The pair as it goes on with stints of the length asked for. */
export function outlookOf(pair: JudgedPair, scatter: ShotScatter | null, question: PlanQuestion): PairOutlook {
  const usual = (pair.n + pair.nAgainst) / (pair.stints + pair.stintsAgainst);
  const planned = question.shotsPerStint ?? usual;
  const varianceOf = (length: number): number => scatter!.stintVariance + scatter!.shotVariance / length;
  // As many stints of the new length as the stints in hand are worth: the variance then falls as they add up.
  const worth = scatter === null || planned === usual ? 1 : varianceOf(planned) / varianceOf(usual);
  return {
    standardError: pair.shown.standardError,
    df: pair.shown.df,
    stints: Math.min(pair.stints, pair.stintsAgainst) * worth,
    shotsPerStint: planned,
    heads: question.heads,
    familySize: pair.familySize,
    margin: question.margin,
    confidence: question.confidence,
    power: question.power,
    shots: Math.min(pair.n, pair.nAgainst),
  };
}

/** Shots that a verdict needs whatever its power. */
function leastMore(pair: JudgedPair, outlook: PairOutlook, { heads, turnsInAll }: PlanQuestion): number {
  const stints = Math.max(0, leastStints - Math.min(pair.turns, pair.turnsAgainst), Math.ceil((leastStintsInAll - turnsInAll) / heads));
  return Math.ceil(stints * outlook.shotsPerStint - 1e-9);
}

function atLeast(planned: PlannedShots, least: number): PlannedShots {
  const raised = (shots: number): number => Math.max(shots, least);
  return { shots: raised(planned.shots), from: raised(planned.from), to: raised(planned.to), toSee: raised(planned.toSee), toShow: raised(planned.toShow) };
}

/** The powers of both questions with some number of shots. */
export interface PowerPoint {
  /** With each head, in all. */
  readonly shots: number;
  /** Probability to find a true difference of the margin. */
  readonly toSee: number;
  /** Probability to show that a true difference of none is within the margin. */
  readonly toShow: number;
}

/**
 * The powers of both questions when the stints in hand become `stints`, fewer or more; `null` where too few are left for
 * a standard error.
 *
 * @param stints of the planned length, with each head; the outlook's own are those in hand.
 */
export function powersWith(outlook: PairOutlook, stints: number): PowerPoint | null {
  const more = stints - outlook.stints;
  // Fewer are a share of those in hand, of which there were about df + heads + 1; more come to each head.
  const df = outlook.df + (more < 0 ? (more / outlook.stints) * (outlook.df + outlook.heads + 1) : outlook.heads * more);
  if (!(stints > 0) || !(df >= 1)) return null;
  const standardError = outlook.standardError * Math.sqrt(outlook.stints / stints);
  const planFor = (confidence: number) => ({ standardError, df, critical: familyCritical(confidence, outlook.familySize, df) });
  return {
    shots: more >= 0 ? outlook.shots + more * outlook.shotsPerStint : (outlook.shots * stints) / outlook.stints,
    toSee: powerToSee(outlook.margin, planFor(outlook.confidence)),
    toShow: powerOfEquivalence(outlook.margin, planFor(equivalenceConfidence)),
  };
}
