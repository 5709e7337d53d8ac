import type { Ball } from "./ball";
import { standardBall } from "./ball";

/** A strike in line with the head's centre of mass: SI and radians. */
export interface CentredStrike {
  /** m/s */
  readonly clubSpeed: number;
  readonly spinLoft: number;
  /** kg */
  readonly headMass: number;
  /** Coefficient of restitution at this speed, 0..1. */
  readonly restitution: number;
  /** Coefficient of restitution along the face: 0 rolling when it leaves (the default), above 0 sprung back. */
  readonly tangentialRestitution?: number;
  readonly ball?: Ball;
}

/** What a centred strike gives: SI and radians. */
export interface CentredResult {
  /** m/s */
  readonly ballSpeed: number;
  /** Ball speed divided by club speed. */
  readonly speedRatio: number;
  /** Angle between the face's normal and the ball's direction, towards the path. */
  readonly angleFromNormal: number;
  /** rad/s */
  readonly spinRate: number;
  /** The least friction coefficient at which the ball does not slide any more when it leaves. */
  readonly frictionNeeded: number;
}

/**
 * Ball speed, direction and spin of a strike in line with the head's centre of mass, in closed form.
 *
 * The ball rolls on the face when it leaves, or springs back along it where `tangentialRestitution` says so: no sliding,
 * a rigid head free in space.
 * Source: Penner 2001, Am. J. Phys. 69:563, for the rolling ball; the spring as in Cross & Nathan 2007, Am. J. Phys. 75:658.
 * @example centredImpact({ clubSpeed: 44.704, spinLoft: 0.1745, headMass: 0.2, restitution: 0.7323 }).speedRatio // 1.388
 */
export function centredImpact(strike: CentredStrike): CentredResult {
  const { clubSpeed, headMass, restitution, tangentialRestitution = 0, ball = standardBall } = strike;
  const ballShare = ball.mass / headMass;
  const shape = ball.inertia / (ball.mass * ball.radius * ball.radius);
  const normal = ((1 + restitution) * clubSpeed * Math.cos(strike.spinLoft)) / (1 + ballShare);
  const tangential = ((1 + tangentialRestitution) * clubSpeed * Math.sin(strike.spinLoft)) / (1 + ballShare + 1 / shape);
  const ballSpeed = Math.hypot(normal, tangential);
  return {
    ballSpeed,
    speedRatio: ballSpeed / clubSpeed,
    angleFromNormal: Math.atan2(tangential, normal),
    spinRate: tangential / (shape * ball.radius),
    frictionNeeded: tangential / normal,
  };
}

/**
 * Coefficient of restitution of a ball on a rigid face, for a normal impact speed in m/s.
 *
 * A line for a ball and a driver face of the 1990s; good for about 20 to 50 m/s.
 * Source: Penner 2001, Am. J. Phys. 69:563.
 */
export function usualRestitution(normalSpeed: number): number {
  return 0.86 - 0.0029 * normalSpeed;
}

const heaviestHead = 0.31; // kg, a heavy wedge; common practice, no source
const greatestRestitution = 0.845; // above the 0.830 of the cannon test, since irons are struck slower than it is run

/**
 * The greatest speed ratio that any head can give at a spin loft in radians.
 *
 * A recorded ratio above it says that a speed was misread. For woods, whose heads are lighter, `headMass` 0.21 kg
 * gives a closer bound.
 */
export function greatestSpeedRatio(loft: number, headMass = heaviestHead): number {
  const strike = { clubSpeed: 1, spinLoft: loft, headMass, restitution: greatestRestitution };
  return centredImpact(strike).speedRatio;
}

/** The mass in kg that a head shows to an impulse passing `offset` m beside its centre of mass; inertia in kg·m². */
export function effectiveMass(headMass: number, offset: number, inertia: number): number {
  return 1 / (1 / headMass + (offset * offset) / inertia);
}
