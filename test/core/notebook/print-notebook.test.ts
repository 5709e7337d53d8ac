import * as fc from "fast-check";
import { expect, test } from "vitest";
import type { Cell, CellKind, NotebookDocument } from "../../../core/notebook/document";
import { layOut } from "../../../core/notebook/layout";
import { parseNotebook } from "../../../core/notebook/parse-notebook";
import { printNotebook } from "../../../core/notebook/print-notebook";
import { notebookPieces } from "./pieces";

function documentOf(...cells: readonly (readonly [CellKind, string])[]): NotebookDocument {
  return { cells: cells.map(([kind, text]): Cell => ({ kind, text, form: {} })), lineEnd: "\n", mark: false };
}

/** Prints cells, and checks that parsing gives the same cells again apart from what is expected of the text. */
function checkPrinted(cells: readonly (readonly [CellKind, string])[], expected: string, again = cells): void {
  const text = printNotebook(documentOf(...cells));
  expect(text).toBe(expected);
  const { value } = parseNotebook(text);
  expect(value.cells.map((cell) => [cell.kind, cell.text])).toEqual(again);
  expect(printNotebook(value)).toBe(text);
}

const query = ["query", "query=a\nx"] as const;
const fence = "```js query=a\nx\n```\n";

test("cells that were never in a file are canonical", () =>
  checkPrinted(
    [["front", "title: x"], ["prose", "# Heading"], query, ["chart", "chart=b table=a\n{}"]],
    `---\ntitle: x\n---\n\n# Heading\n\n${fence}\n\`\`\`json chart=b table=a\n{}\n\`\`\`\n`,
  ));
test("N-06 the fence grows for the cell that needs it, and for no other", () => {
  checkPrinted([["query", "query=a\n```"], ["query", "query=b\n ```` "], query], "````js query=a\n```\n````\n\n`````js query=b\n ```` \n`````\n\n" + fence);
  checkPrinted([["query", "query=a\n```js\n~~~"]], "```js query=a\n```js\n~~~\n```\n");
});
test("a header with a backtick gets tildes", () => {
  checkPrinted([["chart", "chart=a description=\"`x`\"\n~~~"]], "~~~~json chart=a description=\"`x`\"\n~~~\n~~~~\n");
});
test("spaces around a header are left out", () => checkPrinted([["query", "  query=a\t\nx"]], fence, [query]));
test("a cell without a header gets a name", () =>
  checkPrinted(
    [["query", "stock"], ["query", "query=cell_1\nx"], ["chart", ""], ["query", ""]],
    "```js query=cell_2\nstock\n```\n\n```js query=cell_1\nx\n```\n\n```json chart=chart_1\n```\n\n```js query=cell_3\n```\n",
    [["query", "query=cell_2\nstock"], ["query", "query=cell_1\nx"], ["chart", "chart=chart_1"], ["query", "query=cell_3"]],
  ));
test.each([
  ["```\ncode", "```"],
  ["~~~~ text\n~~~", "~~~~"],
  ["  ```\ncode", "```"],
  ["<!-- note", "-->"],
  ["<script>\n\nx", "</script>"],
  ["<STYLE", "</STYLE>"],
  ["<?php\n\n", "?>"],
  ["<!DOCTYPE", ">"],
  ["<![CDATA[\n\n", "]]>"],
])("%j is closed before the next cell", (text, closing) => {
  const prose = `${text}\n${closing}`;
  checkPrinted([["prose", text], query], `${prose}\n\n${fence}`, [["prose", prose], query]);
  checkPrinted([["prose", `a\n\n${text}`], ["conflict", "<<<<<<< a\n=======\n>>>>>>> b"]], `a\n\n${prose}\n\n<<<<<<< a\n=======\n>>>>>>> b\n`, [
    ["prose", `a\n\n${prose}`],
    ["conflict", "<<<<<<< a\n=======\n>>>>>>> b"],
  ]);
});
test("an unclosed text at the end of the file stays open", () => checkPrinted([query, ["prose", "```\ncode"]], `${fence}\n\`\`\`\ncode\n`));
test("what a list leaves open ends with the list", () => checkPrinted([["prose", "- ```\n  code"], query], `- \`\`\`\n  code\n\n${fence}`));
test("an HTML block that a blank line ends gets one", () => {
  const { value } = parseNotebook(`text\n${fence}`);
  const cells = [{ ...value.cells[0]!, text: "<div>" }, value.cells[1]!];
  expect(printNotebook({ ...value, cells })).toBe(`<div>\n\n${fence}`);
});
test("an indented cell that comes after a list loses its indent, or it would be in the list", () => {
  const { value } = parseNotebook("text\n\n  ```js query=a\n  x\n  ```\n");
  const cells = [{ ...value.cells[0]!, text: "- text" }, value.cells[1]!];
  expect(printNotebook({ ...value, cells })).toBe(`- text\n\n${fence}`);
});
test("two texts in a row stay two paragraphs, and are one cell when read", () =>
  checkPrinted([["prose", "a"], ["prose", "b"], query], `a\n\nb\n\n${fence}`, [["prose", "a\n\nb"], query]));
test("two texts that stood on either side of a cell do not run together", () => {
  const { value } = parseNotebook(`a\n${fence}b\n`);
  expect(printNotebook({ ...value, cells: [value.cells[0]!, value.cells[2]!] })).toBe("a\n\nb\n");
});
test("a blank text is left out", () => checkPrinted([["prose", " \n"], query, ["prose", ""]], fence, [query]));
test("an unclosed cell that is no longer last is closed", () => {
  const { value } = parseNotebook("```js query=a\nx");
  expect(printNotebook({ ...value, cells: [...value.cells, { kind: "prose", text: "b", form: {} }] })).toBe(`${fence}\nb\n`);
});
test("an unclosed cell with odd lines that is no longer last is closed", () => {
  const { value } = parseNotebook("  ```js query=a\nx");
  expect(printNotebook({ ...value, cells: [...value.cells, { kind: "prose", text: "b", form: {} }] })).toBe("  ```js query=a\n  x\n  ```\n\nb\n");
});
test("front matter is printed first and its --- lines are moved in", () =>
  checkPrinted([query, ["front", "a: 1\n---"]], `---\na: 1\n ---\n---\n\n${fence}`, [["front", "a: 1\n ---"], query]));
test("a text that begins with a rule does not become front matter", () => {
  checkPrinted([["prose", "---\n\na\n\n---"], query], `\n---\n\na\n\n---\n\n${fence}`);
  checkPrinted([["prose", "---\n\na"], ["query", "query=b\n---"]], "\n---\n\na\n\n```js query=b\n---\n```\n");
  checkPrinted([["prose", "---\n\na"], query], `---\n\na\n\n${fence}`);
});
test("a conflict that was resolved is read as what it is", () => {
  checkPrinted([["conflict", fence.trim()]], fence, [query]);
  checkPrinted([["conflict", "---\ntitle: x\n---"]], "---\ntitle: x\n---\n", [["front", "title: x"]]);
});
test("lines of the file's kind", () => {
  const document = documentOf(["front", "a: 1\nb: 2"], ["prose", "a\nb"], query);
  expect(printNotebook({ ...document, lineEnd: "\r\n", mark: true })).toBe(
    `\ufeff${`---\na: 1\nb: 2\n---\n\na\nb\n\n${fence}`.replaceAll("\n", "\r\n")}`,
  );
});
test("an edited cell keeps its fence, indent, word and spaces", () => {
  const { value } = parseNotebook("  ~~~~ts  query=a \n  x\n  ~~~~~\n");
  const cells = [{ ...value.cells[0]!, text: "query=a\ny\n\nz" }];
  expect(printNotebook({ ...value, cells })).toBe("  ~~~~ts  query=a \n  y\n\n  z\n  ~~~~~\n");
});

test("N-15 an edited cell changes its own lines and no others", () => {
  fc.assert(
    fc.property(notebookPieces, fc.nat(), (text, k) => {
      const { value } = parseNotebook(text);
      const index = value.cells.length === 0 ? 0 : k % value.cells.length;
      const cell = value.cells[index];
      fc.pre(cell !== undefined && cell.text !== "" && cell.kind !== "conflict");
      const { pieces } = layOut(value);
      const until = pieces.slice(0, index).map((piece) => piece.before + piece.text).join("") + pieces[index]!.before;
      const after = text.slice((value.mark ? 1 : 0) + until.length + pieces[index]!.text.length);
      const cells = value.cells.map((each, i) => (i === index ? { ...each, text: `${each.text}\nedited` } : each));
      const edited = printNotebook({ ...value, cells });
      expect(edited.startsWith((value.mark ? "\ufeff" : "") + until)).toBe(true);
      expect(edited.endsWith(after)).toBe(true);
      expect(edited).toContain("edited");
    }),
    { seed: 7, numRuns: 3000 },
  );
});
test("a document of any cells comes back with the same code", () => {
  const text = fc.stringMatching(/^(?:[a-z`~<>\-= \n]|```|<!--|---){0,30}$/);
  const cell = fc.record({ kind: fc.constantFrom<CellKind>("query", "chart", "prose"), text, form: fc.constant({}) });
  fc.assert(
    fc.property(fc.array(cell, { maxLength: 6 }), (cells) => {
      const marked = cells.map((each, i) => (each.kind === "prose" ? each : { ...each, text: `${each.kind}=n${i}\n${each.text}` }));
      const printed = printNotebook({ cells: marked, lineEnd: "\n", mark: false });
      const code = (all: readonly Cell[]): unknown => all.filter((each) => each.kind !== "prose" && each.kind !== "front").map((each) => [each.kind, each.text]);
      expect(code(parseNotebook(printed).value.cells)).toEqual(code(marked));
    }),
    { seed: 7, numRuns: 3000 },
  );
});
