import { fitPairs, shotsOf } from "./fit-sets";
import type { LinearFit } from "./linear-fit";
import { linearRegression } from "./linear-regression";
import { meanModel } from "./mean-model";
import type { PairShots } from "./comparison";
import type { Comparison, PairEstimate, StrikeAdjustment } from "./pair-estimate";
import { pairShots } from "./pair-shots";
import type { SessionDifferences } from "./session-differences";
import { differencesBySession } from "./session-differences";
import type { ShotData } from "./shot-data";
import type { StrikeDistribution } from "./standardise";
import { commonStrikes, standardisedWeights } from "./standardise";
import { contrastOf } from "./stint-model";
import { withFamily } from "./stint-means-model";
import type { StrikeOverlap } from "./strike-overlap";
import { strikeOverlap } from "./strike-overlap";
import type { ChosenForm, StrikeSurface, SurfaceForm } from "./strike-surface";
import { chooseForm, strikeSurface } from "./strike-surface";
import type { TwoFits } from "./two-fits";
import { bendsOf, fitTwice } from "./two-fits";

/** Shots of each head with a known strike below which nothing is taken to the same strikes. Common practice, no source. */
export const leastForSameStrikes = 12;

/** The strike surfaces of some shots. */
interface SurfaceFit {
  readonly chosen: ChosenForm;
  readonly overlap: StrikeOverlap;
  /** `null` where the heads were not hit in the same places. */
  readonly fits: TwoFits | null;
  /** For each group the weights of its mean over the common strikes. */
  readonly means: readonly Float64Array[];
  readonly bends: boolean;
  /** For each form that the shots determine the same means by least squares. */
  readonly others: readonly Standardised[];
}

/** Means over the common strikes by one form of the surface. */
interface Standardised {
  readonly fit: LinearFit;
  readonly means: readonly Float64Array[];
}

/**
 * All pairs at the same strikes: what the heads would have done had all been hit in the same places, those of all of them
 * together.
 *
 * The mean model with a strike surface is fitted like the model as struck, by the block model with a cluster-robust
 * check, and each head's surface averaged over the common strikes. Before any number the heads must have been hit in the
 * same places; a pair for which they were not, or with too few shots, has none.
 *
 * @param data shots whose hitting order and whose strikes are known.
 * @param familySize groups that are compared at once: a group without strikes still counts among them, so that losing
 *   strikes never narrows the intervals of the others.
 */
export function compareAtSameStrikes(data: ShotData, familySize = data.groupCount): Comparison {
  const shots = pairShots(data, true);
  const isEnough = ({ n, nAgainst }: { n: number; nAgainst: number }): boolean => Math.min(n, nAgainst) >= leastForSameStrikes;
  const fitted = fitPairs(data, shots, fitSurface);
  const pairs = shots.map((pair, i): Omit<PairEstimate, "familySize"> => {
    const nothing = { difference: Number.NaN, standardError: Number.NaN, df: Number.NaN };
    const common = { ...pair, strikes: "same" as const, ...nothing, check: null, isUneven: false, bySession: null, adjustment: null };
    const found = fitted[i]!;
    if (found === null || !isEnough(pair)) return common;
    const { fit, of, against } = found;
    const adjustment = adjustmentOf(fit, of, against);
    if (fit.fits === null) return { ...common, adjustment };
    const weights = difference(fit.means, of, against);
    const { model, check, isUneven } = fit.fits;
    return { ...common, ...contrastOf(model, weights), check: check === null ? null : contrastOf(check, weights), isUneven, bySession: bySession(data, pair, fit), adjustment };
  });
  return { pairs: withFamily(pairs, familySize), allAlike: null, trend: null, bends: fitted.some((each) => each !== null && each.fit.bends) };
}

/** `null` where a group has too few shots for the others to be fitted with it, or the shots determine no surface. */
function fitSurface(data: ShotData): SurfaceFit | null {
  const counts = Array.from({ length: data.groupCount }, (_, group) => data.group.filter((each) => each === group).length);
  if (counts.some((count) => count < leastForSameStrikes)) return null;
  const overlap = strikeOverlap(data, commonStrikes(data));
  const chosen = chooseForm(data);
  if (overlap.state === "refused") {
    // Two of several heads may well have been hit in the same places: they are then looked at alone.
    return data.groupCount > 2 ? null : { chosen, overlap, fits: null, means: [], bends: false, others: [] };
  }
  const bends = bendsOf(meanModel(data), data);
  const surface = strikeSurface(data, chosen.form);
  const fits = fitTwice({ ...surface, columns: [...surface.columns, ...bends] }, data);
  if (fits === null) return null;
  const others = comparedForms(chosen.form).flatMap((form) => standardisedBy(data, form, bends, overlap.strikes) ?? []);
  return { chosen, overlap, fits, means: meansOf(surface, bends.length, overlap.strikes), bends: bends.length > 0, others };
}

/** By the form of the surface that all were fitted with, over the same common strikes. */
function bySession(data: ShotData, pair: PairShots, { chosen, overlap }: SurfaceFit): SessionDifferences | null {
  if (pair.sessions.length < 2) return null;
  const own = shotsOf(data, [pair.against, pair.of], pair.sessions);
  const surface = strikeSurface(own, chosen.form);
  const bends = bendsOf(meanModel(own), own);
  const means = meansOf(surface, bends.length, overlap.strikes);
  return differencesBySession({ ...surface, columns: [...surface.columns, ...bends] }, own, difference(means, 1, 0));
}

/** The forms among which a difference must not depend on the choice: those that the shots may bear, and the next one. */
function comparedForms(chosen: SurfaceForm): readonly SurfaceForm[] {
  return chosen === "shared" ? ["additive", "shared", "reduced"] : ["additive", "reduced", "full"];
}

function standardisedBy(data: ShotData, form: SurfaceForm, bends: readonly Float64Array[], strikes: StrikeDistribution): Standardised | null {
  const surface = strikeSurface(data, form);
  const fit = linearRegression([...surface.columns, ...bends], data.value);
  return fit === null ? null : { fit, means: meansOf(surface, bends.length, strikes) };
}

/** For each group the weights of its mean over the strikes, with as many zeros behind as there are bends. */
function meansOf(surface: StrikeSurface, bends: number, strikes: StrikeDistribution): readonly Float64Array[] {
  return Array.from({ length: surface.groupCount }, (_, group) => {
    const weights = new Float64Array(surface.columns.length + bends);
    weights.set(standardisedWeights(surface, group, strikes));
    return weights;
  });
}

function difference(means: readonly Float64Array[], of: number, against: number): Float64Array {
  return means[of]!.map((weight, i) => weight - means[against]![i]!);
}

function adjustmentOf(fit: SurfaceFit, of: number, against: number): StrikeAdjustment {
  const differences = fit.others.map((other) => other.fit.contrast(difference(other.means, of, against)).difference);
  const apart = fit.overlap.differences.find((pair) => pair.of === of && pair.against === against);
  return {
    form: fit.chosen.form,
    because: fit.chosen.because,
    overlap: fit.overlap.state,
    kept: fit.overlap.kept,
    shots: fit.overlap.shots,
    across: apart?.x ?? Number.NaN,
    up: apart?.y ?? Number.NaN,
    forms: differences.length === 0 ? { from: Number.NaN, to: Number.NaN } : { from: Math.min(...differences), to: Math.max(...differences) },
  };
}
