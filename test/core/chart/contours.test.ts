import { expect, test } from "vitest";
import type { Field } from "../../../core/chart/contours";
import { linesOn, ringArea, ringsAbove, roundLevels, sampleField } from "../../../core/chart/contours";
import { bandsOf, contoursOf, sampleFace } from "../../../core/chart/face-contours";

const frame = { x: [-20, 20], y: [-20, 20], step: 1 } as const;
const everywhere = (): boolean => true;
/** The square of the distance from the middle. */
const bowl: Field = { isTold: everywhere, valueAt: (x, y) => x * x + y * y };
const hill: Field = { isTold: everywhere, valueAt: (x, y) => -x * x - y * y };

function checkAreas(field: Field, level: number, expected: readonly number[], share = 0.01): void {
  const areas = ringsAbove(sampleField(field, frame), level).map(ringArea).sort((a, b) => a - b);
  expect(areas).toHaveLength(expected.length);
  areas.forEach((area, i) => expect(Math.abs(area / expected[i]! - 1)).toBeLessThan(share));
}

test("a level of a hill is a circle that runs anticlockwise", () => checkAreas(hill, -100, [Math.PI * 100]));

test("a level of a bowl is a hole that runs clockwise in what is told", () => checkAreas({ ...bowl, isTold: (x, y) => Math.hypot(x, y) < 15 }, 100, [-Math.PI * 100, Math.PI * 225]));

test("the edge of what is told is found between nodes", () => checkAreas({ ...hill, isTold: (x, y) => Math.hypot(x, y) < 7.3 }, Number.NEGATIVE_INFINITY, [Math.PI * 7.3 ** 2]));

test("a level that nothing reaches has no ring, and one below all has the edge of what is told", () => {
  checkAreas(hill, 1, []);
  checkAreas({ ...hill, isTold: (x, y) => Math.hypot(x, y) < 7.3 }, -1000, [Math.PI * 7.3 ** 2]);
});

test("two places that touch at a corner alone stay two", () => {
  const isTold = (x: number, y: number): boolean => (x <= 0 && x > -5.5 && y <= 0 && y > -5.5) || (x > 0.5 && x < 5.5 && y > 0.5 && y < 5.5);
  checkAreas({ isTold, valueAt: () => 1 }, 0, [22, 30], 0.2);
});

test("points on a level are where the field has that level, the others on the edge of what is told", () => {
  const [ring] = ringsAbove(sampleField({ isTold: (x) => x < 4, valueAt: (x, y) => -x * x - y * y }, frame), -100);
  expect(ring!.filter(({ isCut }) => isCut).every(({ x }) => Math.abs(x - 4) < 0.001)).toBe(true);
  expect(ring!.filter(({ isCut }) => !isCut).every(({ x, y }) => Math.abs(Math.hypot(x, y) - 10) < 0.03)).toBe(true);
  const lines = linesOn(ring!);
  expect(lines).toHaveLength(1);
  expect(lines[0]!.every(({ x }) => x < 4)).toBe(true);
});

test("a line that nothing cuts is closed", () => {
  const [line] = linesOn(ringsAbove(sampleField(hill, frame), -100)[0]!);
  expect(line!.at(-1)).toEqual(line![0]);
});

test.each([
  [0, 8.3, [1, 2, 3, 4, 5, 6, 7, 8], 8],
  [0, 8.3, [2, 4, 6, 8], 6],
  [-0.4, 0.9, [-0.2, 0, 0.2, 0.4, 0.6, 0.8], 6],
  [0, 0.3, [0.05, 0.1, 0.15, 0.2, 0.25], 6],
  [0, 1, [0.2, 0.4, 0.6, 0.8], 6],
  [0, 1234, [200, 400, 600, 800, 1000, 1200], 6],
  [3, 3, [], 6],
  [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, [], 6],
])("round levels between %d and %d", (least, most, levels, count) => expect(roundLevels(least, most, count)).toEqual(levels));

test("bands are named by the levels that part them, with the digits that these need", () => {
  expect(bandsOf(-0.4, 0.5).names).toEqual(["below \u22120.2", "\u22120.2 to 0.0", "0.0 to 0.2", "0.2 to 0.4", "0.4 or more"]);
  expect(bandsOf(0, 7.5).names).toEqual(["below 2", "2 to 4", "4 to 6", "6 or more"]);
  expect(bandsOf(0, 0).names).toEqual(["everywhere the same"]);
});

test("areas are painted from the outside in, each with the band inside its edge", () => {
  const field = sampleFace({ isTold: (x, y) => Math.hypot(x, y) < 30, valueAt: (x, y) => (x * x + y * y) / 120 });
  const { areas, lines } = contoursOf(field, bandsOf(0, 7.5), []);
  // Around the bowl each level is a hole: the whole is told, then lower and lower inside.
  expect(areas.at(-1)!.band).toBe("below 2");
  expect(areas.filter(({ band }) => band === "2 to 4").length).toBeGreaterThan(0);
  expect(lines.map(({ level }) => level)).toEqual([2, 4, 6]);
});

test("names of lines keep away from what stands there", () => {
  const field = sampleFace({ isTold: (x, y) => Math.hypot(x, y) < 30, valueAt: (x, y) => (x * x + y * y) / 120 });
  const bands = bandsOf(0, 7.5);
  const free = contoursOf(field, bands, []).labels;
  expect(free.map(({ label }) => label).sort()).toEqual(["2", "4", "6"]);
  expect(contoursOf(field, bands, free).labels).not.toContainEqual(free[0]);
  for (const [i, a] of free.entries()) for (const b of free.slice(i + 1)) expect(Math.abs(a.x - b.x) >= 9 || Math.abs(a.y - b.y) >= 6).toBe(true);
});
