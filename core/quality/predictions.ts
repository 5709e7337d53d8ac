import type { HeadKind } from "../session/session-facts";
import { median, medianAbsoluteDeviation } from "../stats/quantile";
import { robustRegression } from "../stats/robust-regression";
import { headKindAt } from "./head-of-shot";
import type { SessionReadings } from "./session-readings";

/** What the other shots of a session imply for each shot; `NaN` where they are too few. */
export interface Prediction {
  readonly predicted: Float64Array;
  /** A standard deviation of single readings about it. */
  readonly scale: Float64Array;
}

const fewestOfHead = 5; // shots that set a head's own level
const fewestForMedian = 8; // shots for a level without any model
const rowsForColumn = 5; // shots for each coefficient of a head's own model
const pooledRowsForColumn = 3; // likewise of a model that heads of one kind share
const farthest = 4; // scales from the median at which an odd explaining value is held

/**
 * Predictions of a reading from the head and other readings of the same shot, by robust regression.
 *
 * A head with enough shots has a model of its own; others of one kind share slopes, each with its own level; where shots
 * are too few for any slope, the median of the head, from 8 shots on. Explaining columns that are missing in more than half of
 * the shots are left out; a shot that lacks one of the others has no prediction.
 */
export function predictionsOf(readings: SessionReadings, target: Float64Array, explaining: readonly (Float64Array | null)[]): Prediction {
  const present = (values: Float64Array): number => target.reduce((count, value, i) => count + (Number.isFinite(value) && Number.isFinite(values[i]!) ? 1 : 0), 0);
  const columns = explaining.filter((column) => column !== null).filter((column) => present(column) >= present(target) / 2);
  const result: Prediction = { predicted: new Float64Array(target.length).fill(Number.NaN), scale: new Float64Array(target.length).fill(Number.NaN) };
  const isUsable = (i: number): boolean => Number.isFinite(target[i]!) && columns.every((column) => Number.isFinite(column[i]!));

  const shared = new Map<HeadKind, number[][]>();
  for (const rows of rowsByHead(readings, isUsable)) {
    if (rows.length < fewestOfHead) continue;
    if (rows.length >= rowsForColumn * (columns.length + 1)) predictTogether(target, columns, [rows], result);
    else {
      const kind = headKindAt(readings, rows[0]!);
      shared.set(kind, [...(shared.get(kind) ?? []), rows]);
    }
  }
  for (const heads of shared.values()) {
    if (heads.flat().length >= pooledRowsForColumn * (columns.length + heads.length)) predictTogether(target, columns, heads, result);
    else for (const rows of heads) predictByMedian(target, rows, result);
  }
  return result;
}

function rowsByHead(readings: SessionReadings, isUsable: (i: number) => boolean): readonly number[][] {
  const byHead = new Map<number, number[]>();
  for (let i = 0; i < readings.count; i++) {
    if (!isUsable(i)) continue;
    const head = readings.head[i]!;
    const rows = byHead.get(head);
    if (rows === undefined) byHead.set(head, [i]);
    else rows.push(i);
  }
  return [...byHead.values()];
}

function predictTogether(target: Float64Array, explaining: readonly Float64Array[], heads: readonly (readonly number[])[], into: Prediction): void {
  const rows = heads.flat();
  const levels = heads.map((own) => Float64Array.from(rows, (i) => (own.includes(i) ? 1 : 0)));
  const slopes = explaining.map((column) => held(Float64Array.from(rows, (i) => column[i]!))).filter((column) => column.some((value) => value !== column[0]));
  const value = Float64Array.from(rows, (i) => target[i]!);
  const fit = robustRegression([...levels, ...slopes], value);
  if (fit === null) {
    for (const own of heads) predictByMedian(target, own, into);
    return;
  }
  const used = levels.length + slopes.length;
  const scale = fit.scale * Math.sqrt(rows.length / (rows.length - used));
  rows.forEach((i, place) => {
    into.predicted[i] = target[i]! - fit.residuals[place]!;
    into.scale[i] = scale;
  });
}

function predictByMedian(target: Float64Array, rows: readonly number[], into: Prediction): void {
  if (rows.length < fewestForMedian) return;
  const own = rows.map((i) => target[i]!);
  const [centre, scale] = [median(own), medianAbsoluteDeviation(own)];
  for (const i of rows) {
    into.predicted[i] = centre;
    into.scale[i] = scale;
  }
}

/** The column from its median, in scales, and no farther from it than 4: odd explaining values must not lead the model. */
function held(column: Float64Array): Float64Array {
  const centre = median(column);
  const scale = medianAbsoluteDeviation(column) || 1;
  return column.map((value) => Math.max(-farthest, Math.min(farthest, (value - centre) / scale)));
}
