import { mean, sum } from "./moments";

/**
 * The autocorrelations of a series at lags 1 to `lags`: Σ (xᵢ − x̄)(xᵢ₊ₖ − x̄) / Σ (xᵢ − x̄)².
 *
 * @param values n numbers in their order, none missing.
 * @returns one number a lag, −1 to 1; `NaN` for a series without scatter.
 * Source: G. E. P. Box, G. M. Jenkins, Time Series Analysis (1970), 2.1.5, with divisor n.
 * @example autocorrelation([1, -1, 1, -1], 1) // [-0.75]
 */
export function autocorrelation(values: ArrayLike<number>, lags: number): readonly number[] {
  const centre = mean(values);
  const off = Array.from(values, (value) => value - centre);
  const squares = sum(off.map((value) => value * value));
  return Array.from({ length: lags }, (_, lag) => {
    const products = off.slice(lag + 1).map((value, i) => value * off[i]!);
    return squares > 0 ? sum(products) / squares : Number.NaN;
  });
}

/**
 * How many independent observations n neighbours with lag-1 autocorrelation `r1` are worth for their mean:
 * n (1 − r₁)/(1 + r₁), for a first-order autoregressive series.
 *
 * @param r1 −1 to 1, both excluded.
 * Source: G. V. Bayley, J. M. Hammersley, Supplement to the JRSS 8 (1946) 184.
 * @example effectiveCount(90, 0.5) // 30
 */
export function effectiveCount(n: number, r1: number): number {
  return (n * (1 - r1)) / (1 + r1);
}

/** Shots of a stint below which their order says nothing: about their own mean, two shots are always opposite. */
const leastInRun = 3;

/** Beyond this a series can hardly be told from one that wanders without end. */
const mostAutocorrelation = 0.99;

/** The lag-1 autocorrelation within short runs, and how rare so strong a one is when the order is chance. */
export interface LagOne {
  readonly r1: number;
  /** Share of random orders within runs that give one as far from what chance gives, either way. */
  readonly p: number;
}

/**
 * The lag-1 autocorrelation of values within runs, pooled over the runs; each run has a level of its own.
 *
 * Values about the mean of their own short run are related negatively whatever they are (by −1/(m−1) for m of
 * them), so that the plain coefficient is far too low. Given is the autocorrelation of that first-order
 * autoregressive series whose expected products and squares about the means of such runs have the ratio observed.
 * p is from random orders of the values within each run.
 *
 * @param runs values in their order, none missing; runs of fewer than 3 say nothing and are left out.
 * @param random source of numbers from 0 to below 1.
 * @returns `NaN` both when no run is long enough or nothing scatters within runs.
 * Source: our own, by the method of moments; the permutation test is E. J. G. Pitman's (Supplement to the JRSS 4 (1937) 225).
 */
export function lagOneWithin(runs: readonly (readonly number[])[], permutations: number, random: () => number): LagOne {
  const long = runs.filter((run) => run.length >= leastInRun).map(aboutMean);
  const squares = sum(long.flatMap((run) => run.map((value) => value * value)));
  if (!(squares > 0)) return { r1: Number.NaN, p: Number.NaN };
  const lengths = long.map((run) => run.length);
  const observed = sum(long.map(neighbourProducts));
  const byChance = expectedRatio(lengths, 0) * squares;
  const reach = Math.abs(observed - byChance) * (1 - 1e-12);
  let asFar = 0;
  for (let i = 0; i < permutations; i++) {
    const products = sum(long.map((run) => neighbourProducts(shuffled(run, random))));
    if (Math.abs(products - byChance) >= reach) asFar++;
  }
  return { r1: autocorrelationFor(observed / squares, lengths), p: (1 + asFar) / (1 + permutations) };
}

/** The values in a random order, each order alike likely. Source: R. Durstenfeld, CACM 7 (1964) 420. */
export function shuffled<T>(values: readonly T[], random: () => number): T[] {
  const order = [...values];
  for (let last = order.length - 1; last > 0; last--) {
    const other = Math.floor(random() * (last + 1));
    [order[last], order[other]] = [order[other]!, order[last]!];
  }
  return order;
}

function aboutMean(values: readonly number[]): readonly number[] {
  const centre = mean(values);
  return values.map((value) => value - centre);
}

function neighbourProducts(run: readonly number[]): number {
  let total = 0;
  for (let i = 1; i < run.length; i++) total += run[i]! * run[i - 1]!;
  return total;
}

/** Found by halving, since the ratio rises with the autocorrelation. */
function autocorrelationFor(ratio: number, lengths: readonly number[]): number {
  let [low, high] = [-mostAutocorrelation, mostAutocorrelation];
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2;
    if (expectedRatio(lengths, middle) < ratio) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Expected products of neighbours over expected squares, about the means of runs of these lengths. */
function expectedRatio(lengths: readonly number[], r1: number): number {
  let products = 0;
  let squares = 0;
  for (const m of lengths) {
    // Sum of a row of the run's correlation matrix: a geometric series to either side.
    const row = (i: number): number => (1 + r1 - r1 ** (i + 1) - r1 ** (m - i)) / (1 - r1);
    let all = 0;
    for (let i = 0; i < m; i++) all += row(i);
    squares += m - all / m;
    for (let i = 1; i < m; i++) products += r1 - (row(i - 1) + row(i)) / m + all / (m * m);
  }
  return products / squares;
}
