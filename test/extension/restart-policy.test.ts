import { expect, test } from "vitest";
import { afterCrash } from "../../extension/host/restart-policy";

/** The pause after each of the crashes at these times, in milliseconds. */
function pausesAfter(times: readonly number[]): (number | null)[] {
  let crashes: readonly number[] = [];
  return times.map((now) => {
    const { crashes: counted, pause } = afterCrash(crashes, now);
    crashes = counted;
    return pause;
  });
}

test("L-12 a server that crashes is started at once, then after 1, 2 and 4 seconds, and after the fifth crash not at all", () => {
  expect(pausesAfter([0, 10, 1020, 3030, 7040])).toEqual([0, 1000, 2000, 4000, null]);
});

test("L-12 crashes more than three minutes ago do not count", () => {
  expect(pausesAfter([0, 60_000, 120_000, 179_999, 180_000])).toEqual([0, 1000, 2000, 4000, 4000]);
  expect(pausesAfter([0, 180_000, 360_000, 540_000, 720_000, 900_000])).toEqual([0, 0, 0, 0, 0, 0]);
  expect(pausesAfter([0, 1, 2, 3, 179_999])).toEqual([0, 1000, 2000, 4000, null]);
});

test("what counted before is not changed", () => {
  const earlier = Object.freeze([1, 2]);
  expect(afterCrash(earlier, 3)).toEqual({ crashes: [1, 2, 3], pause: 2000 });
});
