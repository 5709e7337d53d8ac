import { expect, test } from "vitest";
import { constantColumns, constantInWords } from "../../../core/present/constant-columns";
import { presentTable } from "../../../core/present/present-table";
import { makeTable, numberColumn, textColumn } from "../../../core/table/table";

const table = (rows: number) =>
  presentTable(makeTable([textColumn("of", Array<string>(rows).fill("carry")), numberColumn("margin", Array<number>(rows).fill(3), "yd"), numberColumn("n", Array.from({ length: rows }, (_, i) => i))], rows), 2);

test("what is the same in every row is said once, with its unit", () => {
  const shown = table(2);
  expect(constantColumns(shown, [0, 1, 2])).toEqual([0, 1]);
  expect(constantInWords(shown, [0, 1])).toBe("the same in every row: of = carry, margin (yd) = 3");
});

test("of more rows than are given only those shown are spoken of", () => {
  expect(constantInWords(table(3), [0])).toBe("the same in every row shown: of = carry");
});

test("one row alone has nothing in common with another", () => {
  expect(constantColumns(table(1), [0, 1, 2])).toEqual([]);
  expect(constantInWords(table(1), [])).toBe("");
});
