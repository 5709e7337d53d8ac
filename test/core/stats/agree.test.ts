import * as fc from "fast-check";
import { expect, test } from "vitest";
import type { Intervals } from "../../../core/stats/agree";
import { agreedVerdict, lessCertain } from "../../../core/stats/agree";
import type { MeanContrast } from "../../../core/stats/mean-contrast";
import type { Verdict } from "../../../core/stats/verdict";
import { verdictOf, verdicts } from "../../../core/stats/verdict";

type Bounds = readonly [wideFrom: number, wideTo: number, narrowFrom: number, narrowTo: number];

const intervals = ([wideFrom, wideTo, narrowFrom, narrowTo]: Bounds): Intervals => ({ wide: { from: wideFrom, to: wideTo }, narrow: { from: narrowFrom, to: narrowTo } });

const beyond: Bounds = [4, 8, 4.4, 7.6];
const differs: Bounds = [1, 8, 1.4, 7.6];
const small: Bounds = [0.5, 2.5, 0.7, 2.3];
const inside: Bounds = [-1, 2, -0.8, 1.8];
const open: Bounds = [-2, 8, -1.5, 7.5];
const none: Bounds = [Number.NaN, Number.NaN, Number.NaN, Number.NaN];

function checkAgreed(first: Bounds, second: Bounds, verdict: Verdict, dependsOnMethod = false): void {
  expect(agreedVerdict(intervals(first), intervals(second), 3)).toEqual({ verdict, dependsOnMethod });
}

test("two methods that say the same", () => {
  checkAgreed(beyond, beyond, "different by more than the margin");
  checkAgreed(differs, differs, "different");
  checkAgreed(small, small, "different but too small to matter");
  checkAgreed(inside, inside, "practically equivalent");
  checkAgreed(open, open, "undecided");
});

test("what one method alone claims falls away, and what both claim stays", () => {
  checkAgreed(beyond, differs, "different");
  checkAgreed(differs, beyond, "different");
  checkAgreed(small, inside, "practically equivalent");
  checkAgreed(inside, small, "practically equivalent");
  checkAgreed(small, differs, "different");
});

test("a verdict that the check supports nothing of depends on the method", () => {
  checkAgreed(beyond, open, "undecided", true);
  checkAgreed(differs, inside, "undecided", true);
  checkAgreed(inside, open, "undecided", true);
  checkAgreed(beyond, none, "undecided", true);
  checkAgreed([1, 5, 1.4, 4.6], [-5, -1, -4.6, -1.4], "undecided", true);
});

test("an undecided model stays undecided; what the check alone would decide depends on the method", () => {
  checkAgreed(open, beyond, "undecided", true);
  checkAgreed(open, inside, "undecided", true);
  checkAgreed(open, none, "undecided");
});

test("no interval is no verdict", () => {
  checkAgreed(none, beyond, "no verdict");
});

const known = (standardError: number, df = 20): MeanContrast => ({ difference: 1, standardError, df });

test("of two methods the one with the larger standard error knows less, and one without any is not asked", () => {
  expect(lessCertain(known(1), known(2))).toEqual(known(2));
  expect(lessCertain(known(2), known(1))).toEqual(known(2));
  for (const missing of [null, known(Number.NaN), known(3, Number.NaN), known(3, 0.5)]) expect(lessCertain(known(1), missing)).toEqual(known(1));
});

test("a margin of 0 or less is the caller's mistake", () => {
  expect(() => agreedVerdict(intervals(open), intervals(open), 0)).toThrow(RangeError);
});

const estimate = fc
  .record({ centre: fc.double({ min: -10, max: 10, noNaN: true }), wide: fc.double({ min: 0, max: 8, noNaN: true }), share: fc.double({ min: 0.5, max: 1, noNaN: true }) })
  .map(({ centre, wide, share }): Intervals => ({ wide: { from: centre - wide, to: centre + wide }, narrow: { from: centre - share * wide, to: centre + share * wide } }));

/** What each verdict claims. */
const claims: Record<Verdict, readonly string[]> = {
  "different by more than the margin": ["differs", "beyond"],
  different: ["differs"],
  "different but too small to matter": ["differs", "inside"],
  "practically equivalent": ["inside"],
  undecided: [],
  "no verdict": [],
};

test("any two pairs of intervals give exactly one verdict, which claims what both claim and nothing else", () => {
  fc.assert(
    fc.property(estimate, estimate, fc.double({ min: 0.01, max: 6, noNaN: true }), (first, second, margin) => {
      const { verdict, dependsOnMethod } = agreedVerdict(first, second, margin);
      expect(verdicts).toContain(verdict);
      const [one, other] = [first, second].map(({ wide, narrow }) => claims[verdictOf(wide, narrow, margin)]);
      const isOpposite = Math.sign(first.wide.from + first.wide.to) !== Math.sign(second.wide.from + second.wide.to);
      // A difference and one the other way round are no common claim.
      const both = one!.filter((claim) => other!.includes(claim) && !(isOpposite && claim === "differs"));
      if (!isOpposite || !both.includes("beyond")) expect(claims[verdict]).toEqual(both);
      expect(dependsOnMethod).toBe(verdict === "undecided" && one!.length + other!.length > 0);
      expect(agreedVerdict(second, first, margin).verdict).toBe(verdict);
      expect(agreedVerdict(first, first, margin)).toEqual({ verdict: verdictOf(first.wide, first.narrow, margin), dependsOnMethod: false });
    }),
    { seed: 53, numRuns: 2000 },
  );
});
