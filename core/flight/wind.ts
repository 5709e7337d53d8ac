import type { Vector } from "./vector";

/** Velocity of the air in m/s at a height above the ground in m. It points where the wind blows *to*. */
export type Wind = (height: number) => Vector;

/** No wind. */
export const stillAir: Wind = uniformWind(0, 0);

/** The same wind at every height: m/s downrange (a tail wind is positive) and to the right. */
export function uniformWind(downrange: number, right: number): Wind {
  const velocity: Vector = [right, downrange, 0];
  return () => velocity;
}

/** Wind stated at one height above ground of some roughness. */
export interface WindAtHeight {
  /** m/s, positive for a tail wind. */
  readonly downrange: number;
  /** m/s, positive to the right. */
  readonly right: number;
  /** m, where the wind was measured; above 0. */
  readonly height: number;
  /** m, aerodynamic roughness of the ground; dense grass 0.09 (Naruo & Mizota 2009, Proc. JSME Symp. A-29). */
  readonly roughness: number;
}

/**
 * Wind that grows with the logarithm of the height, none at the ground.
 *
 * w(z) = w(h)·ln(1 + z/z0)/ln(1 + h/z0): the law of the wall with its origin moved so that it holds down to z = 0.
 *
 * @throws {RangeError} when the height or the roughness is not above 0.
 */
export function logarithmicWind(measured: WindAtHeight): Wind {
  const { downrange, right, height, roughness } = measured;
  if (!(height > 0 && roughness > 0)) throw new RangeError(`height ${height} and roughness ${roughness} must be above 0`);
  const whole = Math.log1p(height / roughness);
  return (z) => {
    const share = Math.log1p(Math.max(0, z) / roughness) / whole;
    return [right * share, downrange * share, 0];
  };
}
