import * as fc from "fast-check";
import { expect, test } from "vitest";
import { countStints } from "../../../core/session/count-stints";
import { dayNumber, isDate, readTime } from "../../../core/session/read-time";

function count(heads: string, ...breaks: readonly number[]): readonly [string, string] {
  const { stints, passes } = countStints(Int32Array.from(heads.split(""), (head) => "ABC".indexOf(head)), (row) => breaks.includes(row + 1));
  return [stints.join(""), passes.join("")];
}

test("stints and passes by hand", () => {
  expect(count("AABBAABB")).toEqual(["11223344", "11112222"]);
  expect(count("ABCBCA")).toEqual(["123456", "111222"]);
  expect(count("AAA")).toEqual(["111", "111"]);
  expect(count("AAA", 2)).toEqual(["122", "122"]);
  expect(count("A-A")).toEqual(["123", "112"]);
  expect(count("")).toEqual(["", ""]);
});

test("in a pass no head has two stints, and a pass could not have gone on", () => {
  fc.assert(
    fc.property(fc.string({ unit: fc.constantFrom("A", "B", "C"), maxLength: 30 }), (heads) => {
      const { stints, passes } = countStints(Int32Array.from(heads.split(""), (head) => "ABC".indexOf(head)), () => false);
      const seen = new Map<number, Map<string, number>>();
      for (let row = 0; row < heads.length; row++) {
        const pass = seen.get(passes[row]!) ?? new Map<string, number>();
        seen.set(passes[row]!, pass);
        expect(pass.get(heads[row]!) ?? stints[row]).toBe(stints[row]);
        if (row > 0 && passes[row] !== passes[row - 1]) expect(seen.get(passes[row - 1]!)!.has(heads[row]!)).toBe(true);
        pass.set(heads[row]!, stints[row]!);
      }
    }),
    { seed: 1, numRuns: 500 },
  );
});

// The reference is the calendar of the language itself, in UTC.
test("days of the calendar", () => {
  for (const [year, month, day] of [[1970, 1, 1], [2000, 2, 29], [1900, 3, 1], [2026, 12, 31], [1969, 12, 31], [2100, 3, 1]] as const)
    expect(dayNumber(year, month, day)).toBe(Date.UTC(year, month - 1, day) / 86_400_000);
  expect(dayNumber(1900, 2, 29)).toBeNull();
  expect(isDate("2026-04-31")).toBe(false);
});

test.each([
  ["09:05", 32_700, "clock", true],
  ["9:05:01.25 PM", 75_901.25, "clock", false],
  ["12:00 AM", 0, "clock", false],
  ["1970-01-02", 86_400, "local", false],
  ["1970-01-01 00:00:01,5", 1.5, "local", false],
  ["1970/01/01 01:00", 3600, "local", true],
  ["1970-01-01T01:00:00+01:00", 0, "zoned", true],
  ["1970-01-01T00:00Z", 0, "zoned", false],
] as const)("V-08 the time %s", (text, seconds, sort, maybeHalfDay) => expect(readTime(text)).toEqual({ seconds, sort, maybeHalfDay }));

test.each(["", "noon", "25:00", "13:00 PM", "0:30 AM", "09:60", "09:05:60", "3/14/2026", "2026-02-30 09:00", "1970-01/01", "09:05Z", "2026-03-14T09:00+15:00"])(
  "V-08 %j is no time that can be read without doubt",
  (text) => expect(readTime(text)).toBeNull(),
);
