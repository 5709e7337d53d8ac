import * as fc from "fast-check";
import { expect, test } from "vitest";
import { fieldName, inWords } from "../../../core/chart/field-name";

test("K-08 plain names stay, odd ones are written with codes", () => {
  expect(fieldName("ball_speed")).toBe("ball_speed");
  expect(fieldName("Side (yd)")).toBe("Side (yd)");
  expect(fieldName("Höhe")).toBe("Höhe");
  expect(fieldName("a.b")).toBe("x_61_2e_62");
  expect(fieldName("")).toBe("x_");
  expect(fieldName("constructor")).toMatch(/^x_63_/);
  expect(fieldName("a".repeat(10_240)).length).toBeLessThan(30);
});

test("K-08 no two names share a field, and no field is a path or a special key", () => {
  const piece = fc.oneof(fc.string(), fc.constantFrom("x", "_", "x_", "61", ".", "__proto__", "toString"));
  const name = fc.array(piece, { maxLength: 6 }).map((parts) => parts.join(""));
  fc.assert(
    fc.property(name, name, (a, b) => {
      expect(fieldName(a)).not.toMatch(/[.[\]'"\\]|^__/u);
      expect(fieldName(a) in {}).toBe(false);
      expect(fieldName(a) === fieldName(b)).toBe(a === b);
    }),
    { seed: 5, numRuns: 3000 },
  );
});

test("a column's name in words", () => {
  expect(inWords("ball_speed")).toBe("ball speed");
  expect(inWords("")).toBe('""');
});
