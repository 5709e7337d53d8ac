import { mean, sum } from "./moments";
import { shuffle } from "./random";

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
  /** Share of random orders within runs that give one as far from what chance gives, either way; worked out when read. */
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
  const squares = sum(long.flatMap((run) => Array.from(run, (value) => value * value)));
  if (!(squares > 0)) return { r1: Number.NaN, p: Number.NaN };
  const lengths = long.map((run) => run.length);
  const observed = sum(long.map(neighbourProducts));
  const byChance = expectedRatio(lengths, 0) * squares;
  return {
    r1: autocorrelationFor(observed / squares, lengths),
    get p() {
      return shareAsFar(long, observed, byChance, permutations, random);
    },
  };
}

/** Share of random orders whose products are as far from those of chance as the observed ones, these counted too. */
function shareAsFar(runs: readonly Float64Array[], observed: number, byChance: number, permutations: number, random: () => number): number {
  const reach = Math.abs(observed - byChance) * (1 - 1e-12);
  const orders = runs.map((run) => run.slice());
  const products = new Float64Array(runs.length);
  let asFar = 0;
  for (let i = 0; i < permutations; i++) {
    for (const [b, order] of orders.entries()) {
      order.set(runs[b]!);
      shuffle(order, random);
      products[b] = neighbourProducts(order);
    }
    if (Math.abs(sum(products) - byChance) >= reach) asFar++;
  }
  return (1 + asFar) / (1 + permutations);
}

function aboutMean(values: readonly number[]): Float64Array {
  const centre = mean(values);
  return Float64Array.from(values, (value) => value - centre);
}

function neighbourProducts(run: Float64Array): number {
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
  // Runs are mostly of a few lengths, so that what a length gives is worked out once.
  const known = new Map<number, ExpectedRun>();
  let products = 0;
  let squares = 0;
  for (const m of lengths) {
    let run = known.get(m);
    if (run === undefined) known.set(m, (run = expectedRun(m, r1)));
    squares += run.squares;
    for (const product of run.products) products += product;
  }
  return products / squares;
}

interface ExpectedRun {
  readonly squares: number;
  /** Of every two neighbours. */
  readonly products: Float64Array;
}

/** What is expected of m neighbours about their mean, in units of their variance. */
function expectedRun(m: number, r1: number): ExpectedRun {
  // Sums of the rows of the run's correlation matrix: a geometric series to either side.
  const rows = Float64Array.from({ length: m }, (_, i) => (1 + r1 - r1 ** (i + 1) - r1 ** (m - i)) / (1 - r1));
  let all = 0;
  for (const row of rows) all += row;
  const products = Float64Array.from({ length: m - 1 }, (_, i) => r1 - (rows[i]! + rows[i + 1]!) / m + all / (m * m));
  return { squares: m - all / m, products };
}
