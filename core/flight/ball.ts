/** A ball as flight and impact see it: SI units. */
export interface Ball {
  /** kg */
  readonly mass: number;
  /** m */
  readonly radius: number;
  /** kg·m² about any diameter */
  readonly inertia: number;
}

const mass = 0.04593; // kg, the greatest mass the rules allow, 1.620 oz: Equipment Rules, Part 4, section 2
const radius = 0.04267 / 2; // m, from the least diameter the rules allow, 1.680 in: Equipment Rules, Part 4, section 3

/**
 * The ball used where none is named: greatest mass and least size within the rules, a uniform sphere.
 *
 * Measured inertias lie close to the uniform sphere's 8.36e-6 kg·m² (8.363e-6: Proceedings 2020, 49(1), 47, Table 1).
 */
export const standardBall: Ball = { mass, radius, inertia: 0.4 * mass * radius * radius };

/** The area that a ball shows to the air, in m². */
export function crossSection(ball: Ball): number {
  return Math.PI * ball.radius * ball.radius;
}
