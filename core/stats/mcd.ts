import { chiSquaredCdf, chiSquaredQuantile } from "./chi-squared";
import { smallSampleFactor } from "./mcd-factors";
import { seededRandom } from "./random";

/** Subsets of p + 1 points beyond which a search starts from some drawn by chance and not from all. */
const mostStarts = 20_000;
const drawnStarts = 500;

/** Points times starts beyond which fewer starts are drawn, though never fewer than 50: many points need fewer. */
const mostWork = 400_000;

/** Searches that are followed to their end, of those that look best after two steps. */
const followed = 10;

/** Share of a normal population's points, by squared distance, beyond which a point does not count in the second round. */
const keptShare = 0.975;

/** Where most points lie and how they scatter, whatever the others do. */
export interface RobustCloud {
  /** Places of the h points with the smallest covariance determinant, ascending. */
  readonly subset: readonly number[];
  /** Logarithm of the determinant of that subset's covariance (divisor h). */
  readonly logDeterminant: number;
  readonly rawCentre: readonly number[];
  /** Row by row, made consistent for normal points; so is `covariance`. */
  readonly rawCovariance: readonly (readonly number[])[];
  /** The consistency and the small-sample factor of the first round and of the second. */
  readonly rawFactors: readonly [number, number];
  readonly factors: readonly [number, number];
  /** Of the points that the first round does not find far out. */
  readonly centre: readonly number[];
  readonly covariance: readonly (readonly number[])[];
  /** Squared distance of each point by `centre` and `covariance`. */
  readonly distances: readonly number[];
  /** Places of the points farther out than 97.5 % of normal points are. */
  readonly far: readonly number[];
}

/** How much of the points a robust estimate rests on. */
export interface McdOptions {
  /** Share of the points in the subset, 0.5 (most robust) to 1; 0.75 unless told, which scatters less. */
  readonly share?: number;
  /** Seed of the starts where not all subsets can be tried; the same seed gives the same answer. */
  readonly seed?: number;
}

/**
 * The minimum covariance determinant estimate of centre and scatter, reweighted.
 *
 * Of all subsets of h points the one whose covariance has the smallest determinant, found by concentration steps (take
 * the h points nearest to the subset's own centre, by its own covariance, again and again) from all subsets of p + 1
 * points, or from some 500 drawn by chance where these are more than 20 000. Then the mean and covariance of all points
 * within the 97.5 % distance, made consistent for normal points.
 *
 * @param columns p columns, 2 or more, of n numbers each, none missing.
 * @returns `null` when more than n − h points lie on a line or plane, or n < 2p.
 * Sources: P. J. Rousseeuw, K. Van Driessen, Technometrics 41 (1999) 212; C. Croux, G. Haesbroeck, J. Multivariate
 * Analysis 71 (1999) 161, for consistency; the small-sample factors are those of `mcd-factors.ts`.
 */
export function minimumCovarianceDeterminant(columns: readonly ArrayLike<number>[], { share = 0.75, seed = 1 }: McdOptions = {}): RobustCloud | null {
  const p = columns.length;
  const n = columns[0]?.length ?? 0;
  if (p < 2 || n < 2 * p) return null;
  const size = subsetSize(n, p, share);
  const best = search(columns, size, seed);
  if (best === null) return null;
  const rawFactors = [consistency(p, size / n), smallSampleFactor(p, n, share, "first")] as const;
  const raw = momentsOf(columns, best.subset)!;
  const rawCovariance = scaled(raw.covariance, rawFactors[0] * rawFactors[1]);
  const limit = chiSquaredQuantile(keptShare, p);
  const kept = distancesBy(columns, raw.centre, rawCovariance)!.flatMap((distance, i) => (distance < limit ? [i] : []));
  const second = momentsOf(columns, kept);
  if (second === null) return null;
  const factors = [kept.length === n ? 1 : consistency(p, kept.length / n), smallSampleFactor(p, n, share, "second")] as const;
  const covariance = scaled(second.covariance, factors[0] * factors[1]);
  const distances = distancesBy(columns, second.centre, covariance);
  if (distances === null) return null;
  return {
    subset: best.subset,
    logDeterminant: best.logDeterminant,
    rawCentre: raw.centre,
    rawCovariance,
    rawFactors,
    factors,
    centre: second.centre,
    covariance,
    distances,
    far: distances.flatMap((distance, i) => (distance > limit ? [i] : [])),
  };
}

/** h: from a bare majority, ⌊(n + p + 1)/2⌋, at the share 0.5, to all points at 1. */
function subsetSize(n: number, p: number, share: number): number {
  const majority = Math.floor((n + p + 1) / 2);
  return Math.floor(2 * majority - n + 2 * (n - majority) * share);
}

interface Found {
  readonly subset: readonly number[];
  /** With the divisor h. */
  readonly logDeterminant: number;
}

function search(columns: readonly ArrayLike<number>[], size: number, seed: number): Found | null {
  const started: Found[] = [];
  for (const start of starts(columns[0]!.length, columns.length + 1, seed)) {
    const found = concentrate(columns, concentrate(columns, { subset: start, logDeterminant: Infinity }, size), size);
    if (found !== null) started.push(found);
  }
  started.sort((a, b) => a.logDeterminant - b.logDeterminant);
  let best: Found | null = null;
  for (let found of started.slice(0, followed)) {
    for (let next = concentrate(columns, found, size); next !== null && next.logDeterminant < found.logDeterminant - 1e-12; next = concentrate(columns, found, size)) found = next;
    if (best === null || found.logDeterminant < best.logDeterminant) best = found;
  }
  return best;
}

/** Subsets to start from: all of `size` out of `n`, or some drawn by chance. */
function* starts(n: number, size: number, seed: number): Generator<readonly number[]> {
  let count = 1;
  for (let i = 0; i < size; i++) count = (count * (n - i)) / (i + 1);
  if (count > mostStarts) {
    const random = seededRandom(seed);
    const drawnInAll = Math.max(50, Math.min(drawnStarts, Math.floor(mostWork / n)));
    for (let i = 0; i < drawnInAll; i++) {
      const drawn = new Set<number>();
      while (drawn.size < size) drawn.add(Math.floor(random() * n));
      yield [...drawn];
    }
    return;
  }
  const places = Array.from({ length: size }, (_, i) => i);
  for (;;) {
    yield [...places];
    let turn = size - 1;
    while (turn >= 0 && places[turn] === n - size + turn) turn--;
    if (turn < 0) return;
    places[turn]!++;
    for (let i = turn + 1; i < size; i++) places[i] = places[i - 1]! + 1;
  }
}

/** One concentration step, which never makes the determinant larger; `null` where points lie on a line or plane. */
function concentrate(columns: readonly ArrayLike<number>[], from: Found | null, size: number): Found | null {
  if (from === null) return null;
  const moments = momentsOf(columns, from.subset);
  const distances = moments === null ? null : distancesBy(columns, moments.centre, moments.covariance);
  if (distances === null) return null;
  const order = Array.from(distances.keys()).sort((a, b) => distances[a]! - distances[b]! || a - b);
  const subset = order.slice(0, size).sort((a, b) => a - b);
  const logDeterminant = logDeterminantOf(momentsOf(columns, subset)!.covariance) + columns.length * Math.log((size - 1) / size);
  return Number.isNaN(logDeterminant) ? null : { subset, logDeterminant };
}

interface Moments {
  readonly centre: readonly number[];
  /** Divisor n − 1. */
  readonly covariance: readonly (readonly number[])[];
}

function momentsOf(columns: readonly ArrayLike<number>[], places: readonly number[]): Moments | null {
  if (places.length < 2) return null;
  const centre = columns.map((column) => places.reduce((total, i) => total + column[i]!, 0) / places.length);
  const covariance = columns.map((a, j) =>
    columns.map((b, k) => places.reduce((total, i) => total + (a[i]! - centre[j]!) * (b[i]! - centre[k]!), 0) / (places.length - 1)),
  );
  return { centre, covariance };
}

function distancesBy(columns: readonly ArrayLike<number>[], centre: readonly number[], covariance: readonly (readonly number[])[]): number[] | null {
  const root = lowerRoot(covariance);
  if (root === null) return null;
  const solved = new Float64Array(centre.length);
  return Array.from({ length: columns[0]!.length }, (_, i) => {
    let total = 0;
    for (let j = 0; j < centre.length; j++) {
      let rest = columns[j]![i]! - centre[j]!;
      for (let k = 0; k < j; k++) rest -= root[j]![k]! * solved[k]!;
      solved[j] = rest / root[j]![j]!;
      total += solved[j]! ** 2;
    }
    return total;
  });
}

/** The lower triangular root of a covariance; `null` when it is singular but for rounding. */
function lowerRoot(covariance: readonly (readonly number[])[]): number[][] | null {
  const root: number[][] = [];
  for (let j = 0; j < covariance.length; j++) {
    const row: number[] = [];
    for (let k = 0; k <= j; k++) {
      let rest = covariance[j]![k]!;
      for (let m = 0; m < k; m++) rest -= row[m]! * (root[k] ?? row)[m]!;
      if (k < j) row.push(rest / root[k]![k]!);
      else if (rest > 1e-12 * covariance[j]![j]!) row.push(Math.sqrt(rest));
      else return null;
    }
    root.push(row);
  }
  return root;
}

function logDeterminantOf(covariance: readonly (readonly number[])[]): number {
  const root = lowerRoot(covariance);
  return root === null ? Number.NaN : 2 * root.reduce((total, row, j) => total + Math.log(row[j]!), 0);
}

function scaled(covariance: readonly (readonly number[])[], factor: number): number[][] {
  return covariance.map((row) => row.map((value) => value * factor));
}

/**
 * What the covariance of the inner `share` of normal points must be multiplied by to be that of all.
 *
 * share / P(χ²_{p+2} ≤ the `share` quantile of χ²_p). Source: Croux & Haesbroeck 1999.
 */
function consistency(p: number, share: number): number {
  return share >= 1 ? 1 : share / chiSquaredCdf(chiSquaredQuantile(share, p), p + 2);
}
