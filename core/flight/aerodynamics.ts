import type { Air } from "./air";
import type { Ball } from "./ball";

/**
 * A published fit of the forces on a flying ball: coefficients as functions of the spin ratio S, and of the speed
 * through the air in m/s, which the fits here leave out.
 *
 * S is the speed of the ball's surface from the spin at right angles to the flight, divided by the speed through
 * the air. Forces are ½·density·area·speed² times the coefficient.
 */
export interface AerodynamicFit {
  readonly name: string;
  readonly source: string;
  /** Drag coefficient at spin ratio S ≥ 0. */
  readonly drag: (spinRatio: number, airSpeed: number) => number;
  /** Lift coefficient at spin ratio S ≥ 0. */
  readonly lift: (spinRatio: number, airSpeed: number) => number;
}

/** Launch speeds below this, in m/s, are outside every fit: lift may even reverse there (Lyu, Kensrud & Smith 2020). */
export const leastLaunchSpeed = 30;

const greatestMeasuredRatio = 1.13; // S, the end of Naruo's measurements
const leastMeasuredRatio = 0.03; // S, their beginning

/**
 * The default fit: wind-tunnel forces on a 432-dimple ball.
 *
 * Measured for S 0.03 to 1.13 and Reynolds numbers 0.7e5 to 1.25e5, where one curve served; the authors checked it on
 * robot shots of 75 to 260 m. Above S 1.13 the coefficients of 1.13 are held. Below 0.03 the constant of the lift is
 * let down in proportion, so that a ball without spin has no lift.
 * Source: Naruo, Mizota & Shimozono 2004, Trans. JSME B 70(697):2371–2377, equations 12 and 13.
 */
export const naruoFit: AerodynamicFit = {
  name: "Naruo, Mizota & Shimozono 2004",
  source: "Trans. JSME B 70(697):2371–2377, equations 12 and 13",
  drag: (spinRatio) => {
    const S = Math.min(spinRatio, greatestMeasuredRatio);
    return (((0.751 * S - 1.76) * S + 1.098) * S + 0.2148) * S + 0.2049;
  },
  lift: (spinRatio) => {
    const S = Math.min(spinRatio, greatestMeasuredRatio);
    const constant = 0.0616 * Math.min(1, S / leastMeasuredRatio);
    return (((-0.2158 * S + 1.006) * S - 1.644) * S + 1.25) * S + constant;
  },
};

const greatestDragRatio = 0.9287 / (2 * 0.8259); // S at which Ferguson's parabola of drag is greatest, 0.5622

/**
 * The second opinion: forces identified from 1040 measured flights.
 *
 * Launch S 0.02 to 0.75; error of carry on flights kept apart 2.5 m. Past its maximum (S 0.562) the parabola of drag is
 * held there, and lift is never below 0. Differences to the default fit are the model's uncertainty.
 * Source: Ferguson, McNally & McPhee 2022, The Engineering of Sport 14, doi:10.5703/1288284317493.
 */
export const fergusonFit: AerodynamicFit = {
  name: "Ferguson, McNally & McPhee 2022",
  source: "The Engineering of Sport 14, doi:10.5703/1288284317493",
  drag: (spinRatio) => {
    const S = Math.min(spinRatio, greatestDragRatio);
    return 0.1304 + (0.9287 - 0.8259 * S) * S;
  },
  lift: (spinRatio) => Math.max(0, 0.0504 + (1.2031 - 1.149 * spinRatio) * spinRatio),
};

/** The fits to run side by side, the default first. */
export const aerodynamicFits: readonly AerodynamicFit[] = [naruoFit, fergusonFit];

/** The Reynolds number of a ball at a speed through the air in m/s, a pure number. */
export function reynoldsNumber(speed: number, air: Air, ball: Ball): number {
  return (air.density * speed * 2 * ball.radius) / air.viscosity;
}
