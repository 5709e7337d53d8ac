import * as fc from "fast-check";
import { expect, test } from "vitest";
import type { AerodynamicFit } from "../../../core/flight/aerodynamics";
import { fergusonFit, naruoFit } from "../../../core/flight/aerodynamics";
import type { Air } from "../../../core/flight/air";
import { airOf, standardAirs } from "../../../core/flight/air";
import type { Launch } from "../../../core/flight/launch";
import type { AirChange } from "../../../core/flight/other-air";
import { airChange, curveOf } from "../../../core/flight/other-air";
import { simulateFlight } from "../../../core/flight/simulate";
import { celsius, degree, launchOf } from "./golf-units";

const seaLevel = standardAirs["sea level"];
const iron = launchOf(130, 17, 6200);

function airAt(t: number, hPa: number, humidity: number): Air {
  return airOf({ temperature: t + celsius, pressure: hPa * 100, humidity });
}

/** Computed by an independent implementation of the two fits, to 4 decimals. */
function checkRatio(air: Air, byDefault: number, bySecond: number): void {
  const { carryRatio, spread } = airChange(iron, seaLevel, air);
  expect(Math.abs(carryRatio - byDefault)).toBeLessThan(6e-5);
  expect(Math.abs(spread.carryRatio - Math.abs(byDefault - bySecond))).toBeLessThan(1.1e-4);
}

test("ratios of a 7-iron's carry to that at sea level, and how far the fits are apart", () => {
  checkRatio(airAt(5, 1013.25, 0.5), 0.9791, 0.9804);
  checkRatio(airAt(35, 1013.25, 0.5), 1.0467, 1.0436);
  checkRatio(airAt(25, 845.56, 0.3), 1.1286, 1.1193);
  checkRatio(airAt(10, 900, 0.5), 1.062, 1.0578);
});

test("every number is that of the two simulated flights", () => {
  const launch = launchOf(128, 16, 5900, 7, -2);
  const air = airAt(30, 900, 0.4);
  const found = airChange(launch, seaLevel, air);
  const inAir = (fit: AerodynamicFit) => ({ from: simulateFlight(launch, { fit }), to: simulateFlight(launch, { fit, air }) });
  const { from, to } = inAir(naruoFit);
  const second = inAir(fergusonFit);
  const start = Math.sin(-2 * degree);
  expect(found.carryRatio).toBeCloseTo(to.carry / from.carry, 12);
  expect(found.peakRatio).toBeCloseTo(to.peakHeight / from.peakHeight, 12);
  expect(found.curveRatio).toBeCloseTo((to.offline - to.carry * start) / (from.offline - from.carry * start), 12);
  expect(found.timeRatio).toBeCloseTo(to.flightTime / from.flightTime, 12);
  expect(found.descentDifference).toBeCloseTo(to.descentAngle - from.descentAngle, 12);
  expect(found.landingSpeedRatio).toBeCloseTo(to.landingSpeed / from.landingSpeed, 12);
  expect(found.spread.peakRatio).toBeCloseTo(Math.abs(second.to.peakHeight / second.from.peakHeight - found.peakRatio), 12);
  expect(found.spread.descentDifference).toBeCloseTo(Math.abs(second.to.descentAngle - second.from.descentAngle - found.descentDifference), 12);
});

const between = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });
const launches: fc.Arbitrary<Launch> = fc
  .tuple(between(80, 175), between(8, 32), between(2000, 9500), between(-20, 20), between(-10, 10))
  .map(([speed, angle, spin, axis, start]) => launchOf(speed, angle, spin, axis, start));
const airs: fc.Arbitrary<Air> = fc.tuple(between(-5, 40), between(750, 1050), between(0, 1)).map(([t, hPa, h]) => airAt(t, hPa, h));

/** Moves recorded values, which need not be what a simulation gives. */
function moved(values: Recorded, launch: Launch, change: AirChange): Recorded {
  const start = launch.startDirection;
  const carry = values.carry * change.carryRatio;
  const curve = curveOf(values.carry, values.offline, start) * change.curveRatio;
  return {
    carry,
    offline: carry * Math.sin(start) + curve,
    peak: values.peak * change.peakRatio,
    descent: values.descent + change.descentDifference,
  };
}

interface Recorded {
  readonly carry: number;
  readonly offline: number;
  readonly peak: number;
  readonly descent: number;
}

test("moved to other air and back, every value is what it was", () => {
  const recorded = fc.record({ carry: between(50, 280), offline: between(-40, 40), peak: between(5, 45), descent: between(0.4, 1) });
  fc.assert(
    fc.property(launches, airs, airs, recorded, (launch, from, to, values) => {
      const back = moved(moved(values, launch, airChange(launch, from, to)), launch, airChange(launch, to, from));
      for (const name of ["carry", "offline", "peak", "descent"] as const) expect(Math.abs(back[name] - values[name])).toBeLessThan(1e-9);
    }),
    { seed: 31, numRuns: 30, endOnFailure: true },
  );
});

test("thinner air carries a ball with an iron's spin farther, curves it less, and lands it faster", () => {
  const { carryRatio, curveRatio, landingSpeedRatio } = airChange(launchOf(130, 17, 6200, 6), seaLevel, airAt(25, 845.56, 0.3));
  expect(carryRatio).toBeGreaterThan(1.1);
  expect(curveRatio).toBeLessThan(1);
  expect(landingSpeedRatio).toBeGreaterThan(1);
});

test("the same air changes nothing", () => {
  expect(airChange(launchOf(130, 17, 6200, 5, 2), seaLevel, { ...seaLevel })).toEqual({
    carryRatio: 1,
    peakRatio: 1,
    curveRatio: 1,
    timeRatio: 1,
    descentDifference: 0,
    landingSpeedRatio: 1,
    spread: { carryRatio: 0, peakRatio: 0, descentDifference: 0 },
  });
});

test("a ball that doesn't curve has curve ratio 1, wherever it started", () => {
  for (const start of [0, 3, -7]) expect(airChange(launchOf(130, 17, 6200, 0, start), seaLevel, airAt(35, 900, 0.5)).curveRatio).toBe(1);
});

test("a mirrored launch changes alike", () => {
  const air = airAt(30, 950, 0.2);
  const right = airChange(launchOf(120, 18, 6500, 8, 2), seaLevel, air);
  const left = airChange(launchOf(120, 18, 6500, -8, -2), seaLevel, air);
  expect(left.curveRatio).toBeCloseTo(right.curveRatio, 9);
  expect(left.carryRatio).toBeCloseTo(right.carryRatio, 9);
});

test("a launch with a missing value gives no number", () => {
  const { spread, ...rest } = airChange({ ...iron, spinAxis: Number.NaN }, seaLevel, airAt(20, 1000, 0.5));
  for (const value of [...Object.values(rest), ...Object.values(spread)]) expect(value).toBeNaN();
});
