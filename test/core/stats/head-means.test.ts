import * as fc from "fast-check";
import { expect, test } from "vitest";
import { tQuantile } from "../../../core/stats/distributions";
import { headMeans } from "../../../core/stats/head-means";
import { meanModel } from "../../../core/stats/mean-model";
import type { ShotData } from "../../../core/stats/shot-data";
import { checksOf, datasetOf, expectClose, normals } from "./check-values";
import { denseClusterRobust } from "./dense-models";

interface Rows {
  readonly group: readonly number[];
  readonly stint: readonly number[];
  readonly value: readonly number[];
  readonly session?: readonly number[];
  /** All 0 unless told, which leaves the trend out. */
  readonly time?: readonly number[];
}

function shotsOf({ group, stint, value, session, time }: Rows): ShotData {
  return {
    groupCount: Math.max(...group) + 1,
    group: Int32Array.from(group),
    session: Int32Array.from(session ?? group.map(() => 0)),
    stint: Float64Array.from(stint),
    time: Float64Array.from(time ?? group.map(() => 0)),
    value: Float64Array.from(value),
    strike: null,
  };
}

/** Two groups in turns with stints of three, with scatter between stints and within them. */
function inTurns(stints: number, seed = 1, drift = 0): Rows {
  const normal = normals(seed);
  const rows = Array.from({ length: stints }, (_, stint) => {
    const level = 150 + 2 * normal();
    return Array.from({ length: 3 }, (__, shot) => ({ group: stint % 2, stint, value: level + 3 * normal(), time: (3 * stint + shot) / (3 * stints - 1) }));
  }).flat();
  return {
    group: rows.map((row) => row.group),
    stint: rows.map((row) => row.stint),
    time: rows.map((row) => row.time),
    value: rows.map((row) => row.value + drift * row.time),
  };
}

const widths = (rows: Rows, confidence = 0.95) => headMeans(shotsOf(rows), true, confidence).map(({ interval }) => interval.to - interval.from);

/** Half the width of a 95 % interval with such a standard error, by t of R 4.2.2. */
function checkReach(interval: { from: number; to: number }, mean: number, standardError: number, t: number, id: string): void {
  expectClose(interval.to, mean + t * standardError, 1e-5, 0, id);
  expectClose(interval.from, mean - t * standardError, 1e-5, 0, id);
}

test("one head in six stints: the published mean and standard error of a random-effects model", () => {
  const { expected } = checksOf<unknown, unknown, { fixef: number; seKR: number }>("lmm-reml").find((check) => check.id === "Dyestuff-lmm")!;
  const batches = datasetOf("Dyestuff")["Batch"]!;
  const names = [...new Set(batches)];
  const value = datasetOf("Dyestuff")["Yield"]!.map(Number);
  // Another head was hit between any two of these stints.
  const [told] = headMeans(shotsOf({ group: value.map(() => 0), stint: batches.map((batch) => 2 * names.indexOf(batch)), value }), true, 0.95);
  expect(told).toMatchObject({ n: 30, stints: 6, without: null });
  // Stints of one length: CR2 is then the scatter of their means. t of 5 df at 97.5 %, from a table.
  checkReach(told!.interval, expected.fixef, expected.seKR, 2.570581835636314, "Dyestuff");
});

test("four groups that share nine stints: intervals are those of CR2 worked out with whole matrices", () => {
  const { Type: types, Subject: subjects, effort } = datasetOf("ergoStool");
  const [names, kinds] = [[...new Set(subjects)], [...new Set(types)]];
  const data = shotsOf({ group: types!.map((type) => kinds.indexOf(type)), stint: subjects!.map((subject) => names.indexOf(subject)), value: effort!.map(Number) });
  headMeans(data, true, 0.95).forEach(({ interval }, group) => {
    const { difference, standardError, df } = denseClusterRobust(meanModel(data), kinds.map((_, i) => (i === group ? 1 : 0)));
    checkReach(interval, difference, standardError, tQuantile(0.975, df), `group ${group}`);
  });
});

test("a head that scatters more than the others has an interval that holds its mean as often as theirs do", () => {
  const runs = 300;
  const held = [0, 0, 0];
  for (let seed = 1; seed <= runs; seed++) {
    const normal = normals(seed);
    const rows = Array.from({ length: 90 }, (_, i) => ({ group: Math.floor(i / 3) % 3, stint: Math.floor(i / 3), time: i / 89 }));
    const levels = rows.map(() => normal());
    const value = rows.map(({ group, stint }) => levels[stint]! + 6 * (group === 0 ? 1.8 : 1) * normal());
    headMeans(shotsOf({ group: rows.map((row) => row.group), stint: rows.map((row) => row.stint), time: rows.map((row) => row.time), value }), true, 0.95).forEach(({ interval }, group) => {
      if (interval.from <= 0 && 0 <= interval.to) held[group]!++;
    });
  }
  // Three standard errors of such a count on either side of 95 %.
  const most = 3 * Math.sqrt(runs * 0.95 * 0.05);
  for (const count of held) expect(Math.abs(count - 0.95 * runs)).toBeLessThan(most);
});

test("a head whose shots are all equal has no interval, however the others scatter", () => {
  const rows = inTurns(12);
  checkWithout({ ...rows, value: rows.value.map((value, i) => (rows.group[i] === 0 ? 200 : value)) }, ["no scatter", null]);
});

test("order unknown: the interval of independent shots agrees with R", () => {
  for (const { data, expected, id } of checksOf<{ x: number[] }, never, { mean: number; n: number; meanCI95: readonly [number, number] }>("univariate")) {
    const [told] = headMeans(shotsOf({ group: data.x.map(() => 0), stint: data.x.map((_, i) => i), value: data.x }), false, 0.95);
    expect(told!.n).toBe(expected.n);
    expectClose(told!.mean, expected.mean, 1e-12, 0, id);
    expectClose(told!.interval.from, expected.meanCI95[0], 1e-9, 0, id);
    expectClose(told!.interval.to, expected.meanCI95[1], 1e-9, 0, id);
    expect(told!.stints).toBeNaN();
  }
});

test("a drift that all heads share makes no interval wider", () => {
  const still = widths(inTurns(12));
  const drifting = widths(inTurns(12, 1, -25));
  still.forEach((width, i) => expectClose(drifting[i]!, width, 1e-5));
});

test("the mean of the shots is the middle of the interval, whatever the drift", () => {
  fc.assert(
    fc.property(fc.integer({ min: 4, max: 9 }), fc.integer({ min: 1, max: 500 }), fc.integer({ min: -20, max: 20 }), (half, seed, drift) => {
      const rows = inTurns(2 * half, seed, drift);
      headMeans(shotsOf(rows), true, 0.95).forEach((told, group) => {
        const own = rows.value.filter((_, i) => rows.group[i] === group);
        expectClose((told.interval.from + told.interval.to) / 2, own.reduce((sum, v) => sum + v, 0) / own.length, 1e-10);
      });
    }),
    { seed: 5, numRuns: 30 },
  );
});

test("a shot hit twice narrows an interval less than a new stint does", () => {
  const rows = inTurns(12);
  const twice = (all: readonly number[] | undefined) => all!.flatMap((each) => [each, each]);
  const doubled = { group: twice(rows.group), stint: twice(rows.stint), value: twice(rows.value), time: twice(rows.time) };
  const shots = (width: number, count: number) => width * Math.sqrt(count);
  // Independent shots would make the interval narrower by the root of two.
  expect(shots(widths(doubled)[0]!, 2)).toBeGreaterThan(1.2 * widths(rows)[0]!);
});

test("an interval grows with its confidence, shifts and scales with the values", () => {
  const rows = inTurns(10);
  expect(widths(rows, 0.99)[0]!).toBeGreaterThan(widths(rows, 0.9)[0]!);
  widths({ ...rows, value: rows.value.map((v) => 3 * v - 1000) }).forEach((width, i) => expectClose(width, 3 * widths(rows)[i]!, 1e-6));
});

function checkWithout(rows: Rows, expected: readonly (string | null)[], orderKnown = true): void {
  const told = headMeans(shotsOf(rows), orderKnown, 0.95);
  expect(told.map(({ without }) => without)).toEqual(expected);
  for (const { interval, without } of told) expect(Number.isNaN(interval.from) && Number.isNaN(interval.to)).toBe(without !== null);
}

test("what has no interval, and why", () => {
  const turns = inTurns(8);
  const stretched = (stints: readonly number[]) => stints.flatMap((stint) => [stint, stint, stint]);
  checkWithout(turns, [null, null]);
  // One head in one go beside one in turns; breaks within a turn do not help.
  checkWithout({ group: stretched([0, 1, 0, 0, 0]), stint: stretched([1, 2, 3, 4, 5]), value: turns.value.slice(0, 15) }, [null, "few shots"]);
  const after = [0, 0, 0, 1, 1, 1];
  checkWithout({ group: stretched(after), stint: stretched([1, 2, 3, 4, 5, 6]), value: turns.value.slice(0, 18) }, ["one go", "one go"]);
  checkWithout({ ...turns, session: turns.stint.map((stint) => (stint < 4 ? 0 : 1)) }, ["several sessions", "several sessions"]);
  checkWithout({ ...turns, value: turns.value.map(() => 150.1) }, ["no scatter", "no scatter"]);
  checkWithout({ ...turns, value: turns.value.map(() => 150.1) }, ["no scatter", "no scatter"], false);
  checkWithout({ group: [0, 0, 1, 1], stint: [1, 2, 3, 4], value: [1, 2, 3, 4] }, ["few shots", "few shots"]);
});

test("two sessions with a head of its own each: each is told from its own session", () => {
  const one = inTurns(8, 1);
  const other = inTurns(8, 2, 40);
  const both = headMeans(
    shotsOf({
      group: [...one.group, ...other.group.map((g) => g + 2)],
      stint: [...one.stint, ...other.stint],
      time: [...one.time!, ...other.time!],
      value: [...one.value, ...other.value],
      session: [...one.group.map(() => 0), ...other.group.map(() => 1)],
    }),
    true,
    0.95,
  );
  const alone = [...headMeans(shotsOf(one), true, 0.95), ...headMeans(shotsOf(other), true, 0.95)];
  expect(both).toEqual(alone);
});

test("so many groups that a common model takes too long have the scatter of their own stints", () => {
  const count = 300;
  const normal = normals(3);
  const stint = Array.from({ length: 6 * count }, (_, i) => i);
  const group = stint.map((i) => i % count);
  const told = headMeans(shotsOf({ group, stint, value: stint.map(() => 150 + normal()) }), true, 0.95);
  expect(told).toHaveLength(count);
  expect(told.every(({ without, interval }) => without === null && interval.from < interval.to)).toBe(true);
});
