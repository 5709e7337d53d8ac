import { expect, test } from "vitest";
import { presentTable } from "../../../core/present/present-table";
import { sortRows, type RowOrder } from "../../../core/present/sort-rows";
import { keptTable } from "../../../core/results/kept-table";
import { createTableStore } from "../../../core/results/table-store";
import { seededRandom } from "../../../core/stats/random";
import { makeTable, numberColumn, textColumn, truthColumn, type Table } from "../../../core/table/table";

/** A table of `count` rows with ties, missing values and texts that are nearly alike. */
function inventTable(count: number, seed: number): Table {
  const random = seededRandom(seed);
  const pick = <T>(values: readonly T[]): T => values[Math.floor(random() * values.length)]!;
  const rows = Array.from({ length: count }, (_, row) => row);
  return makeTable(
    [
      numberColumn("n", rows.map(() => pick([0, -0, 1.5, -2, 1e300, null]))),
      textColumn("t", rows.map(() => pick(["", "a", "A", "b10", "B2", "b02", "é", "10", null]))),
      truthColumn("f", rows.map(() => pick([true, false, null]))),
      numberColumn("row", rows),
    ],
    count,
  );
}

const orders: readonly RowOrder[] = [null, ...[0, 1, 2, 3, 9].flatMap((column) => (["ascending", "descending"] as const).map((direction) => ({ column, direction })))];

test("a page is that part of the rows that sorting all of them gives", () => {
  for (let seed = 1; seed <= 20; seed++) {
    const table = inventTable(97, seed);
    const shown = presentTable(table, 97);
    const store = createTableStore();
    store.keep("n", "h", keptTable(table));
    for (const order of orders)
      expect(store.page("n", "h", { order, from: 30, count: 40 })?.rows).toEqual(sortRows(shown.rows, shown.columns, order).slice(30, 70));
  }
});

test.each([
  [90, 40, 7],
  [97, 40, 0],
  [500, 1, 0],
  [0, 5, 5],
])("rows from %i, %i of them wanted of 97, are %i", (from, count, rows) => {
  const store = createTableStore();
  store.keep("n", "h", keptTable(inventTable(97, 1)));
  expect(store.page("n", "h", { order: null, from, count })?.rows).toHaveLength(rows);
});

test("another notebook has no rows under the same handle", () => {
  const store = createTableStore();
  store.keep("one", "h", keptTable(inventTable(9, 1)));
  expect(store.page("other", "h", { order: null, from: 0, count: 1 })).toBeNull();
  expect(store.summary("other", "h")).toBeNull();
});

function numbers(count: number): ReturnType<typeof keptTable> {
  return keptTable(makeTable([numberColumn("n", Array.from({ length: count }, (_, row) => row))], count));
}

test("without room for all, the table goes that was not asked for the longest", () => {
  const store = createTableStore(2000);
  for (const handle of ["a", "b"]) store.keep("n", handle, numbers(100));
  store.page("n", "a", { order: null, from: 0, count: 1 });
  store.keep("n", "c", numbers(100));
  expect(["a", "b", "c"].map((handle) => store.summary("n", handle) !== null)).toEqual([true, false, true]);
  expect(store.bytes()).toBeLessThanOrEqual(2000);
});

test("orders count as room, and a table larger than all the room is not kept", () => {
  const store = createTableStore(1300);
  for (const handle of ["a", "b"]) store.keep("n", handle, numbers(80));
  store.page("n", "b", { order: { column: 0, direction: "descending" }, from: 0, count: 1 });
  store.keep("n", "c", numbers(1000));
  expect(["a", "b", "c"].map((handle) => store.summary("n", handle) !== null)).toEqual([false, true, false]);
});

test("dropping a notebook lets go of its tables and of no others", () => {
  const store = createTableStore();
  store.keep("one", "h", numbers(9));
  store.keep("other", "h", numbers(9));
  store.drop("one");
  expect([store.summary("one", "h"), store.summary("other", "h")?.length]).toEqual([null, 1]);
});

function checkSummary(column: Table["columns"][number], expected: object): void {
  const store = createTableStore();
  store.keep("n", "h", keptTable(makeTable([column], column.kind === "text" ? column.codes.length : column.values.length)));
  expect(store.summary("n", "h")?.[0]).toMatchObject(expected);
}

test("a summary counts missing values apart from 0 and from empty text", () => {
  checkSummary(numberColumn("n", [0, null, 6, 12]), { missing: 1, least: 0, most: 12, counts: [1, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1] });
  checkSummary(textColumn("t", ["", "a", "a", null]), { missing: 1, empty: 1, distinct: 2, counts: [2, 1], names: ["a", ""] });
  checkSummary(truthColumn("f", [true, null, true]), { missing: 1, distinct: 1, counts: [2], names: ["true"] });
  checkSummary(numberColumn("n", [null]), { missing: 1, least: null, most: null, counts: [] });
  checkSummary(numberColumn("n", [-1e308, 1e308]), { least: -1e308, most: 1e308, counts: [1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1] });
});
