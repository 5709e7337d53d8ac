import * as fc from "fast-check";
import { expect, test } from "vitest";
import type { NumberForm } from "../../../core/table/read-number";
import { plainNumber, readNumber } from "../../../core/table/read-number";

const encodeUtf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

const form: NumberForm = { decimal: ".", decimalKnown: true, unit: null, sides: null, missing: new Set() };

function read(text: string, more: Partial<NumberForm> = {}): string {
  const reading = readNumber(text, { ...form, ...more });
  switch (reading.kind) {
    case "number":
      return `${String(reading.value)}${reading.unit === null ? "" : ` ${reading.unit}`}`;
    case "missing":
      return "missing";
    case "wrong":
      return `${reading.wrong}${reading.instead === undefined ? "" : ` -> ${reading.instead}`}`;
  }
}

const sides = { positive: "R", negative: "L" };

test.each([
  ["0", "0"],
  ["-0.0", "0"],
  ["152.4", "152.4"],
  [" 152.4 ", "152.4"],
  ["+5", "5"],
  ["007", "7"],
  [".5", "0.5"],
  ["5.", "5"],
  ["1e3", "1000"],
  ["1.5E-2", "0.015"],
  ["\u22125", "-5"],
  ["9007199254740992", "9007199254740992"],
])("V-01 %j is the number %s", (text, value) => expect(read(text)).toBe(value));

test.each(["0x10", "1_000", "abc", "1.2.3", "--5", "5-", "1e999", "Infinity", "NaN", ".", "-", "1,2", "1e", "9".repeat(70)])(
  "V-01, V-05 %j is not a number",
  (text) => expect(read(text)).toMatch(/^not a number/),
);

test("V-02 whole numbers that a double cannot hold are not rounded", () => {
  expect(read("9007199254740993")).toBe("precision");
  expect(read("9007199254740994")).toBe("9007199254740994");
});

test("a side may stand before its number", () => {
  for (const text of ["L 7", "L7", "l 7", "7 L"]) expect(read(text, { sides })).toBe("-7");
  expect(read("R 7.5 yd", { sides })).toBe("7.5 yd");
  expect(read("L 0", { sides })).toBe("0");
  expect(read("left 7", { sides: { positive: "right", negative: "left" } })).toBe("-7");
  expect(read("L -7", { sides })).toBe("sign and side");
  expect(read("L 7 R", { sides })).toBe("not a number");
  expect(read("L", { sides })).toBe("not a number");
});

test("V-03 where the mark itself may group, three digits behind it tell nothing", () => {
  const unsure = { decimalKnown: false, markMayGroup: true };
  expect(read("1.150", unsure)).toBe("thousands -> 1150");
  expect(read("-12.000", unsure)).toBe("thousands -> -12000");
  expect(read("0.150", unsure)).toBe("0.15");
  expect(read("1.15", unsure)).toBe("1.15");
  expect(read("1150", unsure)).toBe("1150");
});

test("V-03 grouped thousands only where they cannot be anything else", () => {
  expect(read("1,234")).toBe("1234");
  expect(read("1,234", { decimalKnown: false })).toBe("thousands -> 1234");
  expect(read("-1,234", { decimalKnown: false })).toBe("thousands -> -1234");
  expect(read("1,234.5", { decimalKnown: false })).toBe("1234.5");
  expect(read("1,234,567", { decimalKnown: false })).toBe("1234567");
  expect(read("12,34")).toBe("not a number");
  expect(read("0,234")).toBe("not a number");
  expect(read("1 234")).toBe("1234");
  expect(read("1\u202f234.5")).toBe("1234.5");
  expect(read("1 23")).toBe("not a number");
});

test("C-25 decimal commas", () => {
  expect(read("1,5", { decimal: "," })).toBe("1.5");
  expect(read("1.234,5", { decimal: "," })).toBe("1234.5");
  expect(read("1,234", { decimal: "," })).toBe("1.234");
  expect(read("1.234", { decimal: "," })).toBe("1234");
  expect(read("1.5", { decimal: "," })).toBe("not a number");
});

test("V-04 full-width digits are no number but have an obvious one; a unit may stand behind", () => {
  expect(read("\uff15")).toBe("not a number -> 5");
  expect(read("5 \u00b0")).toBe("5 deg");
  expect(read("5yd")).toBe("5 yd");
  expect(read("5yd", { unit: "yd" })).toBe("5 yd");
  expect(read("5 m", { unit: "yd" })).toBe("unit");
  expect(read("5 foo")).toBe("not a number -> 5");
});

test("V-05 only listed texts are missing, and nothing at all", () => {
  expect(read("")).toBe("missing");
  expect(read("  ")).toBe("missing");
  for (const token of ["-", "--", "n/a", "NaN", "null"]) {
    expect(read(token)).toBe("not a number");
    expect(read(token, { missing: new Set([token]) })).toBe("missing");
  }
  expect(read("-999", { missing: new Set(["-999"]) })).toBe("missing");
});

test("sides behind numbers", () => {
  expect(read("12.3 L", { sides })).toBe("-12.3");
  expect(read("4.0R", { sides })).toBe("4");
  expect(read("4.0 r", { sides })).toBe("4");
  expect(read("12.3 yd L", { sides })).toBe("-12.3 yd");
  expect(read("0", { sides })).toBe("0");
  expect(read("0 L", { sides })).toBe("0");
  expect(read("3", { sides })).toBe("no side");
  expect(read("-3 L", { sides })).toBe("sign and side");
  expect(read("3 X", { sides })).toBe("no side");
  expect(read("12.3 L")).toBe("not a number -> 12.3");
  expect(read("4 H", { sides: { positive: "T", negative: "H" } })).toBe("-4");
  expect(read("2 links", { sides: { positive: "rechts", negative: "links" } })).toBe("-2");
});

test("plain numbers read from bytes are the nearest doubles, as the language itself reads them", () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 999_999_999_999_999 }), fc.integer({ min: 0, max: 15 }), fc.constantFrom("", "-", "+"), (digits, places, sign) => {
      const text = String(digits).padStart(places + 1, "0");
      const written = `${sign}${text.slice(0, text.length - places)}${places > 0 ? "." : ""}${text.slice(text.length - places)}`;
      const got = plainNumber(encodeUtf8(written), 0, written.length, 46);
      if (text.length <= 15) expect(got).toBe(Number(written) + 0);
      else expect(got).toBeNaN();
    }),
    { seed: 15, numRuns: 2000 },
  );
});

test("the quick reading and the careful one agree wherever the quick one answers", () => {
  fc.assert(
    fc.property(fc.string({ unit: fc.constantFrom("0", "1", "9", ".", "-", "+", " ", ",", "e"), maxLength: 8 }), (text) => {
      const quick = plainNumber(encodeUtf8(text), 0, text.length, 46);
      if (!Number.isNaN(quick)) expect(read(text)).toBe(String(quick));
    }),
    { seed: 16, numRuns: 3000 },
  );
});
