import type { BlockModelFit } from "./block-model";
import { fitBlockModel } from "./block-model";
import type { BlockData } from "./linear-fit";
import type { MeanContrast } from "./mean-contrast";
import { meanModel } from "./mean-model";
import { mean } from "./moments";

/** The shots of one session that a drift is looked for in: columns of equal length, every group with a shot. */
export interface DriftShots {
  readonly groupCount: number;
  readonly group: Int32Array;
  readonly stint: Float64Array;
  /** When each shot was hit, 0 for the first and 1 for the last shot used of the session. */
  readonly time: Float64Array;
  /** In the unit of the column; none missing. */
  readonly value: Float64Array;
  /** Number of the trip through the heads; `null` when the table does not tell it. */
  readonly pass: Float64Array | null;
  /** True for the first shot after a change of head. */
  readonly afterChange: readonly boolean[];
}

/** A drift's model: the groups' levels half-way through, then the trend, then its bend where there is one. */
export interface DriftFit {
  readonly fit: BlockModelFit;
  readonly data: BlockData;
  readonly groupCount: number;
  /** Mean time of the shots, where the groups' levels hold. */
  readonly middle: number;
  /** Mean of the squared times about the middle; `null` when the trend is a straight line. */
  readonly bendCentre: number | null;
}

/** What AIC must gain before a trend is called bent. Common practice, no source. */
const leastGain = 4;

/**
 * The block model of a drift, Y = level of the group + γ t + stint + shot; with t² when that improves AIC by more than 4.
 *
 * t² is about the mean time, and so the change from first to last shot stays the coefficient of the trend.
 *
 * @returns `null` when the columns are linearly dependent or nothing is left over for the scatter.
 * Source of AIC: H. Akaike, IEEE Trans. Autom. Control 19 (1974) 716.
 */
export function fitDrift(shots: DriftShots): DriftFit | null {
  const model = driftColumns(shots);
  if (model.trends.length === 0) return null;
  const straight = fitBlockModel(model);
  if (straight === null) return null;
  const groupCount = shots.groupCount;
  const trend = model.columns[groupCount]!;
  const squares = trend.map((t) => t * t);
  const bendCentre = mean(squares);
  const bentData = { ...model, columns: [...model.columns, squares.map((t) => t - bendCentre)] };
  // Two stints more than coefficients, or the bend fits whatever the stints happened to be.
  const bent = model.blockCount > groupCount + 3 ? fitBlockModel(bentData) : null;
  const gain = bent === null ? Number.NaN : 2 * (logLikelihood(bent, bentData) - logLikelihood(straight, model)) - 2;
  const shared = { groupCount, middle: mean(shots.time) };
  return gain > leastGain
    ? { ...shared, fit: bent!, data: bentData, bendCentre }
    : { ...shared, fit: straight, data: model, bendCentre: null };
}

/** The groups' indicators and the trend of one session; blocks are its stints. */
export function driftColumns({ groupCount, group, stint, time, value }: DriftShots): ReturnType<typeof meanModel> {
  return meanModel({ groupCount, group, stint, time, value, session: new Int32Array(value.length), strike: null });
}

/** The weights of a model's coefficients that pick out the one at `place`. */
export function only(place: number, count: number): Float64Array {
  return Float64Array.from({ length: count }, (_, i) => (i === place ? 1 : 0));
}

/** The level at `time` that the model gives a group, or the mean of all groups for `null`. */
export function levelAt(drift: DriftFit, time: number, group: number | null): MeanContrast {
  const { groupCount, middle, bendCentre, fit } = drift;
  const share = (g: number): number => (group === null ? 1 / groupCount : g === group ? 1 : 0);
  const off = time - middle;
  const trend = bendCentre === null ? [off] : [off, off * off - bendCentre];
  return fit.contrast([...Array.from({ length: groupCount }, (_, g) => share(g)), ...trend]);
}

/** When the bent trend turns, 0 to 1; `null` for a straight one, or for one that does not turn within the session. */
export function turningTime({ fit, groupCount, middle, bendCentre }: DriftFit): number | null {
  if (bendCentre === null) return null;
  const time = middle - fit.coefficients[groupCount]! / (2 * fit.coefficients[groupCount + 1]!);
  return time > 0 && time < 1 ? time : null;
}

/** Values with what sets the groups apart taken out: each less its group's level, plus the mean of the levels. */
export function levelled(drift: DriftFit, shots: DriftShots): Float64Array {
  const levels = drift.fit.coefficients.slice(0, drift.groupCount);
  const centre = mean(levels);
  return shots.value.map((value, i) => value - levels[shots.group[i]!]! + centre);
}

/** The log likelihood at the fitted ratio of variances, which unlike that of REML can be compared between mean models. */
function logLikelihood(fit: BlockModelFit, { block, blockCount }: BlockData): number {
  const ratio = fit.stintVariance / fit.residualVariance;
  const n = fit.residuals.length;
  const sums = new Float64Array(blockCount);
  const counts = new Float64Array(blockCount);
  let squares = 0;
  fit.residuals.forEach((residual, i) => {
    squares += residual * residual;
    sums[block[i]!]! += residual;
    counts[block[i]!]!++;
  });
  let determinant = 0;
  counts.forEach((count, b) => {
    squares -= (ratio / (1 + ratio * count)) * sums[b]! ** 2;
    determinant += Math.log1p(ratio * count);
  });
  return -0.5 * (n * Math.log((2 * Math.PI * squares) / n) + n + determinant);
}
