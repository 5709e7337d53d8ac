import { expect, test } from "vitest";
import type { CellForm, CellKind } from "../../../core/notebook/document";
import { parseNotebook } from "../../../core/notebook/parse-notebook";
import { printNotebook } from "../../../core/notebook/print-notebook";
import type { ProblemCode } from "../../../core/problem";

function checkCells(text: string, ...cells: readonly (readonly [CellKind, string])[]): void {
  const { value } = parseNotebook(text);
  expect(value.cells.map((cell) => [cell.kind, cell.text])).toEqual(cells);
  expect(printNotebook(value)).toBe(text);
}

function checkForm(text: string, form: CellForm, index = 0): void {
  const { value } = parseNotebook(text);
  expect(value.cells[index]!.form).toEqual(form);
  expect(printNotebook(value)).toBe(text);
}

function checkProblems(text: string, ...problems: readonly (readonly [ProblemCode, line: number])[]): void {
  expect(parseNotebook(text).problems.map((p) => [p.code, p.range.start.line])).toEqual(problems);
}

const cell = "```js query=gap\nstock\n```\n";

test("a notebook of every kind of cell is canonical throughout", () => {
  const text = `---\nfairstrike: 1\n---\n\n# Heading\n\n${cell}\n\`\`\`json chart=landing table=gap\n{}\n\`\`\`\n`;
  checkCells(text, ["front", "fairstrike: 1"], ["prose", "# Heading"], ["query", "query=gap\nstock"], ["chart", "chart=landing table=gap\n{}"]);
  expect(parseNotebook(text).value.cells.map(({ form }) => form)).toEqual([{}, {}, {}, {}]);
  expect(parseNotebook(text).problems).toEqual([]);
});
test("an empty file has no cell, a blank one an empty text", () => {
  checkCells("");
  checkCells("\n \n", ["prose", ""]);
});
test("prose between two cells is one cell, and none where only blank lines are", () => {
  checkCells(`${cell}\n\na\n\nb\n\n\n${cell}\n\n\n${cell}`, ["query", "query=gap\nstock"], ["prose", "a\n\nb"], ["query", "query=gap\nstock"], ["query", "query=gap\nstock"]);
});
test("a body may be empty or have one blank line", () => {
  checkCells("```js query=a\n```\n", ["query", "query=a"]);
  checkCells("```js query=a\n\n```\n", ["query", "query=a\n"]);
});
test("a form holds what differs and nothing else", () => {
  checkForm(cell, {});
  checkForm("````js query=a\n```\n````\n", { fence: "````" });
  checkForm("```js query=a\n````\n", { closing: "````" });
  checkForm("```js query=a\n  ``` \n", { closing: "  ``` " });
  checkForm("```javascript\t query=a  \n```\n", { word: "javascript", gap: "\t ", trail: "  " });
  checkForm("```query=a\n```\n", { word: "", gap: "" });
  checkForm("\n\n```js query=a\n```\n", { before: "\n\n" });
  checkForm(`a\n${cell}`, { before: "\n" }, 1);
  checkForm("x", { after: "" });
  checkForm("---  \ntitle: x\n--- \n", { fence: "---  ", closing: "--- " });
  checkForm("---\n\n---\n", { raw: "---\n\n---" });
});

test("N-07 tildes, long fences and indents are cells, and their style is kept", () => {
  checkCells("~~~js query=a\n```\n~~~\n", ["query", "query=a\n```"]);
  checkCells("  ~~~~js query=a\n  x\n    y\n\n  ~~~~\n", ["query", "query=a\nx\n  y\n"]);
  checkForm("  ~~~~js query=a\n  x\n\n  ~~~~\n", { indent: 2, fence: "~~~~" });
  checkCells("   ```js query=a\n x\n\ty\n   ```\n", ["query", "query=a\nx\n\ty"]);
  checkForm("   ```js query=a\n x\n   ```\n", { indent: 3, raw: "   ```js query=a\n x\n   ```" });
  checkCells("    ```js query=a\n    ```\n", ["prose", "    ```js query=a\n    ```"]);
});
test("N-07 a fence in a list or a quotation is prose", () => {
  for (const text of ["- ```js query=a\n  x\n  ```", "> ```js query=a\n> ```", "1. a\n\n   ```js query=a\n   x\n   ```"]) checkCells(`${text}\n`, ["prose", text]);
});
test("a fence inside another fence, a comment or a script is prose", () => {
  for (const text of ["````\n```js query=a\n```\n````", "<!--\n```js query=a\n```\n-->", "<script>\n```js query=a\n```\n</script>"]) checkCells(`${text}\n`, ["prose", text]);
});
test("N-08 an unclosed fence goes to the end of the file and is reported at its opening", () => {
  checkCells("text\n\n```js query=a\nx\n\n", ["prose", "text"], ["query", "query=a\nx\n"]);
  checkForm("```js query=a\nx", { closing: "", after: "" });
  checkProblems("text\n\n```js query=a\nx\n", ["nb.unclosed-fence", 3]);
  checkProblems("```js\nx\n");
});
test.each(["query=a", "js query=a", "JS query=a", "js  query=a", "  js query=a", "js query=a table=b x", "json table=b chart=a", "js x='1 2' query=a", "js query=", "js\tquery=a"])(
  "N-10 the info string %j makes a cell",
  (info) => {
    const [first] = parseNotebook(`\`\`\`${info}\n\`\`\`\n`).value.cells;
    expect(first!.kind).toBe(info.includes("chart=") ? "chart" : "query");
    expect(printNotebook(parseNotebook(`\`\`\`${info}\n\`\`\`\n`).value)).toBe(`\`\`\`${info}\n\`\`\`\n`);
  },
);
test.each(["js", "", "js Query=a", "js QUERY=a", "js query", "js query =a", "js run query=a", "js {query=a}", "js x=\"query=a", "xquery=a", "js xquery=a", "js `x query=a"])(
  "N-10 the info string %j makes none",
  (info) => checkCells(`\`\`\`${info}\nx\n`, ["prose", `\`\`\`${info}\nx`]),
);
test("N-09 odd attributes are kept", () => {
  checkCells("~~~js query=a __proto__=1 x=1 x=2 y='`\n~~~\n", ["query", "query=a __proto__=1 x=1 x=2 y='`"]);
  const long = `query=a x=${"y".repeat(10_240)}`;
  checkCells(`\`\`\`js ${long}\n\`\`\`\n`, ["query", long]);
});

test("Y-06 front matter stands at the very beginning or is none", () => {
  checkCells("---\ntitle: x\n---\ntext\n", ["front", "title: x"], ["prose", "text"]);
  checkCells("---\n---\n", ["front", ""]);
  checkCells("\n---\ntitle: x\n---\n", ["prose", "---\ntitle: x\n---"]);
  checkCells(" ---\ntitle: x\n---\n", ["prose", " ---\ntitle: x\n---"]);
  checkCells("text\n\n---\n\ntext\n", ["prose", "text\n\n---\n\ntext"]);
});
test("Y-06 unclosed front matter is prose, and is reported where it looks like one", () => {
  checkCells("---\ntitle: x\n", ["prose", "---\ntitle: x"]);
  checkProblems("---\ntitle: x\n", ["nb.unclosed-front", 1]);
  checkProblems("---\n\nJust a rule above.\n");
});
test("Y-06 front matter in a CRLF file", () => checkCells("---\r\ntitle: x\r\nseed: 1\r\n---\r\n", ["front", "title: x\nseed: 1"]));
test("N-19 a newer format is reported at its number", () => {
  checkProblems("---\ntitle: x\nfairstrike: 99\n---\n", ["nb.newer-format", 3]);
  checkProblems("---\nfairstrike: 1\n---\n");
  checkProblems("---\nfairstrike: soon\n---\n");
});

const conflict = "<<<<<<< ours\na\n=======\nb\n>>>>>>> theirs";
test("N-11 merge markers in prose are a cell of their own", () => checkCells(`text\n${conflict}\nmore\n`, ["prose", "text"], ["conflict", conflict], ["prose", "more"]));
test("N-11 a conflict inside a cell takes the cell in", () => {
  const text = `\`\`\`js query=gap\n${conflict}\n\`\`\``;
  checkCells(`x\n\n${text}\n\n${cell}`, ["prose", "x"], ["conflict", text], ["query", "query=gap\nstock"]);
});
test("N-11 a conflict across cells takes in each that it cuts", () => {
  const text = "```js query=a\n<<<<<<< ours\nx\n```\n\n```js query=b\ny\n=======\nz\n>>>>>>> theirs\n```";
  checkCells(`${cell}${text}\n\nafter\n`, ["query", "query=gap\nstock"], ["conflict", text], ["prose", "after"]);
});
test("N-11 new cells on either side with a common end", () => {
  const text = "<<<<<<< ours\n```js query=a\n=======\n```js query=b\n>>>>>>> theirs\nx\n```";
  checkCells(`${text}\n\n${cell}`, ["conflict", text], ["query", "query=gap\nstock"]);
});
test("N-11 a conflict in the front matter", () => {
  const text = `---\ntitle: x\n${conflict}\n---`;
  checkCells(`${text}\n\n${cell}`, ["conflict", text], ["query", "query=gap\nstock"]);
});
test("N-11 with the common ancestor, and nested", () => {
  const nested = `<<<<<<< ours\n${conflict}\n||||||| base\n${conflict}\n=======\nc\n>>>>>>> theirs`;
  checkCells(`${nested}\n`, ["conflict", nested]);
});
test("N-11 two conflicts are two cells, and in one fence one", () => {
  checkCells(`${conflict}\n${conflict}\n`, ["conflict", conflict], ["conflict", conflict]);
  const text = `\`\`\`\n${conflict}\nx\n${conflict}\n\`\`\``;
  checkCells(`${text}\n`, ["conflict", text]);
});
test("N-11 a stray ======= is the underline of a heading", () => {
  checkCells("Heading\n=======\n", ["prose", "Heading\n======="]);
  checkProblems("Heading\n=======\n>>>>>>> quoted seven deep\n");
});
test("N-11 a marker that was left over is reported and takes nothing in", () => {
  checkCells(`<<<<<<< ours\n\n${cell}`, ["prose", "<<<<<<< ours"], ["query", "query=gap\nstock"]);
  checkProblems(`<<<<<<< ours\n\n${cell}`, ["nb.stray-marker", 1]);
  checkProblems(`<<<<<<< ours\n<<<<<<< ours\n=======\n>>>>>>> theirs\n`, ["nb.stray-marker", 1]);
});
test("what only looks like a marker is none", () => {
  const text = "<<<<<<<< eight\n<<<<<<<ours\n=======\n>>>>>>>> eight\n>>>>>>>theirs";
  checkCells(`${text}\n`, ["prose", text]);
});

test("N-18 a file that is too large is front matter and one text", () => {
  const text = `---\ntitle: x\n---\n\n${cell}${"x".repeat(5 * 1024 * 1024)}\n`;
  const { value, problems } = parseNotebook(text);
  expect(value.cells.map(({ kind }) => kind)).toEqual(["front", "prose"]);
  expect(problems.map(({ code }) => code)).toEqual(["nb.too-large"]);
  expect(printNotebook(value)).toBe(text);
});
test("N-18 too many cells are reported", () => {
  const text = `${cell}\n`.repeat(5001);
  const { value, problems } = parseNotebook(text);
  expect(problems.map(({ code, facts }) => [code, facts])).toEqual([["nb.too-many-cells", { count: 5001, most: 5000 }]]);
  expect(printNotebook(value)).toBe(text);
});
test("N-20 comments, HTML and scripts in prose are text", () => {
  const text = "<!-- a\n\nb -->\n\n<script>alert(1)</script>\n\n<b onclick=x>y</b>";
  checkCells(`${text}\n\n${cell}`, ["prose", text], ["query", "query=gap\nstock"]);
});
test("a cell after lists a hundred deep is found", () => {
  const text = Array.from({ length: 90 }, (_, i) => `${"  ".repeat(i)}- a`).join("\n");
  checkCells(`${text}\n\n${cell}`, ["prose", text], ["query", "query=gap\nstock"]);
});
test("lists and quotations without end are read", () => {
  const text = `${"> ".repeat(3000)}\n${"- ".repeat(3000)}`;
  expect(printNotebook(parseNotebook(text).value)).toBe(text);
});
