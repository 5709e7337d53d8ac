import * as fc from "fast-check";
import { expect, test } from "vitest";
import { normalQuantile } from "../../../core/stats/distributions";
import { wilsonInterval } from "../../../core/stats/wilson";
import { expectClose } from "./check-values";

function check(count: number, n: number, from: number, to: number): void {
  const interval = wilsonInterval(count, n, 0.95);
  expectClose(interval.from, from, 0, 5e-5, `${count} of ${n}, from`);
  expectClose(interval.to, to, 0, 5e-5, `${count} of ${n}, to`);
}

test("published intervals", () => {
  // R. G. Newcombe, Statistics in Medicine 17 (1998) 857, table I, method 3.
  check(81, 263, 0.2553, 0.3662);
  check(15, 148, 0.0624, 0.1605);
  check(0, 20, 0, 0.1611);
  check(1, 29, 0.0061, 0.1718);
});

test("the bounds are where the share is one z of the score test away", () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 200 }), fc.double({ min: 0, max: 1, noNaN: true }), fc.double({ min: 0.55, max: 0.99, noNaN: true }), (n, part, confidence) => {
      const count = Math.round(part * n);
      const { from, to } = wilsonInterval(count, n, confidence);
      const z = normalQuantile((1 + confidence) / 2);
      for (const [bound, isEnd] of [[from, count === 0], [to, count === n]] as const) {
        if (isEnd) expect(bound).toBe(count === 0 ? 0 : 1);
        else expectClose(Math.abs(count / n - bound), z * Math.sqrt((bound * (1 - bound)) / n), 1e-8, 1e-12);
      }
    }),
    { seed: 8 },
  );
});

test("no shots, no interval", () => {
  expect(wilsonInterval(0, 0, 0.95).to).toBeNaN();
});
