import * as fc from "fast-check";
import { expect, test } from "vitest";
import { mean, sampleSd, sampleVariance, squaredDeviations, sum, trimmedMean } from "../../../core/stats/moments";
import { checksOf, expectClose } from "./check-values";

test("NIST StRD univariate: certified mean and standard deviation", () => {
  for (const check of checksOf<{ y: number[] }, never, { mean: number; sd: number }>("nist-univariate")) {
    expectClose(mean(check.data.y), check.expected.mean, 1e-13, 0, check.id);
    // NumAcc3 has 0.1 about 1e6: the data themselves hold the deviation to about 1e-9 only.
    expectClose(sampleSd(check.data.y), check.expected.sd, check.id === "nist-NumAcc3" ? 1e-8 : 1e-11, 0, check.id);
  }
});

test("NIST StRD NumAcc2 and NumAcc4, certified standard deviation 0.1", () => {
  const values = (first: number, second: number, third: number) => [
    first,
    ...Array.from({ length: 1000 }, (_, i) => (i % 2 === 0 ? second : third)),
  ];
  expectClose(mean(values(1.2, 1.1, 1.3)), 1.2, 1e-15);
  expectClose(sampleSd(values(1.2, 1.1, 1.3)), 0.1, 1e-13);
  expectClose(mean(values(10000000.2, 10000000.1, 10000000.3)), 10000000.2, 1e-15);
  // Doubles near 1e7 are 1.9e-9 apart, so the data hold the deviation to about 8 digits.
  expectClose(sampleSd(values(10000000.2, 10000000.1, 10000000.3)), 0.1, 1e-7);
});

test("mean, standard deviation and trimmed mean agree with R", () => {
  interface Summary {
    readonly mean: number;
    readonly sd: number;
    readonly trim10: number;
    readonly trim20: number;
  }
  for (const check of checksOf<{ x: number[] }, never, Summary>("univariate")) {
    expectClose(mean(check.data.x), check.expected.mean, 1e-13, 0, check.id);
    expectClose(sampleSd(check.data.x), check.expected.sd, 1e-13, 0, check.id);
    expectClose(trimmedMean(check.data.x), check.expected.trim10, 1e-13, 0, check.id);
    expectClose(trimmedMean(check.data.x, 0.2), check.expected.trim20, 1e-13, 0, check.id);
  }
});

test("too few values give NaN, none gives nothing to add", () => {
  expect(mean([])).toBeNaN();
  expect(mean([Number.NaN])).toBeNaN();
  expect(sampleVariance([5])).toBeNaN();
  expect(trimmedMean([])).toBeNaN();
  expect(sum([])).toBe(0);
  expect(squaredDeviations([Number.NaN])).toBe(0);
});

test("missing values are left out and never count as 0", () => {
  expect(mean([Number.NaN, 2, 4])).toBe(3);
  expect(sampleVariance([2, Number.NaN, 4])).toBe(2);
  expect(trimmedMean([2, Number.NaN, 4])).toBe(3);
});

test("a share to trim of a half or more is the caller's mistake", () => {
  for (const share of [-0.1, 0.5, Number.NaN]) expect(() => trimmedMean([1, 2], share)).toThrow(RangeError);
});

test("small numbers survive beside large ones", () => {
  expect(sum([1e16, 1, -1e16])).toBe(1);
  expect(sum([1, 1e100, 1, -1e100])).toBe(2);
});

test("a shift changes no variance, a scale squares it, and no variance is negative", () => {
  const values = fc.array(fc.double({ min: -1000, max: 1000, noNaN: true }), { minLength: 2, maxLength: 40 });
  fc.assert(
    fc.property(values, fc.integer({ min: -10_000, max: 10_000 }), (numbers, shift) => {
      const variance = sampleVariance(numbers);
      expect(variance).toBeGreaterThanOrEqual(0);
      expectClose(sampleVariance(numbers.map((v) => v + shift)), variance, 1e-9, 1e-8);
      expectClose(sampleVariance(numbers.map((v) => 3 * v)), 9 * variance, 1e-12, 1e-12);
    }),
    { seed: 12 },
  );
});

test("equal values have no variance at all", () => {
  expect(sampleVariance([0.1, 0.1, 0.1])).toBe(0);
});
