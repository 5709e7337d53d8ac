import { digitsForColumn, formatNumber } from "../present/format-number";
import { bilinear, dot, invertPositive, timesVector } from "../stats/matrix";
import { median, medianAbsoluteDeviation } from "../stats/quantile";
import { shotColumnFacts, type ShotColumn } from "../table/shot-columns";
import { findColumn } from "../table/table";
import type { Relation, RelationFamily } from "./channel-relations";
import { isShare, relationFamilies } from "./channel-relations";
import { inWords, sentence } from "./evidence";
import type { Finding } from "./rule";
import type { SessionReadings } from "./session-readings";
import type { Stretch } from "./stretches";
import { stretchesOf } from "./stretches";

/** A column that reads otherwise in a part of a session than in the rest. SI, in the frame of the readings. */
export interface ChannelBias {
  readonly column: ShotColumn;
  /** Places of the first and the last shot among the readings. */
  readonly from: number;
  readonly to: number;
  /** What the column reads there beyond what it reads elsewhere, with a 95 % interval. */
  readonly bias: number;
  readonly low: number;
  readonly high: number;
  /** The bias that would not matter. */
  readonly tolerance: number;
  /** Columns that would explain it as well; nothing is listed as doubtful then. */
  readonly instead: readonly ShotColumn[];
  readonly sentence: string;
  /** The course of what is off, shot by shot, levels of heads and of the rest taken out; in SI. */
  readonly course: readonly { readonly at: number; readonly off: number }[];
  /** One for each value of the column in the stretch; none where the column cannot be told from others. */
  readonly findings: readonly Finding[];
}

/** The name of the rule, as suspects show it. */
export const partOfSession = "part of a session";

/** Shots of a session beyond which none is looked through: one person hits no such session, and the time grows with the square. */
const mostShots = 2000;

/**
 * The columns that read otherwise in a part of a session, by first shot.
 *
 * Each column is followed through the session as its difference from what the others of a shot imply, heads taken apart.
 * A stretch of 8 shots or more counts when it is apart by more than 1.25 reading errors and than what models are good for,
 * and when random orders hardly ever show as much. The column blamed is the one whose error alone explains which
 * comparisons break and which still hold. A column that was calculated is no evidence.
 *
 * @param seed of the random orders and of the interval.
 * @param checkpoint called between columns, to be interrupted.
 */
export function channelBiases(readings: SessionReadings, seed: number, checkpoint: () => void = () => undefined): readonly ChannelBias[] {
  if (readings.count > mostShots) return [];
  const found = relationFamilies(readings).flatMap((family) => biasesIn(readings, family, seed, checkpoint));
  return found.sort((a, b) => a.from - b.from || a.to - b.to);
}

/** Why no part of a session is looked for, as a sentence; `null` where it is. */
export function silentOnParts({ count }: SessionReadings): string | null {
  return count > mostShots ? `Columns that are off for a part of a session are not looked for among ${count} shots, more than ${mostShots}.` : null;
}

const fewestShots = 16;

/** The relations of a family on the shots that have all of them. */
interface Complete {
  readonly family: RelationFamily;
  /** Places among the readings. */
  readonly at: readonly number[];
  readonly off: readonly Float64Array[];
  readonly relations: readonly Relation[];
  readonly covariance: Float64Array;
  readonly inverse: Float64Array;
}

function biasesIn(readings: SessionReadings, family: RelationFamily, seed: number, checkpoint: () => void): readonly ChannelBias[] {
  const complete = completeShots(readings, family);
  if (complete === null) return [];
  const head = complete.at.map((i) => readings.head[i]!);
  const found = family.columns.flatMap((column) => {
    checkpoint();
    const matters = whatMatters(readings, column);
    const weights = weightsFor(complete, column);
    if (weights === null || !(matters > 0)) return [];
    const values = Float64Array.from(complete.at, (_, i) => weights.reduce((total, weight, r) => total + weight * complete.off[r]![i]!, 0));
    return stretchesOf({ values, head }, matters, seed).flatMap((stretch) => {
      const blame = blameFor(complete, head, stretch);
      return blame === null || blame.column !== column ? [] : [biasOf(readings, complete, column, stretch, matters, blame)];
    });
  });
  // A stretch that two columns explain about as well is told once.
  return found.filter((bias, i) => !found.some((other, j) => j < i && other.from <= bias.to && bias.from <= other.to && (other.instead.length > 0 || bias.instead.length > 0)));
}

/** Shots that have all relations but those which few shots have; `null` when they are too few. */
function completeShots(readings: SessionReadings, family: RelationFamily): Complete | null {
  const counts = family.relations.map(({ off }) => off.filter(Number.isFinite).length);
  const most = Math.max(...counts);
  const relations = family.relations.filter((_, r) => counts[r]! >= 0.6 * most);
  const at = Array.from({ length: readings.count }, (_, i) => i).filter((i) => relations.every(({ off }) => Number.isFinite(off[i]!)));
  if (at.length < fewestShots) return null;
  const off = relations.map((relation) => withoutHeads(readings, at, relation.off));
  const covariance = covarianceOf(off);
  const inverse = invertPositive(covariance, relations.length)?.inverse ?? null;
  return inverse === null ? null : { family, at, off, relations, covariance, inverse };
}

function withoutHeads(readings: SessionReadings, at: readonly number[], off: Float64Array): Float64Array {
  const level = new Map<number, number>();
  for (const head of new Set(at.map((i) => readings.head[i]!))) level.set(head, median(at.filter((i) => readings.head[i] === head).map((i) => off[i]!)));
  return Float64Array.from(at, (i) => off[i]! - level.get(readings.head[i]!)!);
}

const oddDifference = 3; // scales at which differences are held

/** How the relations of one shot scatter together, from the differences of neighbouring shots, which a stretch hardly touches. */
function covarianceOf(off: readonly Float64Array[]): Float64Array {
  const differences = off.map((values) => {
    const steps = values.subarray(1).map((value, i) => (value - values[i]!) / Math.SQRT2);
    const limit = oddDifference * medianAbsoluteDeviation(steps);
    return steps.map((value) => Math.max(-limit, Math.min(limit, value)));
  });
  return Float64Array.from({ length: off.length ** 2 }, (_, entry) => {
    const [a, b] = [differences[Math.floor(entry / off.length)]!, differences[entry % off.length]!];
    return dot(a, b) / a.length;
  });
}

function movesOf({ relations }: Pick<Complete, "relations">, column: ShotColumn): readonly number[] {
  return relations.map(({ moves }) => moves[column] ?? 0);
}

/** The weights with which the relations tell the error of a column best (generalised least squares); `null` where they tell nothing. */
function weightsFor(complete: Complete, column: ShotColumn): Float64Array | null {
  const moves = movesOf(complete, column);
  const known = bilinear(complete.inverse, moves, moves);
  return known > 0 ? timesVector(complete.inverse, moves).map((each) => each / known) : null;
}

/** Least biases that models and comparisons can be trusted for, SI or shares. Common practice, no source. */
const leastBias: Partial<Record<ShotColumn, number>> = {
  start_direction: (1 * Math.PI) / 180,
  spin_axis: (2.5 * Math.PI) / 180,
  club_speed: 0.025,
  ball_speed: 0.015,
  spin_rate: 0.08,
  launch_angle: (1 * Math.PI) / 180,
  dynamic_loft: (2.5 * Math.PI) / 180,
  carry: 0.03,
};
const errorsThatMatter = 1.25;

/** The bias of a column from which it matters: SI, or a share for a column of shares. */
function whatMatters(readings: SessionReadings, column: ShotColumn): number {
  const usual = median((readings.values(column) ?? new Float64Array()).map(Math.abs));
  const error = readings.error(column, usual) / (isShare(column) ? usual : 1);
  return Math.max(Number.isFinite(error) ? errorsThatMatter * error : 0, leastBias[column] ?? 0);
}

/** The column that explains a stretch, and those that do so about as well. */
interface Blame {
  readonly column: ShotColumn;
  readonly instead: readonly ShotColumn[];
  /** True where the shots may really have been so. */
  readonly mayBeReal: boolean;
}

const clearBy = 6; // by which the sum of squares left must be less than any other's: 20 times as likely
const sensitivityError = 0.15; // share by which what a column moves may be wrong
const medianWaste = Math.PI / 2; // variance of a median of normal data over that of a mean

/** Which column, were it off by one amount, would break the relations as they break in the stretch; `null` where none would. */
function blameFor(complete: Complete, head: readonly number[], { from, end }: Stretch): Blame | null {
  const count = complete.relations.length;
  const steps = complete.off.map((values) => stepWithinHeads(values, head, from, end));
  if (steps.some((step) => !Number.isFinite(step))) return null;
  const places = complete.at.length;
  const spread = medianWaste * (1 / (end - from) + 1 / (places - end + from));
  const variance = complete.covariance.map((each, entry) => each * spread + (entry % (count + 1) === 0 ? (sensitivityError * steps[entry % count]!) ** 2 : 0));
  const inverse = invertPositive(variance, count)?.inverse;
  if (inverse === undefined) return null;
  const misfit = (moves: readonly number[]): number => {
    const known = bilinear(inverse, moves, moves);
    const amount = known > 0 ? bilinear(inverse, moves, steps) / known : 0;
    const left = steps.map((step, r) => step - amount * moves[r]!);
    return Math.round(bilinear(inverse, left, left) * 1e6) / 1e6;
  };
  const misfits = complete.family.columns.map((column) => ({ column, left: misfit(movesOf(complete, column)) })).sort((a, b) => a.left - b.left);
  const [best] = misfits;
  if (best === undefined || best.left > clearBy + 5 * (count - 1)) return null;
  const instead = misfits.slice(1).filter(({ left }) => left < best.left + clearBy).map(({ column }) => column);
  // Where every column would do although several relations were asked, they say nothing of a misread.
  if (count > 1 && instead.length === misfits.length - 1) return null;
  const broken = complete.family.realChange[best.column];
  const real = broken === undefined ? Infinity : misfit(complete.relations.map((relation) => (relation === complete.family.relations[broken] ? 1 : 0)));
  return {
    column: best.column,
    instead,
    mayBeReal: real < best.left + clearBy,
  };
}

/** The median in a stretch less that of the rest, the levels of heads found from both in turn. */
function stepWithinHeads(values: Float64Array, head: readonly number[], from: number, end: number): number {
  const isIn = (i: number): boolean => i >= from && i < end;
  const level = new Map<number, number>([...new Set(head)].map((each) => [each, 0]));
  let step = 0;
  for (let round = 0; round < 5; round++) {
    const off = values.map((value, i) => value - level.get(head[i]!)!);
    step = median(off.filter((_, i) => isIn(i))) - median(off.filter((_, i) => !isIn(i)));
    for (const each of level.keys()) level.set(each, median(values.map((value, i) => value - (isIn(i) ? step : 0)).filter((_, i) => head[i] === each)));
  }
  return step;
}

function biasOf(readings: SessionReadings, { at }: Complete, column: ShotColumn, stretch: Stretch, matters: number, blame: Blame): ChannelBias {
  const [from, to] = [at[stretch.from]!, at[stretch.end - 1]!];
  const values = readings.values(column)!;
  const usual = isShare(column) ? median(values.subarray(from, to + 1)) : 1;
  const moved = (by: number): number => (isShare(column) ? usual * (1 - Math.exp(-by)) : by);
  const bias = { column, from, to, bias: moved(stretch.shift), low: moved(stretch.low), high: moved(stretch.high), tolerance: matters * usual, instead: blame.instead };
  const course = at.map((place, i) => ({ at: place, off: moved(stretch.off[i]!) }));
  const isTold = blame.instead.length === 0 && !blame.mayBeReal;
  return { ...bias, course, sentence: sentenceOf(readings, bias, blame, stretch.rest), findings: isTold ? findingsOf(readings, bias, stretch) : [] };
}

type Measured = Pick<ChannelBias, "column" | "from" | "to" | "bias" | "low" | "high" | "tolerance">;

function sentenceOf(readings: SessionReadings, bias: Measured, { column, instead, mayBeReal }: Blame, rest: number): string {
  const where = `in ${shotsInWords(readings, bias)} than elsewhere`;
  const reads = `${sentence(inWords(column))} reads ${amountInWords(readings, bias)} ${where}`;
  if (instead.length > 0) {
    const others = instead.map(inWords).join(" or ");
    return `${reads}, or ${others} is off there instead: the readings do not tell which, so no value is listed for it.`;
  }
  const relative = `Which of the two is right cannot be told from the shots alone: this is relative to the rest, ${rest} shots.`;
  return mayBeReal ? `${reads}. It may really have been so: no flight was measured that would tell, so no value is listed for it. ${relative}` : `${reads}. ${relative}`;
}

/** `about 3.4° more closed (2.9 to 3.9)`. */
function amountInWords(readings: SessionReadings, { column, bias, low, high }: Measured): string {
  const found = findColumn(readings.table, column);
  const digits = found?.kind === "number" ? digitsForColumn(found) : 1;
  const sizes = [low, high].map((each) => formatNumber(readings.sizeInTable(column, each), digits));
  return `about ${readings.saySize(column, bias)} ${moreInWords(readings, column, bias)} (${sizes.sort((a, b) => Number(a) - Number(b)).join(" to ")})`;
}

/** What more of a column is, in the frame of the table: `more open`, `more to the right`, `higher`. */
function moreInWords(readings: SessionReadings, column: ShotColumn, bias: number): string {
  // A face is open or closed for either hand; left and right are those of the table.
  if (column === "face_angle") return bias > 0 ? "more open" : "more closed";
  const direction = shotColumnFacts(column)?.direction ?? null;
  if (direction === null || direction[0] === "up") return bias > 0 ? "higher" : "lower";
  return `more to the ${direction[readings.inTable(column, bias) > 0 ? 0 : 1]}`;
}

function shotsInWords(readings: SessionReadings, { from, to }: Measured): string {
  return `shots ${readings.shot[from]!} to ${readings.shot[to]!}`;
}

function findingsOf(readings: SessionReadings, bias: Measured, stretch: Stretch): readonly Finding[] {
  const { column, from, to, tolerance } = bias;
  const values = readings.values(column)!;
  const implied = (value: number): number => (isShare(column) ? value * Math.exp(-stretch.shift) : value - bias.bias);
  const reads = `${sentence(inWords(column))} reads ${amountInWords(readings, bias)} in ${shotsInWords(readings, bias)} than elsewhere`;
  return Array.from({ length: to - from + 1 }, (_, place) => from + place)
    .filter((at) => Number.isFinite(values[at]!))
    .map((at) => ({
      at,
      column,
      implied: implied(values[at]!),
      tolerance,
      doubt: "some",
      evidence: `${reads}: ${readings.say(column, values[at]!)} here would be ${readings.say(column, implied(values[at]!))} as the rest reads; up to ${readings.saySize(column, tolerance)} would not matter.`,
      witnesses: [],
    }));
}
