import { expect, test } from "vitest";
import { bcaFromReplicates, bcaInterval } from "../../../core/stats/bca";
import { mean, sampleSd } from "../../../core/stats/moments";
import { seededRandom } from "../../../core/stats/random";
import { checksOf, expectClose } from "./check-values";

const statistics: Readonly<Record<string, (values: readonly number[]) => number>> = { mean, "sd (n-1)": sampleSd };

test("percentile and BCa intervals from given replicates agree with R", () => {
  interface Bca {
    readonly t0: number;
    readonly jackknifeAcceleration: number;
    readonly z0: number;
    readonly adjustedLevels: readonly [number, number];
    readonly ciType7: readonly [number, number];
    readonly percentileType7: readonly [number, number];
    readonly bootSE: number;
  }
  for (const { id, data, args, expected } of checksOf<{ x: number[]; replicates: number[] }, { statistic: string; conf: number }, Bca>("bca-from-replicates")) {
    const statistic = statistics[args.statistic]!;
    const leftOut = data.x.map((_, left) => statistic(data.x.filter((__, i) => i !== left)));
    const estimate = statistic(data.x);
    const found = bcaFromReplicates({ estimate, replicates: data.replicates, leftOut }, args.conf);
    expectClose(estimate, expected.t0, 1e-9, 0, id);
    expectClose(found.acceleration, expected.jackknifeAcceleration, 1e-9, 0, id);
    expectClose(found.bias, expected.z0, 1e-9, 0, id);
    expectClose(found.standardError, expected.bootSE, 1e-9, 0, id);
    for (const side of [0, 1] as const) {
      const end = side === 0 ? "from" : "to";
      expectClose(found.levels[side], expected.adjustedLevels[side], 1e-9, 0, id);
      expectClose(found.bca[end], expected.ciType7[side], 1e-9, 0, id);
      expectClose(found.percentile[end], expected.percentileType7[side], 1e-9, 0, id);
    }
  }
});

test("10 000 resamples come within 3 % of the width of R's interval of 200 000", () => {
  for (const { id, data, args, expected } of checksOf<{ x: number[] }, { statistic: string; conf: number }, { ci: readonly [number, number]; se: number }>("bca-monte-carlo")) {
    const { bca, standardError } = bcaInterval(data.x, statistics[args.statistic]!, args.conf, seededRandom(7));
    const allowed = 0.03 * (expected.ci[1] - expected.ci[0]);
    expectClose(bca.from, expected.ci[0], 0, allowed, id);
    expectClose(bca.to, expected.ci[1], 0, allowed, id);
    expectClose(standardError, expected.se, 0.03, 0, id);
  }
});

const stints = [[4, 6, 5], [9, 1, 4], [3, 3, 8], [5, 6, 2], [7, 7, 1], [4, 4, 9], [2, 8, 6], [5, 5, 4]];
const sdOf = (drawn: readonly (readonly number[])[]) => sampleSd(drawn.flat());

test("the same seed gives the same interval to the last digit, another seed another", () => {
  const from = (seed: number) => JSON.stringify(bcaInterval(stints, sdOf, 0.95, seededRandom(seed), 500));
  expect(from(3)).toBe(from(3));
  expect(from(3)).not.toBe(from(4));
});

test("a higher confidence has the wider interval about the estimate", () => {
  const [narrow, wide] = [0.8, 0.95].map((confidence) => bcaInterval(stints, sdOf, confidence, seededRandom(3), 2000).bca);
  expect(wide!.from).toBeLessThan(narrow!.from);
  expect(wide!.to).toBeGreaterThan(narrow!.to);
  expect(narrow!.from).toBeLessThan(sdOf(stints));
  expect(narrow!.to).toBeGreaterThan(sdOf(stints));
});

test("an estimate beyond all of its replicates has no BCa interval", () => {
  const found = bcaFromReplicates({ estimate: 9, replicates: [1, 2, 3], leftOut: [8, 9, 9.5] }, 0.95);
  expect([found.bca.from, found.bca.to]).toEqual([Number.NaN, Number.NaN]);
  expect(found.percentile.from).toBeGreaterThan(1);
});
