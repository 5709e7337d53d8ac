import { expect, test } from "vitest";
import { boundText, foundText, readBound } from "../../../core/query/narrow-bound";

function checkBound(text: string, expected: { value: number; strict?: true } | null): void {
  const read = readBound(text, "low", "yd");
  expect(read).toEqual({ ok: true, value: expected });
  if (read.ok && read.value !== null) expect(readBound(boundText(read.value, "low"), "low", "yd")).toEqual(read);
}

function checkRefused(text: string): void {
  expect(readBound(text, "low", "yd")).toMatchObject({ ok: false, because: expect.stringMatching(/number in yd/u) as string });
}

test("a bound is a number, with its unit and a sign or without", () => {
  checkBound("", null);
  checkBound(" 120.5 yd ", { value: 120.5 });
  checkBound("> 120", { value: 120, strict: true });
  checkBound(">=−3", { value: -3 });
  checkBound("-.5", { value: -0.5 });
});

test("what is no number in the column's unit says what would be", () => {
  for (const text of ["120,5", "far", "120 m", "< 120", "1e400", "1 2"]) checkRefused(text);
});

test("what was found is rounded outwards", () => {
  expect(foundText({ low: 117.26, high: 168.81 }, "yd")).toBe("117.2 to 168.9 yd");
  expect(foundText({ low: -4, high: 12 }, "deg")).toBe("−4 to 12°");
});
