import type { BlockModelFit } from "./block-model";
import { fitBlockModel } from "./block-model";
import { fitClusterRobust } from "./cluster-robust";
import type { BlockData, LinearFit } from "./linear-fit";
import { linearRegression } from "./linear-regression";
import type { MeanModel } from "./mean-model";
import { sampleSd } from "./moments";
import type { ShotData } from "./shot-data";

/** Residual scatter of one head over that of another above which the interval that takes them for equal is not shown. */
const mostUneven = 1.5;

/** Shots of a head below which its scatter says nothing. */
const leastForScatter = 5;

/** By how much a bend must improve the information criterion to be taken out. */
const leastImproved = 4;

/** The same columns fitted in two ways that rest on different assumptions. */
export interface TwoFits {
  /** The block model: every group has the same scatter, stints have levels. */
  readonly model: BlockModelFit;
  /** Least squares with the scatter of stints as it is; `null` where there is none. */
  readonly check: LinearFit | null;
  /** Whether the residual scatter of the groups differs by more than 1.5 times. */
  readonly isUneven: boolean;
}

/** Both fits of a model's columns; `null` where they do not determine the block model. */
export function fitTwice(columns: BlockData, data: Pick<ShotData, "group" | "groupCount">): TwoFits | null {
  const model = fitBlockModel(columns);
  if (model === null) return null;
  return { model, check: fitClusterRobust(columns), isUneven: isUneven(model.residuals, data) };
}

function isUneven(residuals: Float64Array, { group, groupCount }: Pick<ShotData, "group" | "groupCount">): boolean {
  const own = Array.from({ length: groupCount }, (_, g) => residuals.filter((__, i) => group[i] === g));
  const sds = own.filter((each) => each.length >= leastForScatter).map(sampleSd);
  return Math.max(...sds) > mostUneven * Math.min(...sds);
}

/**
 * The bends of the trends of a mean model, one column a session: the square of time about its middle, about its mean.
 *
 * Empty where a bend does not improve Akaike's criterion by more than 4. The criterion is that of ordinary least squares
 * on the means of the stints, corrected for how few they are, since stints and not shots vary independently.
 *
 * Sources: H. Akaike, IEEE Transactions on Automatic Control 19 (1974) 716; C. M. Hurvich, C.-L. Tsai, Biometrika 76
 * (1989) 297.
 */
export function bendsOf(model: MeanModel, { session }: Pick<ShotData, "session">): readonly Float64Array[] {
  const bends = model.trends.map((place) => {
    const trend = model.columns[place]!;
    const own = session[trend.findIndex((t) => t !== 0)]!;
    const inSession = session.filter((each) => each === own).length;
    const middle = trend.reduce((total, t) => total + t * t, 0) / inSession;
    return trend.map((t, i) => (session[i] === own ? t * t - middle : 0));
  });
  if (bends.length === 0) return [];
  const straight = criterion(model, model.columns);
  const bent = criterion(model, [...model.columns, ...bends]);
  return straight - bent > leastImproved ? bends : [];
}

/** The corrected criterion on means of stints; infinite where there are too few of them. */
function criterion({ value, block, blockCount }: BlockData, columns: readonly Float64Array[]): number {
  const sizes = new Float64Array(blockCount);
  for (const b of block) sizes[b]!++;
  const meansOf = (numbers: Float64Array): Float64Array => {
    const sums = new Float64Array(blockCount);
    numbers.forEach((number, i) => (sums[block[i]!]! += number));
    return sums.map((total, b) => total / sizes[b]!);
  };
  const spare = blockCount - columns.length - 2;
  const fit = spare < 1 ? null : linearRegression(columns.map(meansOf), meansOf(value));
  if (fit === null || !(fit.residualSumOfSquares > 0)) return Infinity;
  const parameters = columns.length + 1;
  return blockCount * Math.log(fit.residualSumOfSquares / blockCount) + 2 * parameters + (2 * parameters * (parameters + 1)) / spare;
}
