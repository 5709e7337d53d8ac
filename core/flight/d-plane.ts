import { add, azimuthOf, cross, directionOf, dot, elevationOf, length, scale } from "./vector";
import type { Vector } from "./vector";

/** How a head arrives at the ball: SI and radians, for a right-hander. */
export interface Delivery {
  /** m/s, of the head just before impact */
  readonly clubSpeed: number;
  /** Vertical direction of the head; positive up. */
  readonly angleOfAttack: number;
  /** Horizontal direction of the head; positive to the right. */
  readonly clubPath: number;
  /** Horizontal direction of the face's normal; positive to the right. */
  readonly faceAngle: number;
  /** Elevation of the face's normal. */
  readonly dynamicLoft: number;
}

/** The unit vector along which the head moves. */
export function pathDirection(delivery: Delivery): Vector {
  return directionOf(delivery.clubPath, delivery.angleOfAttack);
}

/** The unit normal of the face. */
export function faceNormal(delivery: Delivery): Vector {
  return directionOf(delivery.faceAngle, delivery.dynamicLoft);
}

/** The angle between the head's path and the face's normal, in radians, 0..π: what makes spin. */
export function spinLoft(delivery: Delivery): number {
  const v = pathDirection(delivery);
  const n = faceNormal(delivery);
  return Math.atan2(length(cross(v, n)), dot(v, n));
}

/**
 * The direction in which a centred strike starts, for a launch ratio: the share of the way from path to normal.
 *
 * Azimuth and elevation in radians. Measured launch ratios: 0.83 for a driver, 0.81 for a 7-iron, 0.72 for a wedge,
 * each ± 0.05 to 0.08 (Wood, Henrikson & Broadie 2018, Proceedings 2(6):249). Horizontal shares come out a little
 * lower, as the normal's level part is the shorter one.
 */
export function launchDirection(delivery: Delivery, launchRatio: number): { azimuth: number; elevation: number } {
  const loft = spinLoft(delivery);
  const n = faceNormal(delivery);
  if (loft === 0) return { azimuth: azimuthOf(n), elevation: elevationOf(n) };
  const along = add(
    scale(n, Math.sin(launchRatio * loft)),
    scale(pathDirection(delivery), Math.sin((1 - launchRatio) * loft)),
  );
  return { azimuth: azimuthOf(along), elevation: elevationOf(along) };
}

/**
 * The tilt of the spin axis from the horizon after a centred strike, in radians, positive curving right.
 *
 * The axis lies along path × normal, so the tilt is exact; 0 when path and normal agree.
 */
export function tiltFromHorizon(delivery: Delivery): number {
  const axis = cross(pathDirection(delivery), faceNormal(delivery));
  return length(axis) === 0 ? 0 : Math.atan2(-axis[2], Math.hypot(axis[0], axis[1]));
}

/** The tilt about the launch direction, from one about the horizon, for a launch angle; all in radians. */
export function tiltAboutLaunch(fromHorizon: number, launchAngle: number): number {
  return Math.asin(Math.max(-1, Math.min(1, Math.sin(fromHorizon) / Math.cos(launchAngle))));
}

/**
 * The share of the face in the horizontal start direction, the rest being the path's, for a spin loft in radians.
 *
 * A line through three measured means, 0.76 for a driver, 0.69 for a 7-iron, 0.61 for a wedge, taken at spin lofts of
 * 13, 28 and 45 degrees; kept within 0.58 to 0.80.
 * Source of the means: Wood, Henrikson & Broadie 2018, Proceedings 2(6):249; the spin lofts are an assumption.
 */
export function faceShare(loft: number): number {
  const degrees = (loft * 180) / Math.PI;
  return Math.max(0.58, Math.min(0.8, 0.82 - 0.0046 * degrees));
}

/**
 * How far a lie angle that is off by `lieError` turns the face, in radians, positive to the right as face angles are:
 * a head that stands too upright (a positive error) turns it left, a right-hander's.
 */
export function faceTurnOfLie(loft: number, lieError: number): number {
  return -Math.atan(Math.tan(loft) * Math.sin(lieError));
}
