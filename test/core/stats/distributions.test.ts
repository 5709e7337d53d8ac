import * as fc from "fast-check";
import { expect, test } from "vitest";
import { chiSquaredCdf, chiSquaredQuantile } from "../../../core/stats/chi-squared";
import { fUpperTail, normalCdf, normalQuantile, tCdf, tQuantile } from "../../../core/stats/distributions";
import { gaussLegendre } from "../../../core/stats/gauss-legendre";
import { noncentralTCdf } from "../../../core/stats/noncentral-t";
import { risingRoot } from "../../../core/stats/root";
import { studentizedRangeCdf, studentizedRangeQuantile } from "../../../core/stats/studentized-range";
import { checksOf, expectClose } from "./check-values";

type Arguments = Readonly<Record<"x" | "p" | "q" | "k" | "df" | "df1" | "df2" | "ncp", number>>;
interface Value {
  readonly fn: string;
  readonly args: Arguments;
  readonly value: number;
}

const functions: Record<string, { compute: (a: Arguments) => number; relative: number; absolute: (a: Arguments) => number }> = {
  pnorm: { compute: (a) => normalCdf(a.x), relative: 1e-12, absolute: () => 0 },
  qnorm: { compute: (a) => normalQuantile(a.p), relative: 1e-12, absolute: () => 0 },
  pt: { compute: (a) => tCdf(a.x, a.df), relative: 1e-10, absolute: () => 0 },
  qt: { compute: (a) => tQuantile(a.p, a.df), relative: 1e-9, absolute: () => 1e-12 },
  pchisq: { compute: (a) => chiSquaredCdf(a.x, a.df), relative: 1e-10, absolute: () => 0 },
  qchisq: { compute: (a) => chiSquaredQuantile(a.p, a.df), relative: 1e-10, absolute: () => 0 },
  pf: { compute: (a) => 1 - fUpperTail(a.x, a.df1, a.df2), relative: 1e-10, absolute: () => 0 },
  // R's own is off by 2.4e-8 at a p of 1e-6 with 2 and 400 degrees of freedom: its 1.00000052682958e-6 is
  // 1.00000050250033e-6 by the closed form that a test below uses.
  qf: { compute: fQuantile, relative: 1e-9, absolute: (a) => (a.p < 1e-5 ? 1e-13 : 0) },
  pt_noncentral: { compute: (a) => noncentralTCdf(a.x, a.df, a.ncp), relative: 0, absolute: () => 1e-10 },
  // R's algorithm is itself off by up to 4e-5 below 5 degrees of freedom: its 0.83208937 for q 3, 2 means, df 2 is
  // 0.83205029 by the exact identity with Student's t that a test below uses.
  ptukey: { compute: (a) => studentizedRangeCdf(a.q, a.k, a.df), relative: 0, absolute: (a) => (a.df < 5 ? 1e-4 : 5e-8) },
  qtukey: { compute: (a) => studentizedRangeQuantile(a.p, a.k, a.df), relative: 1e-6, absolute: (a) => (a.df < 5 ? 1e-2 : 1e-5) },
};

/** F's quantile is where its tail is crossed; what needs it solves for it in the same way. The lower tail is 1/F's upper. */
function fQuantile({ p, df1, df2 }: Pick<Arguments, "p" | "df1" | "df2">): number {
  const below = (f: number): number => fUpperTail(1 / f, df2, df1) - p;
  const above = (f: number): number => 1 - p - fUpperTail(f, df1, df2);
  return risingRoot(p < 0.5 ? below : above, 0, 1, 1e-13);
}

test("distributions agree with R", () => {
  const values = checksOf<never, never, Value[]>("distribution-table").find((c) => c.id === "distributions-public")!.expected;
  expect(values.length).toBeGreaterThan(200);
  for (const { fn, args, value } of values) {
    const { compute, relative, absolute } = functions[fn]!;
    expectClose(compute(args), value, relative, absolute(args), `${fn} ${JSON.stringify(args)}`);
  }
});

test("F of 2 degrees of freedom against ν is (1 + 2f/ν)^(−ν/2) in its tail", () => {
  for (const df of [1, 2.5, 7, 29.3, 400]) {
    for (const f of [1e-6, 0.05, 1, 9, 1e4]) {
      const tail = Math.exp((-df / 2) * Math.log1p((2 * f) / df));
      expectClose(fUpperTail(f, 2, df), tail, 1e-12, 0, `F ${f}, df ${df}`);
    }
    for (const p of [1e-6, 0.5, 0.9999]) {
      const exact = (df / 2) * Math.expm1((-2 / df) * Math.log1p(-p));
      expectClose(fQuantile({ p, df1: 2, df2: df }), exact, 1e-9, 0, `p ${p}, df ${df}`);
    }
  }
});

test("the studentized range agrees with arbitrary-precision quadrature", () => {
  const values = checksOf<never, never, Value[]>("distribution-table").find((c) => c.id === "studentized-range-mpmath")!.expected;
  for (const { args, value } of values) expectClose(studentizedRangeCdf(args.q, args.k, args.df), value, 0, 1e-9, JSON.stringify(args));
});

test("the studentized range of two means is Student's t in other words", () => {
  for (const df of [1, 1.3, 2, 3.7, 8, 30, 400, 1e5, Infinity]) {
    for (const q of [0.01, 0.5, 3, 8, 40]) {
      const exact = 1 - 2 * tCdf(-q / Math.SQRT2, df);
      expectClose(studentizedRangeCdf(q, 2, df), exact, 0, 1e-9, `q ${q}, df ${df}`);
    }
  }
});

test("the studentized range of three infinitely well known means: Pearson and Hartley (1966) table 29", () => {
  expectClose(studentizedRangeQuantile(0.95, 3, Infinity), 3.31, 0, 0.005);
  expectClose(studentizedRangeQuantile(0.95, 10, Infinity), 4.47, 0, 0.005);
  expectClose(studentizedRangeQuantile(0.99, 4, 20), 5.02, 0, 0.005);
});

test("quantiles undo probabilities", () => {
  const p = fc.double({ min: 0.001, max: 0.999, noNaN: true });
  const df = fc.double({ min: 1, max: 300, noNaN: true });
  fc.assert(
    fc.property(p, df, fc.integer({ min: 2, max: 8 }), (probability, freedom, count) => {
      expectClose(tCdf(tQuantile(probability, freedom), freedom), probability, 1e-9);
      expectClose(normalCdf(normalQuantile(probability)), probability, 1e-13);
      expectClose(chiSquaredCdf(chiSquaredQuantile(probability, freedom), freedom), probability, 1e-11);
      const q = studentizedRangeQuantile(probability, count, freedom);
      expectClose(studentizedRangeCdf(q, count, freedom), probability, 1e-9);
    }),
    { seed: 21, numRuns: 40 },
  );
});

test("far tails keep their digits", () => {
  // Normal: computed with mpmath at 30 digits.
  expectClose(normalCdf(-12), 1.776482112077679e-33, 1e-13);
  expectClose(normalQuantile(1e-10), -6.361340902404056, 1e-14);
  // F with 2 degrees of freedom in the numerator has a closed form: (1 + 2f/d)^(−d/2).
  expectClose(fUpperTail(60, 2, 40), (1 + 120 / 40) ** -20, 1e-12);
  expect(fUpperTail(0, 3, 4)).toBe(1);
  expect(fUpperTail(Number.NaN, 3, 4)).toBeNaN();
});

test("a noncentral t without noncentrality is Student's t, and infinite degrees of freedom are normal", () => {
  for (const df of [1, 2.5, 12, 200]) expectClose(noncentralTCdf(1.3, df, 0), tCdf(1.3, df), 0, 1e-11);
  expectClose(noncentralTCdf(1.3, Infinity, 2), normalCdf(-0.7), 1e-14);
  expectClose(tQuantile(0.9, Infinity), normalQuantile(0.9), 1e-15);
});

test("arguments outside their range are the caller's mistake", () => {
  const mistakes = [
    () => tCdf(1, 0),
    () => tQuantile(1.1, 3),
    () => tQuantile(0.5, Number.NaN),
    () => normalQuantile(-0.1),
    () => fUpperTail(1, 0, 3),
    () => studentizedRangeCdf(3, 1, 10),
    () => studentizedRangeCdf(3, 2.5, 10),
    () => studentizedRangeCdf(3, 3, 0.5),
    () => studentizedRangeQuantile(2, 3, 10),
    () => chiSquaredCdf(1, -1),
  ];
  for (const mistake of mistakes) expect(mistake).toThrow(RangeError);
});

test("the ends of the distributions", () => {
  expect(studentizedRangeCdf(0, 3, 10)).toBe(0);
  expect(studentizedRangeCdf(Number.NaN, 3, 10)).toBeNaN();
  expect(studentizedRangeQuantile(0, 3, 10)).toBe(0);
  expect(studentizedRangeQuantile(1, 3, 10)).toBe(Infinity);
  expect(chiSquaredQuantile(0, 3)).toBe(0);
  expect(chiSquaredQuantile(1, 3)).toBe(Infinity);
  expect(chiSquaredCdf(0, 3)).toBe(0);
  expect(chiSquaredCdf(Number.NaN, 3)).toBeNaN();
  expect(normalQuantile(0)).toBe(-Infinity);
  expect(normalQuantile(1)).toBe(Infinity);
});

test("the Gauss–Legendre rule integrates polynomials of degree 31 exactly", () => {
  const { nodes, weights } = gaussLegendre(16);
  const integral = (power: number) => nodes.reduce((total, x, i) => total + weights[i]! * x ** power, 0);
  expectClose(integral(0), 2, 1e-14);
  expectClose(integral(30), 2 / 31, 1e-13);
  expectClose(integral(31), 0, 0, 1e-15);
});

test("the root of a rising function is found, and the lack of one is said", () => {
  expectClose(risingRoot((x) => x * x - 2, 0, 1), Math.SQRT2, 1e-12);
  expectClose(risingRoot((x) => Math.expm1(x - 20), 0, 1), 20, 1e-12);
  expect(risingRoot(() => -1, 0, 1)).toBeNaN();
});
