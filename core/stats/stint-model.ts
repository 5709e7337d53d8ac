import type { PairShots } from "./comparison";
import { fitPairs, shotsOf, soleFit } from "./fit-sets";
import { leastShots, leastStints } from "./judge-pair";
import type { JointTest } from "./kenward-roger";
import type { MeanContrast } from "./mean-contrast";
import type { MeanModel } from "./mean-model";
import { meanModel } from "./mean-model";
import type { Comparison, PairEstimate } from "./pair-estimate";
import { pairShots } from "./pair-shots";
import type { SessionDifferences } from "./session-differences";
import { differencesBySession } from "./session-differences";
import type { ShotData } from "./shot-data";
import { stintMeansContrast, withFamily } from "./stint-means-model";
import { stintMeans } from "./stints";
import type { TwoFits } from "./two-fits";
import { bendsOf, fitTwice } from "./two-fits";

/** The mean model of some shots, fitted in two ways. */
interface MeansFit extends TwoFits {
  readonly columns: MeanModel;
  /** The places of the bends among the columns; empty when the trend is straight. */
  readonly bends: readonly number[];
}

/**
 * All pairs as struck: what happened, wherever the face was hit, with the trend of each session taken out.
 *
 * Differences are those of the block model, each with a check on the same columns by cluster-robust least squares. A
 * pair that was hit in one go, or in one stint of a head, has the difference of the means of its stints and no standard
 * error: a description.
 *
 * @param data shots whose hitting order is known.
 */
export function compareAsStruck(data: ShotData): Comparison {
  const shots = pairShots(data, true);
  const fitted = fitPairs(data, shots, fitMeans);
  const stints = stintMeans(data);
  const pairs = shots.map((pair, i): Omit<PairEstimate, "familySize"> => {
    const found = fitted[i]!;
    const common = { ...pair, strikes: "as struck" as const, adjustment: null };
    if (found === null) return { ...common, ...description(stints, pair), check: null, isUneven: false, bySession: null };
    const { fit } = found;
    const weights = difference(fit.columns.columns.length + fit.bends.length, found.of, found.against);
    return { ...common, ...contrastOf(fit.model, weights), check: fit.check === null ? null : contrastOf(fit.check, weights), isUneven: fit.isUneven, bySession: bySession(data, pair) };
  });
  const sole = soleFit(fitted);
  return {
    pairs: withFamily(pairs),
    allAlike: sole === null || !shots.every(isEnough) ? null : allAlike(sole),
    trend: sole === null || sole.columns.trends.length !== 1 || !shots.some(isEnough) ? null : trendOf(sole),
    bends: fitted.some((each) => each !== null && each.fit.bends.length > 0),
  };
}

function fitMeans(data: ShotData): MeansFit | null {
  const columns = meanModel(data);
  const bends = bendsOf(columns, data);
  const fits = fitTwice({ ...columns, columns: [...columns.columns, ...bends] }, data);
  return fits === null ? null : { ...fits, columns, bends: bends.map((_, i) => columns.columns.length + i) };
}

function bySession(data: ShotData, pair: PairShots): SessionDifferences | null {
  if (pair.sessions.length < 2) return null;
  const own = shotsOf(data, [pair.against, pair.of], pair.sessions);
  const model = meanModel(own);
  const columns = [...model.columns, ...bendsOf(model, own)];
  return differencesBySession({ ...model, columns }, own, difference(columns.length, 1, 0));
}

/** A contrast whose df are `NaN` where nothing scatters. */
export function contrastOf(fit: Pick<TwoFits["model"], "contrast">, weights: Float64Array): MeanContrast {
  const contrast = fit.contrast(weights);
  return contrast.standardError > 0 ? contrast : { ...contrast, df: Number.NaN };
}

function difference(count: number, of: number, against: number): Float64Array {
  const weights = new Float64Array(count);
  weights[of] = 1;
  weights[against] = -1;
  return weights;
}

/** The difference of the means of stints, and no standard error. */
function description(stints: ReturnType<typeof stintMeans>, pair: PairShots): MeanContrast {
  return { difference: stintMeansContrast(stints, pair).difference, standardError: Number.NaN, df: Number.NaN };
}

/** Whether a pair has what a verdict asks of either group; below that its shots bear no test and no trend to speak of. */
function isEnough({ n, nAgainst, turns, turnsAgainst }: PairShots): boolean {
  return Math.min(n, nAgainst) >= leastShots && Math.min(turns, turnsAgainst) >= leastStints;
}

/** The test that all groups are alike; `null` for two, of which it would say the same again. */
function allAlike({ model, columns, bends }: MeansFit): JointTest | null {
  if (columns.groupCount < 3) return null;
  const later = Array.from({ length: columns.groupCount - 1 }, (_, i) => i + 1);
  const test = model.jointTest(later.map((group) => difference(columns.columns.length + bends.length, group, 0)));
  return Number.isNaN(test.p) ? null : test;
}

/** What the trend of the one session adds from its first shot to its last. */
function trendOf({ model, columns, bends }: MeansFit): MeanContrast {
  const weights = new Float64Array(columns.columns.length + bends.length);
  const [place] = columns.trends;
  const trend = columns.columns[place!]!;
  const [first, last] = [Math.min(...trend), Math.max(...trend)];
  weights[place!] = last - first;
  // About its middle the session is the same length on both sides, where every shot is used; else a bend adds to it.
  for (const bend of bends) weights[bend] = last * last - first * first;
  return contrastOf(model, weights);
}
