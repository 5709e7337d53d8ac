import { expect, test } from "vitest";
import { robustRegression } from "../../../core/stats/robust-regression";

/** Stack loss: K. A. Brownlee, Statistical Theory and Methodology in Science and Engineering, 2nd edition (1965), p. 454. */
const air = [80, 80, 75, 62, 62, 62, 62, 62, 58, 58, 58, 58, 58, 58, 50, 50, 50, 50, 50, 56, 70];
const water = [27, 27, 25, 24, 22, 23, 24, 24, 23, 18, 18, 17, 18, 19, 18, 18, 19, 19, 20, 20, 20];
const acid = [89, 88, 90, 87, 87, 87, 93, 93, 87, 80, 89, 88, 82, 93, 89, 86, 72, 79, 80, 82, 91];
const loss = [42, 37, 37, 28, 18, 18, 19, 20, 15, 14, 14, 13, 11, 12, 8, 7, 8, 8, 9, 15, 15];
const columns = [air.map(() => 1), air, water, acid].map((column) => Float64Array.from(column));
const value = Float64Array.from(loss);

test("the bisquare regression of the stack losses gives shot 21 no weight", () => {
  // rlm(psi = psi.bisquare) of R's MASS 7.3 with acc = 1e-12.
  const fit = robustRegression(columns, value)!;
  expect(fit.converged).toBe(true);
  expect([...fit.coefficients]).toEqual([-42.28532154, 0.92755899, 0.6507112, -0.11233312].map((each) => expect.closeTo(each, 5)));
  expect(fit.scale).toBeCloseTo(2.281853, 4);
  expect([fit.weights[3], fit.weights[20]]).toEqual([expect.closeTo(0.3358, 3), expect.closeTo(0.0022, 3)]);
});

test("a third of the values far off leaves the line where it is", () => {
  const x = Float64Array.from({ length: 30 }, (_, i) => i);
  const y = x.map((each, i) => 2 + 3 * each + (i % 3 === 0 ? 500 : ((i * 7) % 5) * 0.01));
  const [constant, slope] = robustRegression([x.map(() => 1), x], y)!.coefficients;
  expect(constant).toBeCloseTo(2, 1);
  expect(slope).toBeCloseTo(3, 2);
});

test("values on a line have no scale, and dependent columns no fit", () => {
  const x = Float64Array.of(1, 2, 3, 4);
  expect(robustRegression([x], x.map((each) => 2 * each))!.scale).toBeCloseTo(0, 12);
  expect(robustRegression([x, x], x)).toBeNull();
});
