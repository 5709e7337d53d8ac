import { standardBall } from "./ball";
import type { Flight } from "./simulate";
import { standardGravity } from "./simulate";

/** How a ball comes down, which is what a simulated flight says of its end: m/s, radians below the horizon, rad/s. */
export type Landing = Pick<Flight, "landingSpeed" | "descentAngle" | "landingSpin">;

/** Ground on which a ball bounces and rolls, as a study found it on its own ground. */
export interface Turf {
  readonly source: string;
  /**
   * Angle, in radians, by which the dent that the ball makes is tilted towards where it comes from, for a speed in m/s
   * and an angle of impact in radians above the ground.
   */
  readonly tilt: (speed: number, angle: number) => number;
  /** Rebound speed as a share of the speed of impact, in m/s, both at right angles to the tilted ground. */
  readonly restitution: (impactSpeed: number) => number;
  /** Coefficient of friction while the ball slides. */
  readonly friction: number;
  /** Resistance to rolling, as a share of the weight. */
  readonly rolling: number;
}

const degree = Math.PI / 180;
const slowGreenRolling = 0.131; // Penner 2002, a slow green; put under Biber's bounce too, whose study didn't roll balls

const biber = "Biber, Jones, Champneys, Green & Szalai 2023, Sports Eng. 26:50, fits with one tilt for all bounces";

/** The grounds on which a run can be given, by the label that must be shown beside it. */
export const turfs = {
  "natural turf": {
    source: biber,
    tilt: () => 18.4 * degree,
    restitution: () => 0.147,
    friction: 0.998,
    rolling: slowGreenRolling,
  },
  "artificial turf": {
    source: biber,
    tilt: () => 12.9 * degree,
    restitution: () => 0.42,
    friction: 0.852,
    rolling: slowGreenRolling,
  },
  "slow green": {
    source: "Penner 2002, Can. J. Phys. 80:931",
    tilt: (speed, angle) => 15.4 * degree * (speed / 18.6) * (angle / (44.4 * degree)),
    restitution: pennerRestitution,
    friction: 0.4,
    rolling: slowGreenRolling,
  },
} as const satisfies Record<string, Turf>;

/** Restitution on a green for a speed of impact in m/s at right angles to the ground. Source: Penner 2002. */
function pennerRestitution(impactSpeed: number): number {
  return impactSpeed <= 20 ? 0.51 - 0.0375 * impactSpeed + 0.000_903 * impactSpeed * impactSpeed : 0.12;
}

const leastRebound = 0.3; // m/s upwards, below which the ball counts as rolling; a hop of 5 mm

/**
 * How far a ball runs after its landing, in m along the direction in which it lands; negative when it comes back.
 *
 * It bounces as a rigid ball on rigid ground tilted towards it: sliding while friction can't stop the slip, otherwise
 * rolling off. Hops have no drag; when the rebound is slower than 0.3 m/s the ball rolls to a stop on level ground.
 * All the spin counts as backspin, which it is within 2 % for axes tilted by up to 10°.
 * For full shots, which come down at 30 to 55°; steeper ones are beyond what the studies filmed. Good for comparing shots
 * on one turf at best: turfs differ by a factor of two and more for a mid-iron, and the authors warn that no simple
 * model covers all bounces. Never show a run without the name of its turf.
 *
 * @returns `NaN` where the landing isn't known.
 * Source: of the bounce, Penner 2002, Can. J. Phys. 80:931, which Biber et al. 2023 write the same way; of the numbers,
 * the turf's.
 * @example runAfterLanding(simulateFlight(launch), turfs["natural turf"])
 */
export function runAfterLanding(landing: Landing, turf: Turf): number {
  let moving: Moving = {
    forward: landing.landingSpeed * Math.cos(landing.descentAngle),
    up: -landing.landingSpeed * Math.sin(landing.descentAngle),
    backspin: landing.landingSpin * standardBall.radius,
  };
  let run = 0;
  for (;;) {
    moving = bounced(moving, turf);
    // Written so that an unknown speed ends it as well.
    if (!(moving.up >= leastRebound)) break;
    run += (moving.forward * 2 * moving.up) / standardGravity;
    moving = { ...moving, up: -moving.up };
  }
  const slowing = (5 / 7) * turf.rolling * standardGravity;
  return run + (Math.sign(moving.forward) * moving.forward ** 2) / (2 * slowing);
}

/** Speeds of a ball in the vertical plane of its path, m/s; the backspin as speed of the surface. */
interface Moving {
  readonly forward: number;
  readonly up: number;
  readonly backspin: number;
}

/** A ball after one impact, for one before it. */
function bounced({ forward, up, backspin }: Moving, turf: Turf): Moving {
  // Looked at from the side on which it flies to the right: a ball on its way back dents the ground the other way.
  const way = forward < 0 ? -1 : 1;
  const tilt = turf.tilt(Math.hypot(forward, up), Math.atan2(-up, way * forward));
  const [sine, cosine] = [Math.sin(tilt), Math.cos(tilt)];
  const along = way * forward * cosine + up * sine;
  const into = way * forward * sine - up * cosine;
  const spin = way * backspin;

  const restitution = turf.restitution(into);
  const slip = along + spin;
  // A uniform sphere stops slipping when friction has taken 2/7 of the slip from its speed and 5/7 from its spin.
  const greatest = turf.friction * (1 + restitution) * into;
  const taken = Math.sign(slip) * Math.min((2 / 7) * Math.abs(slip), greatest);
  const alongAfter = along - taken;
  const away = restitution * into;
  return {
    forward: way * (alongAfter * cosine - away * sine),
    up: alongAfter * sine + away * cosine,
    backspin: way * (spin - 2.5 * taken),
  };
}
