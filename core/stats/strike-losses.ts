import type { LinearFit } from "./linear-fit";
import { fiellerRatio } from "./fieller";
import type { Interval, MeanContrast } from "./mean-contrast";
import { tQuantile } from "./distributions";
import type { StrikeDistribution } from "./standardise";
import { standardisedWeights, subtractWeights } from "./standardise";
import type { StrikeSurface } from "./strike-surface";

/** A surface as far as losses need it. */
type Surface = Pick<StrikeSurface, "columns" | "weightsAt">;

/** Coefficient of variation of the level at the centre above which the delta method is not used for a retention. */
const mostVariation = 0.1;

/** The weights of a head's level at its own centre, f_h(0, 0). */
export function centreWeights(surface: Surface, group: number): Float64Array {
  return surface.weightsAt(group, 0, 0);
}

/** The weights of a head's loss at a place, ℓ_h(x, y) = f_h(0, 0) − f_h(x, y), x and y in mm. */
export function lossWeights(surface: Surface, group: number, x: number, y: number): Float64Array {
  return subtractWeights(centreWeights(surface, group), surface.weightsAt(group, x, y));
}

/** The weights of a head's expected loss over some strikes, Λ_h = f_h(0, 0) − Σ w_i f_h(x_i, y_i). */
export function expectedLossWeights(surface: Surface, group: number, strikes: StrikeDistribution): Float64Array {
  return subtractWeights(centreWeights(surface, group), standardisedWeights(surface, group, strikes));
}

/** What is left of a head's level at its centre, as a share; 1 is all of it. */
export interface Retention {
  readonly share: number;
  readonly interval: Interval;
}

/**
 * The share of its level at the centre that a head keeps: (f_h(0, 0) − loss)/f_h(0, 0).
 *
 * The interval is by the delta method on the logarithm; by Fieller's where the level at the centre is known to no
 * better than 10 %.
 *
 * @param centre weights of the level at the centre; `loss` weights of the loss.
 * @returns `NaN` where the level at the centre is not above 0, since a share of it means nothing then.
 */
export function retention(fit: LinearFit, centre: Float64Array, loss: Float64Array, confidence: number): Retention {
  const nothing = { share: Number.NaN, interval: { from: Number.NaN, to: Number.NaN } };
  const kept = subtractWeights(centre, loss);
  const [whole, part] = [fit.contrast(centre), fit.contrast(kept)];
  const share = part.difference / whole.difference;
  if (!(whole.difference > 0) || !Number.isFinite(share)) return nothing;
  if (whole.standardError / whole.difference > mostVariation || share <= 0) {
    const lost = fit.contrast(loss);
    return { share, interval: fiellerInterval(part, whole, lost, confidence) };
  }
  // The logarithm's derivative is linear in the coefficients, so that its variance is that of one contrast.
  const log = fit.contrast(kept.map((weight, i) => weight / part.difference - centre[i]! / whole.difference));
  const reach = log.df > 0 ? tQuantile((1 + confidence) / 2, log.df) * log.standardError : Number.NaN;
  return { share, interval: { from: share * Math.exp(-reach), to: share * Math.exp(reach) } };
}

function fiellerInterval(part: MeanContrast, whole: MeanContrast, lost: MeanContrast, confidence: number): Interval {
  const [numeratorVariance, denominatorVariance] = [part.standardError ** 2, whole.standardError ** 2];
  const df = Math.min(part.df, whole.df);
  if (!(df > 0)) return { from: Number.NaN, to: Number.NaN };
  const estimates = {
    numerator: part.difference,
    denominator: whole.difference,
    numeratorVariance,
    denominatorVariance,
    // Var(whole − part) = Var(whole) + Var(part) − 2 Cov.
    covariance: (numeratorVariance + denominatorVariance - lost.standardError ** 2) / 2,
  };
  return fiellerRatio(estimates, tQuantile((1 + confidence) / 2, df)).interval;
}
