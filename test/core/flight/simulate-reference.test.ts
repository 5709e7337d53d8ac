import { expect, test } from "vitest";
import type { AerodynamicFit } from "../../../core/flight/aerodynamics";
import { fergusonFit, naruoFit } from "../../../core/flight/aerodynamics";
import { standardBall } from "../../../core/flight/ball";
import type { Launch } from "../../../core/flight/launch";
import type { Flight, FlightConditions, FlightState } from "../../../core/flight/simulate";
import { simulateFlight } from "../../../core/flight/simulate";
import { logarithmicWind, uniformWind } from "../../../core/flight/wind";
import { degree, launchOf, mph, rpm, yard } from "./golf-units";
import { quintavallaFit } from "./published-fits";

// Trajectories computed by an independent implementation of the same published equations: density 1.225 kg/m³, decay
// 2e-5, gravity 9.80665 m/s², still air, level ground. Tolerances are half a unit of the last digit given.

type Expected = readonly [carry: number, offline: number, peak: number, time: number, descent: number, landing: number, spin: number];

function checkFlight(launch: Launch, fit: AerodynamicFit, expected: Expected): void {
  checkNumbers(simulateFlight(launch, { fit }), expected);
}

function checkNumbers(flight: Flight, [carry, offline, peak, time, descent, landing, spin]: Expected): void {
  expect(Math.abs(flight.carry - carry)).toBeLessThan(6e-4);
  expect(Math.abs(flight.offline - offline)).toBeLessThan(6e-4);
  expect(Math.abs(flight.peakHeight - peak)).toBeLessThan(6e-4);
  expect(Math.abs(flight.flightTime - time)).toBeLessThan(6e-5);
  expect(Math.abs(flight.descentAngle / degree - descent)).toBeLessThan(6e-4);
  expect(Math.abs(flight.landingSpeed - landing)).toBeLessThan(6e-4);
  expect(Math.abs(flight.landingSpin / rpm - spin)).toBeLessThan(0.06);
  expect(flight.landed && flight.supported).toBe(true);
}

test("drivers: carry, offline, peak (m), time (s), descent (°), landing speed (m/s), spin (rpm)", () => {
  checkFlight(launchOf(170, 11, 2600), naruoFit, [252.567, 0, 32.099, 6.9646, 39.028, 28.823, 2030.6]);
  checkFlight(launchOf(170, 11, 2600), fergusonFit, [262.217, 0, 31.617, 6.9555, 37.936, 29.293, 2013.5]);
  checkFlight(launchOf(170, 11, 2600), quintavallaFit, [253.523, 0, 32.818, 7.0339, 39.916, 28.526, 2027.8]);
  checkFlight(launchOf(150, 12, 2800), naruoFit, [219.777, 0, 27.017, 6.3932, 37.042, 27.733, 2259.6]);
  checkFlight(launchOf(150, 12, 2800), fergusonFit, [223.281, 0, 26.187, 6.3112, 36.041, 27.954, 2253.5]);
});

test("a 7-iron, straight, with a tilted axis, started to the right, and both", () => {
  checkFlight(launchOf(130, 17, 6200), naruoFit, [167.18, 0, 36.117, 6.9027, 50.356, 24.392, 5206.6]);
  checkFlight(launchOf(130, 17, 6200), fergusonFit, [167.356, 0, 34.749, 6.692, 48.641, 24.934, 5212.8]);
  checkFlight(launchOf(130, 17, 6200), quintavallaFit, [159.122, 0, 38.879, 7.5309, 51.7, 22.763, 5229.3]);
  checkFlight(launchOf(130, 17, 6200, 5), naruoFit, [167.147, 8.894, 35.95, 6.8865, 50.234, 24.4, 5207.1]);
  checkFlight(launchOf(130, 17, 6200, 0, 3), naruoFit, [167.18, 8.75, 36.117, 6.9027, 50.356, 24.392, 5206.6]);
  checkFlight(launchOf(130, 17, 6200, -8, 2), naruoFit, [167.089, -8.36, 35.691, 6.8611, 50.042, 24.413, 5208.1]);
  checkFlight(launchOf(130, 17, 6200, -8, 2), fergusonFit, [167.233, -7.712, 34.351, 6.6614, 48.354, 24.9, 5214.3]);
  expect(simulateFlight(launchOf(130, 17, 6200, 5)).downrange).toBeCloseTo(166.91, 2);
  expect(simulateFlight(launchOf(130, 17, 6200, 0, 3)).downrange).toBeCloseTo(166.951, 2);
  expect(simulateFlight(launchOf(130, 17, 6200, -8, 2)).downrange).toBeCloseTo(166.88, 2);
  expect(simulateFlight(launchOf(130, 17, 6200, -8, 2), { fit: fergusonFit }).downrange).toBeCloseTo(167.055, 2);
});

test("short irons and wedges", () => {
  checkFlight(launchOf(110, 20, 7000), naruoFit, [132.954, 0, 28.456, 5.9915, 48.998, 22.706, 6094.9]);
  checkFlight(launchOf(110, 20, 7000), fergusonFit, [134.439, 0, 27.675, 5.7672, 47.149, 23.809, 6091.8]);
  checkFlight(launchOf(90, 26, 9000), naruoFit, [97.588, 0, 23.229, 5.174, 49.655, 21.035, 8114.3]);
  checkFlight(launchOf(90, 26, 9000), fergusonFit, [98.2, 0, 21.919, 4.6452, 48.182, 22.929, 8119.5]);
  const slow = simulateFlight(launchOf(60, 30, 6000));
  checkNumbers({ ...slow, supported: true }, [56.627, 0, 11.149, 3.4289, 41.939, 18.18, 5661.5]);
  expect(slow.supported).toBe(false);
});

function checkWind(wind: FlightConditions["wind"], expected: Partial<Flight>): void {
  const flight = simulateFlight(launchOf(130, 17, 6200), { wind: wind! });
  for (const [name, value] of Object.entries(expected))
    expect(Math.abs((flight[name as keyof Flight] as number) - (value as number)), name).toBeLessThan(6e-4);
}

test("without the hold of its drag the second fit would carry a little farther", () => {
  const free: AerodynamicFit = { ...fergusonFit, drag: (S) => 0.1304 + (0.9287 - 0.8259 * S) * S };
  const farther = (launch: Launch): number => simulateFlight(launch, { fit: free }).carry - simulateFlight(launch, { fit: fergusonFit }).carry;
  // In m, each a digit off in the last place by the rounding of where the hold begins.
  expect(Math.abs(farther(launchOf(130, 17, 6200)) - 0.09)).toBeLessThan(0.01);
  expect(Math.abs(farther(launchOf(110, 20, 7000)) - 0.74)).toBeLessThan(0.01);
});

test("what the decay of the spin does to a 7-iron: none carries 2.4 yd less, Tavares et al. 1999's 2.5e-5 0.6 yd more", () => {
  const carry = (spinDecay: number): number => simulateFlight(launchOf(130, 17, 6200), { spinDecay }).carry / yard;
  expect(carry(0) - carry(2e-5)).toBeCloseTo(-2.4, 1);
  expect(carry(2.5e-5) - carry(2e-5)).toBeCloseTo(0.6, 1);
});

test("steps of 0.05 s down to 0.001 s give the same carry within 1e-6 m and the same peak within 2e-6 m", () => {
  const [finest, ...others] = [0.001, 0.005, 0.01, 0.02, 0.05].map((timeStep) => simulateFlight(launchOf(130, 17, 6200), { timeStep }));
  for (const flight of others) {
    expect(Math.abs(flight.carry - finest!.carry)).toBeLessThan(1e-6);
    expect(Math.abs(flight.peakHeight - finest!.peakHeight)).toBeLessThan(2e-6);
  }
});

test("wind that blows to where its vector points", () => {
  checkWind(uniformWind(-5, 0), { downrange: 145.564, peakHeight: 40.588, flightTime: 7.3499 });
  checkWind(uniformWind(5, 0), { downrange: 183.589, peakHeight: 31.953, flightTime: 6.4427 });
  checkWind(uniformWind(0, 5), { downrange: 167.191, offline: 17.384, flightTime: 6.9212 });
  checkWind(uniformWind(3, -2), { carry: 177.786, downrange: 177.669, offline: -6.435, flightTime: 6.631 });
});

test("logarithmic wind is the stated one at its height, none at the ground, and does less than a uniform one aloft", () => {
  const wind = logarithmicWind({ downrange: -5, right: 1, height: 36, roughness: 0.09 });
  expect(wind(36)).toEqual([1, -5, 0]);
  expect(wind(0)).toEqual([0, -0, 0]);
  expect(wind(-1)).toEqual([0, -0, 0]);
  const { downrange } = simulateFlight(launchOf(130, 17, 6200), { wind });
  expect(downrange).toBeGreaterThan(145.564);
  expect(downrange).toBeLessThan(167.18);
  expect(() => logarithmicWind({ downrange: 1, right: 0, height: 10, roughness: 0 })).toThrow("must be above 0");
});

/** A ball whose coefficients never change. */
function constant(drag: number, lift: number): AerodynamicFit {
  return { name: "constant", source: "none", drag: () => drag, lift: () => lift };
}

test("constant coefficients", () => {
  const dragged = simulateFlight(launchOf(60 / mph, 20, 0), { fit: constant(0.25, 0) });
  expect(dragged.carry).toBeCloseTo(140.7645, 3);
  expect(dragged.peakHeight).toBeCloseTo(16.0275, 3);
  expect(dragged.flightTime).toBeCloseTo(3.59476, 4);
  expect(dragged.descentAngle / degree).toBeCloseTo(29.7368, 3);
  const lifted = simulateFlight(launchOf(60 / mph, 15, 1), { fit: constant(0.25, 0.2), spinDecay: 0 });
  expect(lifted.carry).toBeCloseTo(191.4892, 3);
  expect(lifted.peakHeight).toBeCloseTo(26.4404, 3);
  expect(lifted.flightTime).toBeCloseTo(5.87266, 4);
  expect(lifted.descentAngle / degree).toBeCloseTo(37.8238, 3);
});

test("terminal speeds for a constant drag coefficient, m/s", () => {
  const terminal = (drag: number): number => Math.sqrt((2 * 0.04593 * 9.80665) / (1.225 * 1.4299971e-3 * drag));
  for (const [drag, speed] of [[0.2, 50.708], [0.25, 45.354], [0.3, 41.403], [0.4, 35.856], [0.5, 32.07]] as const) {
    expect(terminal(drag)).toBeCloseTo(speed, 3);
    // Thrown down at that speed, the ball keeps it.
    const fallen = simulateFlight(launchOf(terminal(drag) / mph, -90, 0), { fit: constant(drag, 0), landingHeight: -300 });
    expect(fallen.landingSpeed).toBeCloseTo(speed, 3);
  }
});

test("a landing place above or below the place of launch", () => {
  const level = simulateFlight(launchOf(130, 17, 6200));
  expect(simulateFlight(launchOf(130, 17, 6200), { landingHeight: 5 }).carry).toBeLessThan(level.carry);
  expect(simulateFlight(launchOf(130, 17, 6200), { landingHeight: -5 }).carry).toBeGreaterThan(level.carry);
  const tooHigh = simulateFlight(launchOf(130, 17, 6200), { landingHeight: 50 });
  expect(tooHigh.landed).toBe(false);
  expect(tooHigh.carry).toBeNaN();
});

test("a landing place a hair below the apex is found after the apex, though both are in one step", () => {
  const { peakHeight, carry } = simulateFlight(launchOf(130, 17, 6200));
  const states: FlightState[] = [];
  const flight = simulateFlight(launchOf(130, 17, 6200), { landingHeight: peakHeight - 1e-5, onState: (state) => states.push(state) });
  expect(states.at(-1)!.velocity[2]).toBeLessThan(0);
  expect(states.at(-1)!.position[2]).toBeCloseTo(peakHeight - 1e-5, 9);
  expect(flight.descentAngle).toBeGreaterThan(0);
  expect(flight.carry).toBeLessThan(carry);
});

test("a launch with a missing value gives no flight", () => {
  const flight = simulateFlight({ ...launchOf(130, 17, 6200), spinRate: Number.NaN });
  expect(flight.landed).toBe(false);
  expect(flight.carry).toBeNaN();
});

test("a launch below the horizon lands at once", () => {
  const flight = simulateFlight(launchOf(100, -3, 2000));
  expect(flight.carry).toBeCloseTo(0, 6);
  expect(flight.peakHeight).toBe(0);
});

test("the standard ball is the rules' heaviest and smallest", () => {
  expect(standardBall.inertia).toBeCloseTo(8.36e-6, 8);
});
