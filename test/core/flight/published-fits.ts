import type { AerodynamicFit } from "../../../core/flight/aerodynamics";
import { reynoldsNumber } from "../../../core/flight/aerodynamics";
import type { Air } from "../../../core/flight/air";
import { standardBall } from "../../../core/flight/ball";
import { rpm } from "./golf-units";

// Published forms that the product does not use. They check the integrator and the two fits it does use: trajectories
// of each were computed by an independent implementation. Each says where it holds; outside it is only a formula.

/** The air of the reference trajectories: 1.225 kg/m³, and the viscosity they were computed with. */
export const referenceAir: Air = { density: 1.225, viscosity: 1.789e-5 };

/** Quintavalla 2002 in its linear form, of use up to S about 0.3. */
export const quintavallaFit: AerodynamicFit = {
  name: "Quintavalla 2002",
  source: "Science and Golf IV",
  drag: (S) => 0.171 + 0.62 * S,
  lift: (S) => 0.083 + 0.885 * S,
};

/** Smits & Smith 1994: drivers, Re 0.7e5 to 2.1e5, S 0.08 to 0.20. Below Re 0.7e5 the drag of 0.7e5 is held. */
export function smitsFit(air: Air): AerodynamicFit {
  return {
    name: "Smits & Smith 1994",
    source: "Science and Golf II, 340–347",
    drag: (S, airSpeed) => {
      const Re = Math.max(7e4, reynoldsNumber(airSpeed, air, standardBall));
      return 0.24 + 0.18 * S + 0.06 * Math.sin((Math.PI * (Re - 9e4)) / 2e5);
    },
    lift: (S) => 0.54 * S ** 0.4,
  };
}

/**
 * Lyu, Kensrud, Smith & Tosaya 2018: one of their 13 balls, S up to about 0.32, drag without regard to spin.
 * Past its maximum (S 0.306) the parabola of lift is held there, which is how the reference carries of irons come out.
 */
export function lyuFit(air: Air): AerodynamicFit {
  return {
    name: "Lyu, Kensrud, Smith & Tosaya 2018",
    source: "Proceedings 2(6):238, doi:10.3390/proceedings2060238",
    drag: (_, airSpeed) => {
      const Re = reynoldsNumber(airSpeed, air, standardBall);
      return Re < lyuMeeting ? 1.29e-10 * Re * Re - 2.59e-5 * Re + 1.5 : 1.91e-11 * Re * Re - 5.4e-6 * Re + 0.56;
    },
    lift: (S) => {
      const held = Math.min(S, 1.99 / (2 * 3.25));
      return (1.99 - 3.25 * held) * held;
    },
  };
}

/** Re at which the two branches of Lyu's drag meet. */
export const lyuMeeting = 81_207;

/**
 * The example of US patent 6,186,002: S 0.04 to 0.22, Re 0.81e5 to 2.0e5, its coefficients for Re in units of 1e5.
 * Its square of S is held from S 0.24 on, which is how the reference trajectory that goes past 0.22 comes out.
 */
export function indoorRangeFit(air: Air): AerodynamicFit {
  const reynolds = (airSpeed: number): number => reynoldsNumber(airSpeed, air, standardBall) / 1e5;
  const held = (S: number): number => Math.min(S, 0.24);
  return {
    name: "Indoor range example",
    source: "US patent 6,186,002, Lieberman, Smits, Quintavalla, Thomas & Winfield 2001",
    drag: (S, airSpeed) => 0.2028 + (2.8466 * held(S) - 0.2159) * held(S) + 0.0165 * reynolds(airSpeed),
    lift: (S, airSpeed) => 0.086 + (0.6463 + 1.4789 * held(S)) * held(S) - 0.0122 / reynolds(airSpeed) ** 2,
  };
}

const bearmanSpeeds = [13.7, 21.6, 29.9, 38.4, 46.9, 55.2, 63.1, 71.9, 80.2, 88.1]; // m/s
const bearmanSpins = [2000, 2800, 4000, 5000, 6000]; // rpm
const bearmanDrag = [
  [0.363, 0.288, 0.275, 0.255, 0.247, 0.247, 0.247, 0.247, 0.247, 0.247],
  [0.416, 0.356, 0.31, 0.274, 0.263, 0.257, 0.254, 0.2534, 0.2524, 0.2524],
  [0.428, 0.4, 0.347, 0.309, 0.284, 0.271, 0.267, 0.263, 0.2605, 0.2605],
  [0.481, 0.43, 0.374, 0.335, 0.306, 0.287, 0.275, 0.271, 0.2673, 0.2673],
  [0.515, 0.441, 0.386, 0.352, 0.329, 0.306, 0.288, 0.279, 0.274, 0.274],
];
const bearmanLift = [
  [0.1, 0.185, 0.245, 0.2, 0.173, 0.153, 0.142, 0.136, 0.128, 0.128],
  [0.342, 0.319, 0.293, 0.237, 0.203, 0.179, 0.165, 0.1539, 0.1444, 0.1436],
  [0.4, 0.364, 0.335, 0.286, 0.2387, 0.215, 0.197, 0.1807, 0.169, 0.1582],
  [0.413, 0.391, 0.35, 0.312, 0.2693, 0.241, 0.226, 0.2031, 0.1895, 0.1791],
  [0.465, 0.423, 0.372, 0.339, 0.3, 0.266, 0.25, 0.2254, 0.21, 0.2],
];

/**
 * Bearman & Harvey 1976, a ball with hexagonal dimples: their figures 7 and 8 as a table of speed and spin, bilinear in
 * between and held at its edges (2000 and 6000 rpm), so that a wedge's spin counts as 6000 rpm. For sea level air.
 */
export const bearmanFit: AerodynamicFit = {
  name: "Bearman & Harvey 1976",
  source: "Aeronautical Quarterly 27(2):112–122, figures 7 and 8",
  drag: (S, airSpeed) => inTable(bearmanDrag, airSpeed, spinOf(S, airSpeed)),
  lift: (S, airSpeed) => inTable(bearmanLift, airSpeed, spinOf(S, airSpeed)),
};

/** The spin in rpm that makes a spin ratio at a speed. */
function spinOf(S: number, airSpeed: number): number {
  return (S * airSpeed) / standardBall.radius / rpm;
}

function inTable(table: readonly (readonly number[])[], speed: number, spin: number): number {
  const [row, down] = between(bearmanSpins, spin);
  const [column, along] = between(bearmanSpeeds, speed);
  const at = (r: number): number => table[r]![column]! * (1 - along) + table[r]![column + 1]! * along;
  return at(row) * (1 - down) + at(row + 1) * down;
}

/** The interval of rising numbers in which a value lies, and how far along it, 0 to 1. */
function between(edges: readonly number[], value: number): readonly [interval: number, share: number] {
  const held = Math.min(Math.max(value, edges[0]!), edges.at(-1)!);
  const interval = Math.min(edges.findLastIndex((edge) => edge <= held), edges.length - 2);
  return [interval, (held - edges[interval]!) / (edges[interval + 1]! - edges[interval]!)];
}
