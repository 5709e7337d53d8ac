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

const stateSize = 7;

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
    const moving = wind(state[height]!);
    const qx = state[3]! - moving[0];
    const qy = state[4]! - moving[1];
    const qz = state[5]! - moving[2];
    const airSpeed = Math.sqrt(qx * qx + qy * qy + qz * qz);
    const spin = state[6]!;
    const liftX = sy * qz - sz * qy;
    const liftY = sz * qx - sx * qz;
    const liftZ = sx * qy - sy * qx;
    // Only the spin at right angles to the path lifts: |ŝ × q| is the air speed times that share of the spin.
    const across = Math.sqrt(liftX * liftX + liftY * liftY + liftZ * liftZ);
    const spinRatio = airSpeed > 0 ? (ball.radius * spin * across) / (airSpeed * airSpeed) : 0;
    const drag = force * airSpeed * fit.drag(spinRatio, airSpeed);
    const lift = spinRatio > 0 ? (force * airSpeed * airSpeed * fit.lift(spinRatio, airSpeed)) / across : 0;
    into[0] = state[3]!;
    into[1] = state[4]!;
    into[2] = state[5]!;
    into[3] = lift * liftX - drag * qx;
    into[4] = lift * liftY - drag * qy;
    into[5] = lift * liftZ - drag * qz - gravity;
    into[6] = -decay * airSpeed * spin;
  };
}

/** Writes the state `dt` seconds after `state` into `into`, which may be the same. */
export type Step = (state: State, dt: number, into: State) => void;

/**
 * Steps of the classical Runge-Kutta method of order 4.
 *
 * The buffers in between are made once and belong to the steps returned: thousands of steps a flight allocate nothing.
 */
export function stepsOf(motion: Motion): Step {
  const [k1, k2, k3, k4, moved] = [emptyState(), emptyState(), emptyState(), emptyState(), emptyState()];
  return (state, dt, into) => {
    motion(state, k1);
    move(state, k1, dt / 2, moved);
    motion(moved, k2);
    move(state, k2, dt / 2, moved);
    motion(moved, k3);
    move(state, k3, dt, moved);
    motion(moved, k4);
    for (let i = 0; i < stateSize; i++) into[i] = state[i]! + (dt / 6) * (k1[i]! + 2 * k2[i]! + 2 * k3[i]! + k4[i]!);
  };
}

/** A state with nothing in it yet, to be written into. */
export function emptyState(): State {
  return new Float64Array(stateSize);
}

function move(state: State, rate: State, dt: number, into: State): void {
  for (let i = 0; i < stateSize; i++) into[i] = state[i]! + dt * rate[i]!;
}

/** Where in a step to look for a falling number, and at which level it is found. */
interface Crossing {
  /** Place of the number in the state. */
  readonly index: number;
  readonly level: number;
  /** s after the state: there the number is not yet below the level, … */
  readonly after: number;
  /** … and there it is. */
  readonly before: number;
}

/**
 * The time after `state`, in s, at which a falling number passes a level, by bisection of one step.
 *
 * @param into takes the state at that time; not `state` itself.
 */
export function stepToCrossing(step: Step, state: State, { index, level, after, before }: Crossing, into: State): number {
  let low = after;
  let high = before;
  while (high - low > 1e-12) {
    const middle = (low + high) / 2;
    step(state, middle, into);
    if (into[index]! > level) low = middle;
    else high = middle;
  }
  step(state, high, into);
  return high;
}
