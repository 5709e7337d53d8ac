import { expect, test } from "vitest";
import { waitFor, type Pace } from "../../extension/host/follow-pace";

const quiet: Pace = { changed: 0, ended: null, took: 0, isUnfinished: false };

/** Checks how long is waited from `now`. */
function checkWait(pace: Partial<Pace>, now: number, wait: number): void {
  expect(waitFor({ ...quiet, ...pace }, now)).toBe(wait);
}

test("a run waits for a second of quiet", () => {
  checkWait({}, 400, 600);
  checkWait({}, 1000, 0);
  checkWait({}, 5000, 0);
});

test("each change begins the pause anew", () => checkWait({ changed: 900 }, 1000, 900));

test("runs are no more frequent than a run takes", () => {
  checkWait({ changed: 10_000, ended: 10_500, took: 7000 }, 11_000, 6500);
  checkWait({ changed: 10_000, ended: 10_500, took: 7000 }, 17_500, 0);
});

test("a last line without an end is waited for, but not for ever", () => {
  checkWait({ isUnfinished: true }, 1000, 3000);
  checkWait({ isUnfinished: true }, 4000, 0);
});
