import { expect, test } from "vitest";
import { presentTable } from "../../../core/present/present-table";
import type { RowOrder } from "../../../core/present/sort-rows";
import { nextOrder, sortRows } from "../../../core/present/sort-rows";
import { numberColumn, textColumn, truthColumn } from "../../../core/table/table";
import { sampleTable } from "./sample-tables";

const table = presentTable(
  sampleTable([
    textColumn("t", ["b10", null, "B2", "a"]),
    numberColumn("n", [10, 9, null, -1]),
    truthColumn("f", [true, false, null, true]),
    numberColumn("row", [0, 1, 2, 3]),
  ]),
  9,
);

function checkOrder(order: RowOrder, rows: readonly number[]): void {
  expect(sortRows(table.rows, table.columns, order).map((row) => row[3])).toEqual(rows);
}

test("numbers by size, text by letters and numbers in it, truth values false first", () => {
  checkOrder({ column: 1, direction: "ascending" }, [3, 1, 0, 2]);
  checkOrder({ column: 0, direction: "ascending" }, [3, 2, 0, 1]);
  checkOrder({ column: 2, direction: "ascending" }, [1, 0, 3, 2]);
});

test("H-10 missing is last in both directions", () => {
  checkOrder({ column: 1, direction: "descending" }, [0, 1, 3, 2]);
  checkOrder({ column: 0, direction: "descending" }, [0, 2, 3, 1]);
});

test("without an order, or by a column that is not there, the rows stay as they came", () => {
  checkOrder(null, [0, 1, 2, 3]);
  checkOrder({ column: 7, direction: "ascending" }, [0, 1, 2, 3]);
});

test("asking again turns the order round, then drops it", () => {
  const first = nextOrder(null, 1);
  const second = nextOrder(first, 1);
  expect([first?.direction, second?.direction, nextOrder(second, 1)]).toEqual(["ascending", "descending", null]);
  expect(nextOrder(first, 0)).toEqual({ column: 0, direction: "ascending" });
});
