import { expect, test } from "vitest";
import { standardAirs } from "../../../core/flight/air";
import { turfs } from "../../../core/flight/bounce";
import type { ModelledFlight, WithoutFlight } from "../../../core/flight/modelled-flight";
import { modelFlight } from "../../../core/flight/modelled-flight";
import { stillAir, uniformWind } from "../../../core/flight/wind";
import { launchOf } from "./golf-units";

const surroundings = { air: standardAirs["sea level"], wind: stillAir, turf: null };

function modelled(values: Parameters<typeof launchOf>, given: Partial<Parameters<typeof modelFlight>[1]> = {}): ModelledFlight {
  const found = modelFlight(launchOf(...values), { ...surroundings, ...given });
  if (typeof found === "string") throw new Error(found);
  return found;
}

function checkWithout(values: Parameters<typeof launchOf>, why: WithoutFlight): void {
  expect(modelFlight(launchOf(...values), surroundings)).toBe(why);
}

test("a launch is flown by the default fit, and the second tells the spread", () => {
  // By an independent integration of the same published equations (fourth-order Runge-Kutta in steps of 1 ms): 167.180 m by Naruo
  // 2004, 167.356 m by Ferguson 2022, at 1.225 kg/m³.
  const { flight, carrySpread, run } = modelled([130, 17, 6200, 0, 0]);
  expect(flight.carry).toBeCloseTo(167.18, 2);
  expect(carrySpread).toBeCloseTo(0.176, 2);
  expect(run).toBeNaN();
});

test("a head wind shortens and lifts, and a turf makes the ball run", () => {
  // The same integration, 5 m/s against: 145.564 m.
  expect(modelled([130, 17, 6200, 0, 0], { wind: uniformWind(-5, 0) }).flight.carry).toBeCloseTo(145.564, 2);
  const [soft, hard] = (["natural turf", "artificial turf"] as const).map((name) => modelled([130, 17, 6200, 0, 0], { turf: turfs[name] }));
  expect(hard!.run).toBeGreaterThan(soft!.run);
  expect(hard!.totalSpread).toBeGreaterThan(0);
});

test("what cannot be modelled says why", () => {
  checkWithout([Number.NaN, 17, 6200, 0, 0], "incomplete");
  checkWithout([130, 17, 16000, 0, 0], "impossible");
  checkWithout([300, 17, 6200, 0, 0], "impossible");
  checkWithout([130, 17, 6200, 0, 50], "impossible");
  checkWithout([67, 17, 6200, 0, 0], "slow");
  checkWithout([130, -3, 2500, 0, 0], "grounded");
  expect(modelled([68, 17, 6200, 0, 0]).flight.landed).toBe(true);
  expect(modelled([130, 17, 0, 0, 0]).flight.landed).toBe(true);
});
