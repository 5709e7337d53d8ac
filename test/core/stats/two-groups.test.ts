import * as fc from "fast-check";
import { expect, test } from "vitest";
import { tQuantile } from "../../../core/stats/distributions";
import { twoOneSidedTests } from "../../../core/stats/equivalence";
import { hodgesLehmann } from "../../../core/stats/hodges-lehmann";
import { pooledContrast, satterthwaite, welchContrast } from "../../../core/stats/mean-contrast";
import { median } from "../../../core/stats/quantile";
import { familyInterval, familyP } from "../../../core/stats/simultaneous";
import { checksOf, expectClose } from "./check-values";

interface TwoGroups {
  readonly x: number[];
  readonly y: number[];
}
interface TTest {
  readonly diff?: number;
  readonly se: number;
  readonly df: number;
  readonly p: number;
  readonly ci: readonly [number, number];
}

function checkT(method: string, contrastOf: typeof welchContrast): void {
  for (const check of checksOf<TwoGroups, { conf: number }, TTest>(method)) {
    const contrast = contrastOf(check.data.x, check.data.y);
    const interval = familyInterval(contrast, 2, check.args.conf);
    if (check.expected.diff !== undefined) expectClose(contrast.difference, check.expected.diff, 1e-12, 1e-13, check.id);
    expectClose(contrast.standardError, check.expected.se, 1e-12, 0, check.id);
    expectClose(contrast.df, check.expected.df, 1e-12, 0, check.id);
    expectClose(familyP(contrast, 2), check.expected.p, 1e-9, 0, check.id);
    expectClose(interval.from, check.expected.ci[0], 1e-9, 0, check.id);
    expectClose(interval.to, check.expected.ci[1], 1e-9, 0, check.id);
  }
}

test("Welch's t agrees with R", () => checkT("welch-t", welchContrast));

test("Student's pooled t agrees with R", () => checkT("pooled-t", pooledContrast));

test("two one-sided tests agree with R", () => {
  interface Tost {
    readonly tLower: number;
    readonly tUpper: number;
    readonly pLower: number;
    readonly pUpper: number;
    readonly p: number;
    readonly ci90: readonly [number, number];
  }
  for (const check of checksOf<TwoGroups, { margin: number }, Tost>("tost-welch")) {
    const contrast = welchContrast(check.data.x, check.data.y);
    const result = twoOneSidedTests(contrast, check.args.margin);
    for (const name of ["tLower", "tUpper", "pLower", "pUpper", "p"] as const) {
      expectClose(result[name], check.expected[name], 1e-9, 0, `${check.id} ${name}`);
    }
    const interval = familyInterval(contrast, 2, 0.9);
    expectClose(interval.from, check.expected.ci90[0], 1e-9, 0, check.id);
    expectClose(interval.to, check.expected.ci90[1], 1e-9, 0, check.id);
  }
});

test("the Hodges–Lehmann shift agrees with R", () => {
  for (const check of checksOf<TwoGroups, never, { estimate: number }>("hodges-lehmann")) {
    expectClose(hodgesLehmann(check.data.x, check.data.y), check.expected.estimate, 1e-9, 0, check.id);
  }
});

const values = fc.array(fc.double({ min: -100, max: 100, noNaN: true }), { minLength: 1, maxLength: 12 });

test("the Hodges–Lehmann shift is the median of all differences", () => {
  fc.assert(
    fc.property(values, values, (x, y) => {
      const differences = x.flatMap((a) => y.map((b) => a - b));
      expectClose(hodgesLehmann(x, y), median(differences), 1e-12, 1e-12);
      expectClose(hodgesLehmann(y, x), -hodgesLehmann(x, y), 1e-12, 1e-12);
    }),
    { seed: 31 },
  );
  expect(hodgesLehmann([], [1])).toBeNaN();
  expect(hodgesLehmann([Number.NaN, 4], [1])).toBe(3);
});

const several = fc.array(fc.integer({ min: -500, max: 500 }).map((n) => n / 10), { minLength: 3, maxLength: 10 });

test("shifting changes no difference, scaling scales it, swapping turns it round", () => {
  fc.assert(
    fc.property(several, several, fc.integer({ min: -1000, max: 1000 }), (x, y, shift) => {
      for (const contrastOf of [welchContrast, pooledContrast]) {
        const plain = contrastOf(x, y);
        const shifted = contrastOf(x.map((v) => v + shift), y.map((v) => v + shift));
        const scaled = contrastOf(x.map((v) => 2.5 * v), y.map((v) => 2.5 * v));
        const swapped = contrastOf(y, x);
        expectClose(shifted.difference, plain.difference, 1e-9, 1e-9);
        expectClose(shifted.standardError, plain.standardError, 1e-9, 1e-9);
        expectClose(scaled.difference, 2.5 * plain.difference, 1e-12, 1e-12);
        expectClose(scaled.standardError, 2.5 * plain.standardError, 1e-12, 1e-12);
        expectClose(swapped.difference, -plain.difference, 1e-12, 1e-12);
        expectClose(swapped.standardError, plain.standardError, 1e-12, 1e-12);
      }
    }),
    { seed: 32 },
  );
});

test("the interval inverts its own test, and two one-sided tests agree with the 90 % interval", () => {
  fc.assert(
    fc.property(several, several, fc.double({ min: 0.1, max: 50, noNaN: true }), (x, y, margin) => {
      const contrast = welchContrast(x, y);
      fc.pre(contrast.standardError > 0);
      const wide = familyInterval(contrast, 2, 0.95);
      expect(familyP(contrast, 2) < 0.05).toBe(wide.from > 0 || wide.to < 0);
      const narrow = familyInterval(contrast, 2, 0.9);
      expect(twoOneSidedTests(contrast, margin).p < 0.05).toBe(narrow.from > -margin && narrow.to < margin);
    }),
    { seed: 33 },
  );
});

test("equal sizes and variances give both t tests the same answer", () => {
  const [x, y] = [[1, 2, 3, 4], [11, 12, 13, 14]];
  expectClose(welchContrast(x, y).df, pooledContrast(x, y).df, 1e-14);
  expectClose(welchContrast(x, y).standardError, pooledContrast(x, y).standardError, 1e-14);
});

test("too few values leave the difference without a standard error", () => {
  const single = welchContrast([5], [1, 2]);
  expect(single.difference).toBe(3.5);
  expect(single.standardError).toBeNaN();
  expect(pooledContrast([5], [4]).df).toBeNaN();
  expect(pooledContrast([5], [4]).standardError).toBeNaN();
  expectClose(pooledContrast([5], [1, 3]).standardError, Math.sqrt(2 * 1.5), 1e-14);
  expect(familyInterval(single, 2, 0.95).from).toBeNaN();
  expect(familyP(single, 2)).toBeNaN();
  expect(twoOneSidedTests({ difference: 0, standardError: Number.NaN, df: Number.NaN }, 1).p).toBeNaN();
});

test("missing values are left out and never count as 0", () => {
  expect(welchContrast([1, Number.NaN, 3], [5, 7])).toEqual(welchContrast([1, 3], [5, 7]));
  expect(pooledContrast([1, Number.NaN, 3], [5, 7])).toEqual(pooledContrast([1, 3], [5, 7]));
});

test("values without scatter have no degrees of freedom", () => {
  expect(welchContrast([2, 2], [3, 3]).df).toBeNaN();
  expect(satterthwaite([])).toBeNaN();
  expect(satterthwaite([{ amount: 1, df: 0 }])).toBeNaN();
  expect(satterthwaite([{ amount: 2, df: 4 }, { amount: 2, df: 4 }])).toBe(8);
});

test("a margin of 0 or less is the caller's mistake", () => {
  const contrast = { difference: 1, standardError: 1, df: 5 };
  for (const margin of [0, -1, Number.NaN]) expect(() => twoOneSidedTests(contrast, margin)).toThrow(RangeError);
});

test("two means need no studentized range", () => {
  const contrast = { difference: 2, standardError: 1, df: 7 };
  expectClose(familyInterval(contrast, 2, 0.95).to, 2 + tQuantile(0.975, 7), 1e-14);
});
