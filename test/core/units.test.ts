import * as fc from "fast-check";
import { expect, test } from "vitest";
import type { Unit } from "../../core/units";
import { convert, convertDifference, isConvertible, parseMeasure, parseUnit, unitFor, units } from "../../core/units";

// From memory of NIST SP 811 (2008), Appendix B.8, "Factors for units listed alphabetically". Factors given there in
// bold are exact and compared exactly; the others carry seven digits, so half a unit of the seventh is allowed.
test.each([
  ["mph", "m/s", 0.44704, "mile per hour", true],
  ["km/h", "m/s", 0.2777778, "kilometer per hour", false],
  ["ft/s", "m/s", 0.3048, "foot per second", true],
  ["yd", "m", 0.9144, "yard", true],
  ["ft", "m", 0.3048, "foot", true],
  ["in", "m", 0.0254, "inch", true],
  ["deg", "rad", 0.01745329, "degree (angle)", false],
  ["rpm", "rad/s", 0.1047198, "revolution per minute", false],
  ["hPa", "Pa", 100, "millibar", true],
  ["inHg", "Pa", 3386.389, "inch of mercury, conventional", true],
  ["g", "kg", 0.001, "SI", true],
] as const)("1 %s in %s (SP 811: %s, %s)", (from, to, factor, _name, exact) => {
  if (exact) expect(convert(1, from, to)).toBeCloseTo(factor, 12);
  else expect(Math.abs(convert(1, from, to) / factor - 1)).toBeLessThan(5e-7);
});

// A revolution is 2π rad: SP 811 gives 6.283185 for it.
test("revolutions per second", () => expect(convert(1, "rps", "rad/s")).toBeCloseTo(6.283185, 6));

// SP 811, B.8: t/°C = (t/°F − 32)/1.8 and T/K = t/°C + 273.15; the freezing and boiling points and where both scales meet.
test("temperatures have offsets, their differences have none", () => {
  expect(convert(32, "degF", "degC")).toBeCloseTo(0, 10);
  expect(convert(212, "degF", "degC")).toBeCloseTo(100, 10);
  expect(convert(-40, "degC", "degF")).toBeCloseTo(-40, 10);
  expect(convert(0, "degC", "K")).toBe(273.15);
  expect(convertDifference(9, "degF", "degC")).toBeCloseTo(5, 12);
});

test("lengths of every sort convert into one another, and nothing else does", () => {
  expect(convert(1, "yd", "ft")).toBeCloseTo(3, 12);
  expect(convert(1, "in", "mm")).toBeCloseTo(25.4, 12);
  expect(isConvertible("mm", "yd")).toBe(true);
  expect(isConvertible("mph", "yd")).toBe(false);
  expect(() => convert(1, "mph", "yd")).toThrow(RangeError);
  expect(() => convertDifference(1, "mph", "yd")).toThrow(RangeError);
});

const all = Object.keys(units) as Unit[];

test("there and back is the same", () => {
  fc.assert(
    fc.property(fc.constantFrom(...all), fc.constantFrom(...all), fc.double({ min: -1e6, max: 1e6, noNaN: true }), (a, b, value) => {
      if (isConvertible(a, b)) expect(convert(convert(value, a, b), b, a)).toBeCloseTo(value, 6);
    }),
    { seed: 811, numRuns: 2000 },
  );
});

test("every spelling is of one unit only", () => {
  for (const unit of all) for (const spelling of [unit, ...units[unit].also]) expect(parseUnit(spelling)).toBe(unit);
  expect(parseUnit(" MPH ")).toBe("mph");
  expect(parseUnit("__proto__")).toBeUndefined();
  expect(parseUnit("stone")).toBeUndefined();
});

test("measures", () => {
  expect(parseMeasure("3 yd")).toEqual({ value: 3, unit: "yd" });
  expect(parseMeasure("-9 mm")).toEqual({ value: -9, unit: "mm" });
  expect(parseMeasure("\u22129mm")).toEqual({ value: -9, unit: "mm" });
  expect(parseMeasure("0.5 %")).toEqual({ value: 0.5, unit: "%" });
  expect(parseMeasure("21 degC")).toEqual({ value: 21, unit: "degC" });
  expect(parseMeasure('37"')).toEqual({ value: 37, unit: "in" });
  for (const text of ["3", "yd", "3 3 yd", "0x10 mm", "1e400 yd", ""]) expect(parseMeasure(text)).toBeUndefined();
});

test("a notebook's system decides by quantity", () => {
  expect(unitFor("height", "yd-mph")).toBe("ft");
  expect(unitFor("distance", "m-kmh")).toBe("m");
  expect(unitFor("speed", "m-ms")).toBe("m/s");
  expect(unitFor("face distance", "yd-mph")).toBe("mm");
});
