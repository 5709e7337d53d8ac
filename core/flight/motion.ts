import type { AerodynamicFit } from "./aerodynamics";
import type { Air } from "./air";
import type { Ball } from "./ball";
import { crossSection } from "./ball";
import type { Vector } from "./vector";
import type { Wind } from "./wind";

/** A ball in flight as the integration keeps it: position (m), velocity (m/s), spin rate (rad/s), seven numbers. */
export type State = Float64Array;

/** Where in a state the height and the vertical speed are. */
export const height = 2;
export const climb = 5;

/** Writes the rate of change of a state into another. */
export type Motion = (state: State, into: State) => void;

/** What the equations of motion need, all of it stated. */
export interface Surroundings {
  readonly air: Air;
  readonly wind: Wind;
  readonly fit: AerodynamicFit;
  readonly ball: Ball;
  /** λ of the spin's decay, a pure number. */
  readonly spinDecay: number;
  /** m/s² */
  readonly gravity: number;
}

const seaLevelDensity = 1.225; // kg/m³, to which the decay constant refers

/**
 * The equations of motion of a ball whose spin axis keeps the direction of the unit vector `spinDirection`.
 *
 * With q the velocity through the air, Q its size, k = ρA/2m and ŝ the spin's direction:
 * dv/dt = −k·Q·C_D·q + k·Q²·C_L·(ŝ × q)/|ŝ × q| − g, d|ω|/dt = −λ·(ρ/1.225)·Q·|ω|/r. A ball without spin, or
 * flying along its spin axis, has no lift.
 */
export function motionOf(spinDirection: Vector, surroundings: Surroundings): Motion {
  const { air, wind, fit, ball, spinDecay, gravity } = surroundings;
  const [sx, sy, sz] = spinDirection;
  const force = (air.density * crossSection(ball)) / (2 * ball.mass);
  const decay = (spinDecay * air.density) / seaLevelDensity / ball.radius;

  return (state, into) => {
    const [wx, wy, wz] = wind(state[height]!);
    const qx = state[3]! - wx;
    const qy = state[4]! - wy;
    const qz = state[5]! - wz;
    const airSpeed = Math.hypot(qx, qy, qz);
    const spin = state[6]!;
    const liftX = sy * qz - sz * qy;
    const liftY = sz * qx - sx * qz;
    const liftZ = sx * qy - sy * qx;
    // Only the spin at right angles to the path lifts: |ŝ × q| is the air speed times that share of the spin.
    const across = Math.hypot(liftX, liftY, liftZ);
    const spinRatio = airSpeed > 0 ? (ball.radius * spin * across) / (airSpeed * airSpeed) : 0;
    const drag = force * airSpeed * fit.drag(spinRatio);
    const lift = spinRatio > 0 ? (force * airSpeed * airSpeed * fit.lift(spinRatio)) / across : 0;
    into[0] = state[3]!;
    into[1] = state[4]!;
    into[2] = state[5]!;
    into[3] = lift * liftX - drag * qx;
    into[4] = lift * liftY - drag * qy;
    into[5] = lift * liftZ - drag * qz - gravity;
    into[6] = -decay * airSpeed * spin;
  };
}

/** The state `dt` seconds later, by one step of the classical Runge-Kutta method of order 4. */
export function step(state: State, dt: number, motion: Motion): State {
  const k1 = rateAt(state, motion);
  const k2 = rateAt(moved(state, k1, dt / 2), motion);
  const k3 = rateAt(moved(state, k2, dt / 2), motion);
  const k4 = rateAt(moved(state, k3, dt), motion);
  return state.map((value, i) => value + (dt / 6) * (k1[i]! + 2 * k2[i]! + 2 * k3[i]! + k4[i]!));
}

/** The time within a step of `dt` at which the falling number `index` of the state passes `level`, by bisection. */
export function crossing(state: State, dt: number, motion: Motion, index: number, level: number): number {
  let low = 0;
  let high = dt;
  while (high - low > 1e-12) {
    const middle = (low + high) / 2;
    if (step(state, middle, motion)[index]! > level) low = middle;
    else high = middle;
  }
  return high;
}

function rateAt(state: State, motion: Motion): State {
  const rate = new Float64Array(state.length);
  motion(state, rate);
  return rate;
}

function moved(state: State, rate: State, dt: number): State {
  return state.map((value, i) => value + dt * rate[i]!);
}
