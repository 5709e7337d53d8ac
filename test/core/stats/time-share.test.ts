import { expect, test } from "vitest";
import type { Ground, JudgedPair } from "../../../core/stats/judge-pair";
import { judgePairs } from "../../../core/stats/judge-pair";
import { sum } from "../../../core/stats/moments";
import type { ShotData } from "../../../core/stats/shot-data";
import { compareAsStruck } from "../../../core/stats/stint-model";
import { stintMeans } from "../../../core/stats/stints";
import type { Places } from "../../../core/stats/time-share";
import { pairInTime, timeShare, turnsIn } from "../../../core/stats/time-share";
import { expectClose, normals } from "./check-values";

/** What the tester, the ball and the air do in the course of a session: yards from 0 at its start to 1 at its end. */
type Drift = (t: number) => number;
const steady: Drift = () => 0;
const dropHalfway: Drift = (t) => (t < 0.5 ? 0 : -8);
const tiring: Drift = (t) => -8 * t;
const warmingThenTiring: Drift = (t) => -8 * (2 * t - 1) ** 2;

interface Simulated {
  /** Sessions apart by blanks; a letter is a stint of that head, so that equal letters in a row have a break between. */
  readonly order: string;
  readonly drift: Drift;
  readonly seed?: number;
  /** What B carries more than the other heads. */
  readonly gain?: number;
}

/** Shots of heads that are alike but for `gain`, 3 a stint; only A and B are kept, as after a filter. */
function simulated({ order, drift, seed = 1, gain = 0 }: Simulated): ShotData {
  const normal = normals(seed);
  const shots = order.split(" ").flatMap((heads, session) =>
    heads.split("").flatMap((head, i) => {
      const level = 150 + drift(i / (heads.length - 1)) + (head === "B" ? gain : 0) + normal();
      const time = (shot: number) => (3 * i + shot) / (3 * heads.length - 1);
      return [0, 1, 2].map((shot) => ({ group: "AB".indexOf(head), session, stint: i + 1, time: time(shot), value: level + 2 * normal() }));
    }),
  );
  const kept = shots.filter((shot) => shot.group >= 0);
  return {
    groupCount: 2,
    group: Int32Array.from(kept, (shot) => shot.group),
    session: Int32Array.from(kept, (shot) => shot.session),
    stint: Float64Array.from(kept, (shot) => shot.stint),
    time: Float64Array.from(kept, (shot) => shot.time),
    value: Float64Array.from(kept, (shot) => shot.value),
    strike: null,
  };
}

const groundOf = (order: string): Ground => judged({ order, drift: steady }).ground;

function judged(given: Simulated): JudgedPair {
  const data = simulated(given);
  const stints = stintMeans(data);
  const turnsInAll = sum([0, 1].map((group) => turnsIn(stints.filter((stint) => stint.group === group))));
  // A margin that nothing exceeds, since how many more shots would settle it is not asked here.
  return judgePairs(compareAsStruck(data).pairs, { orderKnown: true, groups: 2, turnsInAll, margin: 1000, confidence: 0.95, oneNamed: false })[0]!;
}

/** In how many of 50 sessions with heads that are alike a difference is found. */
function falseDifferences(order: string, drift: Drift): number {
  const seeds = Array.from({ length: 50 }, (_, i) => i + 1);
  return seeds.filter((seed) => judged({ order, drift, seed }).verdict.startsWith("different")).length;
}

test("heads alike, hit in orders that balance time, are called different no more often than by chance, whatever drifts", () => {
  for (const order of ["ABABABAB", "ACBACBACBACB", "ABCBCACABABC", "ABBAABBAABBAABBA", "ABBA BAAB ABBA BAAB", "ABAB BABA ABAB BABA", "ABABAB AAABBB"]) {
    // 2.5 of 50 have a standard deviation of 1.5.
    for (const drift of [steady, dropHalfway, tiring, warmingThenTiring]) expect(falseDifferences(order, drift), order).toBeLessThan(9);
  }
});

test("orders that balance time find a difference that is there", () => {
  for (const order of ["ABABABAB", "ABBAABBAABBAABBA", "ABBA BAAB ABBA BAAB"]) {
    expect(judged({ order, drift: steady, gain: 8 }).verdict, order).toBe("different but too small to matter");
  }
});

test("heads hit in one go have no interval and no verdict, whatever breaks were taken and however many sessions there are", () => {
  for (const order of ["AAAABBBB", "AAABBB AAABBB", "AAAABBBB BBBBAAAA", "AABB BBAA AABB BBAA"]) {
    const pair = judged({ order, drift: dropHalfway });
    expect([pair.ground, pair.verdict, pair.wide.from, pair.p], order).toEqual(["one go", "no verdict", Number.NaN, Number.NaN]);
  }
});

test("one stint of each head in every session leaves no scatter to judge by, balanced over sessions or not", () => {
  expect(groundOf("AB AB AB AB")).toBe("one stint");
  expect(groundOf("AB BA AB BA")).toBe("one stint");
});

test("a head hit wholly before another is not told from time by stints of a third", () => {
  expect(groundOf("ACACACACBCBCBCBC")).toBe("mixed with time");
  expect(groundOf("ACACACACCBCBCBCB")).toBe("mixed with time");
});

test("always the same head in the middle of the session is mixed with a drift that bends", () => {
  expect(groundOf("ABBA ABBA ABBA")).toBe("mixed with time");
  expect(groundOf("AABBBBAA")).toBe("mixed with time");
  expect(groundOf("ABBA BAAB ABBA BAAB")).toBe("enough");
});

test("stints with only a break between them count once towards the stints that a verdict needs", () => {
  expect(groundOf("AAABBBAAABBB")).toBe("few stints");
  expect(groundOf("ABABABAB")).toBe("enough");
  expect(judged({ order: "AABABBABAB", drift: steady })).toMatchObject({ ground: "enough", stints: 5, turns: 4, stintsAgainst: 5, turnsAgainst: 4 });
});

test("a session that cannot tell is left out of the pair, and moves nothing", () => {
  const both = judged({ order: "ABABABAB AAAABBBB", drift: steady });
  const one = judged({ order: "ABABABAB", drift: steady });
  expect([both.leftOut, both.n, both.difference, both.standardError]).toEqual([[1], one.n, one.difference, one.standardError]);
  expect(one.leftOut).toEqual([]);
});

test("groups that share stints are hit at the same time", () => {
  const shots = [1, 2, 3, 4].flatMap((stint) => [0, 1].map((group) => ({ group, stint })));
  const stints = stintMeans({
    group: Int32Array.from(shots, (shot) => shot.group),
    session: new Int32Array(8),
    stint: Float64Array.from(shots, (shot) => shot.stint),
    value: Float64Array.from(shots, () => 150),
  });
  const [mine, theirs] = [0, 1].map((group) => stints.filter((stint) => stint.group === group));
  expect(turnsIn(mine!)).toBe(4);
  expect(pairInTime([{ mine: mine!, theirs: theirs! }])).toBe("in turns");
});

test("hundreds of thousands of stints are not too many", () => {
  const stints = Array.from({ length: 300_000 }, (_, i) => ({ group: i % 2, session: 0, stint: i, turn: i, n: 1, mean: 150 }));
  const [mine, theirs] = [0, 1].map((group) => stints.filter((stint) => stint.group === group));
  expect(pairInTime([{ mine: mine!, theirs: theirs! }])).toBe("in turns");
});

test("how much of a head's places its time explains", () => {
  const places = (order: string, head: string): Places => ({ time: order.split("").map((_, i) => i), isHead: order.split("").map((c) => c === head) });
  const share = (order: string, head = "A") => timeShare(order.split(" ").map((session) => places(session, head)));
  expectClose(share("ABAB").all, 0.2, 1e-12);
  expect(share("ABAB").bend).toBeCloseTo(0, 12);
  expect(share("AABB").all).toBeGreaterThan(0.75);
  expect(share("ABBA").all).toBeCloseTo(1, 12);
  expect(share("ABBA").bend).toBeCloseTo(1, 12);
  expect(share("ABBA BAAB").all).toBeCloseTo(0, 12);
  expect(share("ABBA ABBA").bend).toBeCloseTo(1, 12);
  expect(share("ABCABCABC").all).toBeLessThan(0.2);
  expect(share("AAAA")).toEqual({ all: 0, bend: 0 });
  expect(share("BBBB")).toEqual({ all: 0, bend: 0 });
});

test("each session has a trend of its own, and what it explains does not count as a bend", () => {
  const [early, late] = ["AAABABBB", "BBBABAAA"].map((order) => ({ time: order.split("").map((_, i) => i), isHead: order.split("").map((c) => c === "A") }));
  // The two trends cancel as one, and are there as two.
  expect(timeShare([early!, late!]).all).toBeGreaterThan(0.5);
  expect(timeShare([early!, late!]).bend).toBeCloseTo(0, 12);
});
