import type { Vector } from "./vector";
import { add, cross, directionOf, levelRightOf, scale } from "./vector";

/** How a ball leaves the club: SI and radians, for a right-hander. */
export interface Launch {
  /** m/s */
  readonly speed: number;
  /** Above the horizon. */
  readonly launchAngle: number;
  /** Positive to the right of the target line. */
  readonly startDirection: number;
  /** rad/s, total */
  readonly spinRate: number;
  /** Tilt of the spin axis about the direction of launch; positive curves right. */
  readonly spinAxis: number;
}

/** True when no value of the launch is missing. */
export function isComplete(launch: Launch): boolean {
  const { speed, launchAngle, startDirection, spinRate, spinAxis } = launch;
  return [speed, launchAngle, startDirection, spinRate, spinAxis].every(Number.isFinite);
}

/** The velocity of a launch, in m/s. */
export function launchVelocity(launch: Launch): Vector {
  return scale(directionOf(launch.startDirection, launch.launchAngle), launch.speed);
}

/**
 * The spin of a launch as a vector, in rad/s.
 *
 * With r̂ level to the right of the launch and n̂ = r̂ × û above it: ω = |ω|·(cos τ·r̂ − sin τ·n̂).
 */
export function spinVector(launch: Launch): Vector {
  const right = levelRightOf(launch.startDirection);
  const above = cross(right, directionOf(launch.startDirection, launch.launchAngle));
  const tilt = launch.spinAxis;
  return scale(add(scale(right, Math.cos(tilt)), scale(above, -Math.sin(tilt))), launch.spinRate);
}
