import { expect, test } from "vitest";
import { seededRandom } from "../../../core/stats/random";

const some = (seed: number, count = 1000) => Array.from({ length: count }, seededRandom(seed));

test("the same seed gives the same numbers, and neighbouring seeds give others", () => {
  expect(some(7)).toEqual(some(7));
  expect(some(7).filter((value, i) => value === some(8)[i])).toEqual([]);
});

test("numbers are from 0 to below 1 and spread evenly, whatever the seed", () => {
  for (const seed of [0, 1, -5, 2 ** 31, 123456789]) {
    const values = some(seed, 20_000);
    expect(values.every((value) => value >= 0 && value < 1)).toBe(true);
    // 2000 in each tenth have a standard deviation of 42.
    for (let tenth = 0; tenth < 10; tenth++) {
      const count = values.filter((value) => Math.floor(value * 10) === tenth).length;
      expect(Math.abs(count - 2000)).toBeLessThan(200);
    }
  }
});

test("the numbers stay those of earlier versions, since notebooks rely on them", () => {
  expect(some(7, 3)).toEqual([0.12188966944813728, 0.8508748856838793, 0.0021510154474526644]);
});
