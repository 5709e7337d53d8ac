import type { Air } from "../flight/air";
import type { Launch } from "../flight/launch";
import { simulateFlight } from "../flight/simulate";
import type { Wind } from "../flight/wind";
import { quantile } from "../stats/quantile";

/** A place of a ball in flight, m: along the target line, to the right of it, and above the ground. */
export interface PathPoint {
  readonly distance: number;
  readonly offline: number;
  readonly height: number;
}

/** Seconds between the points of a path; the flight itself is as exact as with shorter steps. */
const timeStep = 0.05;

/** The path of a launch by the default fit, from the ball's place to where it lands; empty for a ball that does not fly. */
export function pathOf(launch: Launch, air: Air, wind: Wind): readonly PathPoint[] {
  const points: PathPoint[] = [];
  const flight = simulateFlight(launch, { air, wind, timeStep, onState: ({ position: [offline, distance, height] }) => points.push({ offline, distance, height }) });
  if (!flight.landed || flight.peakHeight === 0) return [];
  // The landing is found to within rounding, which may be just below the ground.
  return points.map((point) => ({ ...point, height: Math.max(0, point.height) }));
}

/** Between which values most flights are at one distance, m. */
export interface BandPoint {
  readonly distance: number;
  readonly low: number;
  readonly high: number;
}

/** Share of the flights that a band holds at each distance. */
export const bandShare = 0.8;

const steps = 80;

/**
 * The heights between which the middle 80 % of the flights are, distance by distance; a ball that has landed counts as on
 * the ground, so that the band ends where all but a tenth have come down.
 */
export function heightBand(paths: readonly (readonly PathPoint[])[]): readonly BandPoint[] {
  const band = distancesOf(paths).map((distance) => pointAt(distance, paths.map((path) => at(path, distance)?.height ?? 0)));
  const last = band.findLastIndex(({ high }) => high > 0);
  return band.slice(0, last + 2);
}

/**
 * The sides between which the middle 80 % of the flights are, distance by distance up to where half have come down; a ball
 * that has landed counts where it landed.
 */
export function offlineBand(paths: readonly (readonly PathPoint[])[]): readonly BandPoint[] {
  const half = quantile(paths.map((path) => path.at(-1)!.distance), 0.5);
  return distancesOf(paths)
    .filter((distance) => distance <= half)
    .map((distance) => pointAt(distance, paths.map((path) => (at(path, distance) ?? path.at(-1)!).offline)));
}

function pointAt(distance: number, values: readonly number[]): BandPoint {
  return { distance, low: quantile(values, (1 - bandShare) / 2), high: quantile(values, (1 + bandShare) / 2) };
}

function distancesOf(paths: readonly (readonly PathPoint[])[]): readonly number[] {
  const farthest = Math.max(0, ...paths.map((path) => path.at(-1)?.distance ?? 0));
  return Array.from({ length: steps + 1 }, (_, i) => (farthest * i) / steps);
}

/** A path's place at a distance, on its way out; `null` where it does not get so far. */
function at(path: readonly PathPoint[], distance: number): PathPoint | null {
  const after = path.findIndex((point) => point.distance >= distance);
  if (after < 0) return null;
  const [from, to] = [path[Math.max(0, after - 1)]!, path[after]!];
  const share = to.distance === from.distance ? 1 : (distance - from.distance) / (to.distance - from.distance);
  const between = (of: "offline" | "height"): number => from[of] + share * (to[of] - from[of]);
  return { distance, offline: between("offline"), height: between("height") };
}
