import { expect, test } from "vitest";
import { judgeSlopes } from "../../../core/stats/judge-slopes";
import type { Interval } from "../../../core/stats/mean-contrast";
import { planMore } from "../../../core/stats/more-stints";
import type { SlopeData } from "../../../core/stats/workability-model";
import { normals } from "./check-values";

/** Two heads hit in turn in 12 stints of 4 shots, the slope of each stint a little its own. */
function invented(seed: number): SlopeData {
  const normal = normals(seed);
  const n = 48;
  const group = Int32Array.from({ length: n }, (_, i) => Math.floor(i / 4) % 2);
  const stint = Float64Array.from({ length: n }, (_, i) => Math.floor(i / 4) + 1);
  const own = Array.from({ length: 13 }, () => 0.8 * normal());
  const along = Float64Array.from({ length: n }, () => 2.5 * normal());
  return {
    groupCount: 2,
    group,
    session: new Int32Array(n),
    stint,
    time: Float64Array.from({ length: n }, (_, i) => i / (n - 1)),
    value: along.map((value, i) => (4 + own[stint[i]!]!) * value + normal()),
    strike: null,
    along,
    beside: null,
  };
}

test("more shots are planned for the method that knows less", () => {
  const question = { margin: 0.3, confidence: 0.95 };
  const reach = ({ from, to }: Interval): number => to - from;
  const least = { shots: 15, stints: 4, spread: 1.5 };
  const pairs = Array.from({ length: 12 }, (_, i) => judgeSlopes(invented(i + 1), { orderKnown: true, isCalculated: false, least, ...question }).pairs[0]!);
  const byCheck = pairs.filter(({ more, wide, byModel }) => more !== null && reach(wide) > 1.5 * reach(byModel.wide));
  expect(byCheck.length).toBeGreaterThan(0);
  const alike = { familySize: 2, heads: 2, stints: 6, shotsPerStint: 4, ...question };
  for (const { standardError, df, more } of byCheck) expect(more!.shots).toBe(planMore({ standardError, df, ...alike })!.shots);
});

test("a head that scatters more than the others has an interval that holds its slope as often as theirs do", () => {
  const runs = 300;
  const held = [0, 0, 0];
  for (let seed = 1; seed <= runs; seed++) {
    const normal = normals(seed);
    const n = 90;
    const group = Int32Array.from({ length: n }, (_, i) => Math.floor(i / 3) % 3);
    const along = Float64Array.from(group, () => 2.5 * normal());
    const data: SlopeData = {
      groupCount: 3,
      group,
      session: new Int32Array(n),
      stint: Float64Array.from({ length: n }, (_, i) => Math.floor(i / 3) + 1),
      time: Float64Array.from({ length: n }, (_, i) => i / (n - 1)),
      value: along.map((each, i) => 4 * each + 4 * (group[i] === 0 ? 1.8 : 1) * normal()),
      strike: null,
      along,
      beside: null,
    };
    const { groups } = judgeSlopes(data, { orderKnown: true, isCalculated: false, least: { shots: 15, stints: 4, spread: 1.5 }, margin: 0.3, confidence: 0.95 });
    groups.forEach(({ interval }, own) => {
      if (interval.from <= 4 && 4 <= interval.to) held[own]!++;
    });
  }
  // Three standard errors of such a count on either side of 95 %.
  const most = 3 * Math.sqrt(runs * 0.95 * 0.05);
  for (const count of held) expect(Math.abs(count - 0.95 * runs)).toBeLessThan(most);
});
