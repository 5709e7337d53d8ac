import type { ShotColumn } from "../table/shot-columns";
import type { Unit } from "../units";
import { convert } from "../units";
import { aerodynamicFits, leastLaunchSpeed } from "./aerodynamics";
import type { Air } from "./air";
import type { Turf } from "./bounce";
import { runAfterLanding } from "./bounce";
import type { Launch } from "./launch";
import { isComplete } from "./launch";
import type { Flight } from "./simulate";
import { simulateFlight } from "./simulate";
import type { Wind } from "./wind";

/**
 * Why a launch has no modelled flight: a part of it is missing, no shot starts like that, it is slower than either fit was
 * measured for, or the ball does not leave the ground.
 */
export type WithoutFlight = "incomplete" | "impossible" | "slow" | "grounded";

/** A part of a launch that a person can state: its SI unit, and its bounds in a unit that people use. */
interface LaunchPart {
  readonly coherent: Unit;
  readonly unit: Unit;
  readonly low: number;
  readonly high: number;
}

/** The parts of a launch by shot column, with the bounds beyond which no shot starts. Common practice, no source. */
export const launchParts = {
  ball_speed: { coherent: "m/s", unit: "m/s", low: 5, high: 105 },
  launch_angle: { coherent: "rad", unit: "deg", low: -5, high: 70 },
  spin_rate: { coherent: "rad/s", unit: "rpm", low: 0, high: 14_000 },
  start_direction: { coherent: "rad", unit: "deg", low: -45, high: 45 },
  spin_axis: { coherent: "rad", unit: "deg", low: -90, high: 90 },
} as const satisfies Partial<Record<ShotColumn, LaunchPart>>;

/** A part of a launch, by the name of its shot column. */
export type LaunchColumn = keyof typeof launchParts;

/** The columns without which no flight can be modelled. */
export const neededForLaunch = ["ball_speed", "launch_angle", "spin_rate"] as const satisfies readonly LaunchColumn[];

/** True for a value of a part of a launch, SI, that a shot can start with. */
export function isPossible(part: LaunchColumn, value: number): boolean {
  const { coherent, unit, low, high } = launchParts[part];
  const shown = convert(value, coherent, unit);
  return shown >= low - rounding && shown <= high + rounding;
}

const rounding = 1e-9; // of a bound that was stated in another unit

/** The flight of one launch by both fits. */
export interface ModelledFlight {
  /** By the default fit. */
  readonly flight: Flight;
  /** How far the carry by the second fit is from it, m, never negative: the model's own uncertainty, the ball's left out. */
  readonly carrySpread: number;
  /** m after landing; `NaN` where no turf is given. */
  readonly run: number;
  /** How far the run by the second fit's landing is from it, with its carry, m. */
  readonly totalSpread: number;
}

/** What surrounds a modelled flight. */
export interface FlightSurroundings {
  readonly air: Air;
  readonly wind: Wind;
  readonly turf: Turf | null;
}

/** The flight of a launch, or why there is none. */
export function modelFlight(launch: Launch, { air, wind, turf }: FlightSurroundings): ModelledFlight | WithoutFlight {
  const without = whyWithoutFlight(launch);
  if (without !== null) return without;
  const [flight, second] = aerodynamicFits.map((fit) => simulateFlight(launch, { air, wind, fit })) as [Flight, Flight];
  if (!flight.landed || !second.landed) return "impossible";
  if (flight.peakHeight === 0 || second.peakHeight === 0) return "grounded";
  const [run, secondRun] = [flight, second].map((each) => (turf === null ? Number.NaN : runAfterLanding(each, turf))) as [number, number];
  return {
    flight,
    carrySpread: Math.abs(second.carry - flight.carry),
    run,
    totalSpread: Math.abs(second.carry + secondRun - flight.carry - run),
  };
}

/** Why a launch has no modelled flight, as far as the launch itself tells; `null` when it may have one. */
export function whyWithoutFlight(launch: Launch): WithoutFlight | null {
  if (!isComplete(launch)) return "incomplete";
  const values: Record<LaunchColumn, number> = { ball_speed: launch.speed, launch_angle: launch.launchAngle, start_direction: launch.startDirection, spin_rate: launch.spinRate, spin_axis: launch.spinAxis };
  if ((Object.keys(values) as LaunchColumn[]).some((part) => !isPossible(part, values[part]))) return "impossible";
  return launch.speed < leastLaunchSpeed ? "slow" : null;
}
