import * as fc from "fast-check";
import { expect, test } from "vitest";
import { seededRandom } from "../../../core/stats/random";
import { medianShift, noiseOfSeries, segmentsByChance, segmentsOf } from "../../../core/stats/segments";

// Annual flow of the Nile at Aswan, 1871 to 1970, 10⁸ m³: G. W. Cobb, Biometrika 65 (1978) 243, table 1; also R's data set Nile.
const nile = [
  1120, 1160, 963, 1210, 1160, 1160, 813, 1230, 1370, 1140, 995, 935, 1110, 994, 1020, 960, 1180, 799, 958, 1140, 1100, 1210, 1150, 1250, 1260, 1220,
  1030, 1100, 774, 840, 874, 694, 940, 833, 701, 916, 692, 1020, 1050, 969, 831, 726, 456, 824, 702, 1120, 1100, 832, 764, 821, 768, 845, 864, 862,
  698, 845, 744, 796, 1040, 759, 781, 865, 845, 944, 984, 897, 822, 1010, 771, 676, 649, 846, 812, 742, 801, 1040, 860, 874, 848, 890, 744, 749, 838,
  1050, 918, 986, 797, 923, 975, 815, 1020, 906, 901, 1170, 912, 746, 919, 718, 714, 740,
];

test("the flow of the Nile changed once, after 1898, from 1098 to 850", () => {
  // One change after the 28th year: Cobb 1978; means 1097.75 and 849.97 as R's strucchange and changepoint print them.
  const { segments } = segmentsOf(nile);
  expect(segments.map(({ from, end }) => [from, end])).toEqual([[0, 28], [28, 100]]);
  expect(segments[0]!.mean).toBeCloseTo(1097.75, 2);
  expect(segments[1]!.mean).toBeCloseTo(849.97, 2);
});

test("a random order of the Nile's years, in blocks of 4, hardly ever has as clear a change", () => {
  const blocks = Array.from({ length: 25 }, (_, i) => nile.slice(4 * i, 4 * i + 4));
  const search = { least: 8, penalty: 3 * noiseOfSeries(nile) ** 2 * Math.log(100), permutations: 199, random: seededRandom(1) };
  expect(segmentsByChance(blocks, search)).toBe(1 / 200);
});

const small = fc.array(fc.integer({ min: -9, max: 9 }), { minLength: 1, maxLength: 11 });

test("no other way of cutting leaves less, penalties counted", () => {
  fc.assert(
    fc.property(small, fc.integer({ min: 1, max: 60 }), fc.integer({ min: 1, max: 4 }), (values, penalty, least) => {
      const { segments, gain } = segmentsOf(values, { least, penalty });
      const whole = squares(values);
      const own = segments.reduce((total, { from, end }) => total + squares(values.slice(from, end)) + penalty, -penalty);
      expect(own).toBeCloseTo(Math.min(...allCuts(values, least).map((parts) => parts.reduce((total, part) => total + squares(part) + penalty, -penalty))), 6);
      expect(gain).toBeCloseTo(Math.max(0, whole - own), 6);
    }),
    { seed: 4, numRuns: 300 },
  );
});

function squares(values: readonly number[]): number {
  const mean = values.reduce((total, value) => total + value, 0) / values.length;
  return values.reduce((total, value) => total + (value - mean) ** 2, 0);
}

function allCuts(values: readonly number[], least: number): number[][][] {
  const cuts: number[][][] = [[[...values]]];
  for (let first = least; first <= values.length - least; first++)
    for (const rest of allCuts(values.slice(first), least)) cuts.push([values.slice(0, first), ...rest]);
  return cuts;
}

test("segments join without a gap, and none is shorter than asked", () => {
  fc.assert(
    fc.property(fc.array(fc.double({ min: -5, max: 5, noNaN: true }), { maxLength: 60 }), (values) => {
      const { segments } = segmentsOf(values, { least: 5, penalty: 4 });
      expect(segments.map(({ from }) => from)).toEqual(values.length === 0 ? [] : [0, ...segments.slice(0, -1).map(({ end }) => end)]);
      if (segments.length > 1) expect(Math.min(...segments.map(({ from, end }) => end - from))).toBeGreaterThanOrEqual(5);
    }),
    { seed: 5, numRuns: 100 },
  );
});

test("a series without scatter, or too short for two segments, is one", () => {
  expect(segmentsOf(Array.from({ length: 30 }, () => 3)).segments).toEqual([{ from: 0, end: 30, mean: 3 }]);
  expect(segmentsOf([0, 0, 0, 9, 9, 9]).segments.length).toBe(1);
  expect(segmentsOf([]).segments).toEqual([]);
});

test("the noise of a series does not grow with a step in it", () => {
  const random = seededRandom(3);
  const even = Array.from({ length: 200 }, () => random());
  expect(noiseOfSeries(even.map((value, i) => value + (i < 100 ? 0 : 50)))).toBeCloseTo(noiseOfSeries(even), 1);
});

test("the interval of a difference of medians holds it, and is wider where blocks differ", () => {
  const resampling = { samples: 499, confidence: 0.95, random: seededRandom(2) };
  const random = seededRandom(9);
  const blocks = (level: number, scatter: number) => Array.from({ length: 8 }, () => Array.from({ length: 5 }, () => level + scatter * random()));
  const narrow = medianShift(blocks(3, 0.2), blocks(1, 0.2), resampling);
  const wide = medianShift(blocks(3, 2), blocks(1, 2), resampling);
  expect(narrow.low).toBeLessThanOrEqual(narrow.shift);
  expect(narrow.high).toBeGreaterThanOrEqual(narrow.shift);
  expect(narrow.shift).toBeCloseTo(2, 0);
  expect(wide.high - wide.low).toBeGreaterThan(narrow.high - narrow.low);
});
