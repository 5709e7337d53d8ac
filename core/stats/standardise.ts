import type { ShotData } from "./shot-data";
import type { StrikeSurface } from "./strike-surface";

/** A distribution of strikes at which heads are compared: places in mm with weights that sum to 1. */
export interface StrikeDistribution {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly weight: Float64Array;
}

/**
 * The common strikes: those of all heads together, each head with the same total weight, w = 1/(H n_h) a shot.
 *
 * One entry a shot, in the order of the data. Heads without a shot have no weight.
 *
 * @throws {RangeError} when the data have no strikes.
 */
export function commonStrikes(data: ShotData): StrikeDistribution {
  if (data.strike === null) throw new RangeError("common strikes need strikes");
  const shots = new Int32Array(data.groupCount);
  for (const group of data.group) shots[group]!++;
  const heads = shots.filter((count) => count > 0).length;
  return {
    x: data.strike.x,
    y: data.strike.y,
    weight: Float64Array.from(data.group, (group) => 1 / (heads * shots[group]!)),
  };
}

/**
 * The strikes for which `isKept` holds, with weights that again sum to 1; empty when it holds for none.
 *
 * @param isKept by the place of a strike in the distribution.
 */
export function restrictStrikes(strikes: StrikeDistribution, isKept: (place: number) => boolean): StrikeDistribution {
  const places = Array.from(strikes.x.keys()).filter(isKept);
  const total = places.reduce((so, place) => so + strikes.weight[place]!, 0);
  return {
    x: Float64Array.from(places, (place) => strikes.x[place]!),
    y: Float64Array.from(places, (place) => strikes.y[place]!),
    weight: Float64Array.from(places, (place) => strikes.weight[place]! / total),
  };
}

/**
 * The weights that make of a surface's coefficients the mean that a head would have over the given strikes:
 * μ*_h = Σ w_i f_h(x_i, y_i).
 *
 * The strikes are held fixed: a standard error by these weights is for these strikes. The difference of two heads'
 * weights is their difference at the same strikes.
 *
 * Source: J. Robins, Mathematical Modelling 7 (1986) 1393; P. W. Lane, J. A. Nelder, Biometrics 38 (1982) 613.
 */
export function standardisedWeights(
  surface: Pick<StrikeSurface, "columns" | "weightsAt">,
  group: number,
  strikes: StrikeDistribution,
): Float64Array {
  const weights = new Float64Array(surface.columns.length);
  strikes.weight.forEach((weight, i) => {
    const at = surface.weightsAt(group, strikes.x[i]!, strikes.y[i]!);
    for (let k = 0; k < at.length; k++) weights[k]! += weight * at[k]!;
  });
  return weights;
}

/** Weights `a` less weights `b`, such as those of two heads: the weights of a difference. */
export function subtractWeights(a: Float64Array, b: Float64Array): Float64Array {
  return a.map((weight, i) => weight - b[i]!);
}
