import * as fc from "fast-check";
import { expect, test } from "vitest";
import { fUpperTail, tCdf, tQuantile } from "../../../core/stats/distributions";
import { holm } from "../../../core/stats/holm";
import type { LinearRegression } from "../../../core/stats/linear-regression";
import { linearRegression } from "../../../core/stats/linear-regression";
import { satterthwaite, welchContrast } from "../../../core/stats/mean-contrast";
import { mean, sampleSd } from "../../../core/stats/moments";
import { allPairs } from "../../../core/stats/pair-methods";
import { familyInterval, familyP } from "../../../core/stats/simultaneous";
import { designOf, levelsOf, numbersOf, termColumn, weightsOf } from "./check-designs";
import type { CheckValue } from "./check-values";
import { checksOf, datasetOf, expectClose, normals } from "./check-values";
import { session101, sessionColumn, sessionShots } from "./session-101";

interface NistData {
  readonly y: readonly number[];
  readonly x: readonly (number | readonly number[])[];
}
interface NistArguments {
  readonly type: "polynomial" | "multiple";
  readonly degreeOrPredictors: number;
  readonly intercept: boolean;
}
interface Certified {
  readonly coef: readonly { readonly name: string; readonly est: number; readonly se: number }[];
  readonly residualSd: number;
  readonly rSquared: number;
  readonly dfReg: number;
  readonly ssReg: number;
  readonly msReg: number;
  readonly F: number | null;
  readonly dfRes: number;
  readonly ssRes: number;
  readonly msRes: number;
}

function nistColumns({ data, args }: CheckValue<NistData, NistArguments, Certified>): Float64Array[] {
  const ones = args.intercept ? [new Float64Array(data.y.length).fill(1)] : [];
  const column = (of: (row: number | readonly number[]) => number): Float64Array => Float64Array.from(data.x, of);
  return [
    ...ones,
    ...Array.from({ length: args.degreeOrPredictors }, (_, j) =>
      column((row) => (args.type === "polynomial" ? Number(row) ** (j + 1) : (row as readonly number[])[j]!)),
    ),
  ];
}

// 9 digits, but 8 for two of the Wampler polynomials, whose condition is 1e6: one has coefficients of 1 under scatter of
// 236 014, the other values of 3 million. Certified standard errors of 0 come out as rounding.
const nistRelative: Readonly<Record<string, number>> = { "nist-Wampler1": 1e-8, "nist-Wampler4": 1e-8 };
const nistZero: Readonly<Record<string, number>> = { "nist-Wampler1": 1e-6, "nist-Wampler2": 1e-9 };

test.each(checksOf<NistData, NistArguments, Certified>("nist-regression"))("NIST StRD certified regression: $id", (check) => {
  const { expected, id } = check;
  const relative = Math.min(check.rtol, nistRelative[id] ?? 1e-9);
  const zero = nistZero[id] ?? 0;
  const fit = linearRegression(nistColumns(check), Float64Array.from(check.data.y))!;
  expected.coef.forEach(({ name, est, se }, i) => {
    expectClose(fit.coefficients[i]!, est, relative, 0, name);
    expectClose(fit.standardErrors[i]!, se, relative, zero, name);
  });
  expectClose(fit.modelSumOfSquares, expected.ssReg, relative, 0, "model sum of squares");
  expectClose(fit.modelSumOfSquares / fit.modelDf, expected.msReg, relative, 0, "model mean square");
  expectClose(fit.residualSumOfSquares, expected.ssRes, relative, zero, "residual sum of squares");
  expectClose(fit.residualVariance, expected.msRes, relative, zero, "residual mean square");
  expectClose(Math.sqrt(fit.residualVariance), expected.residualSd, relative, zero, "residual SD");
  expectClose(fit.rSquared, expected.rSquared, relative, 0, "R squared");
  expect([fit.modelDf, fit.residualDf]).toEqual([expected.dfReg, expected.dfRes]);
  if (expected.F !== null) expectClose(fit.f, expected.F, relative, 0, "F");
  else expect(fit.f).toBeNaN();
});

interface OlsExpected {
  readonly terms: readonly string[];
  readonly coef: readonly number[];
  readonly se: readonly number[];
  readonly t: readonly number[];
  readonly p: readonly number[];
  readonly sigma: number;
  readonly r2: number;
  readonly adjR2: number;
  readonly dfRes: number;
  readonly rss: number;
}
type Named = { readonly dataset: string };

test.each(checksOf<Named, { formula: string; cluster: string | null }, OlsExpected>("ols-robust"))("ordinary least squares agrees with R: $id", (check) => {
  const { expected, rtol } = check;
  const { columns, value } = designOf(datasetOf(check.data.dataset), check.args.formula, expected.terms, null);
  const fit = linearRegression(columns, value)!;
  expected.terms.forEach((term, i) => {
    const { difference, standardError, df } = fit.contrast(weightsOf(columns.length, { [i]: 1 }));
    expectClose(fit.coefficients[i]!, expected.coef[i]!, rtol, 0, term);
    expectClose(difference, expected.coef[i]!, rtol, 0, term);
    expectClose(standardError, expected.se[i]!, rtol, 0, term);
    expectClose(difference / standardError, expected.t[i]!, rtol, 0, term);
    expectClose(2 * tCdf(-Math.abs(difference / standardError), df), expected.p[i]!, rtol, 0, term);
  });
  expectClose(Math.sqrt(fit.residualVariance), expected.sigma, rtol);
  expectClose(fit.rSquared, expected.r2, rtol);
  expectClose(fit.adjustedRSquared, expected.adjR2, rtol);
  expectClose(fit.residualSumOfSquares, expected.rss, rtol);
  expect(fit.residualDf).toBe(expected.dfRes);
});

/** Sums of squares that groups of columns add in their order, from the effects of the columns. */
function sequential(fit: LinearRegression, sizes: readonly number[]): readonly number[] {
  let from = 0;
  return sizes.map((size) => fit.effects.slice(from, (from += size)).reduce((total, effect) => total + effect * effect, 0));
}

interface RcbExpected {
  readonly df: readonly number[];
  readonly ss: readonly number[];
  readonly F: readonly (number | null)[];
  readonly p: readonly (number | null)[];
  readonly sigma: number;
  readonly level: readonly string[];
  readonly emmean: readonly number[];
  readonly emmeanSE: readonly number[];
  readonly pairDiff: readonly number[];
  readonly pairSE: readonly number[];
  readonly pairDf: readonly number[];
  readonly tukeyLower: readonly number[];
  readonly tukeyUpper: readonly number[];
  readonly tukeyP: readonly number[];
  readonly holmP: readonly number[];
}

test.each(checksOf<Named, never, RcbExpected>("blocked-linear-model"))("complete and incomplete blocks agree with R: $id", (check) => {
  const { expected, rtol } = check;
  const data = datasetOf(check.data.dataset);
  const subjects = levelsOf(data, "Subject").labels.slice(1).map((label) => `Subject${label}`);
  const types = expected.level.slice(1).map((label) => `Type${label}`);
  const terms = ["(Intercept)", ...subjects, ...types];
  const fit = linearRegression(terms.map((term) => termColumn(data, term)), numbersOf(data, "effort"))!;
  const squares = sequential(fit, [1, subjects.length, types.length]).slice(1);
  [...squares, fit.residualSumOfSquares].forEach((ss, i) => {
    expectClose(ss, expected.ss[i]!, rtol);
    const df = i < 2 ? [subjects.length, types.length][i]! : fit.residualDf;
    expect(df).toBe(expected.df[i]);
    if (i === 2) return;
    const f = ss / df / fit.residualVariance;
    expectClose(f, expected.F[i]!, rtol);
    expectClose(fUpperTail(f, df, fit.residualDf), expected.p[i]!, rtol);
  });
  expectClose(Math.sqrt(fit.residualVariance), expected.sigma, rtol);
  const meanOf = (level: number): readonly number[] =>
    terms.map((term) => (term === "(Intercept)" || term === types[level - 1] ? 1 : term.startsWith("Subject") ? 1 / (subjects.length + 1) : 0));
  expected.level.forEach((level, i) => {
    const { difference, standardError } = fit.contrast(meanOf(i));
    expectClose(difference, expected.emmean[i]!, rtol, 0, level);
    expectClose(standardError, expected.emmeanSE[i]!, rtol, 0, level);
  });
  const pairs = [[0, 1], [0, 2], [0, 3], [1, 2], [1, 3], [2, 3]] as const;
  const contrasts = pairs.map(([of, against]) => fit.contrast(meanOf(of).map((weight, j) => weight - meanOf(against)[j]!)));
  const adjusted = holm(contrasts.map((contrast) => familyP(contrast, 2)));
  contrasts.forEach((contrast, i) => {
    const { from, to } = familyInterval(contrast, 4, 0.95);
    expectClose(contrast.difference, expected.pairDiff[i]!, rtol, 1e-10);
    expectClose(contrast.standardError, expected.pairSE[i]!, rtol);
    expect(contrast.df).toBe(expected.pairDf[i]);
    // R's studentized range is itself good to about 1e-8, more at a p near 0.
    expectClose(from, expected.tukeyLower[i]!, rtol, 1e-7);
    expectClose(to, expected.tukeyUpper[i]!, rtol, 1e-7);
    expectClose(familyP(contrast, 4), expected.tukeyP[i]!, rtol, 1e-9);
    expectClose(adjusted[i]!, expected.holmP[i]!, rtol);
  });
});

interface SessionMetric {
  readonly rawMean: readonly number[];
  readonly rawSd: readonly number[];
  readonly welch: Readonly<Record<"diff" | "se" | "df" | "lower" | "upper" | "p", readonly number[]>>;
  readonly headPlusPass: {
    readonly emmean: readonly number[];
    readonly emmeanSE: readonly number[];
    readonly sigma: number;
    readonly dfRes: number;
    readonly anova: { readonly df: readonly number[]; readonly ss: readonly number[] };
  };
}
const metrics = [["ball", "Ball speed [mph]"], ["carry", "Carry distance [yd]"]] as const;

test.each(metrics)("session-101, %s: heads and passes as factors, and Welch's t on shots, agree with R", (metric, header) => {
  const expected = session101.expected[metric] as unknown as SessionMetric;
  const { value, group: heads } = sessionShots(header);
  const passes = sessionColumn("Pass");
  const groups = session101.heads.map((_, g) => [...value].filter((_value, i) => heads[i] === g));
  groups.forEach((group, g) => {
    expectClose(mean(group), expected.rawMean[g]!, 1e-9);
    expectClose(sampleSd(group), expected.rawSd[g]!, 1e-9);
  });
  allPairs(3).forEach(({ of, against }, i) => {
    const contrast = welchContrast(groups[of]!, groups[against]!);
    const { from, to } = familyInterval(contrast, 2, 0.95);
    expectClose(contrast.difference, expected.welch.diff[i]!, 1e-9);
    expectClose(contrast.standardError, expected.welch.se[i]!, 1e-9);
    expectClose(contrast.df, expected.welch.df[i]!, 1e-9);
    expectClose(from, expected.welch.lower[i]!, 1e-9, 1e-9);
    expectClose(to, expected.welch.upper[i]!, 1e-9, 1e-9);
    expectClose(familyP(contrast, 2), expected.welch.p[i]!, 1e-8);
  });
  const when = (is: (i: number) => boolean): Float64Array => value.map((_, i) => (is(i) ? 1 : 0));
  const columns = [
    when(() => true),
    ...[1, 2].map((g) => when((i) => heads[i] === g)),
    ...[2, 3, 4, 5, 6, 7, 8].map((pass) => when((i) => passes[i] === pass)),
  ];
  const fit = linearRegression(columns, value)!;
  const squares = [...sequential(fit, [1, 2, 7]).slice(1), fit.residualSumOfSquares];
  squares.forEach((ss, i) => expectClose(ss, expected.headPlusPass.anova.ss[i]!, 1e-8));
  expect([2, 7, fit.residualDf]).toEqual(expected.headPlusPass.anova.df);
  expect(fit.residualDf).toBe(expected.headPlusPass.dfRes);
  expectClose(Math.sqrt(fit.residualVariance), expected.headPlusPass.sigma, 1e-9);
  session101.heads.forEach((_, g) => {
    const { difference, standardError } = fit.contrast([1, g === 1 ? 1 : 0, g === 2 ? 1 : 0, ...Array.from({ length: 7 }, () => 1 / 8)]);
    expectClose(difference, expected.headPlusPass.emmean[g]!, 1e-9);
    expectClose(standardError, expected.headPlusPass.emmeanSE[g]!, 1e-9);
  });
});

test("the end gauge of the GUM, annex H.1: effective degrees of freedom and expanded uncertainty", () => {
  interface Gum {
    readonly uc: number;
    readonly ucUnrounded: number;
    readonly nuEffFromUnroundedUc: number;
    readonly U99: number;
  }
  const [check] = checksOf<never, { u: readonly number[]; dof: readonly number[]; coverage: number }, Gum>("gum-welch-satterthwaite");
  const { args, expected, atol } = check!;
  const combined = Math.hypot(...args.u);
  const df = satterthwaite(args.u.map((u, i) => ({ amount: u * u, df: args.dof[i]! })));
  expectClose(combined, expected.ucUnrounded, 1e-12);
  expect(Math.round(combined)).toBe(expected.uc);
  expectClose(df, expected.nuEffFromUnroundedUc, 1e-9);
  // The GUM cuts the degrees of freedom to a whole number (G.4.1) and goes on with the rounded uncertainty.
  expectClose(tQuantile((1 + args.coverage) / 2, Math.floor(df)) * expected.uc, expected.U99, 0, atol);
});

test("a line through three points in a row, exactly", () => {
  const fit = linearRegression([Float64Array.of(1, 1, 1), Float64Array.of(0, 1, 2)], Float64Array.of(1, 3, 5))!;
  expectClose(fit.coefficients[0]!, 1, 1e-14);
  expectClose(fit.coefficients[1]!, 2, 1e-14);
  expect(fit.contrast([0, 1]).df).toBeNaN();
  expectClose(fit.contrast([0, 1]).standardError, 0, 0, 1e-14);
});

test("columns that are made of one another have no fit", () => {
  const ones = new Float64Array(6).fill(1);
  const x = Float64Array.of(1, 2, 3, 4, 5, 7);
  const value = Float64Array.of(3, 1, 4, 1, 5, 9);
  expect(linearRegression([ones, x, x.map((v) => 3 * v - 2)], value)).toBeNull();
  expect(linearRegression([ones, new Float64Array(6)], value)).toBeNull();
  expect(linearRegression(Array.from({ length: 7 }, (_, j) => x.map((v) => v ** j)), value)).toBeNull();
});

test("as many columns as values leave coefficients but no uncertainty", () => {
  const fit = linearRegression([Float64Array.of(1, 1), Float64Array.of(0, 2)], Float64Array.of(3, 7))!;
  expectClose(fit.coefficients[1]!, 2, 1e-14);
  expect(fit.residualVariance).toBeNaN();
  expect(fit.contrast([0, 1]).standardError).toBeNaN();
  expect(fit.p).toBeNaN();
});

test("residuals are at right angles to every column, whatever its size", () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 9999 }), fc.constantFrom(1e-6, 1, 1e9), (seed, size) => {
      const normal = normals(seed);
      const columns = [1, size, size * size].map((scale) => Float64Array.from({ length: 20 }, () => scale * (1e3 + normal())));
      const value = Float64Array.from({ length: 20 }, () => 1e4 + normal());
      const { residuals } = linearRegression(columns, value)!;
      for (const column of columns) {
        const along = column.reduce((total, v, i) => total + v * residuals[i]!, 0);
        expect(Math.abs(along)).toBeLessThan(1e-11 * 20 * Math.max(...column) * Math.max(...value));
      }
    }),
    { seed: 51, numRuns: 30 },
  );
});
