import { fUpperTail } from "./distributions";
import { mean, squaredDeviations, sum } from "./moments";

/** One-way analysis of variance. Sums of squares are in the squared unit of the values. */
export interface OneWayAnalysis {
  readonly sumBetween: number;
  readonly sumWithin: number;
  readonly dfBetween: number;
  readonly dfWithin: number;
  /** The variance within groups, pooled; `NaN` without degrees of freedom. */
  readonly residualVariance: number;
  readonly f: number;
  readonly p: number;
}

/**
 * The variance between and within groups.
 *
 * The first value is subtracted from all before anything is summed, so that a large common part costs no digits.
 *
 * @param groups two or more groups of values, none missing and no group empty.
 * Source: R. A. Fisher, Statistical Methods for Research Workers (1925); certified sets of NIST StRD.
 */
export function oneWayAnalysis(groups: readonly (readonly number[])[]): OneWayAnalysis {
  const origin = groups[0]?.[0] ?? 0;
  const shifted = groups.map((group) => group.map((value) => value - origin));
  const centre = mean(shifted.flat());
  const sumBetween = sum(shifted.map((group) => group.length * (mean(group) - centre) ** 2));
  const sumWithin = sum(shifted.map(squaredDeviations));
  const dfBetween = groups.length - 1;
  const dfWithin = shifted.flat().length - groups.length;
  const residualVariance = dfWithin > 0 ? sumWithin / dfWithin : Number.NaN;
  const f = sumBetween / dfBetween / residualVariance;
  const p = dfBetween > 0 && dfWithin > 0 ? fUpperTail(f, dfBetween, dfWithin) : Number.NaN;
  return { sumBetween, sumWithin, dfBetween, dfWithin, residualVariance, f, p };
}
