import * as fc from "fast-check";
import { expect, test } from "vitest";
import { autocorrelation, effectiveCount, lagOneWithin } from "../../../core/stats/autocorrelation";
import { pearsonCorrelation, spearmanCorrelation } from "../../../core/stats/correlation";
import { kendallTau } from "../../../core/stats/kendall";
import { seededRandom } from "../../../core/stats/random";
import { regressionLine } from "../../../core/stats/regression-line";
import { bestSplit, stepChange } from "../../../core/stats/step-change";
import { theilSen } from "../../../core/stats/theil-sen";
import { expectClose, normals } from "./check-values";

test("what the docstrings say by example", () => {
  expect(autocorrelation([1, -1, 1, -1], 1)).toEqual([-0.75]);
  expect(effectiveCount(90, 0.5)).toBe(30);
  expect(theilSen([1, 2, 3, 4], [1, 2, 3, 100])).toBe(17);
  expectClose(kendallTau([1, 2, 3], [1, 3, 2]).tau, 1 / 3, 1e-15);
  expect(bestSplit([1, 1, 1, 5, 5])).toMatchObject({ after: 3, shift: 4, f: Infinity });
  expectClose(spearmanCorrelation([1, 2, 3], [1, 8, 27]), 1, 1e-15);
  expect(regressionLine([1, 2, 3], [2, 4, 6]).difference).toBe(2);
});

test("too few values, or values without scatter, have no answer", () => {
  expect(autocorrelation([3, 3, 3], 1)).toEqual([Number.NaN]);
  expect(theilSen([1, 1], [2, 3])).toBeNaN();
  expect(theilSen([], [])).toBeNaN();
  expect(kendallTau([1, 2], [5, 5])).toEqual({ tau: Number.NaN, z: Number.NaN, p: Number.NaN });
  expect(kendallTau([1, 2], [5, 6]).tau).toBe(1);
  expect(bestSplit([2, 2, 2])).toBeNull();
  expect(bestSplit([1, 2, 3], 2)).toBeNull();
  expect(pearsonCorrelation([1, 2, 3], [4, 4, 4], 0.95).r).toBeNaN();
  expect(pearsonCorrelation([1, 2, 3], [1, 3, 2], 0.95).interval.from).toBeNaN();
  expect(regressionLine([1, 1], [2, 3]).difference).toBeNaN();
  expect(lagOneWithin([[1, 2], [3]], 10, seededRandom(1))).toEqual({ r1: Number.NaN, p: Number.NaN });
});

/** Runs of a first-order autoregressive series, each about a level of its own. */
function runs(r1: number, count: number, length: number, seed: number): number[][] {
  const normal = normals(seed);
  return Array.from({ length: count }, () => {
    const level = 10 * normal();
    let last = normal();
    return Array.from({ length }, (_, i) => level + (last = i === 0 ? last : r1 * last + Math.sqrt(1 - r1 * r1) * normal()));
  });
}

test.each([-0.5, 0, 0.3, 0.6])("the autocorrelation %f of many short runs comes back, whatever their levels", (r1) => {
  for (const length of [4, 6]) expectClose(lagOneWithin(runs(r1, 2000, length, 3), 1, seededRandom(1)).r1, r1, 0, 0.06);
});

test("neighbours are found where there are any", () => {
  expect(lagOneWithin(runs(0.7, 10, 10, 3), 200, seededRandom(1)).p).toBeLessThan(0.02);
  expect(lagOneWithin(runs(0, 10, 10, 3), 200, seededRandom(1)).p).toBeGreaterThan(0.05);
});

test("a step is rare where there is one, and runs stay together", () => {
  const normal = normals(4);
  const flat = Array.from({ length: 20 }, () => [normal()]);
  const stepped = flat.map(([value], i) => [value! + (i < 12 ? 0 : 4)]);
  const search = () => ({ least: 2, permutations: 500, random: seededRandom(9) });
  expect(stepChange(flat, search())!.p).toBeGreaterThan(0.05);
  expect(stepChange(stepped, search())).toMatchObject({ after: 12, p: 1 / 501 });
  // Two runs only: whichever comes first, the step is as good, so that nothing is rare.
  const two = [stepped.slice(0, 12).flat(), stepped.slice(12).flat()];
  expect(stepChange(two, search())!.p).toBe(1);
});

const series = fc.array(fc.integer({ min: -300, max: 300 }), { minLength: 4, maxLength: 25 });

test("shifting changes nothing and turning round turns the sign", () => {
  fc.assert(
    fc.property(series, fc.integer({ min: -900, max: 900 }), (values, shift) => {
      fc.pre(new Set(values).size > 1);
      const time = values.map((_, i) => i);
      const shifted = values.map((value) => value + shift);
      const turned = [...values].reverse();
      expect(theilSen(time, shifted)).toBe(theilSen(time, values));
      expect(kendallTau(time, shifted)).toEqual(kendallTau(time, values));
      expectClose(theilSen(time, turned), -theilSen(time, values), 1e-12, 1e-12);
      expectClose(kendallTau(time, turned).tau, -kendallTau(time, values).tau, 1e-12, 1e-12);
      expectClose(regressionLine(time, turned).difference, -regressionLine(time, values).difference, 1e-9, 1e-9);
      const [split, other] = [bestSplit(values)!, bestSplit(turned)!];
      expectClose(other.explained, split.explained, 1e-9);
      expectClose(bestSplit(shifted)!.f, split.f, 1e-6, 1e-9);
      expectClose(spearmanCorrelation(time, values.map((value) => value ** 3)), spearmanCorrelation(time, values), 1e-12, 1e-12);
    }),
    { seed: 21, numRuns: 150 },
  );
});
