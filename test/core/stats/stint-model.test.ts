import * as fc from "fast-check";
import { expect, test } from "vitest";
import { tQuantile } from "../../../core/stats/distributions";
import { twoOneSidedTests } from "../../../core/stats/equivalence";
import { holm } from "../../../core/stats/holm";
import type { JudgedPair, Rules } from "../../../core/stats/judge-pair";
import { judgePairs } from "../../../core/stats/judge-pair";
import type { PairEstimate } from "../../../core/stats/pair-estimate";
import { compareIndependentShots } from "../../../core/stats/stint-means-model";
import { compareAsStruck } from "../../../core/stats/stint-model";
import { familyP } from "../../../core/stats/simultaneous";
import { expectClose, normals } from "./check-values";
import { session101, sessionShots } from "./session-101";
import type { Shot } from "./shot-lists";
import { shotsFrom } from "./shot-lists";

interface LinearMixed {
  readonly lmm: Readonly<Record<"diff" | "seKR" | "dfKR" | "lower" | "upper" | "p" | "holmP" | "tukeyP", readonly number[]>>;
  readonly trendCR2: Readonly<Record<"diff" | "se" | "df" | "lower" | "upper", readonly number[]>> & { readonly slope: number };
  readonly welch: Readonly<Record<"diff" | "se" | "df" | "p", readonly number[]>>;
}

const rules: Rules = { orderKnown: true, groups: 3, turnsInAll: 24, margin: 1, confidence: 0.95, oneNamed: false };

const pairsOf = (shots: readonly Shot[], groupCount = 2): readonly PairEstimate[] => compareAsStruck(shotsFrom(shots, groupCount)).pairs;

/** Shots of heads hit in rotation, with scatter between stints and within them. */
function rotation(heads: number, passes: number, seed: number, add: readonly number[] = [], shotSd: readonly number[] = []): readonly Shot[] {
  const normal = normals(seed);
  return Array.from({ length: heads * passes }, (_, stint) => {
    const head = stint % heads;
    const level = 150 + (add[head] ?? 0) + 2 * normal();
    return Array.from({ length: 3 }, (): Shot => [head, stint, level + (shotSd[head] ?? 4) * normal()]);
  }).flat();
}

test.each([["ball", "Ball speed [mph]"], ["carry", "Carry distance [yd]"]] as const)(
  "session-101 %s: lme4 with Kenward and Roger, and clubSandwich, give the same",
  (metric, column) => {
    const expected = (session101.expected as unknown as Record<string, LinearMixed>)[metric]!;
    const { pairs, trend } = compareAsStruck(sessionShots(column));
    pairs.forEach((pair, i) => {
      const what = `${metric} ${pair.of} ${pair.against}`;
      const { diff, seKR, dfKR, lower, upper, tukeyP, p } = expected.lmm;
      expectClose(pair.difference, diff[i]!, 1e-5, 0, what);
      expectClose(pair.standardError, seKR[i]!, 1e-3, 0, what);
      expectClose(pair.df, dfKR[i]!, 0, 0.01, what);
      const reach = tQuantile(0.975, pair.df) * pair.standardError;
      expectClose(pair.difference - reach, lower[i]!, 1e-3, 1e-3, what);
      expectClose(pair.difference + reach, upper[i]!, 1e-3, 1e-3, what);
      expectClose(familyP(pair, 3), tukeyP[i]!, 2e-3, 0, what);
      expectClose(familyP(pair, 2), p[i]!, 2e-3, 0, what);
      const { diff: olsDiff, se, df, lower: low, upper: high } = expected.trendCR2;
      expectClose(pair.check!.difference, olsDiff[i]!, 1e-6, 0, what);
      expectClose(pair.check!.standardError, se[i]!, 1e-6, 0, what);
      expectClose(pair.check!.df, df[i]!, 1e-6, 0, what);
      const checkReach = tQuantile(0.975, pair.check!.df) * pair.check!.standardError;
      expectClose(pair.check!.difference - checkReach, low[i]!, 1e-6, 0, what);
      expectClose(pair.check!.difference + checkReach, high[i]!, 1e-6, 0, what);
    });
    const holmP = holm(pairs.map((pair) => familyP(pair, 2)));
    holmP.forEach((each, i) => expectClose(each, expected.lmm.holmP[i]!, 2e-3, 0));
    // The reference gives the slope of the check; that of the model is within its standard error.
    expectClose(trend!.difference, expected.trendCR2.slope, 0, trend!.standardError);
    const { pairs: single } = compareIndependentShots(sessionShots(column));
    single.forEach((pair, i) => {
      expectClose(pair.difference, expected.welch.diff[i]!, 1e-9);
      expectClose(pair.standardError, expected.welch.se[i]!, 1e-9);
      expectClose(pair.df, expected.welch.df[i]!, 1e-9);
    });
  },
);

test("where the scatter of heads differs by more than 1.5 times, the interval shown is that of the check", () => {
  const [even, uneven] = [[4, 4], [2, 9]].map((sd) => judgePairs(pairsOf(rotation(2, 10, 5, [], sd)), { ...rules, groups: 2 })[0]!);
  expect([even!.isUneven, even!.isCheckShown, even!.shown.difference]).toEqual([false, false, even!.difference]);
  expect([uneven!.isUneven, uneven!.isCheckShown, uneven!.shown]).toEqual([true, true, uneven!.check]);
  expect(Number.isNaN(uneven!.otherWide.from)).toBe(false);
});

test("a bend of the session is taken out where it is there, and not where it is not", () => {
  const bent = rotation(2, 10, 6).map(([head, stint, value]): Shot => [head, stint, value - 0.2 * (stint - 9.5) ** 2]);
  const [straight, curved] = [rotation(2, 10, 6), bent].map((shots) => compareAsStruck(shotsFrom(shots)));
  expect([straight!.bends, curved!.bends]).toEqual([false, true]);
  // Without the bend its yards would all be scatter of stints.
  expect(curved!.pairs[0]!.standardError).toBeLessThan(1.3 * straight!.pairs[0]!.standardError);
});

test("a trend is the change over the session and no part of a difference", () => {
  const shots = rotation(2, 8, 7);
  const sinking = shotsFrom(shots);
  const plain = compareAsStruck(sinking);
  const sunk = compareAsStruck({ ...sinking, value: sinking.value.map((value, i) => value - 10 * sinking.time[i]!) });
  expectClose(sunk.pairs[0]!.difference, plain.pairs[0]!.difference, 1e-9, 1e-9);
  expectClose(sunk.pairs[0]!.standardError, plain.pairs[0]!.standardError, 1e-6);
  expectClose(sunk.trend!.difference, plain.trend!.difference - 10, 1e-9, 1e-9);
});

test("a third head tells how shots scatter where all are told apart, and nothing where it was hit at other times", () => {
  const third = (at: (stint: number) => number): Shot[] => Array.from({ length: 8 }, (_, i) => [0, 1, 2].map((shot): Shot => [2, at(i), 140 + shot + i])).flat();
  const two = rotation(2, 8, 8).map(([head, stint, value]): Shot => [head, 2 * stint, value]);
  const sorted = (shots: readonly Shot[]) => [...shots].sort((a, b) => a[1] - b[1]);
  const among = pairsOf(sorted([...two, ...third((i) => 4 * i + 1)]), 3)[0]!;
  const after = pairsOf(sorted([...two, ...third((i) => 40 + 2 * i)]), 3)[0]!;
  const level = pairsOf(sorted([...two, ...third((i) => 40 + 2 * i)].map(([h, s, v]): Shot => [h, s, h === 2 ? v + 50 : v])), 3)[0]!;
  const alone = pairsOf(two, 2)[0]!;
  expect(among.df).toBeGreaterThan(alone.df);
  expectClose(after.difference, alone.difference, 1e-9);
  expectClose(after.standardError, alone.standardError, 1e-9);
  expect(level.difference).toBe(after.difference);
});

test("a session that cannot tell a pair apart is left out of it, and of no other", () => {
  const day = (order: string, session: number): Shot[] => order.split("").flatMap((head, stint) => [0, 1, 2].map((shot): Shot => ["ABC".indexOf(head), stint, 150 + ((7 * stint + 5 * shot) % 11), session]));
  const pairs = pairsOf([...day("ABCABCABCABC", 0), ...day("ACACACBBB", 1)], 3);
  expect(pairs.map((pair) => [pair.of, pair.against, pair.leftOut])).toEqual([[1, 0, [1]], [2, 0, []], [2, 1, [1]]]);
  expect(pairs.map((pair) => [pair.stints, pair.stintsAgainst])).toEqual([[4, 4], [7, 7], [4, 4]]);
});

test("shots of a day on which only one of the two was hit do not count", () => {
  const shots = rotation(2, 6, 9);
  const [plain, more] = [shots, [...shots, [1, 1, 300, 1], [1, 2, 310, 1]] as Shot[]].map((each) => pairsOf(each)[0]!);
  expect(more).toEqual(plain);
});

test("a difference between days is no difference between heads", () => {
  const day = (session: number, level: number, seed: number): Shot[] => rotation(2, 6, seed).map(([g, s, v]) => [g, s, v + level, session]);
  const [near, far] = [0, 40].map((level) => pairsOf([...day(0, 0, 1), ...day(1, level, 2)])[0]!);
  expectClose(far!.difference, near!.difference, 1e-9);
  expectClose(far!.standardError, near!.standardError, 1e-6);
});

test("a head hit in one stint has a difference and no standard error, and leaves the family", () => {
  const pairs = pairsOf([...rotation(2, 6, 3), [2, 13, 140], [2, 13, 142]], 3);
  expect(pairs.filter((pair) => Number.isNaN(pair.standardError)).map((pair) => pair.of)).toEqual([2, 2]);
  expect(pairs.map((pair) => pair.familySize)).toEqual([2, 2, 2]);
  expect(pairs[1]!.difference).toBeLessThan(0);
});

test("heads never hit on one day, and a group without a shot, are not compared", () => {
  const [apart] = pairsOf([[0, 1, 150, 0], [0, 2, 151, 0], [1, 1, 160, 1], [1, 2, 161, 1]]);
  expect([apart!.comparable, apart!.difference, apart!.n, apart!.nAgainst]).toEqual([false, Number.NaN, 2, 2]);
  const [empty] = pairsOf(rotation(2, 4, 1).filter(([group]) => group === 0));
  expect([empty!.difference, empty!.n, empty!.nAgainst]).toEqual([Number.NaN, 0, 12]);
});

test("a shot hit twice narrows nothing as a new stint would", () => {
  const shots = rotation(2, 6, 4);
  const [plain] = pairsOf(shots);
  const [twice] = pairsOf(shots.flatMap((shot, i) => (i < 2 ? [shot, shot] : [shot])));
  const [longer] = pairsOf([...shots, [0, 12, 150], [0, 12, 151], [1, 13, 151.5], [1, 13, 152]]);
  expect(longer!.df).toBeGreaterThan(plain!.df);
  expect(longer!.standardError).toBeLessThan(twice!.standardError);
});

test("stints of one shot each, their level not told from the shot, still give an interval", () => {
  const [pair] = pairsOf(Array.from({ length: 16 }, (_, i): Shot => [i % 2, i, 150 + ((i * 7) % 5)]));
  expectClose(pair!.df, 13, 1e-9);
});

const session = fc
  .array(fc.array(fc.integer({ min: 1200, max: 1700 }), { minLength: 1, maxLength: 4 }), { minLength: 12, maxLength: 18 })
  .map((stints) => stints.flatMap((values, stint) => values.map((value): Shot => [stint % 3, stint, value / 10])));

test("shifting changes no difference, scaling scales it, relabelling permutes it", () => {
  fc.assert(
    fc.property(session, fc.integer({ min: -500, max: 500 }), (given, shift) => {
      const plain = pairsOf(given, 3);
      const shifted = pairsOf(given.map(([g, s, v]) => [g, s, v + shift]), 3);
      const scaled = pairsOf(given.map(([g, s, v]) => [g, s, 0.9144 * v]), 3);
      const turned = pairsOf(given.map(([g, s, v]) => [2 - g, s, v]), 3);
      plain.forEach((pair, i) => {
        if (!(pair.df > 0)) return;
        expectClose(shifted[i]!.difference, pair.difference, 1e-6, 1e-6);
        expectClose(shifted[i]!.standardError, pair.standardError, 1e-5, 1e-6);
        expectClose(scaled[i]!.difference, 0.9144 * pair.difference, 1e-6, 1e-6);
        expectClose(scaled[i]!.standardError, 0.9144 * pair.standardError, 1e-5, 1e-6);
        const other = turned.find((p) => p.of === 2 - pair.against && p.against === 2 - pair.of)!;
        expectClose(other.difference, -pair.difference, 1e-6, 1e-6);
        expectClose(other.standardError, pair.standardError, 1e-5, 1e-6);
      });
    }),
    { seed: 62, numRuns: 40 },
  );
});

const isOut = ({ from, to }: JudgedPair["wide"]): boolean => from > 0 || to < 0;

test("an interval inverts its own test, and two one-sided tests agree with the 90 % interval", () => {
  fc.assert(
    fc.property(session, fc.constantFrom(true, false), (given, two) => {
      const shots = two ? given.filter(([group]) => group < 2) : given;
      for (const pair of judgePairs(pairsOf(shots, two ? 2 : 3), { ...rules, groups: two ? 2 : 3 })) {
        if (!(pair.p >= 0) || Math.abs(pair.p - 0.05) < 1e-6) continue;
        expect(pair.p < 0.05).toBe(isOut(pair.wide));
        if (two) expect(twoOneSidedTests(pair.shown, 1).p < 0.05).toBe(pair.narrow.from > -1 && pair.narrow.to < 1);
      }
    }),
    { seed: 63, numRuns: 60 },
  );
});

test("pairs with one named head: Bonferroni's intervals over these pairs, and Holm's p values", () => {
  const pairs = pairsOf(rotation(4, 6, 11, [0, 4, 8, 1]), 4).filter((pair) => pair.against === 0);
  const judged = judgePairs(pairs, { ...rules, groups: 4, oneNamed: true, margin: 3 });
  const raw = pairs.map((pair) => familyP(pair, 2));
  expect(judged.map((pair) => pair.p)).toEqual([...holm(raw)]);
  for (const pair of judged) expectClose(pair.wide.to - pair.difference, tQuantile(1 - 0.05 / 6, pair.df) * pair.standardError, 1e-9);
  const [sole] = judgePairs(pairs.slice(0, 1), { ...rules, groups: 4, oneNamed: true });
  expectClose(sole!.wide.to - sole!.difference, tQuantile(0.975, sole!.df) * sole!.standardError, 1e-9);
});

test("heads alike are called different in no more than one of twenty sessions, and far more often when shots count as independent", () => {
  const sessions = 250;
  let byStints = 0;
  let byShots = 0;
  for (let seed = 1; seed <= sessions; seed++) {
    const data = shotsFrom(rotation(3, 6, seed), 3);
    // What the model alone calls different, without the check.
    const isFar = (pair: PairEstimate) => Math.abs(pair.difference) > 2 * pair.standardError;
    if (compareAsStruck(data).pairs.some((pair) => isFar(pair) && familyP(pair, 3) < 0.05)) byStints++;
    if (compareIndependentShots(data).pairs.some((pair) => isFar(pair) && familyP(pair, 3) < 0.05)) byShots++;
  }
  // 6 % of 250 is 15, with a standard deviation of 3.8.
  expect(byStints).toBeGreaterThan(1);
  expect(byStints).toBeLessThan(25);
  expect(byShots).toBeGreaterThan(byStints + 8);
});
