import { expect, test } from "vitest";
import { digitsAsStated, digitsFor, digitsForColumn, formatMeasure, formatNumber, missingMark, unitLabel } from "../../../core/present/format-number";
import { numberColumn } from "../../../core/table/table";
import type { Unit } from "../../../core/units";

function checkDigits(values: readonly (number | null)[], unit: Unit | null, digits: number): void {
  expect(digitsForColumn(numberColumn("c", values, unit))).toBe(digits);
}

test.each([[3, 0], [0.5, 1], [150.12, 2], [150.1234, 2], [0.001, 3], [0.0625, 4], [1.234, 3], [1.0936133, 2], [0.000123456, 5], [1e-13, 0], [-0.25, 2], [0.1 + 0.2, 1]])(
  "%s is stated with %s decimals", (value, digits) => expect(digitsAsStated(value)).toBe(digits),
);

test("decimals are fixed and the minus is U+2212", () => {
  expect(formatNumber(1.94, 1)).toBe("1.9");
  expect(formatNumber(-1.94, 1)).toBe("\u22121.9");
  expect(formatNumber(7, 2)).toBe("7.00");
});

test("H-10 nothing is shown as minus zero, NaN or null", () => {
  expect(formatNumber(-0, 1)).toBe("0.0");
  expect(formatNumber(-0.04, 1)).toBe("0.0");
  expect(formatNumber(Number.NaN, 1)).toBe(missingMark);
  expect(formatNumber(null, 1)).toBe(missingMark);
  expect(formatNumber(Number.NEGATIVE_INFINITY, 1)).toBe("\u2212∞");
});

test("a measure has its unit once, and missing has none", () => {
  expect(formatMeasure(1.94, 1, "yd")).toBe("1.9 yd");
  expect(formatMeasure(-4.52, 1, "deg")).toBe("\u22124.5°");
  expect(formatMeasure(45, 0, "%")).toBe("45 %");
  expect(formatMeasure(21, 0, "degC")).toBe("21 °C");
  expect(formatMeasure(1.38, 2, null)).toBe("1.38");
  expect(formatMeasure(Number.NaN, 1, "yd")).toBe(missingMark);
  expect(unitLabel("deg")).toBe("°");
});

test("an estimate is given down to a tenth of its standard error's first digit", () => {
  expect(digitsFor(1.3)).toBe(1);
  expect(digitsFor(0.34)).toBe(2);
  expect(digitsFor(0.001)).toBe(4);
  expect(digitsFor(10)).toBe(0);
  expect(digitsFor(250)).toBe(0);
  expect(digitsFor(Number.NaN)).toBe(1);
  expect(digitsFor(0)).toBe(1);
});

test("a column has one precision, by unit, by size and by what its values need", () => {
  checkDigits([162.31, 158.9, null, 160.004], "yd", 1);
  checkDigits([6512.4, 6630.2], "rpm", 0);
  checkDigits([0.123, 0.456, -0.3], "yd", 2);
  checkDigits([0.0031, 0.0452], null, 4);
  checkDigits([1.3812, 1.402], null, 2);
  checkDigits([1, 2, 30], null, 0);
  checkDigits([1.5, 2, 30], "deg", 1);
  checkDigits([null, null], "yd", 0);
  checkDigits([0.1 + 0.2, 0.3], "yd", 1);
});
