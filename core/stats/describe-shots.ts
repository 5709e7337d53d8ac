import { tQuantile } from "./distributions";
import { leastShots } from "./judge-pair";
import type { Interval } from "./mean-contrast";
import { meanOfStints } from "./mean-of-stints";
import { mean, sampleSd, trimmedMean } from "./moments";
import { presentValues } from "./present-values";
import { medianAbsoluteDeviation, quantileOfSorted } from "./quantile";

/** Where the shots of one head lie and how they scatter, in the unit of the values; `NaN` where not determined. */
export interface Description {
  readonly n: number;
  readonly missing: number;
  readonly mean: number;
  /** Of the mean; `NaN` both for fewer than 5 values, a single stint, or values without scatter. */
  readonly interval: Interval;
  readonly sd: number;
  readonly median: number;
  readonly q1: number;
  readonly q3: number;
  readonly mad: number;
  readonly trimmedMean: number;
  readonly min: number;
  readonly max: number;
  /** Stints with a value; `NaN` when the order is not known. */
  readonly stints: number;
}

/**
 * The description of one head's shots.
 *
 * @param values n numbers; `NaN` is missing, counted and left out.
 * @param stints for each value what tells its stint apart; `null` when the hitting order is not known, and then the
 *   interval is that of independent shots, s/√n, which is likely too narrow.
 * @param confidence of the interval of the mean, 0..1.
 */
export function describeShots(values: Float64Array, stints: readonly string[] | null, confidence: number): Description {
  const sorted = presentValues(values).sort();
  const n = sorted.length;
  const means = stints === null ? null : meansByStint(values, stints);
  const none = { from: Number.NaN, to: Number.NaN };
  const interval = means === null ? independentMean(sorted, confidence) : meanOfStints(means, confidence);
  return {
    n,
    missing: values.length - n,
    mean: mean(sorted),
    interval: n < leastShots ? none : interval,
    sd: sampleSd(sorted),
    median: quantileOfSorted(sorted, 0.5),
    q1: quantileOfSorted(sorted, 0.25),
    q3: quantileOfSorted(sorted, 0.75),
    mad: medianAbsoluteDeviation(sorted),
    trimmedMean: trimmedMean(sorted),
    min: sorted[0] ?? Number.NaN,
    max: sorted[n - 1] ?? Number.NaN,
    stints: means === null ? Number.NaN : means.length,
  };
}

function meansByStint(values: Float64Array, stints: readonly string[]): readonly { n: number; mean: number }[] {
  const byStint = new Map<string, number[]>();
  values.forEach((value, i) => {
    if (Number.isNaN(value)) return;
    const known = byStint.get(stints[i]!);
    if (known === undefined) byStint.set(stints[i]!, [value]);
    else known.push(value);
  });
  return [...byStint.values()].map((own) => ({ n: own.length, mean: mean(own) }));
}

function independentMean(values: Float64Array, confidence: number): Interval {
  if (values.length < 2) return { from: Number.NaN, to: Number.NaN };
  const sd = sampleSd(values);
  if (sd === 0) return { from: Number.NaN, to: Number.NaN };
  const reach = tQuantile((1 + confidence) / 2, values.length - 1) * (sd / Math.sqrt(values.length));
  return { from: mean(values) - reach, to: mean(values) + reach };
}
