import { expect, test } from "vitest";
import { tQuantile } from "../../../core/stats/distributions";
import { fiellerRatio } from "../../../core/stats/fieller";
import { mean, sampleVariance } from "../../../core/stats/moments";
import { checksOf, expectClose } from "./check-values";

test("trees: the ratio of two independent means", () => {
  interface Data {
    readonly x: readonly number[];
    readonly y: readonly number[];
  }
  interface Wanted {
    readonly ratio: number;
    readonly g: number;
    readonly ci: readonly [number, number];
    readonly deltaLogSE: number;
  }
  for (const { data, args, expected } of checksOf<Data, { readonly conf: number }, Wanted>("ratio-fieller")) {
    const { x, y } = data;
    const found = fiellerRatio(
      {
        numerator: mean(x),
        denominator: mean(y),
        numeratorVariance: sampleVariance(x) / x.length,
        denominatorVariance: sampleVariance(y) / y.length,
        covariance: 0,
      },
      tQuantile((1 + args.conf) / 2, x.length + y.length - 2),
    );
    expectClose(found.ratio, expected.ratio, 1e-9);
    expectClose(found.g, expected.g, 1e-9);
    expectClose(found.interval.from, expected.ci[0], 1e-9);
    expectClose(found.interval.to, expected.ci[1], 1e-9);
    expectClose(found.logStandardError, expected.deltaLogSE, 1e-9);
  }
});

test("a denominator that may be 0 gives no interval", () => {
  const found = fiellerRatio({ numerator: 3, denominator: 1, numeratorVariance: 0.1, denominatorVariance: 0.5, covariance: 0 }, 2);
  expect(found.g).toBe(2);
  expect(found.interval).toEqual({ from: Number.NaN, to: Number.NaN });
});

test("a denominator known exactly gives the numerator's interval divided by it", () => {
  const found = fiellerRatio({ numerator: 3, denominator: 2, numeratorVariance: 0.25, denominatorVariance: 0, covariance: 0 }, 2);
  expect(found).toMatchObject({ ratio: 1.5, g: 0, interval: { from: 1, to: 2 } });
});
