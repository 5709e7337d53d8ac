import * as fc from "fast-check";
import { expect, test } from "vitest";
import { fitClusterRobust } from "../../../core/stats/cluster-robust";
import { tCdf } from "../../../core/stats/distributions";
import { linearRegression } from "../../../core/stats/linear-regression";
import { meanModel } from "../../../core/stats/mean-model";
import { familyInterval } from "../../../core/stats/simultaneous";
import { symmetricEigen } from "../../../core/stats/symmetric-eigen";
import { designOf, weightsOf } from "./check-designs";
import { checksOf, datasetOf, expectClose, normals } from "./check-values";
import { denseClusterRobust } from "./dense-models";
import { inventedSession, oneLongStint, plans } from "./invented-sessions";
import { session101, sessionShots } from "./session-101";

interface Robust {
  readonly terms: readonly string[];
  readonly coef: readonly number[];
  readonly seHC2: readonly number[];
  readonly seCR2?: readonly number[];
  readonly dfCR2?: readonly number[];
  readonly pCR2?: readonly number[];
  readonly clusters?: number;
}

test.each(checksOf<{ dataset: string }, { formula: string; cluster: string | null }, Robust>("ols-robust"))("$id agrees with R: CR2, and HC2 where each row is its own cluster", (check) => {
  const { expected, rtol, args } = check;
  const data = datasetOf(check.data.dataset);
  const alone = fitClusterRobust(designOf(data, args.formula, expected.terms, null))!;
  expected.terms.forEach((term, i) => {
    const { difference, standardError } = alone.contrast(weightsOf(expected.terms.length, { [i]: 1 }));
    expectClose(difference, expected.coef[i]!, rtol, 0, term);
    expectClose(standardError, expected.seHC2[i]!, rtol, 0, term);
  });
  if (args.cluster === null) return;
  const design = designOf(data, args.formula, expected.terms, args.cluster);
  const fit = fitClusterRobust(design)!;
  expect(design.blockCount).toBe(expected.clusters);
  expected.terms.forEach((term, i) => {
    const { difference, standardError, df } = fit.contrast(weightsOf(expected.terms.length, { [i]: 1 }));
    expectClose(fit.coefficients[i]!, expected.coef[i]!, rtol, 0, term);
    expectClose(standardError, expected.seCR2![i]!, rtol, 0, term);
    expectClose(df, expected.dfCR2![i]!, rtol, 0, term);
    expectClose(2 * tCdf(-Math.abs(difference / standardError), df), expected.pCR2![i]!, rtol, 0, term);
  });
});

type TrendCr2 = Readonly<Record<"diff" | "se" | "df" | "lower" | "upper", readonly number[]>> & { readonly slope: number };

test.each([["ball", "Ball speed [mph]"], ["carry", "Carry distance [yd]"]] as const)("session-101, %s: heads with a trend agree with R's CR2", (metric, header) => {
  const { trendCR2 } = session101.expected[metric] as unknown as { readonly trendCR2: TrendCr2 };
  const model = meanModel(sessionShots(header));
  const fit = fitClusterRobust(model)!;
  expectClose(fit.coefficients[model.trends[0]!]!, trendCR2.slope, 1e-8);
  [[1, 0], [2, 0], [2, 1]].forEach(([of, against], i) => {
    const contrast = fit.contrast(weightsOf(4, { [of!]: 1, [against!]: -1 }));
    const { from, to } = familyInterval(contrast, 2, 0.95);
    expectClose(contrast.difference, trendCR2.diff[i]!, 1e-8);
    expectClose(contrast.standardError, trendCR2.se[i]!, 1e-8);
    expectClose(contrast.df, trendCR2.df[i]!, 1e-8);
    expectClose(from, trendCR2.lower[i]!, 1e-8);
    expectClose(to, trendCR2.upper[i]!, 1e-8);
  });
});

test("CR2 and its df agree with dense matrices where stints are of all lengths", () => {
  fc.assert(
    fc.property(plans, (plan) => {
      const data = inventedSession(plan);
      const weights = weightsOf(data.columns.length, { 1: 1, 0: -1, 3: 0.3 });
      const actual = fitClusterRobust(data)!.contrast(weights);
      const dense = denseClusterRobust(data, weights);
      expectClose(actual.difference, dense.difference, 1e-8, 1e-9);
      expectClose(actual.standardError, dense.standardError, 1e-8);
      expectClose(actual.df, dense.df, 1e-7);
    }),
    { seed: 71, numRuns: 20 },
  );
});

test("shifting and scaling the values, relabelling heads and stints", () => {
  fc.assert(
    fc.property(plans, (plan) => {
      const data = inventedSession(plan);
      const [weights, turnedWeights] = [weightsOf(data.columns.length, { 1: 1, 0: -1 }), weightsOf(data.columns.length, { [plan.heads - 2]: 1, [plan.heads - 1]: -1 })];
      const plain = fitClusterRobust(data)!.contrast(weights);
      const moved = fitClusterRobust({ ...data, value: data.value.map((v) => 2.5 * v - 1e4) })!.contrast(weights);
      const columns = [...data.columns.slice(0, plan.heads).reverse(), ...data.columns.slice(plan.heads)];
      const turned = fitClusterRobust({ ...data, columns, block: data.block.map((b) => data.blockCount - 1 - b) })!.contrast(turnedWeights);
      expectClose(moved.difference, 2.5 * plain.difference, 1e-8, 1e-8);
      expectClose(moved.standardError, 2.5 * plain.standardError, 1e-8);
      expectClose(moved.df, plain.df, 1e-8);
      expectClose(turned.difference, plain.difference, 1e-8, 1e-9);
      expectClose(turned.standardError, plain.standardError, 1e-8);
      expectClose(turned.df, plain.df, 1e-8);
    }),
    { seed: 72, numRuns: 25 },
  );
});

test("coefficients and residuals are those of ordinary least squares", () => {
  const data = inventedSession({ seed: 9, heads: 3, passes: 4, shots: [1, 2, 6], stintSd: 1 });
  const plain = linearRegression(data.columns, data.value)!;
  const robust = fitClusterRobust(data)!;
  expect(robust.coefficients).toEqual(plain.coefficients);
  expect(robust.residuals).toEqual(plain.residuals);
});

test("stints twice as long by the same shots again have the same error and df", () => {
  const data = inventedSession({ seed: 9, heads: 3, passes: 5, shots: [3], stintSd: 1 });
  const still = { ...data, columns: data.columns.slice(0, 3) };
  const twice = (values: Float64Array): Float64Array => Float64Array.of(...values, ...values);
  const more = { ...still, columns: still.columns.map(twice), value: twice(still.value), block: Int32Array.of(...still.block, ...still.block) };
  const [plain, doubled] = [still, more].map((d) => fitClusterRobust(d)!.contrast([-1, 1, 0]));
  expectClose(doubled!.standardError, plain!.standardError, 1e-12);
  expectClose(doubled!.df, plain!.df, 1e-12);
});

test("heads hit in one go each, and columns made of one another, have no fit", () => {
  const data = inventedSession(oneLongStint);
  expect(fitClusterRobust(data)).toBeNull();
  expect(fitClusterRobust({ ...data, columns: data.columns.slice(0, 2) })).toBeNull();
  const fair = inventedSession({ seed: 9, heads: 2, passes: 4, shots: [3], stintSd: 1 });
  expect(fitClusterRobust({ ...fair, columns: [...fair.columns, new Float64Array(24).fill(1)] })).toBeNull();
});

test("one head in one stint among others leaves its direction out and the fit finite", () => {
  const data = inventedSession({ seed: 9, heads: 2, passes: 4, shots: [3], stintSd: 1 });
  const third = Float64Array.from(data.block, (b) => (b === 7 ? 1 : 0));
  const columns = [data.columns[0]!, data.columns[1]!.map((own, i) => own - third[i]!), third];
  const fit = fitClusterRobust({ ...data, columns })!;
  const { standardError, df } = fit.contrast([-1, 0, 1]);
  expect(standardError).toBeGreaterThan(0);
  expect(df).toBeGreaterThan(0);
});

test("values that the heads explain without rest have no standard error to judge by", () => {
  const data = inventedSession({ seed: 5, heads: 2, passes: 4, shots: [3], stintSd: 1 });
  const value = Float64Array.from(data.columns[1]!, (isSecond) => 150.1 + 7.3 * isSecond);
  const { difference, standardError, df } = fitClusterRobust({ ...data, value })!.contrast(weightsOf(3, { 1: 1, 0: -1 }));
  expectClose(difference, 7.3, 1e-12);
  expect(standardError).toBe(0);
  expect(df).toBeNaN();
});

test("eigenvalues and vectors make the matrix again", () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 12 }), fc.integer({ min: 1, max: 9999 }), fc.constantFrom(1e-9, 1, 1e9), (order, seed, size) => {
      const normal = normals(seed);
      const a = new Float64Array(order * order);
      for (let i = 0; i < order; i++) for (let j = 0; j <= i; j++) a[i * order + j] = a[j * order + i] = size * normal();
      const { values, vectors } = symmetricEigen(a, order);
      for (let i = 0; i < order; i++) {
        for (let j = 0; j < order; j++) {
          let entry = 0;
          let along = 0;
          for (let k = 0; k < order; k++) {
            entry += vectors[i * order + k]! * values[k]! * vectors[j * order + k]!;
            along += vectors[k * order + i]! * vectors[k * order + j]!;
          }
          expectClose(entry, a[i * order + j]!, 0, 1e-13 * order * size);
          expectClose(along, i === j ? 1 : 0, 0, 1e-13);
        }
      }
    }),
    { seed: 73, numRuns: 40 },
  );
  const { values } = symmetricEigen(Float64Array.of(2, 1, 1, 2), 2);
  expect([...values].map((value) => Math.round(value * 1e12) / 1e12).toSorted((a, b) => a - b)).toEqual([1, 3]);
});
