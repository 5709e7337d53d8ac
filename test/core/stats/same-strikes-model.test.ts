import { expect, test } from "vitest";
import { compareAtSameStrikes } from "../../../core/stats/same-strikes-model";
import type { JudgedPair, Rules } from "../../../core/stats/judge-pair";
import { judgePairs } from "../../../core/stats/judge-pair";
import type { ShotData } from "../../../core/stats/shot-data";
import { compareAsStruck } from "../../../core/stats/stint-model";
import { expectClose, normals } from "./check-values";
import { session101, sessionShots } from "./session-101";
import { shotsFrom } from "./shot-lists";

interface Face {
  readonly heads?: number;
  readonly passes?: number;
  readonly shotsInStint?: number;
  readonly seed?: number;
  /** Mean strike of each head, in mm. */
  readonly strike?: readonly (readonly [x: number, y: number])[];
  /** What each head carries more at the centre, in yd. */
  readonly add?: readonly number[];
  readonly shotSd?: number;
}

/** Heads hit in rotation, whose carry falls off with the square of the distance from the centre. */
function onTheFace({ heads = 2, passes = 10, shotsInStint = 3, seed = 1, strike = [], add = [], shotSd = 2 }: Face): ShotData {
  const normal = normals(seed);
  const shots = Array.from({ length: heads * passes * shotsInStint }, (_, i) => {
    const stint = Math.floor(i / shotsInStint);
    const head = stint % heads;
    const [x, y] = [(strike[head]?.[0] ?? 0) + 8 * normal(), (strike[head]?.[1] ?? 0) + 5 * normal()];
    return { head, stint, x, y, value: 150 + (add[head] ?? 0) - 0.03 * x * x - 0.05 * y * y + shotSd * normal() };
  });
  const data = shotsFrom(shots.map(({ head, stint, value }) => [head, stint, value]), heads);
  return { ...data, strike: { x: Float64Array.from(shots, ({ x }) => x), y: Float64Array.from(shots, ({ y }) => y) } };
}

const rules: Rules = { orderKnown: true, groups: 2, turnsInAll: 20, margin: 3, confidence: 0.95, oneNamed: false };

const judged = (data: ShotData, change: Partial<Rules> = {}): readonly JudgedPair[] =>
  judgePairs(compareAtSameStrikes(data).pairs, { ...rules, groups: data.groupCount, ...change });

test.each([["standardisedBallSpeed", "Ball speed [mph]", 1], ["standardisedCarry", "Carry distance [yd]", 3]] as const)(
  "session-101: the intervals at the same strikes hold the truth of %s",
  (truth, column, margin) => {
    const pairs = judged(sessionShots(column), { turnsInAll: 24, margin });
    pairs.forEach((pair, i) => {
      const known = session101.truth.pairs[i]![truth];
      for (const interval of [pair.wide, pair.otherWide]) {
        expect(interval.from, `${pair.of} ${pair.against}`).toBeLessThan(known);
        expect(interval.to).toBeGreaterThan(known);
      }
    });
    expect(pairs.map((pair) => pair.adjustment!.overlap)).toEqual(["whole", "whole", "whole"]);
  },
);

test("session-101: the strikes' standardised differences are those of R", () => {
  const { smdX, smdY } = session101.expected.strike;
  judged(sessionShots("Carry distance [yd]")).forEach((pair, i) => {
    expectClose(pair.adjustment!.across, smdX[i]!, 1e-9);
    expectClose(pair.adjustment!.up, smdY[i]!, 1e-9);
  });
});

test("a difference that is where the face was hit is none at the same strikes", () => {
  const data = onTheFace({ strike: [[0, 0], [9, -4]], passes: 12, seed: 3 });
  const [struck] = judgePairs(compareAsStruck({ ...data, strike: null }).pairs, rules);
  const [same] = judged(data);
  expect(struck!.verdict).toMatch(/^different/);
  expect(Math.abs(same!.shown.difference)).toBeLessThan(Math.abs(struck!.shown.difference) / 2);
  expect(same!.wide.from).toBeLessThan(0);
  expect(same!.wide.to).toBeGreaterThan(0);
});

test("where the strikes are alike the difference at the same strikes is that as struck", () => {
  // The very same strikes for both heads, stint by stint.
  const data = onTheFace({ passes: 10, add: [0, 6], seed: 4 });
  const twin = (values: Float64Array): Float64Array => values.map((_, i) => values[i - (Math.floor(i / 3) % 2) * 3]!);
  const strike = { x: twin(data.strike!.x), y: twin(data.strike!.y) };
  const value = data.value.map((_, i) => 150 + (data.group[i] === 1 ? 6 : 0) - 0.03 * strike.x[i]! ** 2 - 0.05 * strike.y[i]! ** 2 + ((i * 7) % 5));
  const alike = { ...data, strike, value };
  const [struck, same] = [compareAsStruck({ ...alike, strike: null }), compareAtSameStrikes(alike)].map(({ pairs }) => pairs[0]!);
  expectClose(same!.difference, struck!.difference, 0.01, 0.05);
  expect(same!.standardError).toBeLessThan(struck!.standardError);
});

test("heads not hit in the same places have no number at the same strikes", () => {
  const [pair] = judged(onTheFace({ strike: [[-20, 8], [20, -8]] }));
  expect([pair!.ground, pair!.verdict, pair!.difference, pair!.wide.from, pair!.p]).toEqual(["not the same places", "no verdict", Number.NaN, Number.NaN, Number.NaN]);
});

test("a head hit elsewhere does not take the others' answer away", () => {
  const pairs = judged(onTheFace({ heads: 3, strike: [[0, 0], [1, 1], [45, 30]] }), { turnsInAll: 30 });
  expect(pairs.map((pair) => pair.ground)).toEqual(["enough", "not the same places", "not the same places"]);
  expect(pairs[0]!.adjustment!.shots).toBe(60);
});

test("strikes that overlap in part are restricted to where both heads were hit", () => {
  const [pair] = judged(onTheFace({ strike: [[-9, 0], [9, 0]], passes: 12, seed: 2 }));
  expect(pair!.adjustment!.overlap).toBe("restricted");
  expect(pair!.adjustment!.kept).toBeLessThan(pair!.adjustment!.shots);
  expect(pair!.adjustment!.across).toBeGreaterThan(1);
});

test("fewer than 12 shots of a head with a known strike are too few, and fewer than 15 share the fall-off", () => {
  expect(judged(onTheFace({ passes: 5, shotsInStint: 2 }))[0]!.ground).toBe("few strikes");
  expect(judged(onTheFace({ passes: 7, shotsInStint: 2 }))[0]!.adjustment!.form).toBe("shared");
  expect(judged(onTheFace({ passes: 8, shotsInStint: 3 }))[0]!.adjustment!.form).toBe("reduced");
  expect(judged(onTheFace({ passes: 14, shotsInStint: 3 }))[0]!.adjustment!.form).toBe("full");
});

test("a difference that moves by more than the margin with the form of the surface is undecided", () => {
  const data = onTheFace({ add: [0, 12], shotSd: 3, seed: 5 });
  const [pair] = judged(data);
  expect(pair!.verdict).toBe("different by more than the margin");
  const { from, to } = pair!.adjustment!.forms;
  expect([from <= pair!.difference + 0.5, to >= pair!.difference - 0.5]).toEqual([true, true]);
  const [strict] = judged(data, { margin: (to - from) / 2 });
  expect([strict!.verdict, strict!.dependsOn, strict!.more]).toEqual(["undecided", "strike model", null]);
});

test("heads alike, hit in different places, are called different as struck, and not at the same strikes", () => {
  const sessions = 60;
  let struck = 0;
  let same = 0;
  for (let seed = 1; seed <= sessions; seed++) {
    const data = onTheFace({ strike: [[0, 0], [8, -4]], seed, shotSd: 3 });
    const isDifferent = ({ verdict }: JudgedPair) => verdict.startsWith("different");
    if (judgePairs(compareAsStruck({ ...data, strike: null }).pairs, rules).some(isDifferent)) struck++;
    if (judged(data).some(isDifferent)) same++;
  }
  // 5 % of 60 is 3, with a standard deviation of 1.7.
  expect(same).toBeLessThan(9);
  expect(struck).toBeGreaterThan(same + 5);
});
