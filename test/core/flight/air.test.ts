import * as fc from "fast-check";
import { expect, test } from "vitest";
import {
  airOf,
  airViscosity,
  compressibility,
  moistAirDensity,
  saturationPressure,
  standardAirs,
  standardAtmosphere,
  stationPressure,
  vapourShare,
} from "../../../core/flight/air";
import { celsius } from "./golf-units";

// Picard, Davis, Gläser & Fujii 2008, Metrologia 45:149–155. The values were worked out independently of this code
// from the constants printed there; each is given to 5 or 6 digits, hence the tolerance of half a unit of the last.
function checkDensity(t: number, pressure: number, humidity: number, density: number, vapour?: number, Z?: number): void {
  expect(moistAirDensity(t + celsius, pressure, humidity)).toBeCloseTo(density, 5);
  if (vapour === undefined || Z === undefined) return;
  const x = vapourShare(t + celsius, pressure, humidity);
  expect(x).toBeCloseTo(vapour, 6);
  expect(compressibility(t + celsius, pressure, x)).toBeCloseTo(Z, 7);
}

test("density of moist air, CIPM-2007", () => {
  checkDensity(20, 101_325, 0.5, 1.19931, 0.011589, 0.9996148);
  checkDensity(15, 101_325, 0, 1.22552, 0, 0.9995922);
  checkDensity(0, 101_325, 0, 1.29305, 0, 0.999416);
  checkDensity(25, 101_325, 0.5, 1.17732, 0.015706, 0.9996508);
  checkDensity(10, 101_325, 0.5, 1.24438, 0.006084, 0.9995232);
  checkDensity(35, 101_325, 1, 1.12184, 0.055802, 0.9995624);
  checkDensity(23.889, 101_591.67, 0.5, 1.18531, 0.014657, 0.9996426);
  checkDensity(20, 84_000, 0.2, 0.99644, 0.005589, 0.999694);
  checkDensity(5, 101_325, 0.5, 1.26766);
  checkDensity(25, 84_556, 0.3, 0.98406);
});

test("saturation pressure of water vapour, CIPM-2007, Pa", () => {
  expect(saturationPressure(20 + celsius)).toBeCloseTo(2339.16, 1);
  expect(saturationPressure(0 + celsius)).toBeCloseTo(611.21, 2);
  expect(saturationPressure(25 + celsius)).toBeCloseTo(3169.76, 1);
});

test("density agrees with the ideal gas and the Magnus formula within 0.1 %", () => {
  // An independent route: WMO's Magnus coefficients (611.2 Pa, 17.62, 243.12 °C) and two ideal gases.
  fc.assert(
    fc.property(fc.double({ min: -5, max: 40, noNaN: true }), fc.double({ min: 70_000, max: 105_000, noNaN: true }), fc.double({ min: 0, max: 1, noNaN: true }), (t, p, h) => {
      const vapour = h * 611.2 * Math.exp((17.62 * t) / (243.12 + t));
      const ideal = (p - vapour) / (287.053 * (t + celsius)) + vapour / (461.5 * (t + celsius));
      expect(Math.abs(moistAirDensity(t + celsius, p, h) / ideal - 1)).toBeLessThan(1e-3);
    }),
    { seed: 11 },
  );
});

// ISO 2533:1975 (ICAO Doc 7488): temperature K, pressure Pa, density kg/m³, speed of sound m/s.
function checkAtmosphere(altitude: number, temperature: number, pressure: number, density: number, sound: number): void {
  const found = standardAtmosphere(altitude);
  expect(found.temperature).toBeCloseTo(temperature, 8);
  expect(Math.abs(found.pressure - pressure)).toBeLessThan(0.07); // 5.25588 is itself rounded
  expect(found.density).toBeCloseTo(density, 5);
  expect(Math.abs(found.soundSpeed - sound)).toBeLessThan(0.0051);
}

test("standard atmosphere, ISO 2533", () => {
  checkAtmosphere(0, 288.15, 101_325, 1.225, 340.29);
  checkAtmosphere(500, 284.9, 95_460.8, 1.16727, 338.37);
  checkAtmosphere(1_000, 281.65, 89_874.6, 1.11164, 336.43);
  checkAtmosphere(1_500, 278.4, 84_556, 1.05807, 334.49);
  checkAtmosphere(2_000, 275.15, 79_495.2, 1.00649, 332.53);
  checkAtmosphere(3_000, 268.65, 70_108.5, 0.90912, 328.58);
  checkAtmosphere(5_000, 255.65, 54_019.9, 0.73612, 320.53);
  checkAtmosphere(11_000, 216.65, 22_632.1, 0.36392, 295.07);
});

test("viscosity, Sutherland's formula with the constants of the U.S. Standard Atmosphere 1976", () => {
  expect(airViscosity(15 + celsius)).toBeCloseTo(1.7894e-5, 9);
  expect(airViscosity(20 + celsius)).toBeCloseTo(1.8134e-5, 9);
  expect(airViscosity(25 + celsius)).toBeCloseTo(1.8372e-5, 9);
});

test("a stated pressure wins over an altitude, and the two are never applied together", () => {
  const temperature = 20 + celsius;
  expect(airOf({ temperature, pressure: 95_000, altitude: 2_000 })).toEqual(airOf({ temperature, pressure: 95_000 }));
  expect(airOf({ temperature, altitude: 1_500 }).density).toBeCloseTo(moistAirDensity(temperature, 84_556, 0.5), 5);
  expect(airOf({ temperature }).density).toBeCloseTo(1.19931, 5);
});

test("pressure reduced to sea level gives the standard atmosphere's pressure at altitude", () => {
  expect(stationPressure(101_325, 1_000)).toBeCloseTo(89_874.6, 0);
  expect(stationPressure(99_000, 0)).toBe(99_000);
});

test("standard airs: 1.225 at sea level, 1.1853 in the ball test's 75 °F, 30.0 inHg, 50 %", () => {
  expect(standardAirs["sea level"].density).toBe(1.225);
  expect(standardAirs["ball test"].density).toBeCloseTo(1.18531, 5);
});

test("conditions that are no air's are refused with the value and the range", () => {
  expect(() => moistAirDensity(20, 101_325, 0.5)).toThrow("temperature 20 is not between 150 and 400");
  expect(() => moistAirDensity(293, 1013, 50)).toThrow("humidity 50 is not between 0 and 1");
  expect(() => moistAirDensity(293, 30, 0.5)).toThrow("pressure 30");
  expect(() => airOf({ temperature: Number.NaN })).toThrow("temperature NaN");
  expect(() => standardAtmosphere(20_000)).toThrow("altitude 20000");
  expect(() => stationPressure(101_325, -9_000)).toThrow("altitude -9000");
});

test("warmer, higher or moister air is thinner", () => {
  const base = moistAirDensity(290, 100_000, 0.3);
  expect(moistAirDensity(291, 100_000, 0.3)).toBeLessThan(base);
  expect(moistAirDensity(290, 99_000, 0.3)).toBeLessThan(base);
  expect(moistAirDensity(290, 100_000, 0.4)).toBeLessThan(base);
});
