import * as fc from "fast-check";
import { expect, test } from "vitest";
import { welchContrast } from "../../../core/stats/mean-contrast";
import { mean, sampleSd } from "../../../core/stats/moments";
import { pairShots } from "../../../core/stats/pair-shots";
import { compareIndependentShots, passContrast, stintMeansContrast } from "../../../core/stats/stint-means-model";
import { stintMeans } from "../../../core/stats/stints";
import { expectClose } from "./check-values";
import type { Shot } from "./shot-lists";
import { shotsFrom } from "./shot-lists";

const shots: readonly Shot[] = [
  [0, 1, 150], [0, 1, 154], [1, 2, 157], [1, 2, 159], [0, 3, 149], [1, 4, 153], [1, 4, 161], [0, 5, 155], [0, 5, 151], [1, 6, 160],
];

/** The first pair by means of stints. */
function byHand(given: readonly Shot[], groupCount = 2) {
  const data = shotsFrom(given, groupCount);
  const pair = pairShots(data, true)[0]!;
  return { ...pair, ...stintMeansContrast(stintMeans(data), pair) };
}

test("the mean of each stint, in order, missing values and rows without a group left out", () => {
  const means = stintMeans(shotsFrom([...shots, [0, 3, Number.NaN], [-1, 3, 0]]));
  expect(means.map((stint) => [stint.group, stint.stint, stint.n, stint.mean])).toEqual([
    [0, 1, 2, 152], [1, 2, 2, 158], [0, 3, 1, 149], [1, 4, 2, 157], [0, 5, 2, 153], [1, 6, 1, 160],
  ]);
});

test("equal stint numbers of two sessions are two stints", () => {
  expect(stintMeans(shotsFrom([[0, 1, 5, 0], [0, 1, 9, 1]])).map((stint) => stint.mean)).toEqual([5, 9]);
});

test("one session: Welch's t on the means of stints", () => {
  const pair = byHand(shots);
  const welch = welchContrast([158, 157, 160], [152, 149, 153]);
  expectClose(pair.difference, welch.difference, 1e-13);
  expectClose(pair.standardError, welch.standardError, 1e-13);
  expectClose(pair.df, welch.df, 1e-13);
  expect([pair.n, pair.nAgainst, pair.stints, pair.stintsAgainst]).toEqual([5, 5, 3, 3]);
});

test("order unknown: Welch's t on shots", () => {
  const { pairs } = compareIndependentShots(shotsFrom(shots));
  const welch = welchContrast([157, 159, 153, 161, 160], [150, 154, 149, 155, 151]);
  expectClose(pairs[0]!.standardError, welch.standardError, 1e-13);
  expectClose(pairs[0]!.df, welch.df, 1e-13);
  expect([pairs[0]!.of, pairs[0]!.against, pairs[0]!.familySize, pairs[0]!.check]).toEqual([1, 0, 2, null]);
});

test("a head with one shot of unknown order has no standard error, and leaves the family", () => {
  const { pairs } = compareIndependentShots(shotsFrom([...shots, [2, 7, 140]], 3));
  expect(pairs.map((pair) => pair.familySize)).toEqual([2, 2, 2]);
  expect(pairs.filter((pair) => Number.isNaN(pair.standardError)).map((pair) => pair.of)).toEqual([2, 2]);
});

test("a difference between days is no difference between heads", () => {
  const day = (session: number, level: number): Shot[] => shots.map(([g, stint, value]) => [g, stint, value + level, session]);
  const one = byHand(shots);
  const two = byHand([...day(0, 0), ...day(1, 40)]);
  expectClose(two.difference, one.difference, 1e-12);
  expectClose(two.standardError, one.standardError / Math.SQRT2, 1e-12);
  expectClose(two.df, 2 * one.df, 1e-12);
});

test("heads never hit on one day have no difference", () => {
  const pair = byHand([[0, 1, 150, 0], [0, 2, 151, 0], [1, 1, 160, 1], [1, 2, 161, 1]]);
  expect(pair.comparable).toBe(false);
  expect(pair.difference).toBeNaN();
});

test("complete passes by a paired t, those in which one of the two is missing left out", () => {
  const orders = ["AB", "BA", "AB", "ABC", "CA", "BA"];
  const levels: Record<string, number> = { A: 0, B: 4, C: 9 };
  let stint = 0;
  const given = orders.flatMap((order, pass) => order.split("").map((head): Shot => ["ABC".indexOf(head), ++stint, levels[head]! + pass * pass * (head === "B" ? 1 : 0)]));
  const data = shotsFrom(given, 3);
  const pair = pairShots(data, true).find(({ of, against }) => of === 1 && against === 0)!;
  // The passes: A B, B A, A B, A B C, then C A B, whose B came with the last A.
  const contrast = passContrast(stintMeans(data), pair)!;
  const differences = [4, 5, 8, 13, 29];
  expect(contrast.passes).toBe(5);
  expectClose(contrast.difference, mean(differences), 1e-12);
  expectClose(contrast.standardError, sampleSd(differences) / Math.sqrt(5), 1e-12);
  expect(contrast.df).toBe(4);
  expect(passContrast(stintMeans(shotsFrom(shots)), pairShots(shotsFrom(shots), true)[0]!)).toBeNull();
});

const session = fc
  .array(fc.tuple(fc.integer({ min: 0, max: 1 }), fc.array(fc.integer({ min: 1200, max: 1700 }), { minLength: 1, maxLength: 4 })), { minLength: 9, maxLength: 15 })
  .map((stints) => stints.flatMap(([group, values], stint) => values.map((value): Shot => [group, stint, value / 10])));

test("by hand, swapping the heads turns the difference round", () => {
  fc.assert(
    fc.property(session, (given) => {
      const [plain, turned] = [byHand(given), byHand(given.map(([g, s, v]) => [1 - g, s, v]))];
      fc.pre(!Number.isNaN(plain.standardError));
      expectClose(turned.difference, -plain.difference, 1e-9, 1e-9);
      expectClose(turned.standardError, plain.standardError, 1e-9, 1e-9);
    }),
    { seed: 61, numRuns: 60 },
  );
});
