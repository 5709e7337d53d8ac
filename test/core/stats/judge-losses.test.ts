import { expect, test } from "vitest";
import type { JudgedLosses, LossQuestion } from "../../../core/stats/judge-losses";
import { judgeLosses } from "../../../core/stats/judge-losses";
import type { Interval } from "../../../core/stats/mean-contrast";
import { planMore } from "../../../core/stats/more-stints";
import type { ShotData } from "../../../core/stats/shot-data";
import { linearRegression } from "../../../core/stats/linear-regression";
import { expectedLossWeights } from "../../../core/stats/strike-losses";
import { expectClose, normals } from "./check-values";
import { inventedStrikes } from "./invented-strikes";
import { session101, sessionShots } from "./session-101";

function judge(data: ShotData, question: Partial<LossQuestion> = {}): JudgedLosses {
  const misses = Array.from({ length: data.groupCount }, () => ({ x: 12, y: 8 }));
  return judgeLosses(data, { misses, orderKnown: true, margin: 1, confidence: 0.95, ...question });
}

const grounds = (judged: JudgedLosses): readonly string[] => judged.pairs.map((pair) => pair.ground);
const verdicts = (judged: JudgedLosses): readonly string[] => judged.pairs.map((pair) => pair.verdict);
const states = (judged: JudgedLosses, head = 0): readonly string[] => judged.heads[head]!.places.map((place) => place.state);

test("session 101: heads whose fall-off differs by less than a session shows are undecided, and the truth is in the intervals", () => {
  const judged = judge(sessionShots("Ball speed [mph]"));
  expect(verdicts(judged)).toEqual(["undecided", "undecided", "undecided"]);
  expect(judged.mostForgiving).toBeNull();
  // Twelve 95 % intervals that are not independent: one or two may miss.
  const covers = judged.heads.flatMap(({ head, places }) =>
    places.slice(1).map(({ interval }, i) => {
      const truth = session101.truth.retention[head]![i]!.ballLoss;
      return interval.from < truth && truth < interval.to;
    }),
  );
  expect(covers.filter(Boolean).length).toBeGreaterThanOrEqual(10);
  judged.heads.forEach(({ places }, head) =>
    places.slice(1).forEach(({ retained }, i) => {
      const truth = session101.truth.retention[head]![i]!.ballRetention;
      expect(Math.abs(retained.share - truth)).toBeLessThan(0.03);
    }),
  );
});

test("a head that loses far less than the others is the most forgiving", () => {
  const judged = judge(inventedStrikes({ heads: 3, perStint: 4, passes: 12, fallOff: [0.03, 0.005, 0.03] }));
  expect(judged.mostForgiving).toBe(1);
  expect(judged.pairs.filter(({ of, against }) => of === 1 || against === 1).every(({ verdict }) => verdict.startsWith("different"))).toBe(true);
});

test("losing less than one of two others is not being the most forgiving", () => {
  expect(judge(inventedStrikes({ heads: 3, perStint: 4, passes: 12, fallOff: [0.03, 0.008, 0.008] })).mostForgiving).toBeNull();
});

test("heads alike are seldom called different", () => {
  const runs = Array.from({ length: 40 }, (_, seed) => judge(inventedStrikes({ heads: 2, perStint: 3, passes: 10, seed: seed + 1 })));
  expect(runs.filter((judged) => verdicts(judged).some((verdict) => verdict.startsWith("different"))).length).toBeLessThanOrEqual(4);
});

test("the pair's difference is that of the two expected losses, with a wider interval than either loss at a time", () => {
  const judged = judge(inventedStrikes({ heads: 2, perStint: 4, passes: 10 }));
  const [a, b] = judged.heads.map((head) => head.places[0]!.loss.difference);
  expectClose(judged.pairs[0]!.difference, b! - a!, 1e-9);
  expect([judged.pairs[0]!.of, judged.pairs[0]!.against]).toEqual([1, 0]);
});

test("a place where a head was not hit has no loss, never one of 0", () => {
  const judged = judge(inventedStrikes({ heads: 2, perStint: 3, passes: 10 }), { misses: [{ x: 40, y: 8 }, { x: 12, y: 8 }] });
  expect(states(judged)).toEqual(["told", "not hit there", "not hit there", "told", "told"]);
  const toe = judged.heads[0]!.places[1]!;
  expect([toe.near, toe.loss.difference, toe.interval.from, toe.retained.share]).toEqual([0, Number.NaN, Number.NaN, Number.NaN]);
  expect(states(judged, 1)).toEqual(Array(5).fill("told"));
});

test("a head that never was hit near its centre has no loss at all", () => {
  const judged = judge(inventedStrikes({ heads: 2, perStint: 3, passes: 10, aim: [60, 60] }));
  expect(states(judged)).toEqual(Array(5).fill("centre not hit"));
  expect(grounds(judged)).toEqual(["centre not hit"]);
});

test("heads hit in different places have no expected loss over common strikes", () => {
  const judged = judge(inventedStrikes({ heads: 2, perStint: 3, passes: 10, aim: [-11, 11] }));
  expect(states(judged)[0]).toBe("not the same places");
  expect(grounds(judged)).toEqual(["not the same places"]);
  expect(judged.pairs[0]!.difference).toBeNaN();
});

test("below 20 shots or 4 stints a head there is no verdict", () => {
  expect(grounds(judge(inventedStrikes({ heads: 2, perStint: 3, passes: 6 })))).toEqual(["few shots"]);
  expect(grounds(judge(inventedStrikes({ heads: 2, perStint: 10, passes: 3 })))).toEqual(["few shots"]);
});

test("a head with few shots is left out, so that the others keep their own fall-off", () => {
  const all = inventedStrikes({ heads: 3, perStint: 4, passes: 12 });
  const kept = (i: number): boolean => all.group[i] !== 2 || i < 24;
  const filter = <A extends Float64Array | Int32Array>(values: A): A => values.filter((_, i) => kept(i)) as A;
  const data = { ...all, group: filter(all.group), session: filter(all.session), stint: filter(all.stint), time: filter(all.time), value: filter(all.value), strike: { x: filter(all.strike!.x), y: filter(all.strike!.y) } };
  const judged = judge(data);
  expect(judged.model!.heads).toEqual([0, 1]);
  expect(judged.model!.form.form).not.toBe("shared");
  expect(states(judged, 2)).toEqual(Array(5).fill("few shots"));
  expect(grounds(judged)).toEqual(["enough", "few shots", "few shots"]);
});

test("heads hit in one go are described without an interval and without a verdict", () => {
  const judged = judge(inventedStrikes({ heads: 2, perStint: 40, passes: 1 }));
  expect(grounds(judged)).toEqual(["one go"]);
  const common = judged.heads[0]!.places[0]!;
  expect(common.loss.difference).toBeGreaterThan(0);
  expect([common.interval.from, common.loss.standardError]).toEqual([Number.NaN, Number.NaN]);
});

test("an unknown order gives an interval and no verdict", () => {
  const data = inventedStrikes({ heads: 2, perStint: 4, passes: 10, fallOff: [0.05, 0] });
  const judged = judge({ ...data, stint: data.stint.map((_, i) => i), time: data.time.map(() => 0) }, { orderKnown: false });
  expect(grounds(judged)).toEqual(["order unknown"]);
  expect(judged.pairs[0]!.wide.from).not.toBeNaN();
  expect([verdicts(judged), judged.mostForgiving]).toEqual([["no verdict"], null]);
});

test("strikes that don't scatter, and values that don't, determine nothing and break nothing", () => {
  const data = inventedStrikes({ heads: 2, perStint: 4, passes: 8 });
  const centred = judge({ ...data, strike: { x: data.strike!.x.map(() => 0), y: data.strike!.y.map(() => 0) } });
  expect([centred.model, grounds(centred)]).toEqual([null, ["not determined"]]);
  const constant = judge({ ...data, value: data.value.map(() => 140) });
  expect(grounds(constant)).toEqual(["not determined"]);
  expectClose(constant.heads[0]!.places[0]!.loss.difference, 0, 0, 1e-9);
});

test("a level that is not above 0 keeps no share of itself", () => {
  const data = inventedStrikes({ heads: 2, perStint: 4, passes: 8 });
  const below = judge({ ...data, value: data.value.map((value) => value - 200) });
  expect(below.heads[0]!.places[0]!.retained.share).toBeNaN();
});

test("a level known to no better than a tenth of itself gets Fieller's interval for what is kept", () => {
  const data = inventedStrikes({ heads: 2, perStint: 4, passes: 8, shotSd: 3 });
  const near = judge({ ...data, value: data.value.map((value) => value - 135) });
  const { share, interval } = near.heads[0]!.places[0]!.retained;
  expect(interval.from).toBeLessThan(share);
  expect(interval.to).toBeGreaterThan(share);
});

/** Coverage of 95 % intervals of the losses of the first head over the common strikes, which lose alike, with their number. */
function heldOfLoose(scatter: number, runs: number): number {
  let held = 0;
  for (let seed = 1; seed <= runs; seed++) {
    const data = inventedStrikes({ heads: 3, perStint: 3, passes: 10, seed, shotSd: 0 });
    const normal = normals(1000 + seed);
    const judged = judge({ ...data, value: data.value.map((value, i) => value + 4 * (data.group[i] === 0 ? scatter : 1) * normal()) });
    const { surface, overlap } = judged.model!;
    // What the surface without scatter gives with the same weights.
    const exact = linearRegression(surface.columns, data.value)!.contrast(expectedLossWeights(surface, 0, overlap.strikes)).difference;
    const { interval } = judged.heads[0]!.places[0]!;
    if (interval.from <= exact && exact <= interval.to) held++;
  }
  return held / runs;
}

test("a head that scatters more than the others has intervals of its losses that hold them", () => {
  expect(heldOfLoose(3, 120)).toBeGreaterThan(0.88);
});

test("a head whose values are all equal has losses without an interval", () => {
  const data = inventedStrikes({ heads: 3, perStint: 3, passes: 10 });
  const judged = judge({ ...data, value: data.value.map((value, i) => (data.group[i] === 0 ? 140 : value)) });
  expect(judged.heads.map(({ places }) => Number.isNaN(places[0]!.interval.from))).toEqual([true, false, false]);
});

test("more shots are planned for the method that knows less", () => {
  const question = { margin: 1, confidence: 0.95, familySize: 2, heads: 2, stints: 6, shotsPerStint: 4 };
  const reach = ({ from, to }: Interval): number => to - from;
  const pairs = Array.from({ length: 12 }, (_, i) => judge(inventedStrikes({ heads: 2, perStint: 4, passes: 6, shotSd: 2, seed: i + 1 })).pairs[0]!);
  const byCheck = pairs.filter(({ more, wide, byModel }) => more !== null && reach(wide) > 1.25 * reach(byModel.wide));
  expect(byCheck.length).toBeGreaterThan(0);
  for (const { standardError, df, more } of byCheck) expect(more!.shots).toBe(planMore({ standardError, df, ...question })!.shots);
});
