import { expect, test } from "vitest";
import type { AerodynamicFit } from "../../../core/flight/aerodynamics";
import { aerodynamicFits, fergusonFit, naruoFit } from "../../../core/flight/aerodynamics";
import type { Air } from "../../../core/flight/air";
import { airOf, standardAirs, standardAtmosphere } from "../../../core/flight/air";
import type { Launch } from "../../../core/flight/launch";
import { simulateFlight } from "../../../core/flight/simulate";
import { uniformWind } from "../../../core/flight/wind";
import { celsius, degree, launchOf, yard } from "./golf-units";

const seaLevel = standardAirs["sea level"];
const ballTest = standardAirs["ball test"];

/** A quantity of both fits inside a published band, widened by 1 % since the air of the publication isn't stated. */
function checkBand(launch: Launch, quantity: "carry" | "flightTime" | "descentAngle", unit: number, least: number, most: number): void {
  for (const fit of aerodynamicFits) {
    const value = simulateFlight(launch, { fit, air: ballTest })[quantity] / unit;
    expect(value, fit.name).toBeGreaterThan(least * 0.99);
    expect(value, fit.name).toBeLessThan(most * 1.01);
  }
}

test("acceptance: both fits lie in the bands of measured balls, US patent 6,729,976, table 5", () => {
  // Two balls in two orientations each; carry yd, time s, impact angle °.
  const fast = launchOf(168.4, 8, 3500);
  checkBand(fast, "carry", yard, 267.2, 277.6);
  checkBand(fast, "flightTime", 1, 6.77, 7.14);
  checkBand(fast, "descentAngle", degree, 36.2, 41.4);
  const slow = launchOf(145.4, 8, 3000);
  checkBand(slow, "carry", yard, 216.9, 226.5);
  checkBand(slow, "flightTime", 1, 5.18, 5.61);
  checkBand(slow, "descentAngle", degree, 25.4, 31.3);
});

// From here on the values were computed by an independent implementation of the same published equations, and are
// given to a tenth of a yard, a tenth of a degree and a hundredth of a second.
function checkShot(launch: Launch, fit: AerodynamicFit, air: Air, carry: number, peak: number, descent: number, time: number): void {
  const flight = simulateFlight(launch, { fit, air });
  expect(Math.abs(flight.carry / yard - carry)).toBeLessThan(0.06);
  expect(Math.abs(flight.peakHeight / yard - peak)).toBeLessThan(0.06);
  expect(Math.abs(flight.descentAngle / degree - descent)).toBeLessThan(0.06);
  expect(Math.abs(flight.flightTime - time)).toBeLessThan(0.006);
}

test("the launch of the overall distance standard, 256 ft/s at 10° and 42 r/s", () => {
  // Conditions: USGA/R&A procedure TPX3006, rev. 2 (2011), table 5.5.
  const launch = launchOf((256 * 0.3048) / 0.44704, 10, 2520);
  checkShot(launch, naruoFit, ballTest, 285.1, 32.9, 36.8, 6.83);
  checkShot(launch, fergusonFit, ballTest, 297.5, 32.4, 35.4, 6.83);
});

test("7-irons: carry yd, peak yd, descent °, time s", () => {
  checkShot(launchOf(120, 16, 6500), naruoFit, seaLevel, 165.3, 31.2, 47.4, 6.22);
  checkShot(launchOf(120, 16, 6500), fergusonFit, seaLevel, 165.6, 30.1, 45.5, 6.02);
  checkShot(launchOf(120, 18, 6500), naruoFit, seaLevel, 164.7, 34.6, 49.3, 6.42);
  checkShot(launchOf(120, 18, 6500), fergusonFit, seaLevel, 165.5, 33.4, 47.5, 6.21);
  checkShot(launchOf(125, 17, 6200), naruoFit, seaLevel, 175.2, 36.1, 49.2, 6.62);
  checkShot(launchOf(125, 17, 6200), fergusonFit, seaLevel, 175.3, 34.7, 47.5, 6.42);
  checkShot(launchOf(128, 16, 5500), naruoFit, seaLevel, 186.1, 35.5, 47.7, 6.67);
  checkShot(launchOf(128, 16, 5500), fergusonFit, seaLevel, 184.6, 34.0, 46.3, 6.49);
  checkShot(launchOf(128, 17, 6000), naruoFit, seaLevel, 181.5, 38.0, 49.6, 6.79);
  checkShot(launchOf(128, 17, 6000), fergusonFit, seaLevel, 181.2, 36.5, 48.0, 6.59);
  checkShot(launchOf(130, 16, 5500), naruoFit, seaLevel, 189.4, 36.8, 48.1, 6.79);
  checkShot(launchOf(130, 16, 5500), fergusonFit, seaLevel, 188.0, 35.3, 46.8, 6.6);
  checkShot(launchOf(130, 17, 6200), naruoFit, seaLevel, 182.8, 39.5, 50.4, 6.9);
  checkShot(launchOf(130, 17, 6200), fergusonFit, seaLevel, 183.0, 38.0, 48.6, 6.69);
  checkShot(launchOf(130, 18, 5500), naruoFit, seaLevel, 188.5, 40.7, 50.0, 7.0);
  checkShot(launchOf(130, 18, 5500), fergusonFit, seaLevel, 187.6, 39.1, 48.7, 6.81);
  checkShot(launchOf(130, 19, 6800), naruoFit, seaLevel, 176.5, 43.5, 52.5, 7.07);
  checkShot(launchOf(130, 19, 6800), fergusonFit, seaLevel, 178.1, 42.0, 50.8, 6.82);
  checkShot(launchOf(131, 17, 6000), naruoFit, seaLevel, 186.1, 40.0, 50.3, 6.96);
  checkShot(launchOf(131, 17, 6000), fergusonFit, seaLevel, 185.9, 38.5, 48.6, 6.76);
  expect(simulateFlight(launchOf(132, 17, 6200)).carry / yard).toBeCloseTo(185.8, 1);
  expect(simulateFlight(launchOf(132, 17, 6200), { fit: fergusonFit }).carry / yard).toBeCloseTo(186.0, 1);
});

/** What a change of shot or surroundings does to the carry, yd, for a 7-iron and a driver, by both fits. */
function checkChange(what: string, change: (shot: Shot) => Partial<Shot>, expected: readonly [number, number, number, number], tolerance = 0.06): void {
  const shots = [
    [{ mph: 130, launch: 17, rpm: 6200, air: dry(15), wind: [0, 0] }, naruoFit, expected[0]],
    [{ mph: 130, launch: 17, rpm: 6200, air: dry(15), wind: [0, 0] }, fergusonFit, expected[1]],
    [{ mph: 165, launch: 11, rpm: 2600, air: dry(15), wind: [0, 0] }, naruoFit, expected[2]],
    [{ mph: 165, launch: 11, rpm: 2600, air: dry(15), wind: [0, 0] }, fergusonFit, expected[3]],
  ] as const;
  for (const [shot, fit, difference] of shots) {
    const found = carryOf({ ...shot, ...change(shot) }, fit) - carryOf(shot, fit);
    expect(Math.abs(found - difference), `${what}, ${fit.name}, ${shot.mph} mph: ${found}`).toBeLessThan(tolerance);
  }
}

/** Dry air at a temperature in °C. */
function dry(temperature: number, pressure = 101_325): Air {
  return airOf({ temperature: temperature + celsius, pressure, humidity: 0 });
}

interface Shot {
  readonly mph: number;
  readonly launch: number;
  readonly rpm: number;
  readonly air: Air;
  readonly wind: readonly [downrange: number, right: number];
}

function carryOf({ mph, launch, rpm, air, wind }: Shot, fit: AerodynamicFit): number {
  return simulateFlight(launchOf(mph, launch, rpm), { air, fit, wind: uniformWind(...wind) }).downrange / yard;
}

test("what one more mph, 100 rpm, a degree, other air and wind do to the carry, yd", () => {
  checkChange("+1 mph", (s) => ({ mph: s.mph + 1 }), [1.5, 1.52, 1.92, 2.21]);
  checkChange("+100 rpm", (s) => ({ rpm: s.rpm + 100 }), [-0.83, -0.65, 0.49, -0.5]);
  checkChange("+1° launch", (s) => ({ launch: s.launch + 1 }), [-0.67, -0.42, 2.39, 2.72]);
  checkChange("−1° launch", (s) => ({ launch: s.launch - 1 }), [0.53, 0.27, -2.85, -3.24]);
  checkChange("+10 °C", () => ({ air: dry(25) }), [3.79, 3.55, 3.35, 3.28]);
  checkChange("+10 hPa", () => ({ air: dry(15, 102_325) }), [-1.09, -1.03, -0.99, -0.97]);
  checkChange("+1000 m at 15 °C", () => ({ air: dry(15, standardAtmosphere(1_000).pressure) }), [13.2, 12.3, 11.0, 10.7], 0.08);
  checkChange("+1000 m, cooler", () => ({ air: dry(8.5, standardAtmosphere(1_000).pressure) }), [10.7, 10.0, 9.1, 8.9], 0.08);
  checkChange("head wind 5 m/s", () => ({ wind: [-5, 0] }), [-23.6, -22.5, -19.9, -16.9]);
  checkChange("tail wind 5 m/s", () => ({ wind: [5, 0] }), [18.0, 17.1, 15.3, 12.3]);
});

test("moist air at 25 °C carries a 7-iron 1.3 yd farther than dry, 5 m/s across it blow it 19 yd aside", () => {
  const warm = { temperature: 25 + celsius };
  for (const [fit, moister, aside, tilted] of [[naruoFit, 1.31, 19.0, 9.7], [fergusonFit, 1.22, 18.0, 9.3]] as const) {
    const carry = (humidity: number): number => simulateFlight(launchOf(130, 17, 6200), { fit, air: airOf({ ...warm, humidity }) }).carry / yard;
    expect(carry(1) - carry(0)).toBeCloseTo(moister, 1);
    expect(Math.abs(simulateFlight(launchOf(130, 17, 6200), { fit, wind: uniformWind(0, 5) }).offline / yard - aside)).toBeLessThan(0.06);
    expect(Math.abs(simulateFlight(launchOf(130, 17, 6200, 5), { fit }).offline / yard - tilted)).toBeLessThan(0.06);
  }
});

test("the ratio of a carry in other air to that at sea level hardly depends on the fit", () => {
  const ratio = (t: number, hPa: number, humidity: number, fit: AerodynamicFit): number => {
    const air = airOf({ temperature: t + celsius, pressure: hPa * 100, humidity });
    return simulateFlight(launchOf(130, 17, 6200), { fit, air }).carry / simulateFlight(launchOf(130, 17, 6200), { fit }).carry;
  };
  for (const [t, hPa, humidity, a, b] of [
    [5, 1013.25, 0.5, 0.9791, 0.9804],
    [35, 1013.25, 0.5, 1.0467, 1.0436],
    [25, 845.56, 0.3, 1.1286, 1.1193],
    [10, 900, 0.5, 1.062, 1.0578],
  ] as const) {
    expect(Math.abs(ratio(t, hPa, humidity, naruoFit) - a)).toBeLessThan(6e-5);
    expect(Math.abs(ratio(t, hPa, humidity, fergusonFit) - b)).toBeLessThan(6e-5);
  }
});
