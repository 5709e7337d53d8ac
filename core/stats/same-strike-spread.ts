import { linearRegression } from "./linear-regression";
import { squaredDeviations } from "./moments";
import type { ShotData } from "./shot-data";
import type { StrikeDistribution } from "./standardise";
import { commonStrikes } from "./standardise";
import { strikeOverlap } from "./strike-overlap";
import type { StrikeSurface } from "./strike-surface";
import { chooseForm, strikeSurface } from "./strike-surface";

/** The scatter that each group would have had on the same strikes: a description, without an interval. */
export interface SameStrikeSpread {
  /** For each group √(Var_S f_h + σ_h²), in the unit of the values. */
  readonly sd: readonly number[];
  /** Shots whose strikes are the common ones, of `shots`. */
  readonly kept: number;
  readonly shots: number;
}

/**
 * The standard deviation of each group over the strikes that all have in common: what its strike surface varies over
 * them, and its own scatter about the surface.
 *
 * σ_h² is the group's residual sum of squares by its share of the degrees of freedom, n_h (1 − p/N).
 *
 * @param data with strikes, every group with a shot.
 * @returns `null` when the groups were not hit in the same places, or when the shots do not determine the surface.
 */
export function sameStrikeSpread(data: ShotData): SameStrikeSpread | null {
  const overlap = strikeOverlap(data, commonStrikes(data));
  if (overlap.state === "refused") return null;
  const surface = strikeSurface(data, chooseForm(data).form);
  const fit = linearRegression(surface.columns, data.value);
  if (fit === null || !(fit.residualDf > 0)) return null;
  const sd = Array.from({ length: data.groupCount }, (_, group) => {
    const residuals = fit.residuals.filter((__, i) => data.group[i] === group);
    const own = squaredDeviations(residuals) / (residuals.length * (fit.residualDf / data.value.length));
    return Math.sqrt(varianceOver(surface, fit.coefficients, group, overlap.strikes) + own);
  });
  return sd.some(Number.isNaN) ? null : { sd, kept: overlap.kept, shots: overlap.shots };
}

function varianceOver(surface: StrikeSurface, coefficients: Float64Array, group: number, strikes: StrikeDistribution): number {
  const heights = strikes.x.map((x, i) => surface.weightsAt(group, x, strikes.y[i]!).reduce((total, weight, k) => total + weight * coefficients[k]!, 0));
  const mean = heights.reduce((total, height, i) => total + strikes.weight[i]! * height, 0);
  return heights.reduce((total, height, i) => total + strikes.weight[i]! * (height - mean) ** 2, 0);
}
