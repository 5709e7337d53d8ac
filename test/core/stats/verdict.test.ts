import * as fc from "fast-check";
import { expect, test } from "vitest";
import { twoOneSidedTests } from "../../../core/stats/equivalence";
import { familyInterval } from "../../../core/stats/simultaneous";
import type { Verdict } from "../../../core/stats/verdict";
import { verdictOf, verdicts } from "../../../core/stats/verdict";

function checkVerdict(wide: [number, number], narrow: [number, number], wanted: Verdict): void {
  const interval = ([from, to]: [number, number]) => ({ from, to });
  const turned = ([from, to]: [number, number]) => ({ from: -to, to: -from });
  expect(verdictOf(interval(wide), interval(narrow), 3)).toBe(wanted);
  expect(verdictOf(turned(wide), turned(narrow), 3)).toBe(wanted);
}

test("wholly beyond the margin", () => checkVerdict([3.1, 7], [3.5, 6.6], "different by more than the margin"));
test("beyond 0 and across the margin", () => checkVerdict([0.5, 7], [1, 6.5], "different"));
test("beyond 0 and up to the margin exactly", () => checkVerdict([3, 7], [3.4, 6.6], "different"));
test("beyond 0 and within the margin", () => checkVerdict([0.1, 2.9], [0.3, 2.7], "different but too small to matter"));
test("around 0 and within the margin", () => checkVerdict([-1, 3.2], [-0.6, 2.8], "practically equivalent"));
test("around 0 and out to the margin exactly", () => checkVerdict([-1, 3.4], [-0.6, 3], "undecided"));
test("from 0 exactly", () => checkVerdict([0, 3.4], [0.4, 3], "undecided"));
test("around 0 and across the margin", () => checkVerdict([-5, 4], [-4.5, 3.5], "undecided"));
test("no interval", () => {
  checkVerdict([Number.NaN, Number.NaN], [Number.NaN, Number.NaN], "no verdict");
  checkVerdict([-1, 1], [Number.NaN, Number.NaN], "no verdict");
});

test("a margin of 0 or less is the caller's mistake", () => {
  for (const margin of [0, -3, Number.NaN]) {
    expect(() => verdictOf({ from: 0, to: 1 }, { from: 0, to: 1 }, margin)).toThrow(RangeError);
  }
});

/** The table of verdicts, row by row, written down a second time as conditions that must not overlap. */
function rowsThatApply(wide: { from: number; to: number }, inside: boolean, margin: number): Verdict[] {
  const beyond = wide.from > margin || wide.to < -margin;
  const around = wide.from <= 0 && wide.to >= 0;
  const rows: [boolean, Verdict][] = [
    [beyond, "different by more than the margin"],
    [!beyond && !around && !inside, "different"],
    [!beyond && !around && inside, "different but too small to matter"],
    [around && inside, "practically equivalent"],
    [around && !inside, "undecided"],
  ];
  return rows.filter(([applies]) => applies).map(([, verdict]) => verdict);
}

test("each pair of intervals gives exactly one verdict, and a mirrored pair the same", () => {
  const number = fc.double({ min: -10, max: 10, noNaN: true });
  const positive = fc.double({ min: 0, max: 8, noNaN: true });
  fc.assert(
    fc.property(number, positive, positive, fc.double({ min: 0.01, max: 6, noNaN: true }), (centre, a, b, margin) => {
      const [wideReach, narrowReach] = [Math.max(a, b), Math.min(a, b)];
      const wide = { from: centre - wideReach, to: centre + wideReach };
      const narrow = { from: centre - narrowReach, to: centre + narrowReach };
      const verdict = verdictOf(wide, narrow, margin);
      expect(verdicts).toContain(verdict);
      expect(rowsThatApply(wide, narrow.from > -margin && narrow.to < margin, margin)).toEqual([verdict]);
      const mirror = (interval: typeof wide) => ({ from: -interval.to, to: -interval.from });
      expect(verdictOf(mirror(wide), mirror(narrow), margin)).toBe(verdict);
    }),
    { seed: 51, numRuns: 1000 },
  );
});

test("a verdict of equivalence is two one-sided tests at 5 %", () => {
  const contrast = fc.record({
    difference: fc.double({ min: -3, max: 3, noNaN: true }),
    standardError: fc.double({ min: 0.2, max: 3, noNaN: true }),
    df: fc.double({ min: 1, max: 40, noNaN: true }),
  });
  fc.assert(
    fc.property(contrast, (given) => {
      const verdict = verdictOf(familyInterval(given, 2, 0.95), familyInterval(given, 2, 0.9), 3);
      const equivalent = verdict === "practically equivalent" || verdict === "different but too small to matter";
      expect(equivalent).toBe(twoOneSidedTests(given, 3).p < 0.05);
    }),
    { seed: 52 },
  );
});
