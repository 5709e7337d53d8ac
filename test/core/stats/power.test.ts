import { expect, test } from "vitest";
import { tQuantile } from "../../../core/stats/distributions";
import type { PairSoFar } from "../../../core/stats/more-stints";
import { moreStints } from "../../../core/stats/more-stints";
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

const pair: PairSoFar = { stints: 6, stintsAgainst: 6, stintVariance: 9, stintVarianceAgainst: 9, familySize: 2, df: 10 };

test("one stint more for each head reaches a power of 0.8 for both questions, one fewer does not", () => {
  const { stints } = moreStints(pair, 3, 0.95)!;
  const powers = (size: number) => {
    const plan = (probability: number) => ({
      standardError: Math.sqrt(18 / size),
      df: 2 * size - 2,
      critical: tQuantile(probability, 2 * size - 2),
    });
    return [powerToSee(3, plan(0.975)), powerOfEquivalence(3, plan(0.95))];
  };
  expect(Math.min(...powers(6 + stints))).toBeGreaterThanOrEqual(0.8);
  expect(Math.min(...powers(6 + stints - 1))).toBeLessThan(0.8);
});

test("more stints are asked for when scatter is larger, the margin smaller or the heads more", () => {
  const needed = (change: Partial<PairSoFar>, margin = 3) => moreStints({ ...pair, ...change }, margin, 0.95)!.stints;
  expect(needed({ stintVariance: 30 })).toBeGreaterThan(needed({}));
  expect(needed({}, 2)).toBeGreaterThan(needed({}));
  expect(needed({ familySize: 4 })).toBeGreaterThan(needed({}));
  expect(needed({ stints: 20, stintsAgainst: 20 })).toBeLessThan(needed({}));
});

test("the range lies around the estimate and narrows as the variance is better known", () => {
  const few = moreStints({ ...pair, df: 4 }, 3, 0.95)!;
  const many = moreStints({ ...pair, df: 60 }, 3, 0.95)!;
  for (const { from, stints, to } of [few, many]) {
    expect(from).toBeLessThanOrEqual(stints);
    expect(stints).toBeLessThanOrEqual(to);
  }
  expect(many.to - many.from).toBeLessThan(few.to - few.from);
});

test("as many as there are may do, and without a variance nothing is planned", () => {
  expect(moreStints({ ...pair, stints: 40, stintsAgainst: 40, df: 78 }, 3, 0.95)!.stints).toBe(0);
  expect(moreStints({ ...pair, stintVariance: Number.NaN }, 3, 0.95)).toBeNull();
  expect(moreStints({ ...pair, stintVariance: 0, stintVarianceAgainst: 0 }, 3, 0.95)).toBeNull();
  expect(moreStints({ ...pair, df: Number.NaN }, 3, 0.95)).toBeNull();
});

test("a hopeless question gets the normal answer at once", () => {
  const { stints } = moreStints(pair, 0.01, 0.95)!;
  const normal = (18 * (familyCritical(0.9, 2, Infinity) + 1.2815515655446) ** 2) / 0.01 ** 2;
  expectClose(stints, normal, 0.001);
});
