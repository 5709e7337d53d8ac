import type { AerodynamicFit } from "./aerodynamics";
import { leastLaunchSpeed, naruoFit } from "./aerodynamics";
import type { Air } from "./air";
import { standardAirs } from "./air";
import type { Ball } from "./ball";
import { standardBall } from "./ball";
import type { Launch } from "./launch";
import { isComplete, launchVelocity, spinVector } from "./launch";
import type { State } from "./motion";
import { climb, emptyState, height, motionOf, stepsOf, stepToCrossing } from "./motion";
import type { Vector } from "./vector";
import type { Wind } from "./wind";
import { stillAir } from "./wind";

/** What surrounds a flight; everything left out has the default named. */
export interface FlightConditions {
  /** Standard air at sea level. */
  readonly air?: Air;
  /** Still air. */
  readonly wind?: Wind;
  /** `naruoFit`. */
  readonly fit?: AerodynamicFit;
  /** `standardBall`. */
  readonly ball?: Ball;
  /** m above the place of launch where the ball lands; 0. */
  readonly landingHeight?: number;
  /** λ of the spin's decay, a pure number; 2.0e-5. */
  readonly spinDecay?: number;
  /** m/s²; standard gravity. */
  readonly gravity?: number;
  /** s; 0.01. */
  readonly timeStep?: number;
  /** Called with the state at launch, after every step, and at landing. */
  readonly onState?: (state: FlightState) => void;
}

/** The ball at one moment of its flight. */
export interface FlightState {
  /** s since launch */
  readonly time: number;
  /** m from the place of launch */
  readonly position: Vector;
  /** m/s over the ground */
  readonly velocity: Vector;
  /** rad/s */
  readonly spinRate: number;
}

/** A simulated flight: SI and radians. Every number is `NaN` unless the ball landed. */
export interface Flight {
  /** Level distance from launch to landing. */
  readonly carry: number;
  /** The part of the carry along the target line. */
  readonly downrange: number;
  /** Landing place beside the target line, positive to the right. */
  readonly offline: number;
  /** Greatest height above the place of launch. */
  readonly peakHeight: number;
  readonly flightTime: number;
  /** Angle of the path below the horizon at landing. */
  readonly descentAngle: number;
  readonly landingSpeed: number;
  readonly landingSpin: number;
  /** False when a launch value is missing, or the ball did not come down to the landing height within a minute. */
  readonly landed: boolean;
  /** False when the launch is slower than any fit was measured for. */
  readonly supported: boolean;
}

/** Standard gravity, m/s². */
export const standardGravity = 9.80665; // CGPM 1901
const usualSpinDecay = 2.0e-5; // Smits & Smith 1994, as equation 16 of Penner 2001, Am. J. Phys. 69:563
const longestFlight = 60; // s, far beyond any flight

/**
 * The flight of a ball from launch to landing, by integrating its path.
 *
 * Point mass under gravity, drag, and lift at right angles to spin and path; the spin axis keeps its direction and the
 * spin dies down. Fixed-step Runge-Kutta of order 4; apex and landing are found inside their step by repeating it
 * shorter. Steps of 0.01 s agree with ten times finer ones within 1e-6 m.
 * Not included: buoyancy (0.1 % of the weight), and what happens below `leastLaunchSpeed`, where no fit was measured.
 * Balls differ: 13 models launched alike carried within 18 m of one another (Lyu, Kensrud, Smith & Tosaya 2018,
 * Proceedings 2(6):238), so a carry is good to about 4 % without the ball's identity; a ratio of two is far better.
 *
 * Source: equations as in Penner 2001, Am. J. Phys. 69:563; coefficients from the fit.
 * @example simulateFlight({ speed: 58.1152, launchAngle: 0.2967, startDirection: 0, spinRate: 649.26, spinAxis: 0 }).carry // 167.18
 */
export function simulateFlight(launch: Launch, conditions: FlightConditions = {}): Flight {
  const supported = launch.speed >= leastLaunchSpeed;
  if (!isComplete(launch)) return { ...notLanded, supported };
  const { timeStep = 0.01, landingHeight = 0, onState } = conditions;
  const motion = motionOf(spinVector({ ...launch, spinRate: 1 }), {
    air: conditions.air ?? standardAirs["sea level"],
    wind: conditions.wind ?? stillAir,
    fit: conditions.fit ?? naruoFit,
    ball: conditions.ball ?? standardBall,
    spinDecay: conditions.spinDecay ?? usualSpinDecay,
    gravity: conditions.gravity ?? standardGravity,
  });
  const step = stepsOf(motion);

  let state: State = Float64Array.of(0, 0, 0, ...launchVelocity(launch), launch.spinRate);
  let next = emptyState();
  const found = emptyState();
  let peakHeight = 0;
  onState?.(stateAt(state, 0));
  for (let steps = 0; steps * timeStep < longestFlight; steps++) {
    step(state, timeStep, next);
    let apexTime = 0;
    if (state[climb]! > 0 && next[climb]! <= 0) {
      apexTime = stepToCrossing(step, state, { index: climb, level: 0, after: 0, before: timeStep }, found);
      peakHeight = Math.max(peakHeight, found[height]!);
    }
    if (next[climb]! < 0 && next[height]! <= landingHeight) {
      // A ball that turned below the landing height does not come down to it any more.
      if (Math.max(peakHeight, state[height]!) < landingHeight) break;
      const place = { index: height, level: landingHeight, after: apexTime, before: timeStep };
      const rest = stepToCrossing(step, state, place, found);
      const landing = stateAt(found, steps * timeStep + rest);
      onState?.(landing);
      return { ...landedAt(landing, peakHeight), supported };
    }
    [state, next] = [next, state];
    onState?.(stateAt(state, (steps + 1) * timeStep));
  }
  return { ...notLanded, supported };
}

const notLanded = {
  carry: Number.NaN,
  downrange: Number.NaN,
  offline: Number.NaN,
  peakHeight: Number.NaN,
  flightTime: Number.NaN,
  descentAngle: Number.NaN,
  landingSpeed: Number.NaN,
  landingSpin: Number.NaN,
  landed: false,
} as const;

function stateAt(state: State, time: number): FlightState {
  return {
    time,
    position: [state[0]!, state[1]!, state[2]!],
    velocity: [state[3]!, state[4]!, state[5]!],
    spinRate: state[6]!,
  };
}

function landedAt(landing: FlightState, peakHeight: number): Omit<Flight, "supported"> {
  const [offline, downrange] = landing.position;
  const [vx, vy, vz] = landing.velocity;
  const levelSpeed = Math.hypot(vx, vy);
  return {
    carry: Math.hypot(offline, downrange),
    downrange,
    offline,
    peakHeight,
    flightTime: landing.time,
    descentAngle: Math.atan2(-vz, levelSpeed),
    landingSpeed: Math.hypot(levelSpeed, vz),
    landingSpin: landing.spinRate,
    landed: true,
  };
}
