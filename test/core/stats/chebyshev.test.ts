import { expect, test } from "vitest";
import { chebyshevStandIn } from "../../../core/stats/chebyshev";

/** The greatest difference from the function itself at a thousand places. */
function worst(f: (x: number) => number, to: number, panels: number, order: number): number {
  const standIn = chebyshevStandIn(f, to, panels, order);
  return Math.max(...Array.from({ length: 1000 }, (_, i) => Math.abs(standIn((to * i) / 1000) - f((to * i) / 1000))));
}

// A smooth function is matched to rounding; fewer polynomials show that the number is what makes it so.
test("a stand-in differs from a smooth function by rounding alone", () => {
  expect(worst(Math.sin, 14, 14, 22)).toBeLessThan(1e-14);
  expect(worst((x) => Math.exp(-x * x), 14, 14, 22)).toBeLessThan(1e-13);
  expect(worst(Math.sin, 14, 14, 4)).toBeGreaterThan(1e-5);
});
test("it is exact for polynomials of its order, also at the ends of a panel", () => {
  expect(worst((x) => 1 + 2 * x - 0.5 * x ** 3, 2, 2, 4)).toBeLessThan(1e-14);
});
