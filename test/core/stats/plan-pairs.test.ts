import { expect, test } from "vitest";
import { tQuantile } from "../../../core/stats/distributions";
import { judgePairs } from "../../../core/stats/judge-pair";
import type { PairOutlook, ShotScatter } from "../../../core/stats/plan-pairs";
import { outlookOf, planPair, powersWith, scatterOf, shotsByThumb } from "../../../core/stats/plan-pairs";
import { powerOfEquivalence, powerToSee } from "../../../core/stats/power";
import type { ShotData } from "../../../core/stats/shot-data";
import { compareAsStruck } from "../../../core/stats/stint-model";
import { expectClose, normals } from "./check-values";

/** Two heads in turn, stints of the given lengths over and over, with scatter between stints and within. */
function inTurn(stints: number, lengths: readonly number[], stintSd: number, shotSd: number, seed = 1): ShotData {
  const normal = normals(seed);
  const shots = Array.from({ length: stints }, (_, stint) => {
    const level = 150 + stintSd * normal();
    return Array.from({ length: lengths[stint % lengths.length]! }, () => ({ stint, value: level + shotSd * normal() }));
  }).flat();
  return {
    groupCount: 2,
    group: Int32Array.from(shots, ({ stint }) => stint % 2),
    session: new Int32Array(shots.length),
    stint: Float64Array.from(shots, ({ stint }) => stint),
    time: Float64Array.from(shots, (_, i) => i / (shots.length - 1)),
    value: Float64Array.from(shots, ({ value }) => value),
    strike: null,
  };
}

const question = { margin: 3, confidence: 0.95, power: 0.8, shotsPerStint: null, heads: 2, turnsInAll: 16 };

function pairOf(data: ShotData) {
  return judgePairs(compareAsStruck(data).pairs, { orderKnown: true, groups: 2, turnsInAll: 16, margin: 3, confidence: 0.95, oneNamed: false })[0]!;
}

test("the scatter of many shots comes out, with the design effect of their stints", () => {
  const scatter = scatterOf(inTurn(400, [2, 4], 3, 4))!;
  expectClose(scatter.stintVariance, 9, 0.25);
  expectClose(scatter.shotVariance, 16, 0.15);
  expectClose(scatter.correlation, 9 / 25, 0.2);
  // Σ m²/Σ m of stints of 2 and 4: 20/6.
  expectClose(scatter.stintLength, 20 / 6, 1e-12);
  expectClose(scatter.designEffect, 1 + (20 / 6 - 1) * scatter.correlation, 1e-12);
});

test("what does not scatter, or was hit in one go, has no scatter to plan with", () => {
  expect(scatterOf(inTurn(8, [3], 0, 0))).toBeNull();
  expect(scatterOf(inTurn(2, [10], 1, 1))).toBeNull();
});

test("the rule of thumb: SD 6 yd for 3 yd is 64 each, SD 2.4 mph for 1 mph is 92", () => {
  const scatter = (sd: number): ShotScatter => ({ stintVariance: sd * sd * 0.25, shotVariance: sd * sd * 0.75, correlation: 0.25, stintLength: 4, designEffect: 1.75 });
  expect(shotsByThumb(scatter(6), 3)).toBe(64);
  expect(shotsByThumb(scatter(2.4), 1)).toBe(92);
});

test("stints of another length are worth what their mean is certain", () => {
  const data = inTurn(16, [6], 2, 4, 3);
  const [pair, scatter] = [pairOf(data), { ...scatterOf(data)!, stintVariance: 4, shotVariance: 16 }];
  expect(outlookOf(pair, scatter, question).stints).toBe(8);
  const three = outlookOf(pair, scatter, { ...question, shotsPerStint: 3 });
  expectClose(three.stints, 8 * ((4 + 16 / 3) / (4 + 16 / 6)), 1e-12);
  expect(three.shotsPerStint).toBe(3);
  // Shots are shots where stints do not differ.
  expectClose(outlookOf(pair, { ...scatter, stintVariance: 0 }, { ...question, shotsPerStint: 3 }).stints, 16, 1e-12);
});

test("the smallest detectable difference has the power that it is named for", () => {
  for (const power of [0.6, 0.8, 0.95]) {
    const { detectable, outlook } = planPair(pairOf(inTurn(16, [4], 1, 4)), null, { ...question, power })!;
    const plan = { standardError: outlook.standardError, df: outlook.df, critical: tQuantile(0.975, outlook.df) };
    // critical + t_power stands in for the noncentral t, which is within a per cent or two here.
    expectClose(powerToSee(detectable, plan), power, 0, 0.02);
  }
});

test("a pair that may not be judged is not planned for", () => {
  const pair = pairOf(inTurn(16, [4], 1, 4));
  for (const ground of ["one go", "mixed with time", "order unknown", "few shots", "no scatter"] as const) expect(planPair({ ...pair, ground }, null, question)).toBeNull();
  expect(planPair({ ...pair, shown: { ...pair.shown, standardError: Number.NaN } }, null, question)).toBeNull();
});

test("powers along the way: those in hand are those of the standard error, and they rise with every stint", () => {
  const outlook: PairOutlook = { standardError: 1.5, df: 13, stints: 8, shotsPerStint: 4, heads: 2, familySize: 2, margin: 3, confidence: 0.95, power: 0.8, shots: 32 };
  const now = powersWith(outlook, 8)!;
  expect(now.shots).toBe(32);
  expectClose(now.toSee, powerToSee(3, { standardError: 1.5, df: 13, critical: tQuantile(0.975, 13) }), 1e-12);
  expectClose(now.toShow, powerOfEquivalence(3, { standardError: 1.5, df: 13, critical: tQuantile(0.95, 13) }), 1e-12);
  const along = [4, 8, 12, 20, 40].map((stints) => powersWith(outlook, stints)!);
  expect(along.map(({ shots }) => shots)).toEqual([16, 32, 48, 80, 160]);
  along.slice(1).forEach((point, i) => expect(point.toSee).toBeGreaterThan(along[i]!.toSee));
  expect(powersWith(outlook, 1)).toBeNull();
  expect(powersWith(outlook, 0)).toBeNull();
});
