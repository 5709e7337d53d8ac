import type { HeadKind } from "../session/session-facts";
import { median, medianAbsoluteDeviation } from "../stats/quantile";
import { robustRegression } from "../stats/robust-regression";
import { headKindAt, rowsByHead } from "./head-of-shot";
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

/** What else a prediction may be told. */
interface PredictionOptions {
  /** By how much more than others a shot may scatter, 1 for none; a shot counts the less for it. */
  readonly widening?: (i: number) => number;
}

/**
 * Predictions of a reading from the head and other readings of the same shot, by robust regression.
 *
 * A head with enough shots has a model of its own; others of one kind share slopes, each with its own level; where shots
 * are too few for any slope, the median of the head, from 8 shots on. Heads of one kind share the scatter. Explaining columns
 * that are missing in more than half of the shots are left out; a shot that lacks one of the others has no prediction.
 */
export function predictionsOf(readings: SessionReadings, target: Float64Array, explaining: readonly (Float64Array | null)[], { widening = () => 1 }: PredictionOptions = {}): Prediction {
  const present = (values: Float64Array): number => target.reduce((count, value, i) => count + (Number.isFinite(value) && Number.isFinite(values[i]!) ? 1 : 0), 0);
  const columns = explaining.filter((column) => column !== null).filter((column) => present(column) >= present(target) / 2);
  const result: Prediction = { predicted: new Float64Array(target.length).fill(Number.NaN), scale: new Float64Array(target.length).fill(Number.NaN) };
  const isUsable = (i: number): boolean => Number.isFinite(target[i]!) && columns.every((column) => Number.isFinite(column[i]!));
  const width = Float64Array.from(target, (_, i) => widening(i));

  const kinds = new Map<HeadKind, (readonly number[])[]>();
  for (const rows of rowsByHead(readings, isUsable)) {
    if (rows.length < fewestOfHead) continue;
    const kind = headKindAt(readings, rows[0]!);
    kinds.set(kind, [...(kinds.get(kind) ?? []), rows]);
  }
  for (const heads of kinds.values()) predictKind({ target, columns, width }, heads, result);
  return result;
}

interface PredictionData {
  readonly target: Float64Array;
  readonly columns: readonly Float64Array[];
  readonly width: Float64Array;
}

/** Predictions for heads of one kind, and the scatter that they share. */
function predictKind(data: PredictionData, heads: readonly (readonly number[])[], into: Prediction): void {
  const { target, columns, width } = data;
  const [own, few] = [heads.filter((rows) => rows.length >= rowsForColumn * (columns.length + 1)), heads.filter((rows) => rows.length < rowsForColumn * (columns.length + 1))];
  const isEnough = few.flat().length >= pooledRowsForColumn * (columns.length + few.length);
  const groups = [...own.map((rows) => [rows]), ...(few.length === 0 ? [] : isEnough ? [few] : few.map((rows) => [rows]))];
  const predicted: number[] = [];
  let used = 0;
  for (const group of groups) {
    const byMedian = !isEnough && few.includes(group[0]!);
    const coefficients = byMedian ? predictByMedian(target, group[0]!, into) : predictTogether(data, group, into);
    used += coefficients;
    if (coefficients > 0) predicted.push(...group.flat());
  }
  if (predicted.length <= used) return;
  const standardised = predicted.map((i) => Math.abs(target[i]! - into.predicted[i]!) / width[i]!);
  const scale = (median(standardised) / 0.6745) * Math.sqrt(predicted.length / (predicted.length - used));
  for (const i of predicted) into.scale[i] = scale * width[i]!;
}

/** Fits heads with common slopes; returns how many coefficients that took, 0 where nothing was predicted. */
function predictTogether({ target, columns, width }: PredictionData, heads: readonly (readonly number[])[], into: Prediction): number {
  const rows = heads.flat();
  const levels = heads.map((own, head) => {
    const before = heads.slice(0, head).reduce((count, other) => count + other.length, 0);
    return Float64Array.from(rows, (_, place) => (place >= before && place < before + own.length ? 1 : 0));
  });
  const slopes = columns.map((column) => held(Float64Array.from(rows, (i) => column[i]!))).filter((column) => column.some((value) => value !== column[0]));
  const weighted = (column: Float64Array): Float64Array => column.map((value, place) => value / width[rows[place]!]!);
  const fit = robustRegression([...levels, ...slopes].map(weighted), weighted(Float64Array.from(rows, (i) => target[i]!)));
  if (fit === null) return heads.reduce((used, own) => used + predictByMedian(target, own, into), 0);
  rows.forEach((i, place) => (into.predicted[i] = target[i]! - fit.residuals[place]! * width[i]!));
  return levels.length + slopes.length;
}

function predictByMedian(target: Float64Array, rows: readonly number[], into: Prediction): number {
  if (rows.length < fewestForMedian) return 0;
  const centre = median(rows.map((i) => target[i]!));
  for (const i of rows) into.predicted[i] = centre;
  return 1;
}

/** The column from its median, in scales, and no farther from it than 4: odd explaining values must not lead the model. */
function held(column: Float64Array): Float64Array {
  const centre = median(column);
  const scale = medianAbsoluteDeviation(column) || 1;
  return column.map((value) => Math.max(-farthest, Math.min(farthest, (value - centre) / scale)));
}
