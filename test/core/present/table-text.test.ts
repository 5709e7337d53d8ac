import MarkdownIt from "markdown-it";
import { expect, test } from "vitest";
import { fittedText } from "../../../core/present/fitted-text";
import { plainText } from "../../../core/present/plain-text";
import { presentTable } from "../../../core/present/present-table";
import { tableCsv, tableDelimited, tableTsv } from "../../../core/present/table-delimited";
import { tableMarkdown } from "../../../core/present/table-markdown";
import { numberColumn, textColumn, truthColumn } from "../../../core/table/table";
import { sampleSession, sampleTable } from "./sample-tables";

const gap = presentTable(
  sampleTable(
    [
      textColumn("head", ["Wren", "Plover"]),
      numberColumn("difference", [-1.94, Number.NaN], "yd"),
      numberColumn("launch", [17.26, 9.5], "deg"),
      truthColumn("known", [true, null]),
      numberColumn("p", [0.03, 0.5]),
    ],
    { sessions: [sampleSession({ synthetic: true })], report: { sentences: ["Undecided."], hidden: ["p"] } },
  ),
  200,
);

function named(name: string, values: readonly (string | null)[] = ["x"]) {
  return presentTable(sampleTable([textColumn(name, values)]), 200);
}

test("the plain-text twin has the answer, aligned columns, units, the count, what marks a missing value, notes and method", () => {
  expect(plainText(gap)).toBe(
    [
      "Undecided.",
      "",
      "head    difference (yd)  launch (°)  known",
      "Wren               −1.9        17.3  true",
      "Plover                –         9.5  –",
      "2 rows; 1 more column (p); – marks a missing value",
      "",
      "Synthetic data: no shot behind these numbers was hit.",
      "",
      "Method: a method",
    ].join("\n"),
  );
});

test("the twin of a table without rows says so, and names its columns", () => {
  const table = presentTable(sampleTable([textColumn("head", []), numberColumn("carry", [], "yd")]), 9);
  expect(plainText(table).split("\n")[0]).toBe("No rows. Columns: head, carry (yd)");
});

test("sentences of the answer stand apart from those of its details", () => {
  const report = { sentences: ["Heron is longer.", "By 3 yd.", "One tester."], answer: 1 };
  const table = presentTable(sampleTable([textColumn("head", ["Wren"])], { report }), 9);
  const rows = ["head", "Wren", "1 row", ""];
  const details = ["", "By 3 yd.", "One tester.", "", "Method: a method"];
  expect(plainText(table).split("\n")).toEqual(["Heron is longer.", "", ...rows.slice(0, 3), ...details]);
  expect(fittedText(table, { columns: 80, lines: 9 }).split("\n")).toEqual([...rows, "Heron is longer.", ...details]);
});

test("the twin of a text is its Markdown with its escapes read, in a terminal in lines no wider than that", () => {
  const markdown = `Wren\\_7 is ${"long ".repeat(12)}enough.\n\n| a${" ".repeat(60)}| b |`;
  expect(plainText({ type: "text", markdown })).toBe(markdown.replace("\\_", "_"));
  const lines = fittedText({ type: "text", markdown }, { columns: 50, lines: 9 }).split("\n");
  expect(lines.slice(0, 3)).toEqual(["Wren_7 is long long long long long long long long", "long long long long enough.", ""]);
  expect(lines.slice(3)).toEqual([`| a${" ".repeat(60)}| b |`]);
});

test("the twin of a chart is its description and its table", () => {
  expect(plainText({ type: "chart", spec: {}, description: "Points by head.", table: named("head") })).toBe(
    "Points by head.\n\nhead\nx\n1 row",
  );
});

test("H-02 nothing in a text can drive a terminal or reorder a line", () => {
  const text = plainText(named("note", ["\u001b[31mred", "a\nb", "\u202eabc"]));
  expect(text).toContain("\\u001b[31mred");
  expect(text).toContain("a\\u000ab");
  expect(text).toContain("\\u202eabc");
  // oxlint-disable-next-line no-control-regex -- that none is left is the point
  expect(text).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u202e]/);
});

test("H-02 nor can labels of the data in sentences, notes, method and description", () => {
  const odd = "Wr\u001b]0;x\u0007e\nn\u202e\u061c\u{e0041}";
  const report = { method: `of ${odd}`, sentences: [`${odd} is longer.`] };
  const table = { ...presentTable(sampleTable([textColumn("head", ["Wren"])], { report }), 9), notes: [`No shot of ${odd} was hit.`] };
  const chart = { type: "chart" as const, spec: {}, description: `By head: ${odd}.`, table };
  const room = { columns: 200, lines: 20 };
  const shown = "Wr\\u001b]0;x\\u0007e\\u000an\\u202e\\u061c\\ue0041";
  const rows = ["head", "Wren", "1 row"];
  const below = ["", `No shot of ${shown} was hit.`, "", `Method: of ${shown}`];
  expect(plainText(table).split("\n")).toEqual([`${shown} is longer.`, "", ...rows, ...below]);
  expect(fittedText(table, room).split("\n")).toEqual([...rows, "", `${shown} is longer.`, ...below]);
  for (const text of [plainText(chart), fittedText(chart, room)]) expect(text.split("\n")[0]).toBe(`By head: ${shown}.`);
});

test("H-02 a word of 100 KB is cut in the twin", () => {
  expect(plainText(named("note", ["x".repeat(100_000)])).length).toBeLessThan(200);
});

test("H-10 missing, empty, blank and a dash are told apart", () => {
  expect(plainText(named("note", [null, "", " ", "–", "—"])).split("\n").slice(1, 6)).toEqual(["–", '""', '" "', '"–"', "—"]);
});

test("wide and combining characters keep columns aligned", () => {
  const table = presentTable(sampleTable([textColumn("a", ["東", "e\u0301", "xyz"]), textColumn("b", ["1", "2", "3"])]), 9);
  expect(plainText(table).split("\n").slice(1, 4)).toEqual(["東   1", "e\u0301    2", "xyz  3"]);
});

const markdown = new MarkdownIt({ html: true });

function checkMarkdownCells(values: readonly string[], name = "note"): void {
  const rows = markdown.parse(tableMarkdown(named(name, values)), {});
  const cells = rows.filter((token) => token.type === "inline");
  expect(cells).toHaveLength(values.length + 1);
  for (const [index, cell] of cells.entries()) {
    expect(cell.children?.every((child) => child.type === "text" || child.type === "text_special")).toBe(true);
    expect(cell.children?.map((child) => child.content).join("")).toBe([name, ...values][index]);
  }
}

test("X-02 any text stays one literal cell in a Markdown table", () => {
  checkMarkdownCells(["a|b", "`code`", "<b>x</b>", "ends with \\", "\\|", "**bold** _it_ ~~no~~", "[x](command:y)", "![i](u)", "&lt; &#x3c;", "# no", "$x$ @me"]);
});

test("H-01 a header of HTML stays text in a Markdown copy", () => {
  checkMarkdownCells(["x"], "<img src=x onerror=alert(1)>");
});

test("X-02 a line end inside a text does not end the row", () => {
  expect(tableMarkdown(named("note", ["a\nb", "c\r\nd"])).split("\n")).toHaveLength(5);
});

test("a Markdown table shows numbers as shown, at the right, and hides what is hidden", () => {
  expect(tableMarkdown(gap).split("\n").slice(0, 3)).toEqual([
    "| head | difference (yd) | launch (°) | known |",
    "| --- | ---: | ---: | --- |",
    "| Wren | −1.9 | 17.3 | true |",
  ]);
});

test("CSV has full precision, ASCII minus, empty for missing and every column", () => {
  expect(tableCsv(gap)).toBe(
    "head,difference (yd),launch (°),known,p\r\nWren,-1.94,17.26,true,0.03\r\nPlover,,9.5,,0.5\r\n",
  );
});

test("X-01 text and headers that a spreadsheet would evaluate get an apostrophe, numbers do not", () => {
  for (const text of ["=1+1", "+1", "-1+1", "@SUM(A1)", "＝1", " =1"]) {
    expect(tableCsv(named(text, [text]))).toContain(`'${text}`);
    expect(tableCsv(named(text, [text])).match(/'/g)).toHaveLength(2);
  }
  expect(tableCsv(named("n", ["\t=1", "\r=1", "\u0000=1"]))).toBe('n\r\n"\'\t=1"\r\n"\'\r=1"\r\n"\'\u0000=1"\r\n');
  expect(tableCsv(presentTable(sampleTable([numberColumn("n", [-5])]), 9))).toBe("n\r\n-5\r\n");
});

test("X-01 text as data is written as it is, when that is asked for", () => {
  expect(tableDelimited(named("n", ["=1+1", ""]), { delimiter: ",", text: "as data" })).toBe('n\r\n=1+1\r\n""\r\n');
});

test("separators, quotes and line ends are in quotes in CSV and TSV", () => {
  expect(tableCsv(named("a,b", ['say "x"', "two\nlines"]))).toBe('"a,b"\r\n"say ""x"""\r\n"two\nlines"\r\n');
  expect(tableTsv(named("a", ["x\ty"]))).toBe('a\r\n"x\ty"\r\n');
});
