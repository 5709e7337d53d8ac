import { expect, test } from "vitest";
import { detectableRatio, jackknifeDf } from "../../../core/stats/detectable-ratio";
import { brownForsythe } from "../../../core/stats/brown-forsythe";
import { meanResiduals } from "../../../core/stats/mean-residuals";
import { sampleSd, sum } from "../../../core/stats/moments";
import { seededRandom } from "../../../core/stats/random";
import { sameStrikeSpread } from "../../../core/stats/same-strike-spread";
import { logAreaOfSums, logSd, scatterSums, totalScatter, withoutScatter } from "../../../core/stats/scatter-sums";
import type { ShotData } from "../../../core/stats/shot-data";
import { logArea } from "../../../core/stats/ellipses";
import { compareSpread, pairConfidence, powerOfEither } from "../../../core/stats/spread-comparison";
import { brownForsytheInStints } from "../../../core/stats/spread-in-stints";
import { resampleSpread } from "../../../core/stats/tightest";
import { checksOf, expectClose, normals } from "./check-values";
import { inventedStrikes } from "./invented-strikes";

/** Heads hit in rotation, 3 shots a stint, `sd` a head, stints apart by `stintSd`. */
function shots({ sd, passes = 10, drift = 0, stintSd = 0, seed = 1 }: { sd: readonly number[]; passes?: number; drift?: number; stintSd?: number; seed?: number }): ShotData {
  const normal = normals(seed);
  const n = sd.length * passes * 3;
  const stint = Float64Array.from({ length: n }, (_, i) => Math.floor(i / 3) + 1);
  const group = Int32Array.from(stint, (number) => (number - 1) % sd.length);
  const time = Float64Array.from({ length: n }, (_, i) => i / (n - 1));
  const levels = Array.from({ length: sd.length * passes }, () => stintSd * normal());
  const value = Float64Array.from(group, (head, i) => 150 + 4 * head + drift * time[i]! + levels[stint[i]! - 1]! + sd[head]! * normal());
  return { groupCount: sd.length, group, session: new Int32Array(n), stint, time, value, strike: null };
}

const residual = (data: ShotData): ShotData => ({ ...data, value: meanResiduals(data) });
const own = (data: ShotData, group: number) => [...data.value].filter((_, i) => data.group[i] === group);

test("residuals are 0 on average in each group, whatever the drift and the level", () => {
  const data = residual(shots({ sd: [4, 6, 5], drift: -30 }));
  for (const group of [0, 1, 2]) expectClose(sum(own(data, group)), 0, 0, 1e-9);
  const plain = residual(shots({ sd: [4, 6, 5] }));
  data.value.forEach((value, i) => expectClose(value, plain.value[i]!, 1e-7, 1e-7));
});

test("a group whose values are all alike has no scatter, however the others drift", () => {
  const data = shots({ sd: [0, 5], drift: -20 });
  const value = data.value.map((each, i) => (data.group[i] === 0 ? 150 : each));
  expect(own(residual({ ...data, value }), 0).every((each) => each === 0)).toBe(true);
  expect(meanResiduals({ ...data, value: value.fill(0.1) }).every((each) => each === 0)).toBe(true);
});

test("groups without a shot, and sessions that hold one group each, leave nothing undetermined", () => {
  const data = shots({ sd: [4, 6] });
  expect(meanResiduals({ ...data, groupCount: 3 })).toEqual(meanResiduals(data));
  const apart = residual({ ...data, session: data.group });
  for (const group of [0, 1]) expectClose(sum(own(apart, group)), 0, 0, 1e-9);
});

test("sums of shots give their standard deviation and the area of their ellipse, with stints put together and taken out", () => {
  const [x, y] = [[1, 4, -2, 0.5, 3, -1.5], [2, -1, 0, 1, 1.5, -3]];
  const [first, second] = [scatterSums(x.slice(0, 2), y.slice(0, 2)), scatterSums(x.slice(2), y.slice(2))];
  const all = totalScatter([first, second]);
  expectClose(Math.exp(logSd(all)), sampleSd(x), 1e-12);
  expectClose(logAreaOfSums(all), logArea(x.map((value, i) => ({ x: value, y: y[i]! }))), 1e-12);
  expectClose(Math.exp(logSd(withoutScatter(all, first))), sampleSd(x.slice(2)), 1e-12);
  expect(logSd(scatterSums([3]))).toBeNaN();
  expect(logSd(scatterSums([3, 3]))).toBeNaN();
  expect(logAreaOfSums(scatterSums([1, 2, 3], [2, 4, 6]))).toBeNaN();
});

test("with every shot a stint of its own and no time, the test in stints is Brown and Forsythe's", () => {
  for (const { id, data } of checksOf<{ x: number[]; y: number[] }, never, unknown>("brown-forsythe")) {
    const value = Float64Array.from([...data.x, ...data.y]);
    const n = value.length;
    const found = brownForsytheInStints({
      groupCount: 2,
      group: Int32Array.from({ length: n }, (_, i) => (i < data.x.length ? 0 : 1)),
      session: new Int32Array(n),
      stint: Float64Array.from({ length: n }, (_, i) => i),
      time: new Float64Array(n),
      value,
      strike: null,
    })!;
    const plain = brownForsythe([data.x, data.y]);
    expectClose(found.f, plain.f, 1e-9, 0, id);
    expectClose(found.p, plain.p, 1e-9, 0, id);
    expectClose(found.dfDenominator, plain.dfWithin, 1e-9, 0, id);
  }
});

test("heads that scatter alike are rarely found different, also when their stints lie apart", () => {
  const seeds = Array.from({ length: 60 }, (_, i) => i + 1);
  for (const stintSd of [0, 3]) {
    const found = seeds.map((seed) => residual(shots({ sd: [5, 5, 5], stintSd, seed })));
    // 5 of 100 would be 3, and both methods must agree; 9 lies more than three standard deviations above.
    expect(found.filter((data) => compareSpread({ shots: data, second: null, orderKnown: true }, { margin: 1.25, confidence: 0.95 }).some((pair) => pair.verdict.startsWith("different"))).length).toBeLessThan(9);
    expect(found.filter((data) => brownForsytheInStints(data)!.p < 0.05).length).toBeLessThan(9);
  }
});

test("a ratio said to be found is found, also where three heads are compared and both methods must agree", () => {
  const seeds = Array.from({ length: 150 }, (_, i) => i + 1);
  for (const heads of [2, 3]) {
    const pairs = (heads * (heads - 1)) / 2;
    const ratio = detectableRatio({ n: 30, nAgainst: 30, kurtosis: 3, confidence: pairConfidence(0.95, pairs), df: jackknifeDf(10, 10), power: powerOfEither });
    const judged = seeds.map((seed) => compareSpread({ shots: residual(shots({ sd: [1, ...Array.from({ length: heads - 1 }, () => ratio)], seed })), second: null, orderKnown: true }, { margin: 1.25, confidence: 0.95 })[0]!);
    // 80 of 100 are promised; 105 of 150 lies three standard deviations below.
    expect(judged.filter(({ verdict }) => verdict.startsWith("different")).length).toBeGreaterThan(105);
    // What is said of a session never promises less than its own shots and stints allow.
    for (const { detectable } of judged) expect(detectable).toBeGreaterThanOrEqual(ratio - 1e-9);
  }
});

test("one group, or heads hit in one go, have no test in stints", () => {
  expect(brownForsytheInStints(residual(shots({ sd: [5] })))).toBeNull();
  expect(brownForsytheInStints(residual(shots({ sd: [5, 4], passes: 1 })))).toBeNull();
});

test("resampled standard deviations surround the standard deviation, and shares sum to 1", () => {
  const data = residual(shots({ sd: [3, 6, 9] }));
  const found = resampleSpread(data, 0.9, seededRandom(5))!;
  expectClose(sum(found.tightest), 1, 1e-12);
  expect(found.tightest[0]).toBeGreaterThan(0.95);
  found.intervals.forEach(({ bca }, group) => {
    expect(bca.from).toBeLessThan(sampleSd(own(data, group)));
    expect(bca.to).toBeGreaterThan(sampleSd(own(data, group)));
  });
  expect(JSON.stringify(resampleSpread(data, 0.9, seededRandom(5)))).toBe(JSON.stringify(found));
});

test("seven stints of a head are too few to be resampled", () => {
  expect(resampleSpread(residual(shots({ sd: [3, 6], passes: 7 })), 0.95, seededRandom(5))).toBeNull();
});

test("a head that was hit all over the face scatters less at the same strikes, and one hit near the centre more", () => {
  const data = inventedStrikes({ heads: 2, perStint: 4, passes: 12, fallOff: [0.02, 0.02], shotSd: 0.8 });
  const near = data.strike!.x.map((x, i) => (data.group[i] === 0 ? x / 4 : x));
  const moved = { ...data, strike: { ...data.strike!, x: near }, value: data.value.map((value, i) => value + 0.02 * (data.strike!.x[i]! ** 2 - near[i]! ** 2)) };
  const struck = residual(moved);
  const same = sameStrikeSpread(moved)!;
  expect(same.sd[0]).toBeGreaterThan(sampleSd(own(struck, 0)));
  const ratio = same.sd[1]! / same.sd[0]!;
  const asStruck = sampleSd(own(struck, 1)) / sampleSd(own(struck, 0));
  expect(Math.abs(Math.log(ratio))).toBeLessThan(Math.abs(Math.log(asStruck)));
});

test("heads not hit in the same places are not described at the same strikes", () => {
  expect(sameStrikeSpread(inventedStrikes({ heads: 2, perStint: 4, passes: 8, aim: [-60, 60] }))).toBeNull();
});
