import { expect, test } from "vitest";
import { correctedSlope, reliability } from "../../../core/stats/attenuation";
import { linearRegression } from "../../../core/stats/linear-regression";
import { sampleVariance } from "../../../core/stats/moments";
import { checksOf, expectClose, normals } from "./check-values";

test("a slope corrected for a given reliability agrees with the published check values", () => {
  interface Slope {
    readonly olsSlope: number;
    readonly "attenuationCorrectedAtReliability0.8": number;
  }
  for (const { id, data, expected } of checksOf<{ x: number[]; y: number[] }, never, Slope>("correlation-slope")) {
    const x = Float64Array.from(data.x);
    const fit = linearRegression([x.map(() => 1), x], Float64Array.from(data.y))!;
    const slope = fit.contrast([0, 1]);
    expectClose(slope.difference, expected.olsSlope, 1e-9, 0, id);
    const corrected = correctedSlope(slope, 0.8, Infinity);
    expectClose(corrected.difference, expected["attenuationCorrectedAtReliability0.8"], 1e-9, 0, id);
    expectClose(corrected.standardError, slope.standardError / 0.8, 1e-12, 0, id);
    expect(corrected.df).toBe(slope.df);
  }
});

test("an estimated reliability widens the standard error by the delta method", () => {
  const slope = { difference: 4, standardError: 0.2, df: 20 };
  const { standardError } = correctedSlope(slope, 0.8, 31);
  expectClose(standardError ** 2, 0.25 ** 2 + (4 / 0.64) ** 2 * 0.04 * (2 / 30), 1e-12);
});

test("readings with an error of known size get the true slope back", () => {
  const normal = normals(3);
  const truth = Float64Array.from({ length: 4000 }, () => 2 * normal());
  const read = truth.map((value) => value + normal());
  const axis = truth.map((value) => 4.5 * value + normal());
  const fit = linearRegression([read.map(() => 1), read], axis)!;
  const share = reliability(1, sampleVariance(read));
  expectClose(share, 0.8, 0, 0.02);
  const corrected = correctedSlope(fit.contrast([0, 1]), share, read.length);
  expect(Math.abs(corrected.difference - 4.5)).toBeLessThan(2.5 * corrected.standardError);
  expect(fit.contrast([0, 1]).difference).toBeLessThan(4);
});

test("errors larger than the scatter leave no reliability to correct with", () => {
  expect(reliability(9, 4)).toBeLessThan(0);
  expect(reliability(1, 0)).toBeNaN();
  for (const share of [0, -0.2, 1.1, Number.NaN]) expect(() => correctedSlope({ difference: 1, standardError: 1, df: 9 }, share, 30)).toThrow(RangeError);
});
