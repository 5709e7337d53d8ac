import type { BlockData } from "./linear-fit";
import { linearRegression } from "./linear-regression";
import { meanModel } from "./mean-model";
import { mean } from "./moments";
import type { ShotData } from "./shot-data";

/** Shots whose value is looked at along another reading: spin axis along face-to-path. */
export interface SlopeData extends ShotData {
  /** What the slope is on, one a shot, none missing. */
  readonly along: Float64Array;
  /** What is taken out beside it, one a shot, none missing; `null` for nothing. */
  readonly beside: Float64Array | null;
}

/** The columns of a model with a slope for each group. */
export interface SlopeModel extends BlockData {
  /** The weights of the slope of a group, one a column. */
  readonly slopeOf: (group: number) => Float64Array;
  /**
   * The weights of the value expected of a group at `along`, where `beside` is at its mean, half-way through the first
   * session; one a column.
   */
  readonly valueAt: (group: number, along: number) => Float64Array;
}

/**
 * The model Y = level of the group + level of the session + trend + s_h · along + g · beside + stint + shot.
 *
 * `along` is centred on the mean of each group, and `beside` on that of all shots, so that the columns are not nearly
 * alike. The effect of what is beside, g, is the same for all groups: for the spin axis it is the gear effect of a
 * strike beside the middle, which would otherwise pass for curve wherever strike and face-to-path go together.
 */
export function slopeModel(data: SlopeData): SlopeModel {
  const base = meanModel(data);
  const centres = Array.from({ length: data.groupCount }, (_, g) => mean(data.along.filter((__, i) => data.group[i] === g)));
  const slopes = centres.map((centre, g) => data.along.map((value, i) => (data.group[i] === g ? value - centre : 0)));
  const beside = data.beside === null ? [] : [centred(data.beside)];
  const columns = [...base.columns, ...slopes, ...beside];
  const first = base.columns.length;
  const weights = (entries: readonly (readonly [place: number, weight: number])[]): Float64Array => {
    const made = new Float64Array(columns.length);
    for (const [place, weight] of entries) made[place] = weight;
    return made;
  };
  return {
    columns,
    value: base.value,
    block: base.block,
    blockCount: base.blockCount,
    slopeOf: (group) => weights([[first + group, 1]]),
    valueAt: (group, along) => weights([[group, 1], [first + group, along - centres[group]!]]),
  };
}

/**
 * How much of a reading some others explain on a straight line: R² of the least-squares fit with a constant.
 *
 * Near 1 it was worked out from them rather than read.
 *
 * @returns 0 to 1; `NaN` when the columns are linearly dependent or there are no more shots than columns.
 */
export function shareExplained(columns: readonly Float64Array[], value: Float64Array): number {
  if (value.length <= columns.length + 1) return Number.NaN;
  const constant = new Float64Array(value.length).fill(1);
  return linearRegression([constant, ...columns.map(centred)], value)?.rSquared ?? Number.NaN;
}

/** The same shots with only some of the groups, numbered anew in the order given. */
export function onlyGroups(data: SlopeData, groups: readonly number[]): SlopeData {
  const kept = Int32Array.from(Array.from(data.group.keys()).filter((i) => groups.includes(data.group[i]!)));
  const pick = (values: ArrayLike<number>): Float64Array => Float64Array.from(kept, (i) => values[i]!);
  return {
    groupCount: groups.length,
    group: kept.map((i) => groups.indexOf(data.group[i]!)),
    session: kept.map((i) => data.session[i]!),
    stint: pick(data.stint),
    time: pick(data.time),
    value: pick(data.value),
    strike: data.strike === null ? null : { x: pick(data.strike.x), y: pick(data.strike.y) },
    along: pick(data.along),
    beside: data.beside === null ? null : pick(data.beside),
  };
}

function centred(values: Float64Array): Float64Array {
  const centre = mean(values);
  return values.map((value) => value - centre);
}
