import type { HeadKind } from "../session/session-facts";
import { mean } from "../stats/moments";
import type { AerodynamicFit } from "./aerodynamics";
import { aerodynamicFits } from "./aerodynamics";
import type { Air } from "./air";
import { centredImpact } from "./centred-impact";
import { simulateFlight } from "./simulate";
import { usualAttack } from "./usual-delivery";

/** The mean strike of two heads together: SI and radians, `NaN` for what is not known. */
export interface MeanStrike {
  readonly spinLoft: number;
  /** How far off the spin loft may be. */
  readonly spinLoftError: number;
  readonly ballSpeed: number;
  readonly launchAngle: number;
  readonly spinRate: number;
  /** m, as recorded. */
  readonly carry: number;
}

/** What a model gives with its usual parameters, and the range over the plausible ones. The range is no confidence interval. */
export interface Modelled {
  readonly usual: number;
  readonly low: number;
  readonly high: number;
}

/** What a change of loft alone does: SI and radians; `NaN` for what the strike does not determine. */
export type LoftChange = Readonly<Record<"ballSpeed" | "launchAngle" | "spinRate" | "carry", Modelled>>;

/** Least, usual and greatest value of a parameter that is not measured. */
type Plausible = readonly [least: number, usual: number, greatest: number];

/** Mass of heads in kg and coefficient of restitution, by kind of head. Common practice, no source. */
const heads: Readonly<Record<HeadKind, { readonly mass: Plausible; readonly restitution: Plausible }>> = {
  iron: { mass: [0.25, 0.27, 0.3], restitution: [0.75, 0.79, 0.83] },
  wedge: { mass: [0.28, 0.3, 0.32], restitution: [0.75, 0.79, 0.83] },
  wood: { mass: [0.19, 0.2, 0.23], restitution: [0.78, 0.82, 0.845] },
};

/**
 * Tangential restitution: 0 is a ball that rolls off; 0.3 gives 177 rpm for each mph and sin(spin loft), the most that is
 * usual. Common practice, no source.
 */
const tangentialRestitution: Plausible = [0, 0.15, 0.3];

/**
 * What `difference` more loft at impact would do to the mean strike of two heads that are alike in all else.
 *
 * Half of the difference goes to either side of the mean strike. Rigid heads struck in line with their centre of mass, the
 * same speed and direction of the head, mass and restitution the same for both and over the range of lofts. The model
 * gives ratios of ball speed and spin and a difference of launch angles; these are laid on the measured means, so that
 * errors that both lofts share cancel. Carry is the recorded mean times the ratio of simulated carries, straight ahead in
 * still air. The range covers every combination of least and greatest mass, restitution, tangential restitution and spin
 * loft, and both fits of the flight; the usual value has the default fit.
 *
 * @param difference radians, positive for more loft.
 * @param kinds kinds of the two heads: where they differ, the range covers both and the usual values are the first's.
 * @returns `NaN` throughout where half the difference would take the spin loft to 0 or to 90°.
 * Source: the impact as in Penner 2001, Am. J. Phys. 69:563.
 */
export function loftChange(strike: MeanStrike, difference: number, kinds: readonly HeadKind[], air: Air): LoftChange {
  const all = kinds.map((kind) => heads[kind]);
  const usual = all.map((head) => ({ headMass: head.mass[1], restitution: head.restitution[1] })).at(0)!;
  const extremes = [
    [Math.min(...all.map((head) => head.mass[0])), Math.max(...all.map((head) => head.mass[2]))],
    [Math.min(...all.map((head) => head.restitution[0])), Math.max(...all.map((head) => head.restitution[2]))],
    [tangentialRestitution[0], tangentialRestitution[2]],
    [strike.spinLoft - strike.spinLoftError, strike.spinLoft + strike.spinLoftError],
  ];
  const corners = combinations(extremes).map(([headMass, restitution, spring, spinLoft]): Parameters => ({
    headMass: headMass!,
    restitution: restitution!,
    tangentialRestitution: spring!,
    spinLoft: spinLoft!,
  }));
  const central: Parameters = { ...usual, tangentialRestitution: tangentialRestitution[1], spinLoft: strike.spinLoft };
  const carryWith: CarryWith = (launch) => aerodynamicFits.map((fit) => carryOf(launch, fit, air));
  const meanCarries = Number.isNaN(strike.carry) ? [] : carryWith(strike);
  const [byDefault, ...others] = [central, ...corners].map((parameters) => changeWith(parameters, strike, difference, meanCarries, carryWith));
  const range = (name: keyof Change): Modelled => {
    const values = [byDefault!, ...others].flatMap((change) => change[name]);
    return { usual: byDefault![name][0]!, low: Math.min(...values), high: Math.max(...values) };
  };
  return { ballSpeed: range("ballSpeed"), launchAngle: range("launchAngle"), spinRate: range("spinRate"), carry: range("carry") };
}

interface Parameters {
  readonly headMass: number;
  readonly restitution: number;
  readonly tangentialRestitution: number;
  readonly spinLoft: number;
}

/** The changes with one set of parameters; those of the carry by each fit, the default first. */
type Change = Readonly<Record<keyof LoftChange, readonly number[]>>;

type MeanLaunch = Pick<MeanStrike, "ballSpeed" | "launchAngle" | "spinRate">;
type CarryWith = (launch: MeanLaunch) => readonly number[];

function carryOf({ ballSpeed, launchAngle, spinRate }: MeanLaunch, fit: AerodynamicFit, air: Air): number {
  return simulateFlight({ speed: ballSpeed, launchAngle, startDirection: 0, spinRate, spinAxis: 0 }, { air, fit }).carry;
}

function changeWith({ spinLoft, ...parameters }: Parameters, strike: MeanStrike, difference: number, meanCarries: readonly number[], carryWith: CarryWith): Change {
  const mean = struck(spinLoft, parameters);
  const [more, less] = [difference / 2, -difference / 2].map((half) => struck(spinLoft + half, parameters));
  const launchWith = (one: Struck): MeanLaunch => ({
    ballSpeed: (strike.ballSpeed * one.ballSpeed) / mean.ballSpeed,
    launchAngle: strike.launchAngle + one.launchAngle - mean.launchAngle,
    spinRate: (strike.spinRate * one.spinRate) / mean.spinRate,
  });
  const [higher, lower] = [launchWith(more!), launchWith(less!)];
  const [carriesHigher, carriesLower] = meanCarries.length === 0 ? [[], []] : [carryWith(higher), carryWith(lower)];
  const carries = meanCarries.map((carry, fit) => (strike.carry * (carriesHigher[fit]! - carriesLower[fit]!)) / carry);
  return {
    ballSpeed: [higher.ballSpeed - lower.ballSpeed],
    // The model's angles alone, so that the change is known where no launch angle was read.
    launchAngle: [more!.launchAngle - less!.launchAngle],
    spinRate: [higher.spinRate - lower.spinRate],
    carry: carries.length === 0 ? [Number.NaN] : carries,
  };
}

interface Struck {
  /** For each unit of club speed. */
  readonly ballSpeed: number;
  /** Above the head's path. */
  readonly launchAngle: number;
  readonly spinRate: number;
}

/** What the model gives at a spin loft above 0 and below 90°; `NaN` at any other. */
function struck(spinLoft: number, parameters: Omit<Parameters, "spinLoft">): Struck {
  if (!(spinLoft > 0 && spinLoft < Math.PI / 2)) return { ballSpeed: Number.NaN, launchAngle: Number.NaN, spinRate: Number.NaN };
  const { ballSpeed, angleFromNormal, spinRate } = centredImpact({ clubSpeed: 1, spinLoft, ...parameters });
  return { ballSpeed, launchAngle: spinLoft - angleFromNormal, spinRate };
}

/** One value of each list, in all ways. */
function combinations(lists: readonly (readonly number[])[]): readonly (readonly number[])[] {
  return lists.reduce<readonly (readonly number[])[]>((all, list) => all.flatMap((head) => list.map((value) => [...head, value])), [[]]);
}

/** The spin loft of a mean strike in radians, how far off it may be, and how it was found. */
export interface FoundSpinLoft {
  readonly spinLoft: number;
  readonly error: number;
  readonly from: "dynamic loft" | "launch and angle of attack" | "launch alone";
}

const degree = Math.PI / 180;
const launchRatio = 0.8; // share of the spin loft above the path at which a ball starts; 0.81 ± 0.05 for a 7-iron
const measuredError = 1.5 * degree; // the usual reading error of a dynamic loft; common practice, no source
const estimatedError = 3 * degree; // common practice, no source
const guessedError = 5 * degree; // common practice, no source

/** What is known of a mean strike's delivery and launch: radians, `NaN` for what is not. */
export interface MeanAngles {
  readonly dynamicLoft: number;
  readonly angleOfAttack: number;
  readonly launchAngle: number;
}

/**
 * The spin loft: dynamic loft less angle of attack, else (launch − angle of attack)/0.80, with a usual angle of attack where
 * none is known; `null` where the launch angle is not known either.
 *
 * @param kinds kinds of the heads, for the usual angle of attack; the mean of several.
 * Source of the launch ratio: Wood, Henrikson & Broadie 2018, Proceedings 2(6):249; the rest is common practice.
 */
export function findSpinLoft({ dynamicLoft, angleOfAttack, launchAngle }: MeanAngles, kinds: readonly HeadKind[]): FoundSpinLoft | null {
  if (!Number.isNaN(dynamicLoft + angleOfAttack)) return { spinLoft: dynamicLoft - angleOfAttack, error: measuredError, from: "dynamic loft" };
  if (!Number.isNaN(launchAngle + angleOfAttack)) return { spinLoft: (launchAngle - angleOfAttack) / launchRatio, error: estimatedError, from: "launch and angle of attack" };
  if (Number.isNaN(launchAngle)) return null;
  return { spinLoft: (launchAngle - mean(kinds.map((kind) => usualAttack[kind]))) / launchRatio, error: guessedError, from: "launch alone" };
}
