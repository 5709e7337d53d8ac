import { expect, test } from "vitest";
import type { Wanted } from "../../core/query/narrow-edits";
import type { Facet } from "../../core/query/narrow-facets";
import { isNarrowed, wantedAll, wantedAsItIs, wantedText } from "../../extension/host/narrow-words";

const zones: Facet = { kind: "choice", column: "zone", values: ["high", "low", "toe", "heel", "centre"].map((value) => ({ value, count: 2, isTicked: value === "low" })), missing: { count: 1, isTicked: false } };
const carry: Facet = { kind: "range", column: "carry", unit: "yd", found: { low: 117.2, high: 168.9 }, low: { value: 120 }, high: null, missing: { count: 3, isTicked: true } };

function checkText(facet: Facet, wanted: Wanted, expected: string): void {
  expect(wantedText(facet, wanted)).toBe(expected);
}

test("what a column is narrowed to stands beside it in words", () => {
  checkText(zones, wantedAsItIs(zones), "only low");
  checkText(zones, wantedAll(zones), "all 6: high, low, toe and 3 more");
  checkText(carry, wantedAsItIs(carry), "only from 120 yd, or no value");
  checkText(carry, { ...wantedAsItIs(carry), high: { value: 180.5 }, missing: false } as Wanted, "only 120 to 180.5 yd");
  checkText(carry, wantedAll(carry), "found 117.2 to 168.9 yd");
});

test("a column is narrowed where it leaves out rows, those without a value among them", () => {
  expect([isNarrowed(zones, wantedAsItIs(zones)), isNarrowed(zones, wantedAll(zones)), isNarrowed(carry, { ...wantedAll(carry), missing: false })]).toEqual([true, false, true]);
});
