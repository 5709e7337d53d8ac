import { jackknifeAcceleration } from "./block-jackknife";
import { normalCdf, normalQuantile } from "./distributions";
import type { Interval } from "./mean-contrast";
import { sampleSd } from "./moments";
import { quantileOfSorted } from "./quantile";

/** What resampling says of an estimate, in its unit. */
export interface BootstrapInterval {
  /** From the quantiles of the resampled estimates as they are. */
  readonly percentile: Interval;
  /** Corrected for bias and for a standard error that changes with the estimate. */
  readonly bca: Interval;
  /** Φ⁻¹ of the share of resampled estimates below the estimate. */
  readonly bias: number;
  readonly acceleration: number;
  /** The probabilities at which the resampled estimates are read for `bca`. */
  readonly levels: readonly [number, number];
  readonly standardError: number;
}

/** Resamples for an interval. */
export const usualResamples = 10_000;

/** An estimate with what resampling made of it. */
export interface Resampled {
  readonly estimate: number;
  /** The estimate from each resample, in any order, none missing. */
  readonly replicates: ArrayLike<number>;
  /** The estimate without one unit after another. */
  readonly leftOut: readonly number[];
}

/**
 * The percentile and the BCa interval of an estimate whose replicates are there already.
 *
 * Quantiles are of type 7. z₀ = Φ⁻¹(share of replicates below the estimate) and the levels
 * Φ(z₀ + (z₀ + z_α)/(1 − a(z₀ + z_α))).
 *
 * @param confidence 0..1, such as 0.95.
 * @returns `bca` bounds are `NaN` when the estimate is below or above every replicate, so that z₀ is infinite.
 * Source: B. Efron, JASA 82 (1987) 171; A. C. Davison, D. V. Hinkley, Bootstrap Methods and their Application (1997), 5.3.
 */
export function bcaFromReplicates({ estimate, replicates, leftOut }: Resampled, confidence: number): BootstrapInterval {
  const sorted = Float64Array.from(replicates).sort();
  let below = 0;
  while (below < sorted.length && sorted[below]! < estimate) below++;
  const bias = normalQuantile(below / sorted.length);
  const acceleration = jackknifeAcceleration(leftOut);
  const alpha = (1 - confidence) / 2;
  const level = (p: number): number => {
    const shifted = bias + normalQuantile(p);
    return normalCdf(bias + shifted / (1 - acceleration * shifted));
  };
  const levels = [level(alpha), level(1 - alpha)] as const;
  const at = (p: number): number => (Number.isNaN(p) ? Number.NaN : quantileOfSorted(sorted, p));
  const isKnown = Number.isFinite(bias);
  return {
    percentile: { from: at(alpha), to: at(1 - alpha) },
    bca: isKnown ? { from: at(levels[0]), to: at(levels[1]) } : { from: Number.NaN, to: Number.NaN },
    bias,
    acceleration,
    levels,
    standardError: sampleSd(sorted),
  };
}

/**
 * The estimates from resamples of whole units, drawn with replacement.
 *
 * @param units what is drawn: stints, not shots, where shots of one stint are alike; one or more.
 * @param random a seeded source of numbers from 0 to below 1.
 * @returns one estimate a resample.
 */
export function resampledEstimates<T>(
  units: readonly T[],
  estimate: (drawn: readonly T[]) => number,
  random: () => number,
  resamples = usualResamples,
): Float64Array {
  const drawn = [...units];
  return Float64Array.from({ length: resamples }, () => {
    for (let i = 0; i < drawn.length; i++) drawn[i] = units[Math.floor(random() * units.length)]!;
    return estimate(drawn);
  });
}

/**
 * The percentile and the BCa interval of an estimate from units that vary independently, by resampling them.
 *
 * @param units two or more, such as the stints of one head.
 * @param estimate of some units; must not keep the list that it is given.
 * @param random a seeded source of numbers from 0 to below 1: the same one gives the same interval.
 * @example bcaInterval(stints, logSd, 0.95, seededRandom(7)).bca
 */
export function bcaInterval<T>(
  units: readonly T[],
  estimate: (drawn: readonly T[]) => number,
  confidence: number,
  random: () => number,
  resamples = usualResamples,
): BootstrapInterval {
  const replicates = resampledEstimates(units, estimate, random, resamples);
  const leftOut = units.map((_, left) => estimate(units.filter((__, i) => i !== left)));
  return bcaFromReplicates({ estimate: estimate(units), replicates, leftOut }, confidence);
}
