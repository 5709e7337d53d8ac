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
  const byCheck = pairs.filter(({ more, wide, robust }) => more !== null && reach(robust.wide) > 1.5 * reach(wide));
  expect(byCheck.length).toBeGreaterThan(0);
  const alike = { familySize: 2, heads: 2, stints: 6, shotsPerStint: 4, ...question };
  for (const { standardError, df, more } of byCheck) expect(more!.shots).toBeGreaterThan(planMore({ standardError, df, ...alike })!.shots);
});
