import * as fc from "fast-check";
import { expect, test } from "vitest";
import type { BlockModelFit } from "../../../core/stats/block-model";
import { fitBlockModel } from "../../../core/stats/block-model";
import { tCdf } from "../../../core/stats/distributions";
import { holm } from "../../../core/stats/holm";
import type { BlockData } from "../../../core/stats/linear-fit";
import { linearRegression } from "../../../core/stats/linear-regression";
import type { MeanContrast } from "../../../core/stats/mean-contrast";
import { meanModel } from "../../../core/stats/mean-model";
import { mean, squaredDeviations, sum } from "../../../core/stats/moments";
import { familyInterval, familyP } from "../../../core/stats/simultaneous";
import { designOf, levelsOf, weightsOf } from "./check-designs";
import { checksOf, datasetOf, expectClose } from "./check-values";
import { denseKenwardRoger } from "./dense-models";
import type { Plan } from "./invented-sessions";
import { inventedSession, oneLongStint, plans } from "./invented-sessions";
import { session101, sessionShots } from "./session-101";

/** Two-sided, for one contrast. */
const pOf = ({ difference, standardError, df }: MeanContrast): number => 2 * tCdf(-Math.abs(difference / standardError), df);
const headPairs = [[1, 0], [2, 0], [2, 1]] as const;

interface Expected {
  readonly terms: readonly string[] | string;
  readonly fixef: readonly number[] | number;
  readonly se: readonly number[] | number;
  readonly seKR: readonly number[] | number;
  readonly dfKR: readonly number[] | number;
  readonly pKR: readonly number[] | number;
  readonly remlLogLik: number;
  readonly vcVar: readonly [number, number];
  readonly vcSd: readonly [number, number];
  readonly anovaTerms: readonly string[];
  readonly FKR: readonly number[];
  readonly numDf: readonly number[];
  readonly denDfKR: readonly number[];
  readonly pFKR: readonly number[];
  readonly blup: readonly number[];
  readonly blupLevels: readonly string[];
}
interface Means {
  readonly emmean: readonly number[];
  readonly emmeanSE: readonly number[];
  readonly emmeanDf: readonly number[];
  readonly pairDiff: readonly number[];
  readonly pairSE: readonly number[];
  readonly pairDf: readonly number[];
  readonly pairTukeyP: readonly number[];
  readonly pairTukeyLower: readonly number[];
  readonly pairTukeyUpper: readonly number[];
  readonly pairHolmP: readonly number[];
}
interface Boundary {
  readonly mean: number;
  readonly se: number;
  readonly varBatch: number;
  readonly varResid: number;
  readonly remlLogLik: number;
}
type LmmCheck = Expected | (Expected & Means) | Boundary;

const lmmChecks = checksOf<{ dataset: string }, { formula: string }, LmmCheck>("lmm-reml");
/** R writes a list of one as the thing itself. */
const listOf = <T>(given: T | readonly T[]): readonly T[] => (Array.isArray(given) ? (given as readonly T[]) : [given as T]);

/** The rows of weights that a term of the analysis of variance tests (type III: a slope at the middle of the groups). */
const termRows: Readonly<Record<string, readonly (readonly number[])[]>> = {
  "sleepstudy Days": [[0, 1]],
  "Orthodont age": [[0, 1, 0, 0.5]],
  "Orthodont Sex": [[0, 0, 1, 0]],
  "Orthodont age:Sex": [[0, 0, 0, 1]],
  "ergoStool Type": [[0, 1, 0, 0], [0, 0, 1, 0], [0, 0, 0, 1]],
  "ergoStoolUnbalanced Type": [[0, 1, 0, 0], [0, 0, 1, 0], [0, 0, 0, 1]],
};

test.each(lmmChecks)("mixed model, restricted likelihood, Kenward and Roger: $id agrees with R", ({ id, data, args, expected, rtol }) => {
  const grouping = /\(1 \| (\w+)\)/.exec(args.formula)![1]!;
  const terms = "terms" in expected ? listOf(expected.terms) : ["(Intercept)"];
  const design = designOf(datasetOf(data.dataset), args.formula, terms, grouping);
  const fit = fitBlockModel(design)!;
  if ("varBatch" in expected) return checkBoundary(fit, expected, rtol);
  terms.forEach((term, i) => {
    const contrast = fit.contrast(weightsOf(terms.length, { [i]: 1 }));
    expectClose(fit.coefficients[i]!, listOf(expected.fixef)[i]!, rtol, 0, term);
    expectClose(contrast.difference, listOf(expected.fixef)[i]!, rtol, 0, term);
    expectClose(contrast.standardError, listOf(expected.seKR)[i]!, rtol, 0, term);
    expectClose(Math.sqrt(fit.covariance[i * terms.length + i]!), listOf(expected.se)[i]!, rtol, 0, term);
    expectClose(contrast.df, listOf(expected.dfKR)[i]!, 1e-6, 0, term);
    // A p of 1e-27 moves by 170 times what the variances move, whose fit in R ends at 1e-8 or so.
    expectClose(pOf(contrast), listOf(expected.pKR)[i]!, 1e-5, 0, term);
  });
  expectClose(fit.logLikelihood, expected.remlLogLik, 1e-9, 0, id);
  [fit.stintVariance, fit.residualVariance].forEach((variance, i) => {
    expectClose(variance, expected.vcVar[i]!, rtol);
    expectClose(Math.sqrt(variance), expected.vcSd[i]!, rtol);
  });
  const labels = levelsOf(datasetOf(data.dataset), grouping).labels;
  expected.blupLevels.forEach((label, i) => expectClose(fit.stintEffects[labels.indexOf(label)]!, expected.blup[i]!, rtol, 1e-10, label));
  expected.anovaTerms.forEach((term, i) => {
    const { f, dfNumerator, dfDenominator, p } = fit.jointTest(termRows[`${data.dataset} ${term}`]!);
    expectClose(f, expected.FKR[i]!, rtol, 0, term);
    expect(dfNumerator).toBe(expected.numDf[i]);
    expectClose(dfDenominator, expected.denDfKR[i]!, 1e-6, 0, term);
    expectClose(p, expected.pFKR[i]!, 1e-5, 0, term);
  });
  if ("emmean" in expected) checkMeans(fit, expected, rtol);
});

function checkBoundary(fit: BlockModelFit, expected: Boundary, rtol: number): void {
  const { difference, standardError, df } = fit.contrast([1]);
  expect(fit.stintVariance).toBe(expected.varBatch);
  expectClose(fit.residualVariance, expected.varResid, rtol);
  expectClose(difference, expected.mean, rtol);
  expectClose(standardError, expected.se, rtol);
  expectClose(fit.logLikelihood, expected.remlLogLik, 1e-9);
  // Six batches of one size: the df stay those of the batches' means although the batches ask for no variance.
  expectClose(df, 5, 1e-9);
  expect(Math.max(...fit.stintEffects.map(Math.abs))).toBe(0);
}

function checkMeans(fit: BlockModelFit, expected: Means, rtol: number): void {
  const rowOf = (level: number): readonly number[] => weightsOf(4, { 0: 1, ...(level > 0 ? { [level]: 1 } : {}) });
  expected.emmean.forEach((wanted, level) => {
    const { difference, standardError, df } = fit.contrast(rowOf(level));
    expectClose(difference, wanted, rtol);
    expectClose(standardError, expected.emmeanSE[level]!, rtol);
    expectClose(df, expected.emmeanDf[level]!, 1e-6);
  });
  const pairs = [[0, 1], [0, 2], [0, 3], [1, 2], [1, 3], [2, 3]] as const;
  const contrasts = pairs.map(([of, against]) => fit.contrast(rowOf(of).map((weight, j) => weight - rowOf(against)[j]!)));
  const adjusted = holm(contrasts.map(pOf));
  contrasts.forEach((contrast, i) => {
    const { from, to } = familyInterval(contrast, 4, 0.95);
    expectClose(contrast.difference, expected.pairDiff[i]!, rtol);
    expectClose(contrast.standardError, expected.pairSE[i]!, rtol);
    expectClose(contrast.df, expected.pairDf[i]!, 1e-6);
    expectClose(familyP(contrast, 4), expected.pairTukeyP[i]!, rtol, 1e-8);
    expectClose(from, expected.pairTukeyLower[i]!, rtol, 1e-7);
    expectClose(to, expected.pairTukeyUpper[i]!, rtol, 1e-7);
    expectClose(adjusted[i]!, expected.pairHolmP[i]!, rtol);
  });
}

type SessionLmm = Readonly<Record<"varBlock" | "varResid" | "remlLogLik", number>> &
  Readonly<Record<"diff" | "seKR" | "dfKR" | "lower" | "upper" | "p" | "holmP" | "tukeyP" | "emmean" | "emmeanSE", readonly number[]>>;

test.each([["ball", "Ball speed [mph]"], ["carry", "Carry distance [yd]"]] as const)("session-101, %s: the block model agrees with R", (metric, header) => {
  const { lmm } = session101.expected[metric] as unknown as { readonly lmm: SessionLmm };
  const shots = sessionShots(header);
  const model = meanModel(shots);
  const fit = fitBlockModel(model)!;
  if (lmm.varBlock === 0) expect(fit.stintVariance).toBe(0);
  else expectClose(fit.stintVariance, lmm.varBlock, 1e-5);
  expectClose(fit.residualVariance, lmm.varResid, 1e-5);
  // R's trend runs from 0 to 1 as this one, so that the likelihoods, which depend on the columns, are the same.
  expectClose(fit.logLikelihood, lmm.remlLogLik, 1e-8);
  const contrasts = headPairs.map(([of, against]) => fit.contrast(weightsOf(4, { [of]: 1, [against]: -1 })));
  const adjusted = holm(contrasts.map(pOf));
  contrasts.forEach((contrast, i) => {
    const { from, to } = familyInterval(contrast, 2, 0.95);
    expectClose(contrast.difference, lmm.diff[i]!, 1e-6);
    expectClose(contrast.standardError, lmm.seKR[i]!, 1e-5);
    expectClose(contrast.df, lmm.dfKR[i]!, 1e-5);
    expectClose(from, lmm.lower[i]!, 1e-4);
    expectClose(to, lmm.upper[i]!, 1e-4);
    expectClose(pOf(contrast), lmm.p[i]!, 1e-4);
    expectClose(adjusted[i]!, lmm.holmP[i]!, 1e-4);
    expectClose(familyP(contrast, 3), lmm.tukeyP[i]!, 1e-4);
  });
  session101.heads.forEach((head, g) => {
    const { difference, standardError } = fit.contrast(weightsOf(4, { [g]: 1 }));
    expectClose(difference, lmm.emmean[g]!, 1e-6, 0, head);
    expectClose(standardError, lmm.emmeanSE[g]!, 1e-5, 0, head);
  });
});

test("Kenward and Roger's errors and df agree with dense matrices where stints are of all lengths", () => {
  fc.assert(
    fc.property(plans, (plan) => {
      const data = inventedSession(plan);
      const fit = fitBlockModel(data)!;
      const weights = weightsOf(data.columns.length, { 1: 1, 0: -1, 3: 0.3 });
      const { difference, standardError, df } = fit.contrast(weights);
      const dense = denseKenwardRoger(data, fit.stintVariance, fit.residualVariance, weights);
      expectClose(difference, dense.difference, 1e-7, 1e-8);
      expectClose(standardError, dense.standardError, 1e-7);
      expectClose(df, dense.df, 1e-6);
    }),
    { seed: 61, numRuns: 15 },
  );
});

/** Every head's difference from the first, with its standard error and df. */
function differences(data: BlockData, heads: number): readonly MeanContrast[] {
  const fit = fitBlockModel(data)!;
  return Array.from({ length: heads - 1 }, (_, g) => fit.contrast(weightsOf(data.columns.length, { [g + 1]: 1, 0: -1 })));
}

function expectAlike(actual: readonly MeanContrast[], wanted: readonly MeanContrast[], scale = 1): void {
  actual.forEach(({ difference, standardError, df }, i) => {
    expectClose(difference, scale * wanted[i]!.difference, 1e-6, 1e-7 * Math.abs(scale));
    expectClose(standardError, Math.abs(scale) * wanted[i]!.standardError, 1e-6);
    expectClose(df, wanted[i]!.df, 1e-6);
  });
}

function checkProperty(seed: number, check: (data: BlockData, plan: Plan) => void): void {
  fc.assert(fc.property(plans, (plan) => check(inventedSession(plan), plan)), { seed, numRuns: 25 });
}

test("shifting the values changes no difference, scaling scales them", () =>
  checkProperty(62, (data, { heads }) => {
    const plain = differences(data, heads);
    expectAlike(differences({ ...data, value: data.value.map((v) => v + 1e4) }, heads), plain);
    expectAlike(differences({ ...data, value: data.value.map((v) => -0.9144 * v) }, heads), plain, -0.9144);
  }));

test("scaling a column scales its coefficient and nothing else", () =>
  checkProperty(63, (data, { heads }) => {
    const trend = data.columns.length - 1;
    const columns = data.columns.map((column, j) => (j === trend ? column.map((t) => 1e6 * t) : column));
    expectAlike(differences({ ...data, columns }, heads), differences(data, heads));
    expectClose(fitBlockModel({ ...data, columns })!.coefficients[trend]! * 1e6, fitBlockModel(data)!.coefficients[trend]!, 1e-6, 1e-8);
  }));

test("relabelling heads and stints permutes the results", () =>
  checkProperty(64, (data, { heads }) => {
    const columns = [...data.columns.slice(0, heads).reverse(), ...data.columns.slice(heads)];
    const block = data.block.map((b) => data.blockCount - 1 - b);
    const turned = fitBlockModel({ ...data, columns, block })!;
    const plain = fitBlockModel(data)!;
    const [last, first] = [weightsOf(columns.length, { 0: 1, 1: -1 }), weightsOf(columns.length, { [heads - 1]: 1, [heads - 2]: -1 })];
    expectAlike([turned.contrast(last)], [plain.contrast(first)]);
    expectClose(turned.stintEffects[0]!, plain.stintEffects[data.blockCount - 1]!, 1e-6, 1e-7);
  }));

test("the order of the shots in a stint is nothing to a model without a trend", () =>
  checkProperty(65, (data, { heads }) => {
    const still = { ...data, columns: data.columns.slice(0, heads) };
    const value = Float64Array.from(still.value);
    for (let b = 0; b < still.blockCount; b++) {
      const rows = [...still.block.keys()].filter((row) => still.block[row] === b);
      rows.forEach((row, i) => (value[row] = still.value[rows[rows.length - 1 - i]!]!));
    }
    expectAlike(differences({ ...still, value }, heads), differences(still, heads));
  }));

test("stints of one length without a trend: df are stints less heads, the error is that of the stints' means", () => {
  let judged = 0;
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 9999 }), fc.integer({ min: 2, max: 4 }), fc.integer({ min: 3, max: 6 }), fc.integer({ min: 2, max: 5 }), (seed, heads, passes, shots) => {
      const { columns, ...rest } = inventedSession({ seed, heads, passes, shots: [shots], stintSd: 2 });
      const data = { ...rest, columns: columns.slice(0, heads) };
      const fit = fitBlockModel(data)!;
      const { df, standardError } = fit.contrast(weightsOf(heads, { 1: 1, 0: -1 }));
      expectClose(df, heads * passes - heads, 1e-9);
      if (fit.stintVariance === 0) return;
      judged++;
      const means = Array.from({ length: data.blockCount }, (_, b) => mean(data.value.filter((_value, row) => data.block[row] === b)));
      const squares = sum(Array.from({ length: heads }, (_, g) => squaredDeviations(means.filter((_mean, b) => data.columns[g]![data.block.indexOf(b)] === 1))));
      expectClose(standardError, Math.sqrt((squares / df / passes) * 2), 1e-9);
    }),
    { seed: 66, numRuns: 30 },
  );
  expect(judged).toBeGreaterThan(20);
});

test("without variance between stints the coefficients are those of ordinary least squares", () => {
  let atZero = 0;
  checkProperty(67, (data, plan) => {
    const calm = inventedSession({ ...plan, stintSd: 0 });
    const fit = fitBlockModel(calm)!;
    if (fit.stintVariance > 0) return;
    atZero++;
    const plain = linearRegression(calm.columns, calm.value)!;
    fit.coefficients.forEach((coefficient, j) => expectClose(coefficient, plain.coefficients[j]!, 1e-9, 1e-9));
    expectClose(fit.residualVariance, plain.residualVariance, 1e-12);
    expect(fit.contrast(weightsOf(calm.columns.length, { 1: 1, 0: -1 })).df).toBeLessThan(data.value.length - data.columns.length);
  });
  expect(atZero).toBeGreaterThan(5);
});

test("shots doubled in their stints narrow an interval less than stints doubled", () =>
  checkProperty(68, (data, { heads }) => {
    const twice = (values: Float64Array): Float64Array => Float64Array.of(...values, ...values);
    const columns = data.columns.map(twice);
    const more = { columns, value: twice(data.value), block: Int32Array.of(...data.block, ...data.block), blockCount: data.blockCount };
    const stints = { ...more, block: Int32Array.of(...data.block, ...data.block.map((b) => b + data.blockCount)), blockCount: 2 * data.blockCount };
    const [shotsError, stintsError] = [more, stints].map((d) => differences(d, heads)[0]!.standardError);
    expect(stintsError!).toBeLessThan(shotsError!);
  }));

test("stints of one shot each are ordinary least squares with N − p df", () => {
  const data = inventedSession({ seed: 7, heads: 3, passes: 6, shots: [1], stintSd: 1 });
  const fit = fitBlockModel(data)!;
  const plain = linearRegression(data.columns, data.value)!;
  const weights = weightsOf(data.columns.length, { 2: 1, 0: -1 });
  expectAlike([fit.contrast(weights)], [plain.contrast(weights)]);
  expect(fit.stintVariance).toBe(0);
});

test("heads hit in one go each have no fit, with a trend and without one", () => {
  const data = inventedSession(oneLongStint);
  expect(fitBlockModel(data)).toBeNull();
  expect(fitBlockModel({ ...data, columns: data.columns.slice(0, 2) })).toBeNull();
});

test("columns that are made of one another, or as many as shots, have no fit", () => {
  const data = inventedSession({ seed: 5, heads: 2, passes: 4, shots: [3], stintSd: 1 });
  expect(fitBlockModel({ ...data, columns: [...data.columns, new Float64Array(24).fill(1)] })).toBeNull();
  expect(fitBlockModel({ ...data, columns: Array.from({ length: 24 }, (_, j) => Float64Array.from({ length: 24 }, (_value, i) => (i === j ? 1 : 0))) })).toBeNull();
});

test("values that the heads explain without rest have no standard error to judge by", () => {
  const data = inventedSession({ seed: 5, heads: 2, passes: 4, shots: [3], stintSd: 1 });
  const value = Float64Array.from(data.columns[1]!, (isSecond) => 150.1 + 7.3 * isSecond);
  const fit = fitBlockModel({ ...data, value })!;
  const { difference, standardError, df } = fit.contrast(weightsOf(3, { 1: 1, 0: -1 }));
  expectClose(difference, 7.3, 1e-12);
  expect(standardError).toBe(0);
  expect(df).toBeNaN();
  expect(fit.logLikelihood).toBeNaN();
  expect(fit.jointTest([[1, -1, 0]]).p).toBeNaN();
});

test("shots alike in their stints but for nothing leave the stints' means as they are", () => {
  const data = inventedSession({ seed: 5, heads: 2, passes: 4, shots: [3], stintSd: 1 });
  const level = [1, 4, 2, 8, 5, 7, 3, 3.5];
  const still = { ...data, columns: data.columns.slice(0, 2), value: Float64Array.from(data.block, (b) => level[b]!) };
  const { df, standardError } = fitBlockModel(still)!.contrast([-1, 1]);
  expectClose(df, 6, 1e-6);
  expect(standardError).toBeGreaterThan(0.5);
});

test("a joint test does not mind which contrasts say that all heads are alike", () =>
  checkProperty(69, (data) => {
    if (data.columns.length < 4) return;
    const fit = fitBlockModel(data)!;
    const row = (at: Readonly<Record<number, number>>): readonly number[] => weightsOf(data.columns.length, at);
    const one = fit.jointTest([row({ 1: 1, 0: -1 }), row({ 2: 1, 0: -1 })]);
    const other = fit.jointTest([row({ 1: 3, 2: -3 }), row({ 0: 2, 1: -1, 2: -1 })]);
    expectClose(other.f, one.f, 1e-7);
    expectClose(other.dfDenominator, one.dfDenominator, 1e-7);
    expectClose(other.p, one.p, 1e-6);
    const { difference, standardError, df } = fit.contrast(row({ 1: 1, 0: -1 }));
    const single = fit.jointTest([row({ 1: 1, 0: -1 })]);
    expectClose(single.f, (difference / standardError) ** 2, 1e-9);
    expectClose(single.dfDenominator, df, 1e-9);
    expect(fit.jointTest([row({ 1: 1, 0: -1 }), row({ 1: 2, 0: -2 })]).f).toBeNaN();
  }));
