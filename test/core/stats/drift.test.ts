import * as fc from "fast-check";
import { expect, test } from "vitest";
import { fitClusterRobust } from "../../../core/stats/cluster-robust";
import type { Drift } from "../../../core/stats/drift";
import { analyseDrift } from "../../../core/stats/drift";
import type { DriftShots } from "../../../core/stats/drift-model";
import { driftColumns, levelAt } from "../../../core/stats/drift-model";
import { driftVerdict, driftVerdicts } from "../../../core/stats/drift-verdict";
import { checksOf, expectClose, normals } from "./check-values";

/** An invented session: heads in rotation, with scatter of stints and of shots. */
interface Invented {
  readonly heads?: number;
  readonly passes?: number;
  readonly length?: number;
  /** What is added at time t, 0 to 1, for each head. */
  readonly add?: (t: number, head: number, inStint: number) => number;
  readonly stintSd?: number;
  readonly shotSd?: number;
  readonly seed?: number;
  /** True for heads hit one after the other, all passes of one in a run. */
  readonly inOneGo?: boolean;
}

function session({ heads = 3, passes = 8, length = 3, add = () => 0, stintSd = 1, shotSd = 3, seed = 2, inOneGo = false }: Invented = {}): DriftShots {
  const normal = normals(seed);
  const count = heads * passes * length;
  const stintOf = (i: number): number => Math.floor(i / length);
  const headOf = (i: number): number => (inOneGo ? Math.floor(i / (passes * length)) : stintOf(i) % heads);
  const levels = Array.from({ length: heads * passes }, () => stintSd * normal());
  return {
    groupCount: heads,
    group: Int32Array.from({ length: count }, (_, i) => headOf(i)),
    stint: Float64Array.from({ length: count }, (_, i) => stintOf(i) + 1),
    time: Float64Array.from({ length: count }, (_, i) => i / (count - 1)),
    pass: Float64Array.from({ length: count }, (_, i) => Math.floor(stintOf(i) / heads) + 1),
    value: Float64Array.from({ length: count }, (_, i) => 150 + 4 * headOf(i) + levels[stintOf(i)]! + shotSd * normal() + add(i / (count - 1), headOf(i), i % length)),
    afterChange: Array.from({ length: count }, (_, i) => i % length === 0 && i > 0),
  };
}

const look = (shots: DriftShots, margin: number | null = 3, seed = 7): Drift => analyseDrift(shots, { confidence: 0.95, margin, seed });

test("session-101 trendCR2.slope", () => {
  const [check] = checksOf<unknown, unknown, Record<"ball" | "carry", { trendCR2: { slope: number } }>>("whole-session");
  const { csv, block, expected } = check as unknown as { csv: string; block: readonly number[]; expected: Record<"ball" | "carry", { trendCR2: { slope: number } }> };
  const rows = csv.trim().split("\n").slice(1).map((line) => line.split(","));
  const heads = [...new Set(rows.map((row) => row[1]!))].sort();
  for (const [metric, place] of [["ball", 3], ["carry", 7]] as const) {
    const shots: DriftShots = {
      groupCount: heads.length,
      group: Int32Array.from(rows, (row) => heads.indexOf(row[1]!)),
      stint: Float64Array.from(block),
      time: Float64Array.from(rows, (_, i) => i / (rows.length - 1)),
      value: Float64Array.from(rows, (row) => Number(row[place])),
      pass: null,
      afterChange: rows.map(() => false),
    };
    expectClose(fitClusterRobust(driftColumns(shots))!.coefficients[3]!, expected[metric].trendCR2.slope, 1e-9);
    expectClose(look(shots).cross!.difference, expected[metric].trendCR2.slope, 1e-9);
  }
});

test("a fall shared by all heads is found, and is that of the model", () => {
  const drift = look(session({ add: (t) => -8 * t }));
  expect(drift).toMatchObject({ ground: "enough", verdict: "changed by more than the margin", alike: true, n: 72, stints: 24, step: null });
  expect(drift.change.interval.from).toBeLessThan(-8);
  expect(drift.change.interval.to).toBeGreaterThan(-8);
  expect(drift.kendall).toBeLessThan(-0.5);
  expect(drift.theilSen).toBeGreaterThan(drift.change.interval.from);
  expect(drift.theilSen).toBeLessThan(drift.change.interval.to);
  const [first, last] = [0, 1].map((time) => levelAt(drift.drift!, time, null).difference);
  expectClose(last! - first!, drift.change.difference, 1e-10);
});

test("one head alone drifts as several do", () => {
  const drift = look(session({ heads: 1, passes: 12, add: (t) => 9 * t }));
  expect(drift).toMatchObject({ ground: "enough", alike: null });
  expect(drift.verdict).toMatch(/^changed/);
});

test("a session without drift and much scatter is undecided, never steady", () => {
  expect(look(session({ shotSd: 12, stintSd: 5 })).verdict).toBe("undecided");
});

test("a session without drift and little scatter is practically steady, and without a margin nothing is", () => {
  const shots = session({ shotSd: 1, stintSd: 0.3 });
  expect(look(shots).verdict).toBe("practically steady");
  expect(look(shots, null).verdict).toBe("undecided");
});

test("heads that do not change alike", () => {
  const drift = look(session({ add: (t, head) => (head === 0 ? -14 : 10) * t }));
  expect(drift).toMatchObject({ alike: false, verdict: "do not change alike" });
  expect(drift.byGroup.map((each) => each.group)).toEqual([0, 1, 2]);
  expect(drift.byGroup[0]!.interval.to).toBeLessThan(0);
  expect(drift.byGroup[1]!.interval.from).toBeGreaterThan(0);
});

test("heads each hit in one go have no change over the session, only within stints", () => {
  const drift = look(session({ inOneGo: true, passes: 1, length: 10, stintSd: 0, add: (_, __, i) => -0.5 * i }));
  expect(drift).toMatchObject({ ground: "one go", verdict: "no verdict" });
  expect(drift.change.difference).toBeNaN();
  // Nine steps of 0.5 from the first to the last of ten shots.
  expect(drift.withinStint).toBeGreaterThan(-9);
  expect(drift.withinStint).toBeLessThan(-1);
  expect(look(session({ inOneGo: true, passes: 4 })).ground).toBe("one go");
});

test("too few shots, too few stints and equal values have no interval", () => {
  expect(look(session({ heads: 1, passes: 1, length: 4 })).ground).toBe("few shots");
  const short = look(session({ heads: 1, passes: 2, length: 4 }));
  expect(short).toMatchObject({ ground: "few stints", verdict: "no verdict" });
  expect(short.change.difference).not.toBeNaN();
  expect(short.change.interval.from).toBeNaN();
  expect(look(session({ heads: 3, passes: 1 })).ground).toBe("one go");
  expect(look({ ...session(), value: new Float64Array(72).fill(150) })).toMatchObject({ ground: "no scatter", verdict: "no verdict" });
  expect(look({ ...session({ passes: 0 }) }).ground).toBe("no values");
});

test("a trend that turns is called bent, and its change still runs from first to last", () => {
  const drift = look(session({ shotSd: 1, stintSd: 0.3, add: (t) => 12 * (t - 0.5) ** 2 + 2 * t }));
  expect(drift.drift!.bendCentre).not.toBeNull();
  const [first, last] = [0, 1].map((time) => levelAt(drift.drift!, time, null).difference);
  expectClose(last! - first!, drift.change.difference, 1e-9);
  expect(look(session({ shotSd: 1, stintSd: 0.3, add: (t) => 5 * t })).drift!.bendCentre).toBeNull();
});

test("a drop half-way through is a step, a slow fall is none", () => {
  const { step } = look(session({ shotSd: 1.5, add: (t) => (t > 0.5 ? -6 : 0) }));
  expect(step!.after).toBe(12);
  expect(step!.shift).toBeLessThan(-4);
  expect(look(session({ shotSd: 1.5, add: (t) => -6 * t })).step).toBeNull();
});

test("a first pass that falls short, and a first shot after each change that does", () => {
  const warm = look(session({ shotSd: 1, stintSd: 0.3, add: (t) => (t < 1 / 8 ? -5 : 0) }));
  expect(warm.warmUp!.interval.to).toBeLessThan(-2);
  // A trend sets the first pass apart too, steady or bent, and is no warm-up.
  for (const add of [(t: number) => 12 * t, (t: number) => -20 * (t - 0.5) ** 2]) {
    const { interval } = look(session({ shotSd: 1, stintSd: 0.3, add })).warmUp!;
    expect([interval.from < 0, interval.to > 0]).toEqual([true, true]);
  }
  const fresh = look(session({ shotSd: 1, add: (_, __, i) => (i === 0 ? -4 : 0) }));
  expect(fresh.carryOver!.interval.to).toBeLessThan(-2);
  expect(fresh.carryOver!.changeWithout).not.toBeNull();
  expect(look(session({ shotSd: 1 })).carryOver!.changeWithout).toBeNull();
});

test("neighbours in long stints", () => {
  const normal = normals(5);
  const shots = session({ heads: 2, passes: 5, length: 12, stintSd: 0 });
  let last = 0;
  const value = shots.value.map((_, i) => 150 + (last = (i % 12 === 0 ? 0 : 0.7 * last) + normal()));
  const { neighbours } = look({ ...shots, value });
  expect(neighbours!.r1).toBeGreaterThan(0.4);
  expect(neighbours!.worth).toBeLessThan(60);
  expect(look(shots).neighbours).toBeNull();
});

test("every pair of intervals has one verdict, and methods that disagree decide nothing", () => {
  const bounds = (from: number, to: number) => ({ wide: { from, to }, narrow: { from: from * 0.9 + to * 0.1, to: from * 0.1 + to * 0.9 } });
  expect(driftVerdict(bounds(4, 6), bounds(3.5, 6.5), 3)).toEqual({ verdict: "changed by more than the margin", dependsOnMethod: false });
  expect(driftVerdict(bounds(4, 6), bounds(2, 7), 3)).toEqual({ verdict: "changed", dependsOnMethod: false });
  expect(driftVerdict(bounds(1, 6), bounds(-1, 7), 3)).toEqual({ verdict: "undecided", dependsOnMethod: true });
  expect(driftVerdict(bounds(-1, 2), bounds(0.1, 1), 3)).toEqual({ verdict: "practically steady", dependsOnMethod: false });
  fc.assert(
    fc.property(fc.double({ min: -9, max: 9, noNaN: true }), fc.double({ min: 0, max: 9, noNaN: true }), (from, width) => {
      expect(driftVerdicts).toContain(driftVerdict(bounds(from, from + width), null, 3).verdict);
      expect(["changed", "undecided"]).toContain(driftVerdict(bounds(from, from + width), null, null).verdict);
    }),
    { seed: 10, numRuns: 200 },
  );
});

test("shifting changes nothing, scaling scales, turning time round turns the sign", () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 1e6 }), fc.integer({ min: -400, max: 400 }), (seed, shift) => {
      const shots = session({ passes: 5, seed, add: (t) => -5 * t });
      const plain = look(shots);
      const shifted = look({ ...shots, value: shots.value.map((value) => value + shift) });
      const scaled = look({ ...shots, value: shots.value.map((value) => 0.9144 * value) }, 3 * 0.9144);
      const turned = look({ ...shots, time: shots.time.map((t) => 1 - t) });
      for (const [other, factor] of [[shifted, 1], [scaled, 0.9144], [turned, -1]] as const) {
        expectClose(other.change.difference, factor * plain.change.difference, 1e-6, 1e-6);
        expectClose(other.change.standardError, Math.abs(factor) * plain.change.standardError, 1e-6, 1e-6);
        expectClose(other.theilSen, factor * plain.theilSen, 1e-6, 1e-6);
        expectClose(other.kendall, Math.sign(factor) * plain.kendall, 1e-9, 1e-9);
      }
      expect(shifted.verdict).toBe(plain.verdict);
      expect(scaled.verdict).toBe(plain.verdict);
    }),
    { seed: 12, numRuns: 25 },
  );
});

test("the interval leaves out 0 exactly where p is below 0.05", () => {
  for (let seed = 1; seed <= 20; seed++) {
    const { change, p } = look(session({ seed, passes: 4, add: (t) => -4 * t }));
    expect(change.interval.from > 0 || change.interval.to < 0).toBe(p < 0.05);
  }
});

test("the same seed gives the same bytes", () => {
  const plain = (drift: Drift): string => JSON.stringify({ ...drift, drift: null });
  const shots = session({ shotSd: 1.5, add: (t) => (t > 0.5 ? -6 : 0) });
  expect(plain(look(shots))).toBe(plain(look(shots)));
});

test("sessions without drift are called changed about once in twenty", () => {
  let changed = 0;
  for (let seed = 1; seed <= 120; seed++) if (look(session({ seed, passes: 5, stintSd: 2 })).verdict.startsWith("changed")) changed++;
  // At most 5 % of 120, with a standard deviation of 2.4; where two methods must agree it is fewer.
  expect(changed).toBeLessThan(14);
});
