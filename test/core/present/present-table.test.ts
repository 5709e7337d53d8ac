import { expect, test } from "vitest";
import { defaultLimits } from "../../../core/limits";
import { presentResult } from "../../../core/present/present-result";
import { tableText } from "../../../core/present/plain-text";
import { presentTable, withDigits } from "../../../core/present/present-table";
import { keepRows } from "../../../core/verbs/keep-rows";
import { numberColumn, textColumn, truthColumn } from "../../../core/table/table";
import { sampleSession, sampleTable } from "./sample-tables";

const shots = [
  textColumn("head", ["Wren", null, "Heron"], "stated"),
  numberColumn("carry", [160.25, Number.NaN, 158.04], "yd", "calculated"),
  truthColumn("draw", [true, null, false]),
];

test("a table is plain JSON with full precision, units, origins and one precision a column", () => {
  expect(presentTable(sampleTable(shots), 200)).toEqual({
    type: "table",
    columns: [
      { name: "head", kind: "text", unit: null, origin: "stated", digits: null, hidden: false },
      { name: "carry", kind: "number", unit: "yd", origin: "calculated", digits: 1, hidden: false },
      { name: "draw", kind: "truth", unit: null, origin: "computed", digits: null, hidden: false },
    ],
    rows: [["Wren", 160.25, true], [null, null, null], ["Heron", 158.04, false]],
    row_count: 3,
    method: null,
    sentences: [],
    notes: [],
  });
});

test("H-10 JSON never holds NaN or an infinity", () => {
  const table = sampleTable([numberColumn("a", [Number.NaN, Number.POSITIVE_INFINITY, -0, null])]);
  expect(JSON.stringify(presentTable(table, 200).rows)).toBe("[[null],[null],[0],[null]]");
});

test("rows beyond the limit stay behind and are counted", () => {
  const table = sampleTable([numberColumn("shot", Array.from({ length: 450 }, (_, i) => i))]);
  const [shown] = presentResult(table, { ...defaultLimits, rowsShown: 200 });
  expect(shown).toMatchObject({ type: "table", row_count: 450 });
  expect(shown?.type === "table" && shown.rows.length).toBe(200);
});

test("an estimate and its bounds have the same decimals, from the width of the interval", () => {
  const table = sampleTable(
    [
      numberColumn("difference", [0.0512, 3.1], "yd"),
      numberColumn("from", [-3.44, 0.2], "yd"),
      numberColumn("to", [3.54, 6.0], "yd"),
      numberColumn("margin", [3, 3], "yd"),
      numberColumn("n", [30, 30]),
    ],
    { report: {} },
  );
  expect(presentTable(table, 9).columns.map((column) => column.digits)).toEqual([1, 1, 1, 1, 0]);
});

test("rows of different things in different units have decimals of their own", () => {
  const table = sampleTable([
    textColumn("of", ["carry", "carry", "spin_rate", "speed_ratio"]),
    textColumn("unit", ["yd", "yd", "rpm", null]),
    numberColumn("typical", [150.5512, 148.25, 5432.1234, 1.31234]),
    numberColumn("from", [148.5512, 146.25, 5232.1234, 1.30234]),
    numberColumn("to", [152.5512, 150.25, 5632.1234, 1.32234]),
    numberColumn("sd", [6.123, null, 312.55, 0.0222]),
    numberColumn("n", [30, 31, 30, 30]),
  ]);
  const lines = tableText(presentTable(table, 9)).split("\n");
  expect(lines.slice(0, 5)).toEqual([
    "of           unit  typical   from     to     sd   n",
    "carry        yd      150.6  148.6  152.6    6.1  30",
    "carry        yd      148.3  146.3  150.3      –  31",
    "spin_rate    rpm      5432   5232   5632    313  30",
    "speed_ratio  –       1.312  1.302  1.322  0.022  30",
  ]);
});

test("a row without an interval has the decimals of its unit", () => {
  const table = sampleTable([textColumn("of", ["carry", "spin_rate"]), textColumn("unit", ["yd", "rpm"]), numberColumn("typical", [150.5512, 5432.1])]);
  expect(presentTable(table, 9).columns[2]!.digitsBy).toEqual({ column: 0, digits: { carry: 1, spin_rate: 0 } });
});

test("columns that a verb hides are there and marked", () => {
  const table = sampleTable([numberColumn("difference", [1]), numberColumn("p", [0.03])], { report: { hidden: ["p"] } });
  expect(presentTable(table, 9).columns.map((column) => column.hidden)).toEqual([false, true]);
});

test("how many sentences are the answer is said where the others are details", () => {
  const sentences = ["Heron is longer.", "By 3 yd.", "One tester."];
  const answerOf = (answer?: number): number | undefined =>
    presentTable(sampleTable([numberColumn("n", [1])], { report: { sentences, ...(answer === undefined ? {} : { answer }) } }), 9).answer;
  expect([answerOf(), answerOf(1), answerOf(3), answerOf(9), answerOf(-1)]).toEqual([undefined, 1, undefined, undefined, 0]);
});

test("rows taken from a table with intervals keep the decimals of the whole", () => {
  const columns = [numberColumn("d", [12.34, 0.001], "yd"), numberColumn("from", [-30, -50], "yd"), numberColumn("to", [50, 40], "yd")];
  const whole = withDigits(sampleTable(columns, { report: {} }));
  expect(presentTable(keepRows(whole, Int32Array.of(1)), 9).columns.map(({ digits }) => digits)).toEqual([0, 0, 0]);
  expect(withDigits(sampleTable(columns)).columns).toEqual(columns);
});

test("synthetic sessions are said to be so", () => {
  const invented = sampleSession({ name: "demo", synthetic: true });
  expect(presentTable(sampleTable(shots, { sessions: [invented] }), 9).notes).toEqual([
    "Synthetic data: no shot behind these numbers was hit.",
  ]);
  expect(presentTable(sampleTable(shots, { sessions: [sampleSession(), invented] }), 9).notes).toEqual([
    "Partly synthetic data: no shot of demo was hit.",
  ]);
});

test("a table with a picture gives the picture first, its data inlined", () => {
  const drawn = sampleTable([numberColumn("a.b", [1.123456789123, null])]);
  const picture = { type: "chart" as const, spec: { mark: "point" }, table: drawn, description: "Points." };
  const results = presentResult(sampleTable(shots, { report: { picture } }), defaultLimits);
  expect(results.map((result) => result.type)).toEqual(["chart", "table"]);
  expect(results[0]).toMatchObject({
    spec: { mark: "point", data: { values: [{ x_61_2e_62: 1.12345679 }, { x_61_2e_62: null }] } },
    description: "Points.",
    table: { row_count: 2 },
  });
});
