import { mean, sampleSd, trimmedMean } from "./moments";
import { presentValues } from "./present-values";
import { medianAbsoluteDeviation, quantileOfSorted } from "./quantile";

/** Where the shots of one head lie and how they scatter, in the unit of the values; `NaN` where not determined. */
export interface Description {
  readonly n: number;
  readonly missing: number;
  readonly mean: number;
  readonly sd: number;
  readonly median: number;
  readonly q1: number;
  readonly q3: number;
  readonly mad: number;
  readonly trimmedMean: number;
  readonly min: number;
  readonly max: number;
}

/**
 * The description of one head's shots.
 *
 * @param values n numbers; `NaN` is missing, counted and left out.
 */
export function describeShots(values: Float64Array): Description {
  const sorted = presentValues(values).sort();
  const n = sorted.length;
  return {
    n,
    missing: values.length - n,
    mean: mean(sorted),
    sd: sampleSd(sorted),
    median: quantileOfSorted(sorted, 0.5),
    q1: quantileOfSorted(sorted, 0.25),
    q3: quantileOfSorted(sorted, 0.75),
    mad: medianAbsoluteDeviation(sorted),
    trimmedMean: trimmedMean(sorted),
    min: sorted[0] ?? Number.NaN,
    max: sorted[n - 1] ?? Number.NaN,
  };
}
