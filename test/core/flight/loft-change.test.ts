import * as fc from "fast-check";
import { expect, test } from "vitest";
import { fergusonFit, naruoFit } from "../../../core/flight/aerodynamics";
import { standardAirs } from "../../../core/flight/air";
import { centredImpact } from "../../../core/flight/centred-impact";
import type { LoftChange, MeanStrike } from "../../../core/flight/loft-change";
import { findSpinLoft, loftChange } from "../../../core/flight/loft-change";
import { simulateFlight } from "../../../core/flight/simulate";
import { degree, mph, rpm, yard } from "./golf-units";

const seaLevel = standardAirs["sea level"];

/** What an iron of the usual parameters gives at 95 mph and an angle of attack of −4°. */
function strikeAt(dynamicLoft: number): MeanStrike {
  const spinLoft = (dynamicLoft + 4) * degree;
  const { ballSpeed, angleFromNormal, spinRate } = centredImpact({ clubSpeed: 95 * mph, spinLoft, headMass: 0.27, restitution: 0.79, tangentialRestitution: 0.15 });
  const launchAngle = dynamicLoft * degree - angleFromNormal;
  const { carry } = simulateFlight({ speed: ballSpeed, launchAngle, startDirection: 0, spinRate, spinAxis: 0 });
  return { spinLoft, spinLoftError: 0, ballSpeed, launchAngle, spinRate, carry };
}

function checkBetween(change: LoftChange): void {
  for (const { usual, low, high } of Object.values(change)) {
    expect(low).toBeLessThanOrEqual(usual);
    expect(usual).toBeLessThanOrEqual(high);
  }
}

test("laid on what the model itself gives, the change from loft to loft is the model's", () => {
  const [mean, more, less] = [24, 25, 23].map(strikeAt);
  const change = loftChange(mean!, 2 * degree, ["iron"], seaLevel);
  for (const name of ["ballSpeed", "launchAngle", "spinRate", "carry"] as const)
    expect(change[name].usual, name).toBeCloseTo(more![name] - less![name], 9);
  checkBetween(change);
});

test("a degree more loft with a 7-iron: about 1 mph less, 0.7° higher, 200 rpm more, 2 to 4 yd shorter", () => {
  const { ballSpeed, launchAngle, spinRate, carry } = loftChange(strikeAt(24), degree, ["iron"], seaLevel);
  expect(ballSpeed.usual / mph).toBeCloseTo(-1.1, 1);
  expect(launchAngle.usual / degree).toBeCloseTo(0.74, 1);
  expect(Math.round(spinRate.usual / rpm / 50) * 50).toBe(250);
  expect(carry.usual / yard).toBeLessThan(-2);
  expect(carry.usual / yard).toBeGreaterThan(-4);
});

test("an error that both lofts share cancels: twice the spin, and the change is twice as large", () => {
  const strike = strikeAt(24);
  const change = loftChange(strike, degree, ["iron"], seaLevel);
  const doubled = loftChange({ ...strike, spinRate: 2 * strike.spinRate, carry: 1.1 * strike.carry }, degree, ["iron"], seaLevel);
  expect(doubled.spinRate.usual).toBeCloseTo(2 * change.spinRate.usual, 9);
  expect(doubled.ballSpeed).toEqual(change.ballSpeed);
  expect(loftChange({ ...strike, carry: 1.1 * strike.carry }, degree, ["iron"], seaLevel).carry.usual).toBeCloseTo(1.1 * change.carry.usual, 9);
});

test("the carry's range holds what both fits give with the usual parameters", () => {
  const [mean, more, less] = [24, 24.5, 23.5].map(strikeAt);
  const { carry } = loftChange(mean!, degree, ["iron"], seaLevel);
  for (const fit of [naruoFit, fergusonFit]) {
    const flown = ({ ballSpeed, launchAngle, spinRate }: MeanStrike): number => simulateFlight({ speed: ballSpeed, launchAngle, startDirection: 0, spinRate, spinAxis: 0 }, { fit }).carry;
    const change = (mean!.carry * (flown(more!) - flown(less!))) / flown(mean!);
    expect(change).toBeGreaterThanOrEqual(carry.low);
    expect(change).toBeLessThanOrEqual(carry.high);
  }
});

test("less loft is the negative of more, no difference changes nothing, and the range holds the usual", () => {
  fc.assert(
    fc.property(fc.double({ min: 12, max: 45, noNaN: true }), fc.double({ min: 0.25, max: 4, noNaN: true }), (loft, size) => {
      const strike = { ...strikeAt(loft), carry: Number.NaN, spinLoftError: 3 * degree };
      const [more, less, none] = [size, -size, 0].map((difference) => loftChange(strike, difference * degree, ["iron", "wedge"], seaLevel));
      for (const name of ["ballSpeed", "launchAngle", "spinRate"] as const) {
        expect(less![name].usual).toBeCloseTo(-more![name].usual, 9);
        expect(less![name].low).toBeCloseTo(-more![name].high, 9);
        expect(none![name].usual).toBe(0);
        expect(more![name].low).toBeLessThanOrEqual(more![name].usual);
        expect(more![name].usual).toBeLessThanOrEqual(more![name].high);
      }
      expect(more!.ballSpeed.high).toBeLessThan(0);
      expect(more!.spinRate.low).toBeGreaterThan(0);
    }),
    { seed: 61, numRuns: 60 },
  );
});

test("what is not known of the strike is not known of the change, and nothing beside it", () => {
  const change = loftChange({ ...strikeAt(24), spinRate: Number.NaN }, degree, ["iron"], seaLevel);
  expect(change.spinRate.usual).toBeNaN();
  expect(change.carry.usual).toBeNaN();
  expect(change.ballSpeed.usual).toBeLessThan(0);
  expect(loftChange({ ...strikeAt(24), launchAngle: Number.NaN }, degree, ["iron"], seaLevel).launchAngle.usual).toBeGreaterThan(0);
});

test("a spin loft that half the difference takes to 0 or to 90° has no change", () => {
  for (const spinLoft of [0.5, 89.5]) {
    const change = loftChange({ ...strikeAt(24), spinLoft: spinLoft * degree }, 2 * degree, ["wood"], seaLevel);
    for (const { usual, low, high } of Object.values(change)) expect([usual, low, high]).toEqual([Number.NaN, Number.NaN, Number.NaN]);
  }
});

function checkSpinLoft([dynamicLoft, angleOfAttack, launchAngle]: readonly [number, number, number], kinds: Parameters<typeof findSpinLoft>[1], wanted: number | null): void {
  const found = findSpinLoft({ dynamicLoft: dynamicLoft * degree, angleOfAttack: angleOfAttack * degree, launchAngle: launchAngle * degree }, kinds);
  if (wanted === null) expect(found).toBeNull();
  else expect(found!.spinLoft / degree).toBeCloseTo(wanted, 9);
}

test("spin loft: from dynamic loft, else from launch and angle of attack, else with a usual angle of attack", () => {
  const no = Number.NaN;
  checkSpinLoft([24, -4, 18], ["iron"], 28);
  checkSpinLoft([no, -4, 18.4], ["iron"], 28);
  checkSpinLoft([24, no, 18.4], ["iron"], 28);
  checkSpinLoft([no, no, 18.4], ["iron"], 28);
  checkSpinLoft([no, no, 10.4], ["wood"], 13);
  checkSpinLoft([no, no, 18.4], ["iron", "wedge"], (18.4 + 4.5) / 0.8);
  checkSpinLoft([24, no, no], ["iron"], null);
});
