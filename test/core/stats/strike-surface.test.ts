import * as fc from "fast-check";
import { expect, test } from "vitest";
import { fitBlockModel } from "../../../core/stats/block-model";
import { fitClusterRobust } from "../../../core/stats/cluster-robust";
import { tQuantile } from "../../../core/stats/distributions";
import { standardisedDifference } from "../../../core/stats/effect-size";
import type { LinearFit } from "../../../core/stats/linear-fit";
import { linearRegression } from "../../../core/stats/linear-regression";
import { mean } from "../../../core/stats/moments";
import { allPairs } from "../../../core/stats/pair-methods";
import type { ShotData } from "../../../core/stats/shot-data";
import { commonStrikes, standardisedWeights, subtractWeights } from "../../../core/stats/standardise";
import { lossWeights } from "../../../core/stats/strike-losses";
import type { SurfaceForm } from "../../../core/stats/strike-surface";
import { chooseForm, strikeSurface } from "../../../core/stats/strike-surface";
import { checksOf, datasetOf, expectClose } from "./check-values";
import { inventedStrikes } from "./invented-strikes";
import { session101, sessionShots } from "./session-101";

const forms: readonly SurfaceForm[] = ["additive", "shared", "reduced", "full"];

/** The difference of two heads at the same strikes, with its standard error and df. */
function sameStrikes(data: ShotData, form: SurfaceForm, of: number, against: number, fit = fitBlockModel) {
  const surface = strikeSurface(data, form);
  const strikes = commonStrikes(data);
  return fit(surface)!.contrast(subtractWeights(standardisedWeights(surface, of, strikes), standardisedWeights(surface, against, strikes)));
}

function checkWeights(fit: LinearFit, weights: Float64Array, wanted: { difference: number; standardError?: number; df?: number }, relative: number): void {
  const found = fit.contrast(weights);
  expectClose(found.difference, wanted.difference, relative, 1e-9, "difference");
  if (wanted.standardError !== undefined) expectClose(found.standardError, wanted.standardError, relative, 0, "standard error");
  if (wanted.df !== undefined) expectClose(found.df, wanted.df, relative, 0, "df");
}

test.each(["ball", "carry"] as const)("session 101, %s: means and differences at all shots' strikes by the full form", (metric) => {
  const { standardised } = session101.expected[metric];
  const data = sessionShots(metric === "ball" ? "Ball speed [mph]" : "Carry distance [yd]");
  const surface = strikeSurface(data, "full");
  // Every head has 24 shots, so that equal weight a head is equal weight a shot.
  const weights = session101.heads.map((_, head) => standardisedWeights(surface, head, commonStrikes(data)));
  const [robust, plain] = [fitClusterRobust(surface)!, linearRegression(surface.columns, surface.value)!];
  standardised.mean.forEach((wanted, head) => checkWeights(robust, weights[head]!, { difference: wanted }, 1e-8));
  allPairs(3).forEach(({ of, against }, pair) => {
    const between = subtractWeights(weights[of]!, weights[against]!);
    const wanted = { difference: standardised.diff[pair]!, standardError: standardised.seCR2[pair]!, df: standardised.dfCR2[pair]! };
    checkWeights(robust, between, wanted, 1e-6);
    checkWeights(plain, between, { difference: wanted.difference, standardError: standardised.seIid[pair]! }, 1e-6);
  });
});

test.each(["ball", "carry"] as const)("session 101, %s: the loss at each standard miss by the full form", (metric) => {
  const { points, byHead } = session101.expected[metric].lossAtMiss;
  const surface = strikeSurface(sessionShots(metric === "ball" ? "Ball speed [mph]" : "Carry distance [yd]"), "full");
  const fit = fitClusterRobust(surface)!;
  byHead.forEach((losses, head) => {
    losses.forEach((wanted, i) => checkWeights(fit, lossWeights(surface, head, ...points[i]!), { difference: wanted }, 1e-7));
  });
});

test("session 101: what is true of the heads is inside the intervals", () => {
  const data = sessionShots("Ball speed [mph]");
  allPairs(3).forEach(({ of, against }, pair) => {
    const found = sameStrikes(data, "reduced", of, against);
    const truth = session101.truth.pairs[pair]!.standardisedBallSpeed;
    expect(Math.abs(found.difference - truth)).toBeLessThan(tQuantile(0.975, found.df) * found.standardError);
  });
  const surface = strikeSurface(data, "reduced");
  const fit = fitBlockModel(surface)!;
  const covered = session101.truth.retention.flatMap((places, head) =>
    places.slice(0, 4).map(({ x, y, ballLoss }) => {
      const found = fit.contrast(lossWeights(surface, head, x, y));
      return Math.abs(found.difference - ballLoss) < tQuantile(0.975, found.df) * found.standardError;
    }),
  );
  // Twelve 95 % intervals that are not independent: one or two may miss.
  expect(covered.filter(Boolean).length).toBeGreaterThanOrEqual(10);
});

test("iris: means at all flowers' widths", () => {
  interface Wanted {
    readonly level: readonly string[];
    readonly standardisedMean: readonly number[];
    readonly se: readonly number[];
    readonly rawMean: readonly number[];
    readonly diff: readonly number[];
    readonly diffSE: readonly number[];
    readonly dfRes: number;
    readonly smdByPairThenCovariate: readonly number[];
  }
  const { expected } = checksOf<unknown, unknown, Wanted>("standardised-means")[0]!;
  const iris = datasetOf("iris");
  const species = iris["Species"] as readonly string[];
  const width = Float64Array.from(iris["SepalWidth"] as readonly number[]);
  const value = Float64Array.from(iris["SepalLength"] as readonly number[]);
  const terms = [(): number => 1, (x: number): number => x, (x: number): number => x * x];
  const columns = expected.level.flatMap((level) => terms.map((term) => width.map((x, i) => (species[i] === level ? term(x) : 0))));
  // The same standardisation, of a surface with one coordinate.
  const weightsAt = (group: number, x: number): Float64Array =>
    Float64Array.from({ length: columns.length }, (_, k) => (Math.floor(k / 3) === group ? terms[k % 3]!(x) : 0));
  const everywhere = { x: width, y: width, weight: width.map(() => 1 / width.length) };
  const weights = expected.level.map((_, group) => standardisedWeights({ columns, weightsAt }, group, everywhere));
  const fit = linearRegression(columns, value)!;
  weights.forEach((own, group) =>
    checkWeights(fit, own, { difference: expected.standardisedMean[group]!, standardError: expected.se[group]!, df: expected.dfRes }, 1e-8),
  );
  const widths = expected.level.map((level) => width.filter((_, i) => species[i] === level));
  expected.level.forEach((level, group) => expectClose(mean(value.filter((_, i) => species[i] === level)), expected.rawMean[group]!, 1e-12));
  allPairs(3).forEach(({ of, against }, pair) => {
    checkWeights(fit, subtractWeights(weights[of]!, weights[against]!), { difference: expected.diff[pair]!, standardError: expected.diffSE[pair]! }, 1e-8);
    expectClose(standardisedDifference(widths[of]!, widths[against]!), expected.smdByPairThenCovariate[pair]!, 1e-8);
  });
});

function checkForm(shots: { readonly perStint: number; readonly passes: number; readonly tilt?: number }, form: SurfaceForm, because: string): void {
  expect(chooseForm(inventedStrikes({ heads: 2, ...shots }))).toEqual({ form, because });
}

test("the form that the shots bear", () => {
  checkForm({ perStint: 3, passes: 4 }, "shared", "few shots");
  checkForm({ perStint: 10, passes: 3 }, "shared", "few shots");
  checkForm({ perStint: 4, passes: 5 }, "reduced", "common tilt");
  checkForm({ perStint: 4, passes: 5, tilt: 0.6 }, "full", "different tilt");
  // Too few shots for a tilt of its own, however different.
  checkForm({ perStint: 4, passes: 4, tilt: 0.6 }, "reduced", "common tilt");
  checkForm({ perStint: 5, passes: 8 }, "full", "many shots");
});

test("the columns of each form, after those of the mean model", () => {
  const data = inventedStrikes({ heads: 3, perStint: 3, passes: 6 });
  // Three heads and a trend; then the terms.
  expect(forms.map((form) => strikeSurface(data, form).columns.length)).toEqual([8, 9, 13, 19]);
});

test("a surface of what a form can make is found again, whatever the scale of the strikes", () => {
  const data = inventedStrikes({ heads: 2, perStint: 3, passes: 8 });
  const surfaceOf = (head: number, x: number, y: number): number => 140 + head - 0.05 * x + 0.08 * y - (0.01 + 0.002 * head) * x * x - 0.02 * y * y + 0.003 * x * y;
  const exact = { ...data, value: data.value.map((_, i) => surfaceOf(data.group[i]!, data.strike!.x[i]!, data.strike!.y[i]!)) };
  const surface = strikeSurface(exact, "full");
  const fit = fitBlockModel(surface)!;
  for (const [head, x, y] of [[0, 0, 0], [1, 12, 0], [1, -5, 8]] as const) expectClose(fit.contrast(surface.weightsAt(head, x, y)).difference, surfaceOf(head, x, y), 1e-10);
});

test("strikes that don't scatter determine no surface", () => {
  const data = inventedStrikes({ heads: 2, perStint: 4, passes: 6 });
  const alike = { ...data, strike: { x: data.strike!.x.map(() => 3), y: data.strike!.y.map(() => -1) } };
  for (const form of forms) expect(fitBlockModel(strikeSurface(alike, form))).toBeNull();
  expect(chooseForm(alike)).toEqual({ form: "reduced", because: "common tilt" });
});

test("with strikes alike for all heads the difference at the same strikes is that as struck", () => {
  const data = inventedStrikes({ heads: 2, perStint: 3, passes: 8 });
  // Both heads get the same strikes, pass by pass.
  const turn = (i: number): number => (data.group[i] === 1 ? i - 3 : i);
  const alike = { ...data, strike: { x: data.strike!.x.map((_, i, all) => all[turn(i)]!), y: data.strike!.y.map((_, i, all) => all[turn(i)]!) } };
  const struck = fitBlockModel({ ...strikeSurface(alike, "shared"), columns: strikeSurface(alike, "shared").columns.slice(0, 3) })!.contrast([-1, 1, 0]);
  for (const form of forms) expect(Math.abs(sameStrikes(alike, form, 1, 0).difference - struck.difference)).toBeLessThan(0.15 * struck.standardError);
});

test("numbering the heads otherwise permutes the results", () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 1000 }), fc.constantFrom(...forms), (seed, form) => {
      const data = inventedStrikes({ heads: 3, perStint: 3, passes: 6, seed });
      const renamed = { ...data, group: data.group.map((group) => (group + 1) % 3) };
      const [a, b] = [sameStrikes(data, form, 2, 0), sameStrikes(renamed, form, 0, 1)];
      expectClose(b.difference, a.difference, 1e-7, 1e-9);
      expectClose(b.standardError, a.standardError, 1e-6);
      expectClose(b.df, a.df, 1e-6);
    }),
    { seed: 5, numRuns: 12 },
  );
});

test("adding a constant to all values changes no loss; values twice as large lose twice as much", () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 1000 }), fc.constantFrom(...forms), (seed, form) => {
      const data = inventedStrikes({ heads: 2, perStint: 3, passes: 6, seed });
      const lossOf = (value: Float64Array) => {
        const surface = strikeSurface({ ...data, value }, form);
        return fitBlockModel(surface)!.contrast(lossWeights(surface, 1, 12, -3));
      };
      const [plain, moved, doubled] = [lossOf(data.value), lossOf(data.value.map((v) => v + 500)), lossOf(data.value.map((v) => 2 * v))];
      expectClose(moved.difference, plain.difference, 1e-7, 1e-8);
      expectClose(moved.standardError, plain.standardError, 1e-6);
      expectClose(doubled.difference, 2 * plain.difference, 1e-7, 1e-8);
      expectClose(doubled.standardError, 2 * plain.standardError, 1e-6);
    }),
    { seed: 6, numRuns: 12 },
  );
});

test("a strike surface of shots without strikes is a caller's mistake", () => {
  expect(() => strikeSurface({ ...inventedStrikes({ heads: 2, perStint: 3, passes: 6 }), strike: null }, "full")).toThrow(RangeError);
});
