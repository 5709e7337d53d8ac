import { expect, test } from "vitest";
import { hampelSurroundings } from "../../../core/stats/hampel";

test("a spike is far from the median of its window, its neighbours are not", () => {
  const series = [10, 11, 10, 12, 40, 11, 10, 12, 11];
  const odd = hampelSurroundings(series, 7).map(({ centre, scale }, i) => Math.abs(series[i]! - centre) > 3 * scale);
  expect(odd).toEqual([false, false, false, false, true, false, false, false, false]);
});

test("windows at the ends are full ones, and missing values are left out", () => {
  expect(hampelSurroundings([1, 2, 3, 4, 5], 3).map(({ centre }) => centre)).toEqual([2, 2, 3, 4, 4]);
  expect(hampelSurroundings([1, Number.NaN, 3], 3)[1]).toEqual({ centre: 2, scale: 1.4826 });
});
