import { fitBlockModel } from "./block-model";
import { fitClusterRobust } from "./cluster-robust";
import type { LinearFit } from "./linear-fit";
import { linearRegression } from "./linear-regression";
import { dot } from "./matrix";
import type { ShotData } from "./shot-data";
import { commonStrikes } from "./standardise";
import { stintMeans } from "./stints";
import type { StrikeOverlap } from "./strike-overlap";
import { strikeOverlap, strikeSupport } from "./strike-overlap";
import { lossWeights } from "./strike-losses";
import type { ChosenForm, StrikeSurface } from "./strike-surface";
import { chooseForm, strikeSurface } from "./strike-surface";
import { turnsIn } from "./time-share";

/** Shots of a head, and turns to it, below which nothing is said of how forgiving it is. Common practice, no source. */
export const leastForLosses = { shots: 20, turns: 4 };

/** Shots of a head below which it has no part in any surface. Common practice, no source. */
const leastInSurface = 5;

/** Probability of a head's next strike within the ellipse in which losses are told. Common practice, no source. */
export const supportProbability = 0.9;

/** How often a head was hit. */
export interface HeadShots {
  readonly shots: number;
  readonly stints: number;
  /** Stints with nothing but a break between them count once. */
  readonly turns: number;
}

/** The strike surface that losses are read from. */
export interface LossModel {
  /** Heads in the surface, by their numbers in the data given, in order; a head's place here is its number in `data`. */
  readonly heads: readonly number[];
  /** The shots of these heads. */
  readonly data: ShotData;
  /** True when every head in it has the shots for a verdict; false when all are there only to be described. */
  readonly isForVerdicts: boolean;
  readonly form: ChosenForm;
  readonly surface: StrikeSurface;
  /** Least squares, with cluster-robust standard errors where stints can be told from heads. */
  readonly fit: LinearFit;
  /** False when `fit` knows nothing of stints, so that its standard errors count for nothing. */
  readonly hasErrors: boolean;
  /** The block model of the same columns, which checks differences; `null` where `fit` has no errors. */
  readonly check: LinearFit | null;
  readonly overlap: StrikeOverlap;
}

/** For each head how often it was hit. Where the order is not known, every shot counts as a stint and a turn. */
export function headShots(data: ShotData, orderKnown: boolean): readonly HeadShots[] {
  const stints = stintMeans(data);
  return Array.from({ length: data.groupCount }, (_, group) => {
    const own = stints.filter((stint) => stint.group === group);
    const shots = own.reduce((total, stint) => total + stint.n, 0);
    return orderKnown ? { shots, stints: own.length, turns: turnsIn(own) } : { shots, stints: shots, turns: shots };
  });
}

/**
 * The strike surface of the heads that have 20 shots and were turned to 4 times; of all heads with 5 shots where none has.
 *
 * A head with few shots is left out, since the others would have to share their fall-off with it.
 *
 * @param data shots with strikes.
 * @returns `null` where the shots determine no surface.
 */
export function fitLossModel(data: ShotData, counts: readonly HeadShots[]): LossModel | null {
  const withLeast = (shots: number, turns: number): number[] =>
    [...counts.keys()].filter((head) => counts[head]!.shots >= shots && counts[head]!.turns >= turns);
  const enough = withLeast(leastForLosses.shots, leastForLosses.turns);
  const isForVerdicts = enough.length > 0;
  const heads = isForVerdicts ? enough : withLeast(leastInSurface, 1);
  if (heads.length === 0) return null;
  const own = onlyHeads(data, heads);
  const form = chooseForm(own);
  const surface = strikeSurface(own, form.form);
  const robust = fitClusterRobust(surface);
  const fit = robust ?? linearRegression(surface.columns, surface.value);
  if (fit === null || own.value.length <= surface.columns.length) return null;
  const overlap = strikeOverlap(own, commonStrikes(own));
  return { heads, data: own, isForVerdicts, form, surface, fit, hasErrors: robust !== null, check: robust === null ? null : fitBlockModel(surface), overlap };
}

/**
 * Where a head in the model was hit, so that its loss is told there: 3 of its shots within 6 mm, or inside the ellipse that
 * holds its next strike with 90 %. Nowhere when its centre was not hit.
 */
export function toldAt(model: LossModel, head: number): (x: number, y: number) => boolean {
  const isHit = strikeSupport(model.data, model.heads.indexOf(head), supportProbability);
  return isHit(0, 0) ? isHit : () => false;
}

/** What a head in the model is expected to lose at x, y in mm against its own centre; in the unit of the values. */
export function lossAt(model: LossModel, head: number, x: number, y: number): number {
  return dot(lossWeights(model.surface, model.heads.indexOf(head), x, y), model.fit.coefficients);
}

/** The shots of some heads, these numbered anew in the order given. */
function onlyHeads(data: ShotData, heads: readonly number[]): ShotData {
  const kept = (_: number, i: number): boolean => heads.includes(data.group[i]!);
  return {
    groupCount: heads.length,
    group: data.group.filter(kept).map((group) => heads.indexOf(group)),
    session: data.session.filter(kept),
    stint: data.stint.filter(kept),
    time: data.time.filter(kept),
    value: data.value.filter(kept),
    strike: data.strike === null ? null : { x: data.strike.x.filter(kept), y: data.strike.y.filter(kept) },
  };
}
