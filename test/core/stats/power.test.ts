import { expect, test } from "vitest";
import { tQuantile } from "../../../core/stats/distributions";
import type { DifferenceSoFar } from "../../../core/stats/more-stints";
import { planMore } from "../../../core/stats/more-stints";
import { planningCritical } from "../../../core/stats/planning-critical";
import { powerOfEquivalence, powerToSee } from "../../../core/stats/power";
import { familyCritical } from "../../../core/stats/simultaneous";
import { checksOf, expectClose } from "./check-values";

interface TwoSamples {
  readonly delta: number;
  readonly sd: number;
  readonly power: number;
  readonly alpha: number;
}

function planOf(n: number, sd: number, probability: number) {
  const df = 2 * n - 2;
  return { standardError: sd * Math.sqrt(2 / n), df, critical: tQuantile(probability, df) };
}

test("the power of a two-sample t test agrees with R", () => {
  for (const check of checksOf<never, TwoSamples, { nCeil: number; powerAtCeil: number }>("power-two-sample-t")) {
    const { delta, sd, alpha, power } = check.args;
    const at = (n: number) => powerToSee(delta, planOf(n, sd, 1 - alpha / 2));
    expectClose(at(check.expected.nCeil), check.expected.powerAtCeil, 1e-9, 0, check.id);
    expect(at(check.expected.nCeil - 1)).toBeLessThan(power);
  }
});

test("the power of two one-sided tests agrees with numerical integration in R", () => {
  interface Tost {
    readonly n: number;
    readonly margin: number;
    readonly sd: number;
    readonly trueDiff: number;
    readonly alpha: number;
  }
  for (const check of checksOf<never, Tost, { power: number }>("power-tost-two-sample")) {
    const { n, margin, sd, trueDiff, alpha } = check.args;
    const power = powerOfEquivalence(margin, planOf(n, sd, 1 - alpha), trueDiff);
    expectClose(power, check.expected.power, 0, 1e-7, check.id);
  }
});

const known: DifferenceSoFar = { standardError: 2, df: 9, stints: 6, shotsPerStint: 3, heads: 2, familySize: 2, margin: 3, confidence: 0.95 };

test("as many more stints as planned reach a power of 0.8 for both questions, one fewer does not", () => {
  const { shots, toSee, toShow } = planMore(known)!;
  const planWith = (more: number, probability: number) => {
    const df = 9 + 2 * more;
    return { standardError: 2 * Math.sqrt(6 / (6 + more)), df, critical: tQuantile(probability, df) };
  };
  const seen = (stints: number) => powerToSee(3, planWith(stints, 0.975));
  const shown = (stints: number) => powerOfEquivalence(3, planWith(stints, 0.95));
  expect(seen(toSee / 3)).toBeGreaterThanOrEqual(0.8);
  expect(seen(toSee / 3 - 1)).toBeLessThan(0.8);
  expect(shown(toShow / 3)).toBeGreaterThanOrEqual(0.8);
  expect(shown(toShow / 3 - 1)).toBeLessThan(0.8);
  expect(shots).toBe(Math.max(toSee, toShow));
});

test("more shots are asked for when scatter is larger, the margin smaller or the heads more, fewer when there are more", () => {
  const needed = (change: Partial<DifferenceSoFar>) => planMore({ ...known, ...change })!.shots;
  expect(needed({ standardError: 3 })).toBeGreaterThan(needed({}));
  expect(needed({ margin: 2 })).toBeGreaterThan(needed({}));
  expect(needed({ familySize: 4 })).toBeGreaterThan(needed({}));
  expect(needed({ confidence: 0.999 })).toBeGreaterThan(needed({}));
  expect(needed({ stints: 20, standardError: 2 * Math.sqrt(6 / 20), df: 37 })).toBeLessThan(needed({}));
});

test("stints are whole, and shots are those of stints of the usual length", () => {
  const stints = planMore({ ...known, shotsPerStint: 1 })!.shots;
  expect(planMore({ ...known, shotsPerStint: 3 })!.shots).toBe(3 * stints);
  expect(planMore({ ...known, shotsPerStint: 2.9 })!.shots).toBe(Math.ceil(2.9 * stints));
});

test("the range lies around the estimate and narrows as the variance is better known", () => {
  const few = planMore({ ...known, df: 4 })!;
  const many = planMore({ ...known, df: 60 })!;
  for (const { from, shots, to } of [few, many]) {
    expect(from).toBeLessThanOrEqual(shots);
    expect(shots).toBeLessThanOrEqual(to);
  }
  expect(many.to - many.from).toBeLessThan(few.to - few.from);
});

test("as many as there are may do, and without a standard error nothing is planned", () => {
  expect(planMore({ ...known, standardError: 0.5, df: 78 })).toMatchObject({ shots: 0, toSee: 0, toShow: 0 });
  for (const change of [{ standardError: Number.NaN }, { standardError: 0 }, { df: Number.NaN }, { df: 0.5 }, { standardError: Infinity }]) {
    expect(planMore({ ...known, ...change })).toBeNull();
  }
  expect(() => planMore({ ...known, margin: 0 })).toThrow(RangeError);
  expect(() => planMore({ ...known, shotsPerStint: 0 })).toThrow(RangeError);
});

test("a hopeless question gets the normal answer at once", () => {
  const stints = planMore({ ...known, margin: 0.01, shotsPerStint: 1 })!.shots;
  const normal = (6 * 4 * (familyCritical(0.9, 2, Infinity) + 1.2815515655446) ** 2) / 0.01 ** 2;
  expectClose(stints, normal, 0.001);
});

test("the rule of thumb for independent shots, 64 each to see half a standard deviation, comes out", () => {
  // Shots of one each, as many as a first look with 10 shots a head has: SD 6 yd, a difference of 3 yd.
  const plan = planMore({ standardError: 6 * Math.sqrt(2 / 10), df: 18, stints: 10, shotsPerStint: 1, heads: 2, familySize: 2, margin: 3, confidence: 0.95 })!;
  expect(10 + plan.toSee).toBe(64);
});

test("a power of 90 % takes the shots that R says: 194 each to see 3 yd where the SD is 8 yd, at 98.3 %", () => {
  const plan = planMore({ standardError: 8 * Math.sqrt(2 / 150), df: 298, stints: 150, shotsPerStint: 1, heads: 2, familySize: 2, margin: 3, confidence: 1 - 0.05 / 3, power: 0.9 })!;
  expect(150 + plan.toSee).toBe(194);
});

test("critical values for planning are those of the studentized range, nearly", () => {
  for (const confidence of [0.8, 0.9, 0.95, 0.99]) {
    for (const familySize of [2, 3, 12]) {
      for (const df of [3, 3.3, 4.6, 7.1, 12, 19.8, 27, 50, 120, 1000, Infinity]) {
        expectClose(planningCritical(confidence, familySize, df), familyCritical(confidence, familySize, df), 0.001, 0, `${confidence} ${familySize} ${df}`);
      }
    }
  }
  expect(planningCritical(0.95, 3, 0.5)).toBeNaN();
  expect(planningCritical(0.95, 3, Number.NaN)).toBeNaN();
});
