import { expect, test } from "vitest";
import { describeShots } from "../../../core/stats/describe-shots";
import { checksOf, expectClose } from "./check-values";

test("every number of a description agrees with R", () => {
  interface Summary {
    readonly n: number;
    readonly mean: number;
    readonly sd: number;
    readonly median: number;
    readonly madRaw: number;
    readonly madScaled: number;
    readonly iqr7: number;
    readonly trim10: number;
    readonly q7: readonly number[];
  }
  for (const { data, expected, id } of checksOf<{ x: number[] }, { probs: number[] }, Summary>("univariate")) {
    const told = describeShots(Float64Array.from(data.x));
    expect([told.n, told.missing, told.min, told.max]).toEqual([expected.n, 0, Math.min(...data.x), Math.max(...data.x)]);
    const pairs: readonly (readonly [number, number])[] = [
      [told.mean, expected.mean],
      [told.sd, expected.sd],
      [told.median, expected.median],
      [told.mad, expected.madScaled],
      [told.mad / 1.4826, expected.madRaw],
      [told.q3 - told.q1, expected.iqr7],
      // Probabilities 0.25 and 0.75 are the third and the fifth of the check.
      [told.q1, expected.q7[2]!],
      [told.q3, expected.q7[4]!],
      [told.trimmedMean, expected.trim10],
    ];
    for (const [got, wanted] of pairs) expectClose(got, wanted, 1e-12, 0, id);
  }
});

test("missing values are counted and left out; without any value there is nothing else to tell", () => {
  expect(describeShots(Float64Array.of(Number.NaN, 3, 1, Number.NaN))).toMatchObject({ n: 2, missing: 2, mean: 2, min: 1, max: 3 });
  const { n, missing, ...rest } = describeShots(Float64Array.of(Number.NaN));
  expect([n, missing]).toEqual([0, 1]);
  expect(Object.values(rest).every((value) => Number.isNaN(value))).toBe(true);
});
