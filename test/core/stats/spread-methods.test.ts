import * as fc from "fast-check";
import { expect, test } from "vitest";
import { blockJackknife, jackknifeAcceleration } from "../../../core/stats/block-jackknife";
import { sdRatio } from "../../../core/stats/bonett";
import { brownForsythe } from "../../../core/stats/brown-forsythe";
import { detectableAreaRatio, detectableRatio, jackknifeDf, shotsForRatio } from "../../../core/stats/detectable-ratio";
import { effectSize } from "../../../core/stats/effect-size";
import { mean, sampleSd } from "../../../core/stats/moments";
import { varianceRatio } from "../../../core/stats/variance-ratio";
import { checksOf, expectClose, normals, split } from "./check-values";

interface TwoGroups {
  readonly x: number[];
  readonly y: number[];
}

test("Bonett's ratio of standard deviations agrees with his formula in R", () => {
  interface Bonett {
    readonly ratio: number;
    readonly gamma4: number;
    readonly seLogVariance: number;
    readonly c: number;
    readonly ci: readonly [number, number];
  }
  for (const { id, data, args, expected } of checksOf<TwoGroups, { conf: number }, Bonett>("sd-ratio-bonett")) {
    const found = sdRatio(data.x, data.y);
    const interval = found.interval(args.conf);
    expectClose(found.ratio, expected.ratio, 1e-9, 0, id);
    expectClose(found.kurtosis, expected.gamma4, 1e-9, 0, id);
    expectClose(found.logVarianceError, expected.seLogVariance, 1e-9, 0, id);
    expectClose(found.correction(1.959963984540054), expected.c, 1e-9, 0, id);
    expectClose(interval.from, expected.ci[0], 1e-9, 0, id);
    expectClose(interval.to, expected.ci[1], 1e-9, 0, id);
  }
});

test("the F ratio of two variances agrees with R's var.test", () => {
  interface VarTest {
    readonly ratio: number;
    readonly F: number;
    readonly df: readonly [number, number];
    readonly p: number;
    readonly ci: readonly [number, number];
    readonly logSdRatio: number;
  }
  for (const { id, data, args, expected } of checksOf<TwoGroups, { conf: number }, VarTest>("variance-ratio-F")) {
    const found = varianceRatio(data.x, data.y, args.conf);
    expectClose(found.ratio, expected.ratio, 1e-9, 0, id);
    expectClose(found.ratio, expected.F, 1e-9, 0, id);
    expect(found.df).toEqual(expected.df);
    expectClose(found.p, expected.p, 1e-9, 0, id);
    expectClose(found.interval.from, expected.ci[0], 1e-9, 0, id);
    expectClose(found.interval.to, expected.ci[1], 1e-9, 0, id);
    expectClose(found.logSdRatio, expected.logSdRatio, 1e-9, 0, id);
  }
});

test("effect sizes agree with R", () => {
  interface Sizes {
    readonly cohenD: number;
    readonly hedgesG: number;
    readonly smd: number;
    readonly probSuperiority: number;
  }
  for (const { id, data, expected } of checksOf<TwoGroups, never, Sizes>("effect-size")) {
    const found = effectSize(data.x, data.y);
    expectClose(found.cohenD, expected.cohenD, 1e-9, 0, id);
    expectClose(found.hedgesG, expected.hedgesG, 1e-9, 0, id);
    expectClose(found.standardised, expected.smd, 1e-9, 0, id);
    expectClose(found.superiority, expected.probSuperiority, 1e-9, 0, id);
  }
});

test("Brown and Forsythe's test of two groups agrees with R", () => {
  for (const { id, data, expected } of checksOf<TwoGroups, never, { F: number; df: readonly [number, number]; p: number }>("brown-forsythe")) {
    const found = brownForsythe([data.x, data.y]);
    expectClose(found.f, expected.F, 1e-9, 0, id);
    expect([found.dfBetween, found.dfWithin]).toEqual(expected.df);
    expectClose(found.p, expected.p, 1e-9, 0, id);
  }
});

test("Brown and Forsythe's test of several groups and their standard deviations agree with R", () => {
  interface Spread {
    readonly brownForsytheF: number;
    readonly brownForsytheDf: readonly [number, number];
    readonly brownForsytheP: number;
    readonly sd: readonly number[];
  }
  for (const { id, data, expected } of checksOf<{ y: number[]; group: string[] }, never, Spread>("k-group-spread")) {
    const { groups } = split(data.y, data.group);
    const found = brownForsythe(groups);
    expectClose(found.f, expected.brownForsytheF, 1e-9, 0, id);
    expect([found.dfBetween, found.dfWithin]).toEqual(expected.brownForsytheDf);
    expectClose(found.p, expected.brownForsytheP, 1e-9, 0, id);
    groups.forEach((values, i) => expectClose(sampleSd(values), expected.sd[i]!, 1e-9, 0, id));
  }
});

test("Brown and Forsythe's test on the shots of a whole session agrees with R", () => {
  interface Session {
    readonly ball: { readonly brownForsythe: { readonly F: number; readonly df: readonly [number, number]; readonly p: number } };
    readonly carry: Session["ball"];
  }
  const [session] = checksOf<never, never, Session>("whole-session") as unknown as readonly [{ readonly csv: string; readonly expected: Session }];
  const [header, ...lines] = session.csv.trim().split("\n").map((line) => line.split(","));
  const heads = lines.map((line) => line[header!.indexOf("Head")]!);
  for (const [name, column] of [["ball", "Ball speed [mph]"], ["carry", "Carry distance [yd]"]] as const) {
    const { groups } = split(lines.map((line) => Number(line[header!.indexOf(column)])), heads);
    const found = brownForsythe(groups);
    const expected = session.expected[name].brownForsythe;
    expectClose(found.f, expected.F, 1e-6, 0, name);
    expect([found.dfBetween, found.dfWithin]).toEqual(expected.df);
    expectClose(found.p, expected.p, 1e-6, 0, name);
  }
});

const values = fc.array(fc.integer({ min: -300, max: 300 }).map((n) => n / 10), { minLength: 6, maxLength: 20 }).filter((list) => sampleSd(list) > 1);

test("the ratio of a pair swapped is the reciprocal, and so is its interval", () => {
  fc.assert(
    fc.property(values, values, (x, y) => {
      const [plain, swapped] = [sdRatio(x, y), sdRatio(y, x)];
      expectClose(swapped.ratio, 1 / plain.ratio, 1e-12);
      expectClose(swapped.interval(0.95).from, 1 / plain.interval(0.95).to, 1e-9);
      expectClose(swapped.pAbove(1), plain.pBelow(1), 1e-6, 1e-12);
      expectClose(varianceRatio(y, x, 0.95).interval.from, 1 / varianceRatio(x, y, 0.95).interval.to, 1e-9);
    }),
    { seed: 61 },
  );
});

test("shifts, and a scale common to both, change no ratio", () => {
  fc.assert(
    fc.property(values, values, fc.integer({ min: -500, max: 500 }), (x, y, shift) => {
      const plain = sdRatio(x, y);
      const both = sdRatio(x.map((v) => 3 * v + shift), y.map((v) => 3 * v - shift));
      expectClose(both.interval(0.95).from, plain.interval(0.95).from, 1e-8);
      expectClose(both.ratio, plain.ratio, 1e-9);
    }),
    { seed: 62 },
  );
});

test("the interval inverts its own test, at 1 and at a margin", () => {
  fc.assert(
    fc.property(values, values, fc.constantFrom(0.8, 1, 1.25), (x, y, limit) => {
      const { interval, pAbove, pBelow } = sdRatio(x, y);
      const { from, to } = interval(0.9);
      fc.pre(Math.abs(from / limit - 1) > 1e-9 && Math.abs(to / limit - 1) > 1e-9);
      expect(pAbove(limit) < 0.05).toBe(from > limit);
      expect(pBelow(limit) < 0.05).toBe(to < limit);
    }),
    { seed: 63 },
  );
});

test("too few values, or values without scatter, have no ratio", () => {
  for (const pair of [[[1, 2, 3, 4, 5], [1, 2, 3, 4, 5, 6]], [[1, 2, 3, 4, 5, 6], [7, 7, 7, 7, 7, 7]], [[], []]] as const) {
    const found = sdRatio(pair[0], pair[1]);
    expect([found.ratio, found.interval(0.95).from, found.pAbove(1), found.pBelow(1)]).toEqual([Number.NaN, Number.NaN, Number.NaN, Number.NaN]);
  }
  expect(varianceRatio([1, 2], [3, 3], 0.95).ratio).toBeNaN();
  expect(effectSize([1, 1], [1, 1]).cohenD).toBeNaN();
});

/** The estimate without each of the stints. */
function without<T>(stints: readonly (readonly T[])[], estimate: (shots: readonly T[]) => number): number[] {
  return stints.map((_, left) => estimate(stints.filter((__, i) => i !== left).flat()));
}

test("for a mean the jackknife over stints of one shot is s/√n", () => {
  fc.assert(
    fc.property(values, (list) => {
      const found = blockJackknife(without(list.map((value) => [value]), mean));
      expectClose(found.standardError, sampleSd(list) / Math.sqrt(list.length), 1e-9);
      expect(found.df).toBe(list.length - 1);
    }),
    { seed: 64 },
  );
});

test("stints that are copies of one another count, shots that are copies do not", () => {
  const normal = normals(5);
  const stints = Array.from({ length: 8 }, () => [normal(), normal(), normal()]);
  const logOfSd = (shots: readonly number[]) => Math.log(sampleSd(shots));
  const plain = blockJackknife(without(stints, logOfSd));
  const fuller = blockJackknife(without(stints.map((stint) => [...stint, ...stint]), logOfSd));
  expectClose(fuller.standardError, plain.standardError, 0.1);
  expect(blockJackknife(without([...stints, ...stints], logOfSd)).standardError).toBeLessThan(0.8 * plain.standardError);
});

test("one stint, or an estimate that a stint alone determines, has no error", () => {
  expect(blockJackknife([2]).standardError).toBeNaN();
  expect(blockJackknife(without([[1, 2, 3], [4]], sampleSd)).standardError).toBeNaN();
  expect(jackknifeAcceleration([2, 2, 2])).toBe(0);
});

/** One interval whose standard error is taken as known. */
const shotByShot = { confidence: 0.95, df: Infinity, power: 0.8 };

test("the ratio that can be found with so many shots, as printed in the plan", () => {
  const ratio = (n: number, kurtosis = 3) => detectableRatio({ n, nAgainst: n, kurtosis, ...shotByShot });
  // exp(2.8016/√(n − 1)) by hand: 1.682, 1.526 and 1.249.
  expectClose(ratio(30), 1.682, 1e-3);
  expectClose(ratio(45), 1.526, 1e-3);
  expectClose(ratio(160), 1.249, 1e-3);
  expect(ratio(40, 6)).toBeGreaterThan(1.9);
  expect(ratio(40, 1.5)).toBe(ratio(40));
  expect(detectableRatio({ n: 1, nAgainst: 40, kurtosis: 3, ...shotByShot })).toBeNaN();
});

test("areas need a larger ratio than standard deviations, but less than its square", () => {
  const plan = { n: 30, nAgainst: 30, kurtosis: 3, ...shotByShot };
  // exp(2.8016 √(1/29 + 1/28)) by hand: 2.100.
  expectClose(detectableAreaRatio(plan), 2.1, 1e-3);
  expect(detectableAreaRatio(plan)).toBeLessThan(detectableRatio(plan) ** 2);
  expect(detectableAreaRatio({ ...plan, n: 2 })).toBeNaN();
});

test("the shots for a ratio and the ratio for the shots agree, and a ratio counts as its reciprocal", () => {
  fc.assert(
    fc.property(fc.double({ min: 1.05, max: 3, noNaN: true }), fc.double({ min: 2, max: 9, noNaN: true }), (ratio, kurtosis) => {
      const plan = { kurtosis, confidence: 0.95, power: 0.9 };
      const n = shotsForRatio(ratio, { ...plan, shotsInStint: 3 });
      const found = (shots: number) => detectableRatio({ ...plan, n: shots, nAgainst: shots, df: jackknifeDf(shots / 3, shots / 3) });
      expect(found(n)).toBeLessThanOrEqual(ratio + 1e-9);
      expect(n < 3 || found(n - 1) > ratio - 1e-9).toBe(true);
      expect(Math.abs(shotsForRatio(1 / ratio, { ...plan, shotsInStint: 3 }) - n)).toBeLessThanOrEqual(1);
    }),
    { seed: 65 },
  );
  for (const bad of [1, 0, -2, Number.NaN]) expect(() => shotsForRatio(bad, { kurtosis: 3, confidence: 0.95, power: 0.8, shotsInStint: 1 })).toThrow(RangeError);
});
