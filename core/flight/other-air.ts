import { aerodynamicFits } from "./aerodynamics";
import type { Air } from "./air";
import type { Launch } from "./launch";
import type { Flight } from "./simulate";
import { simulateFlight } from "./simulate";

/**
 * What other air does to the flight of one launch: ratios of other to first air, pure numbers, by the default fit.
 *
 * Every number is `NaN` where the launch is not complete, or the simulated ball has no flight to compare.
 */
export interface AirChange {
  readonly carryRatio: number;
  readonly peakRatio: number;
  /** Of the curve, which is what `curveOf` says; 1 where the simulated ball doesn't curve. */
  readonly curveRatio: number;
  readonly timeRatio: number;
  /** Of the descent angle, other less first air, in radians. */
  readonly descentDifference: number;
  readonly landingSpeedRatio: number;
  /** How far the second fit is from the default one, never negative: the model's uncertainty. */
  readonly spread: {
    readonly carryRatio: number;
    readonly peakRatio: number;
    readonly descentDifference: number;
  };
}

const leastCurve = 1e-6; // m, below which a simulated curve is rounding alone

/**
 * How the flight of a launch changes from one air to another.
 *
 * The same launch is simulated in both airs. A recorded value is moved to the other air by its ratio, an angle by the
 * difference: the ratio depends far less on ball and fit than a simulated value does. Moving a value there and back
 * gives it again, since the change back is exactly the reciprocal, or the negative.
 * Only density matters to the two fits. A warmer ball leaves the club faster too; that is in the measured launch and
 * not moved. Launches slower than `leastLaunchSpeed` are outside both fits.
 *
 * @param from the air in which the shot was hit.
 * @param to the air it is to be moved to.
 */
export function airChange(launch: Launch, from: Air, to: Air): AirChange {
  const [byDefault, bySecond] = aerodynamicFits.map((fit) =>
    changeBetween(launch, simulateFlight(launch, { air: from, fit }), simulateFlight(launch, { air: to, fit })),
  );
  const spread = (name: "carryRatio" | "peakRatio" | "descentDifference"): number => Math.abs(bySecond![name] - byDefault![name]);
  return {
    ...byDefault!,
    spread: {
      carryRatio: spread("carryRatio"),
      peakRatio: spread("peakRatio"),
      descentDifference: spread("descentDifference"),
    },
  };
}

/**
 * How far a shot ended to the right of the line it started on, in the unit of carry: offline − carry·sin(start).
 *
 * @param startDirection radians, positive to the right of the target line.
 */
export function curveOf(carry: number, offline: number, startDirection: number): number {
  return offline - carry * Math.sin(startDirection);
}

function changeBetween(launch: Launch, from: Flight, to: Flight): Omit<AirChange, "spread"> {
  return {
    carryRatio: to.carry / from.carry,
    peakRatio: to.peakHeight / from.peakHeight,
    curveRatio: ratioOfCurves(
      curveOf(from.carry, from.offline, launch.startDirection),
      curveOf(to.carry, to.offline, launch.startDirection),
    ),
    timeRatio: to.flightTime / from.flightTime,
    descentDifference: to.descentAngle - from.descentAngle,
    landingSpeedRatio: to.landingSpeed / from.landingSpeed,
  };
}

/** Judged by the smaller of the two, so that the ratio back is the reciprocal. */
function ratioOfCurves(from: number, to: number): number {
  return Math.min(Math.abs(from), Math.abs(to)) < leastCurve ? 1 : to / from;
}
