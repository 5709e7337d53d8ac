import * as fc from "fast-check";
import { expect, test } from "vitest";
import type { ComparisonData } from "../../../core/stats/comparison";
import type { MeanContrast } from "../../../core/stats/mean-contrast";
import { welchContrast } from "../../../core/stats/mean-contrast";
import { familyP } from "../../../core/stats/simultaneous";
import { independentShotsModel, stintMeansModel } from "../../../core/stats/stint-means-model";
import { stintMeans } from "../../../core/stats/stints";
import { expectClose, normals } from "./check-values";

/** Shots as [group, stint, value] or [group, stint, value, session]. */
type Shot = readonly [group: number, stint: number, value: number, session?: number];

function dataOf(shots: readonly Shot[], groupCount = 2): ComparisonData {
  return {
    groupCount,
    group: Int32Array.from(shots, ([group]) => group),
    session: Int32Array.from(shots, ([, , , session]) => session ?? 0),
    stint: Float64Array.from(shots, ([, stint]) => stint),
    value: Float64Array.from(shots, ([, , value]) => value),
  };
}

const shots: readonly Shot[] = [
  [0, 1, 150], [0, 1, 154], [1, 2, 157], [1, 2, 159], [0, 3, 149], [1, 4, 153], [1, 4, 161], [0, 5, 155], [0, 5, 151], [1, 6, 160],
];

test("the mean of each stint, in order, missing values and rows without a group left out", () => {
  const means = stintMeans(dataOf([...shots, [0, 3, Number.NaN], [-1, 3, 0]]));
  expect(means.map((stint) => [stint.group, stint.stint, stint.n, stint.mean])).toEqual([
    [0, 1, 2, 152], [1, 2, 2, 158], [0, 3, 1, 149], [1, 4, 2, 157], [0, 5, 2, 153], [1, 6, 1, 160],
  ]);
});

test("equal stint numbers of two sessions are two stints", () => {
  expect(stintMeans(dataOf([[0, 1, 5, 0], [0, 1, 9, 1]])).map((stint) => stint.mean)).toEqual([5, 9]);
});

test("one session: Welch's t on the means of stints", () => {
  const [pair] = stintMeansModel.fit(dataOf(shots));
  const welch = welchContrast([158, 157, 160], [152, 149, 153]);
  expectClose(pair!.difference, welch.difference, 1e-13);
  expectClose(pair!.standardError, welch.standardError, 1e-13);
  expectClose(pair!.df, welch.df, 1e-13);
  expect([pair!.of, pair!.against, pair!.familySize]).toEqual([1, 0, 2]);
  expect([pair!.n, pair!.nAgainst, pair!.stints, pair!.stintsAgainst]).toEqual([5, 5, 3, 3]);
});

test("order unknown: Welch's t on shots", () => {
  const [pair] = independentShotsModel.fit(dataOf(shots));
  const welch = welchContrast([157, 159, 153, 161, 160], [150, 154, 149, 155, 151]);
  expectClose(pair!.standardError, welch.standardError, 1e-13);
  expectClose(pair!.df, welch.df, 1e-13);
});

test("a head hit in one stint has a difference and no standard error, and leaves the family", () => {
  const pairs = stintMeansModel.fit(dataOf([...shots, [2, 7, 140], [2, 7, 142]], 3));
  const lone = pairs.find((pair) => pair.of === 2 && pair.against === 0)!;
  expectClose(lone.difference, 141 - (152 + 149 + 153) / 3, 1e-13);
  expect(lone.standardError).toBeNaN();
  expect(lone.df).toBeNaN();
  expect(pairs.map((pair) => pair.familySize)).toEqual([2, 2, 2]);
});

test("a difference between days is no difference between heads", () => {
  const day = (session: number, level: number): Shot[] => shots.map(([g, stint, value]) => [g, stint, value + level, session]);
  const [one] = stintMeansModel.fit(dataOf(shots));
  const [two] = stintMeansModel.fit(dataOf([...day(0, 0), ...day(1, 40)]));
  expectClose(two!.difference, one!.difference, 1e-12);
  expectClose(two!.standardError, one!.standardError / Math.SQRT2, 1e-12);
  expectClose(two!.df, 2 * one!.df, 1e-12);
});

test("shots of a day on which only one of the two was hit do not count", () => {
  const [plain] = stintMeansModel.fit(dataOf(shots));
  const [more] = stintMeansModel.fit(dataOf([...shots, [1, 1, 300, 1], [1, 2, 310, 1]]));
  expect(more).toEqual(plain);
});

test("heads never hit on one day are not compared", () => {
  const [pair] = stintMeansModel.fit(dataOf([[0, 1, 150, 0], [0, 2, 151, 0], [1, 1, 160, 1], [1, 2, 161, 1]]));
  expect(pair!.comparable).toBe(false);
  expect(pair!.difference).toBeNaN();
  expect([pair!.n, pair!.nAgainst]).toEqual([2, 2]);
});

test("a group without any shot", () => {
  const [pair] = stintMeansModel.fit(dataOf(shots.filter(([group]) => group === 0)));
  expect(pair!.difference).toBeNaN();
  expect([pair!.n, pair!.nAgainst, pair!.stints]).toEqual([0, 5, 0]);
});

const session = fc
  .array(fc.tuple(fc.integer({ min: 0, max: 2 }), fc.array(fc.integer({ min: 1200, max: 1700 }), { minLength: 1, maxLength: 4 })), { minLength: 9, maxLength: 15 })
  .map((stints) => stints.flatMap(([group, values], stint) => values.map((value): Shot => [group, stint, value / 10])));

test("shifting changes no difference, scaling scales it, relabelling permutes it, order within a stint is nothing", () => {
  fc.assert(
    fc.property(session, fc.integer({ min: -500, max: 500 }), (given, shift) => {
      const plain = stintMeansModel.fit(dataOf(given, 3));
      const shifted = stintMeansModel.fit(dataOf(given.map(([g, s, v]) => [g, s, v + shift]), 3));
      const scaled = stintMeansModel.fit(dataOf(given.map(([g, s, v]) => [g, s, 0.9144 * v]), 3));
      const turned = stintMeansModel.fit(dataOf(given.map(([g, s, v]) => [2 - g, s, v]), 3));
      const reversed = stintMeansModel.fit(dataOf([...given].reverse(), 3));
      plain.forEach((pair, i) => {
        if (Number.isNaN(pair.standardError)) return;
        expectClose(shifted[i]!.difference, pair.difference, 1e-9, 1e-9);
        expectClose(shifted[i]!.standardError, pair.standardError, 1e-9, 1e-9);
        expectClose(scaled[i]!.difference, 0.9144 * pair.difference, 1e-9, 1e-9);
        expectClose(scaled[i]!.standardError, 0.9144 * pair.standardError, 1e-9, 1e-9);
        expectClose(reversed[i]!.difference, pair.difference, 1e-9, 1e-9);
        const other = turned.find((p) => p.of === 2 - pair.against && p.against === 2 - pair.of)!;
        expectClose(other.difference, -pair.difference, 1e-9, 1e-9);
        expectClose(other.standardError, pair.standardError, 1e-9, 1e-9);
      });
    }),
    { seed: 61, numRuns: 60 },
  );
});

test("a shot hit twice narrows nothing as a new stint would", () => {
  const [plain] = stintMeansModel.fit(dataOf(shots));
  const [twice] = stintMeansModel.fit(dataOf([...shots, shots[0]!, shots[2]!]));
  const [longer] = stintMeansModel.fit(dataOf([...shots, [0, 7, 152], [1, 8, 158.5]]));
  expect(longer!.df).toBeGreaterThan(plain!.df);
  expect(twice!.stints).toBe(plain!.stints);
  expect(longer!.standardError).toBeLessThan(plain!.standardError);
  expect(longer!.standardError).toBeLessThan(twice!.standardError);
});

test("heads alike are called different about once in twenty sessions, and far more often when shots count as independent", () => {
  const normal = normals(71);
  const sessions = 300;
  let byStints = 0;
  let byShots = 0;
  for (let i = 0; i < sessions; i++) {
    const given = Array.from({ length: 18 }, (_, stint) => {
      const level = 150 + 3 * normal();
      return Array.from({ length: 4 }, (): Shot => [stint % 3, stint, level + 5 * normal()]);
    }).flat();
    // Below two standard errors no pair of three has a p value below 0.05, which takes long to work out.
    const isFar = (pair: MeanContrast) => Math.abs(pair.difference) > 2 * pair.standardError;
    const anyBelow = (pairs: ReturnType<typeof stintMeansModel.fit>) => pairs.some((pair) => isFar(pair) && familyP(pair, pair.familySize) < 0.05);
    if (anyBelow(stintMeansModel.fit(dataOf(given, 3)))) byStints++;
    if (anyBelow(independentShotsModel.fit(dataOf(given, 3)))) byShots++;
  }
  // 5 % of 300 is 15, with a standard deviation of 3.8.
  expect(byStints).toBeGreaterThan(3);
  expect(byStints).toBeLessThan(30);
  expect(byShots).toBeGreaterThan(40);
});
