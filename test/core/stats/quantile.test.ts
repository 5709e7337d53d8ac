import * as fc from "fast-check";
import { expect, test } from "vitest";
import { median, medianAbsoluteDeviation, quantile, quantileOfSorted } from "../../../core/stats/quantile";
import { checksOf, expectClose } from "./check-values";

interface Summary {
  readonly median: number;
  readonly madScaled: number;
  readonly q7: readonly number[];
}

test("quantiles of type 7, median and MAD agree with R", () => {
  for (const check of checksOf<{ x: number[] }, { probs: number[] }, Summary>("univariate")) {
    check.args.probs.forEach((p, i) => expectClose(quantile(check.data.x, p), check.expected.q7[i]!, 1e-12, 0, check.id));
    expectClose(median(check.data.x), check.expected.median, 1e-12, 0, check.id);
    expectClose(medianAbsoluteDeviation(check.data.x), check.expected.madScaled, 1e-9, 0, check.id);
  }
});

test("missing values are left out and never count as 0", () => {
  expect(quantile([Number.NaN, 3, 1, Number.NaN, 2], 0.5)).toBe(2);
  expect(quantile([Number.NaN], 0.5)).toBeNaN();
  expect(quantile([], 0)).toBeNaN();
  expect(medianAbsoluteDeviation([])).toBeNaN();
});

test("a probability outside 0 to 1 is the caller's mistake", () => {
  for (const p of [-0.01, 1.01, Number.NaN]) expect(() => quantile([1, 2], p)).toThrow(RangeError);
});

test("the values given stay as they are", () => {
  const values = Object.freeze([3, 1, 2]);
  expect(quantile(values, 1)).toBe(3);
  expect(values).toEqual([3, 1, 2]);
});

const numbers = fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { minLength: 1, maxLength: 30 });

test("quantiles rise with p, lie within the data and turn round when the data do", () => {
  const p = fc.double({ min: 0, max: 1, noNaN: true });
  fc.assert(
    fc.property(numbers, p, p, (values, a, b) => {
      const low = quantile(values, Math.min(a, b));
      const high = quantile(values, Math.max(a, b));
      expect(low).toBeLessThanOrEqual(high + 1e-9 * Math.abs(high));
      expect(low).toBeGreaterThanOrEqual(Math.min(...values));
      expectClose(quantile(values.map((v) => -v), 1 - a), -quantile(values, a), 1e-9, 1e-6);
    }),
    { seed: 11 },
  );
});

test("one sort serves several quantiles", () => {
  expect(quantileOfSorted(Float64Array.of(1, 2, 3, 4), 0.25)).toBe(1.75);
});
