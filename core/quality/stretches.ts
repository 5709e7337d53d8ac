import { median } from "../stats/quantile";
import { seededRandom } from "../stats/random";
import { medianShift, noiseOfSeries, segmentsByChance, segmentsOf, type MedianShift, type Segment } from "../stats/segments";

/** A series in hitting order, of shots with heads. */
export interface HeadSeries {
  readonly values: Float64Array;
  /** The head of each value. */
  readonly head: ArrayLike<number>;
}

/** A part of a series, from place `from` to before `end`, with another level than the rest. */
export interface Stretch extends MedianShift {
  readonly from: number;
  readonly end: number;
  /** Values of the rest that it is compared with. */
  readonly rest: number;
  /** The series less the levels of its heads and less the level of the rest. */
  readonly off: Float64Array;
}

const shotsOfStretch = 8;
const outliers = 4; // standard deviations at which single values are held, so that one misread makes no stretch
const rounds = 3;
const largestBlock = 4; // shots
const rare = 0.01;
const samples = 499;
const confidence = 0.95;
const mostPermutations = 499;
const fewestPermutations = 99;
const stepsOfPermutations = 1e8;

/**
 * The parts of a series whose level is apart from the rest's by more than what matters, levels of heads taken out.
 *
 * The rest is the level that most values have. Parts of less than 8 shots are not looked for; nothing is found where random
 * orders of short blocks of shots give segments as clear in more than 1 of 100 cases.
 *
 * @param matters in the unit of the values.
 */
export function stretchesOf(series: HeadSeries, matters: number, seed: number): readonly Stretch[] {
  const found = levelsOf(series);
  if (found.segments.length < 2) return [];
  const { rest, parts } = partsOf(found, matters);
  const random = seededRandom(seed);
  const outside = blocksOf(series.head, found.level, rest);
  const usual = median(outside.flat());
  const off = found.level.map((value) => value - usual);
  const stretches = parts
    .map(({ from, end }) => ({ from, end, rest: shotsIn(rest), off, ...medianShift(blocksOf(series.head, found.level, [{ from, end }]), outside, { samples, confidence, random }) }))
    .filter(({ shift, low, high }) => Math.abs(shift) > matters && low * high > 0);
  const permutations = Math.round(Math.max(fewestPermutations, Math.min(mostPermutations, stepsOfPermutations / series.values.length ** 2)));
  return stretches.filter((stretch) => {
    // By itself, the others taken out: a clear stretch must not carry a chance one along.
    const alone = found.held.map((value, i) => stretches.reduce((rest, other) => (other !== stretch && i >= other.from && i < other.end ? rest - other.shift : rest), value));
    const blocks = blocksOf(series.head, alone, [{ from: 0, end: alone.length }]);
    return segmentsByChance(blocks, { least: shotsOfStretch, penalty: found.penalty, permutations, random }) <= rare;
  });
}

interface Levels {
  readonly segments: readonly Segment[];
  /** The series without the levels of heads, and the same with odd values held. */
  readonly level: Float64Array;
  readonly held: Float64Array;
  readonly penalty: number;
}

/** Segments and levels of heads, each found with the other taken out. */
function levelsOf({ values, head }: HeadSeries): Levels {
  let segments: readonly Segment[] = [{ from: 0, end: values.length, mean: 0 }];
  let [level, held, penalty] = [values, values, 0];
  for (let round = 0; round < rounds; round++) {
    level = withoutHeads(values, head, segments);
    const [centre, noise] = [median(level), noiseOfSeries(level)];
    held = level.map((value) => Math.max(centre - outliers * noise, Math.min(centre + outliers * noise, value)));
    penalty = 3 * noise ** 2 * Math.log(values.length);
    segments = segmentsOf(held, { least: shotsOfStretch, penalty }).segments;
  }
  return { segments, level, held, penalty };
}

const polishes = 5;

/** Values less the levels of their heads, by medians of heads and segments in turn (J. W. Tukey, Exploratory Data Analysis, 1977). */
function withoutHeads(values: Float64Array, head: ArrayLike<number>, segments: readonly Segment[]): Float64Array {
  const segmentAt = Int32Array.from(values, (_, i) => segments.findIndex(({ end }) => i < end));
  const ofHead = new Map<number, number>();
  const ofSegment = new Float64Array(segments.length);
  for (let round = 0; round < polishes; round++) {
    for (const each of new Set(Array.from(head))) ofHead.set(each, median(pick(values, (i) => head[i] === each, (i) => ofSegment[segmentAt[i]!]!)));
    if (segments.length === 1) break;
    segments.forEach((_, j) => (ofSegment[j] = median(pick(values, (i) => segmentAt[i] === j, (i) => ofHead.get(head[i]!)!))));
  }
  return values.map((value, i) => value - ofHead.get(head[i]!)!);
}

function pick(values: Float64Array, isIn: (i: number) => boolean, less: (i: number) => number): number[] {
  const found: number[] = [];
  values.forEach((value, i) => {
    if (isIn(i)) found.push(value - less(i));
  });
  return found;
}

type Place = Pick<Segment, "from" | "end">;

/** The level that most values share, and the parts apart from it; neighbours apart to the same side are one part. */
function partsOf({ segments, level }: Levels, matters: number): { readonly rest: readonly Place[]; readonly parts: readonly Place[] } {
  const levels = segments.map(({ from, end }) => median(level.subarray(from, end)));
  const alike = segments.map((_, j) => segments.filter((_each, k) => Math.abs(levels[k]! - levels[j]!) <= matters));
  const rest = alike.reduce((best, each) => (shotsIn(each) > shotsIn(best) ? each : best));
  const usual = levels[alike.indexOf(rest)]!;
  const parts: (Place & { readonly side: number })[] = [];
  segments.forEach((segment, j) => {
    if (rest.includes(segment)) return;
    const side = Math.sign(levels[j]! - usual);
    const last = parts.at(-1);
    if (last !== undefined && last.end === segment.from && last.side === side) parts[parts.length - 1] = { from: last.from, end: segment.end, side };
    else parts.push({ from: segment.from, end: segment.end, side });
  });
  return { rest, parts };
}

function shotsIn(segments: readonly Place[]): number {
  return segments.reduce((count, { from, end }) => count + end - from, 0);
}

/** Values in blocks of at most 4 neighbours with one head. */
function blocksOf(head: ArrayLike<number>, values: Float64Array, places: readonly Place[]): readonly (readonly number[])[] {
  const runs: number[][] = [];
  for (const { from, end } of places) {
    for (let i = from; i < end; i++) {
      if (i === from || head[i] !== head[i - 1]) runs.push([]);
      runs.at(-1)!.push(values[i]!);
    }
  }
  return runs.flatMap((run) => {
    const size = Math.ceil(run.length / Math.ceil(run.length / largestBlock));
    return Array.from({ length: Math.ceil(run.length / size) }, (_, part) => run.slice(part * size, (part + 1) * size));
  });
}
