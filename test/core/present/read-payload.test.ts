import { expect, test } from "vitest";
import { defaultLimits } from "../../../core/limits";
import { presentChart } from "../../../core/present/present-result";
import { presentTable } from "../../../core/present/present-table";
import { readPayload } from "../../../core/present/read-payload";
import { numberColumn, textColumn, truthColumn } from "../../../core/table/table";
import { sampleTable } from "./sample-tables";

const table = sampleTable([textColumn("head", ["Wren", null]), numberColumn("carry", [150.5, null], "yd"), truthColumn("draw", [true, null])]);
const good = presentTable(table, 200);

function checkFault(value: unknown, fault: string): void {
  expect(readPayload(value)).toEqual({ fault });
}

test("what is presented is read back as it was, through JSON", () => {
  const chart = presentChart({ type: "chart", spec: { mark: "point" }, table, description: "Points." }, defaultLimits);
  expect(readPayload(JSON.parse(JSON.stringify(good)))).toEqual({ payload: good });
  const answered = { ...good, sentences: ["Heron is longer.", "One tester."], answer: 1 };
  expect(readPayload(JSON.parse(JSON.stringify(answered)))).toEqual({ payload: answered });
  expect(readPayload(JSON.parse(JSON.stringify(chart)))).toEqual({ payload: chart });
});

const mixed = presentTable(
  sampleTable([textColumn("of", ["carry", "spin_rate"]), textColumn("unit", ["yd", "rpm"]), numberColumn("typical", [150.52, 5431.4])]),
  200,
);

test("decimals by row are read back, and nothing that is none", () => {
  expect(readPayload(JSON.parse(JSON.stringify(mixed)))).toEqual({ payload: mixed });
  const by = (digitsBy: unknown) => ({ ...mixed, columns: mixed.columns.map((column) => ({ ...column, digitsBy })) });
  checkFault(by({ column: 3, digits: {} }), "decimals go by no column");
  checkFault(by({ column: 0, digits: { carry: -1 } }), "a row has no count of decimals");
  checkFault(by({ column: 0, digits: 2 }), "the decimals by row is not an object");
  checkFault(by(null), "the decimals by row is not an object");
});

test("H-04 anything else is a fault with a reason and never a guess", () => {
  checkFault(undefined, "the output is not an object");
  checkFault([], "the output is not an object");
  checkFault("<b>hello</b>", "the output is not an object");
  checkFault({ type: "image" }, "the output is neither a table nor a chart");
  checkFault({ ...good, columns: 3 }, "the columns are not a list");
  checkFault({ ...good, columns: [{ ...good.columns[0], kind: "picture" }] }, "a column has no kind");
  checkFault({ ...good, columns: [{ ...good.columns[0], unit: "furlong" }] }, "a column has an unknown unit");
  checkFault({ ...good, columns: [{ ...good.columns[0], digits: 1e9 }] }, "a column has no count of decimals");
  checkFault({ ...good, rows: [[1]] }, "a row has the wrong length");
  checkFault({ ...good, rows: [["Wren", "150", true]] }, "a value is not of its column's kind, number");
  checkFault({ ...good, rows: [[{ toString: "x" }, 1, true]] }, "a value is not of its column's kind, text");
  checkFault({ ...good, row_count: 1 }, "the count of rows is wrong");
  checkFault({ ...good, row_count: 2.5 }, "the count of rows is wrong");
  checkFault({ ...good, answer: 3 }, "the count of sentences is wrong");
  checkFault({ ...good, answer: "1" }, "the count of sentences is wrong");
  checkFault({ ...good, sentences: [1] }, "a sentence is not text");
  checkFault({ type: "chart", spec: "x", description: "", table: good }, "the specification is not an object");
  checkFault({ type: "chart", spec: {}, description: "", table: null }, "the chart's table is not an object");
});

test("H-04 fields that nobody asked for are left behind", () => {
  expect(readPayload({ ...good, command: "run", columns: good.columns.map((column) => ({ ...column, onclick: "x" })) })).toEqual({ payload: good });
});

test("the sessions behind shots are read back, and nothing that is none", () => {
  const shots = { ...good, sessions: [{ name: "one", file: "s/one.session.yaml" }] };
  expect(readPayload(JSON.parse(JSON.stringify(shots)))).toEqual({ payload: shots });
  checkFault({ ...good, sessions: [{ name: "one" }] }, "a session's file is not text");
});
