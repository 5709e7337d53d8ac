import { assert, array, constantFrom, integer, property, record, string, tuple } from "fast-check";
import { expect, test } from "vitest";
import { fittedText, wrapped } from "../../../core/present/fitted-text";
import type { PayloadColumn, TablePayload } from "../../../core/present/payload";
import { widthOf } from "../../../core/present/plain-text";

function numberColumn(name: string): PayloadColumn {
  return { name, kind: "number", unit: "yd", origin: "measured", digits: 1, hidden: false };
}

function textColumn(name: string): PayloadColumn {
  return { name, kind: "text", unit: null, origin: "stated", digits: null, hidden: false };
}

function tableOf(columns: readonly PayloadColumn[], rows: TablePayload["rows"], more: Partial<TablePayload> = {}): TablePayload {
  return { type: "table", columns, rows, row_count: rows.length, method: null, sentences: [], notes: [], ...more };
}

/** Expects the text of a table in a terminal of 40 columns. */
function checkText(table: TablePayload, lines: number, expected: readonly string[]): void {
  expect(fittedText(table, { columns: 40, lines }).split("\n")).toEqual(expected);
}

const heads = [textColumn("head"), textColumn("day"), numberColumn("carry"), numberColumn("total_distance"), numberColumn("offline")];
const rows = [
  ["Wren", "spring", 150, 160, -1.5],
  ["Heron", "spring", 158, 166, 2],
  ["Wren", "spring", 151, 161, null],
  ["Wren", "spring", 149, 158, 4],
];

test("a table that fits is shown whole", () =>
  checkText(tableOf(heads.slice(0, 2), [["Wren", "spring"]]), 24, ["head  day", "Wren  spring", "1 row"]));

test("a table that is too wide is shown in parts, what tells its rows apart in each, and what is the same said once", () =>
  checkText(tableOf(heads, rows, { row_count: 90 }), 24, [
    "head   carry (yd)  total_distance (yd)",
    "Wren        150.0                160.0",
    "Heron       158.0                166.0",
    "Wren        151.0                161.0",
    "Wren        149.0                158.0",
    "",
    "head   carry (yd)  offline (yd)",
    "Wren        150.0          −1.5",
    "Heron       158.0           2.0",
    "Wren        151.0             –",
    "Wren        149.0           4.0",
    "the same in every row shown: day =",
    "spring",
    "showing 1–4 of 90 rows",
  ]));

test("the more parts, the fewer rows, and never fewer than three", () =>
  checkText(tableOf(heads.slice(0, 5), rows, { sentences: ["One sentence that is longer than the line is."] }), 1, [
    "head   carry (yd)  total_distance (yd)",
    "Wren        150.0                160.0",
    "Heron       158.0                166.0",
    "Wren        151.0                161.0",
    "",
    "head   carry (yd)  offline (yd)",
    "Wren        150.0          −1.5",
    "Heron       158.0           2.0",
    "Wren        151.0             –",
    "the same in every row shown: day =",
    "spring",
    "showing 1–3 of 4 rows",
    "",
    "One sentence that is longer than the",
    "line is.",
  ]));

test("hidden columns are named and not shown", () =>
  checkText(tableOf([textColumn("head"), { ...numberColumn("p"), hidden: true }], [["Wren", 0.5]]), 24, ["head", "Wren", "1 row; 1 more column (p)"]));

test("many hidden columns are counted, and where all rows and columns are is said", () => {
  const hidden = (count: number) => Array.from({ length: count }, (_, i) => ({ ...numberColumn(`p${i}`), hidden: true }));
  const line = (count: number, rowCount = 1) => {
    const table = { ...tableOf([textColumn("head"), ...hidden(count)], [["Wren", ...hidden(count).map(() => 0.5)]]), row_count: rowCount };
    return fittedText(table, { columns: 80, lines: 24, elsewhere: "all with --json" }).split("\n")[2];
  };
  expect(line(0)).toBe("1 row");
  expect(line(2)).toBe("1 row; 2 more columns (p0, p1)");
  expect(line(9)).toBe("1 row; 9 more columns; all with --json");
  expect(line(2, 69)).toBe("showing 1–1 of 69 rows; 2 more columns (p0, p1); all with --json");
});

test("a chart is its description and the number of its rows", () => {
  const text = fittedText({ type: "chart", spec: {}, description: "Where the shots landed, by head.", table: tableOf(heads, rows) }, { columns: 80, lines: 24 });
  expect(text).toBe("Where the shots landed, by head.\n(a chart of 4 rows)");
});

test("no line is wider than the terminal unless one word or one column is, and no column is lost", () => {
  const name = string({ minLength: 1, maxLength: 12, unit: constantFrom("a", "b", "_", "é", "字") });
  const columns = array(tuple(name, array(integer({ min: -9999, max: 9999 }), { minLength: 5, maxLength: 5 })), { minLength: 1, maxLength: 14 });
  assert(
    property(record({ columns, width: integer({ min: 40, max: 120 }), lines: integer({ min: 1, max: 40 }) }), ({ columns: made, width, lines }) => {
      const table = tableOf(made.map(([each], index) => numberColumn(`${each}${index}`)), [0, 1, 2, 3, 4].map((row) => made.map(([, values]) => values[row]!)));
      const text = fittedText(table, { columns: width, lines });
      for (const line of text.split("\n")) expect(widthOf(line)).toBeLessThanOrEqual(width);
      for (const column of table.columns) expect(text).toContain(column.name);
    }),
    { seed: 7, numRuns: 60 },
  );
});

test("words stay whole when a text is wrapped", () => {
  expect(wrapped("one two three", 8)).toBe("one two\nthree");
  expect(wrapped("a wordthatislonger b", 5)).toBe("a\nwordthatislonger\nb");
});
