import * as fc from "fast-check";
import { expect, test } from "vitest";
import type { Cell, NotebookDocument } from "../../../core/notebook/document";
import { locateCells, toCell, toFile } from "../../../core/notebook/locate";
import { parseNotebook } from "../../../core/notebook/parse-notebook";
import { printNotebook } from "../../../core/notebook/print-notebook";
import { lineTable, type TextRange } from "../../../core/text-position";
import { notebookPieces } from "./pieces";

/** Finds `word` in the text of cell `index` and in the file, and checks that each place is the other's. */
function checkPlace(file: string, word: string, index: number, document: NotebookDocument = parseNotebook(file).value): void {
  const inCell = rangeOf(document.cells[index]!.text, word);
  const inFile = rangeOf(file.replace(/^\ufeff/, ""), word);
  const location = locateCells(file, document)[index]!;
  expect(toFile(location, inCell)).toEqual(inFile);
  expect(toCell(location, inFile)).toEqual(inCell);
}

function rangeOf(text: string, word: string): TextRange {
  const at = text.indexOf(word);
  expect(at).toBeGreaterThanOrEqual(0);
  return lineTable(text).rangeAt(at, at + word.length);
}

const file = "---\ntitle: Title\n---\n\ntext\nProse\n\n```js query=gap\nstock\n  .Query()\n```\n\n  ~~~~json chart=a table=gap\n  {\n    Chart\n  }\n  ~~~~\n";

test("each kind of cell is found in the file", () => {
  checkPlace(file, "Title", 0);
  checkPlace(file, "Prose", 1);
  checkPlace(file, "gap", 2);
  checkPlace(file, "Query", 2);
  checkPlace(file, "chart=a", 3);
  checkPlace(file, "Chart", 3);
});
test("line ends of every kind count as one", () => {
  for (const end of ["\r\n", "\r"]) {
    checkPlace(file.replaceAll("\n", end), "Query", 2);
    checkPlace(file.replaceAll("\n", end), "Chart", 3);
  }
  checkPlace("a\r\nb\n\r\n```js query=gap\rQuery\n```\n", "Query", 1);
});
test("a byte order mark is not counted", () => {
  checkPlace(`\ufeff${file}`, "Query", 2);
  checkPlace("\ufeff```js query=gap\nstock\n```\n", "gap", 0);
});
test("lines that stand less far in than their fence", () => {
  checkPlace("   ```js query=gap\n Query\n\tstock\n   ```\n", "Query", 0);
  checkPlace("   ```js query=gap\n Query\n\tstock\n   ```\n", "stock", 0);
});
test("spaces within the opening line", () => checkPlace("```ts \t query=gap  \n```\n", "gap", 0));
test("a freshly printed document is found in its text", () => {
  const cells: readonly Cell[] = [
    { kind: "query", text: "Query", form: {} },
    { kind: "prose", text: " ", form: {} },
    { kind: "front", text: "a: Title\n---\nb: More", form: {} },
    { kind: "prose", text: "Prose\n```", form: {} },
    { kind: "query", text: "  query=gap\n```\nSecond", form: {} },
    { kind: "front", text: "c: Yaml", form: {} },
  ];
  const document: NotebookDocument = { cells, lineEnd: "\n", mark: false };
  const text = printNotebook(document);
  checkPlace(text, "Query", 0, document);
  checkPlace(text, "Title", 2, document);
  checkPlace(text, "More", 2, document);
  checkPlace(text, "Prose", 3, document);
  checkPlace(text, "gap", 4, document);
  checkPlace(text, "Second", 4, document);
  checkPlace(text, "Yaml", 5, document);
  expect(locateCells(text, document)[2]!.shifts).toEqual([0, 1, 0]);
});
test("a blank text, which is not in the file, is placed where it would be", () => {
  const cells: readonly Cell[] = [{ kind: "prose", text: "a", form: {} }, { kind: "prose", text: "\n", form: {} }, { kind: "prose", text: "b", form: {} }];
  const document: NotebookDocument = { cells: [...cells, { kind: "prose", text: "", form: {} }], lineEnd: "\n", mark: false };
  expect(locateCells("a\n\nb\n", document).map(({ firstLine }) => firstLine)).toEqual([1, 3, 3, 3]);
});
test("a range of the file outside a cell is no range of it", () => {
  const [, , query] = locateCells(file, parseNotebook(file).value);
  expect(toCell(query!, rangeOf(file, "Prose"))).toBeNull();
  expect(toCell(query!, rangeOf(file, ".Query()\n```"))).toBeNull();
  expect(toCell(query!, rangeOf(file, "Chart"))).toBeNull();
});
test("a column before the cell's own text is its first", () => {
  const [query] = locateCells("```js query=gap\n```\n", parseNotebook("```js query=gap\n```\n").value);
  expect(toCell(query!, { start: { line: 1, column: 1 }, end: { line: 1, column: 12 } })).toEqual({ start: { line: 1, column: 1 }, end: { line: 1, column: 6 } });
});
test("a text that is not the document's is a caller's mistake", () => {
  expect(() => locateCells("a\n", parseNotebook("b\n").value)).toThrow(RangeError);
});
test("every line of every cell stands in the file where it is said to", () => {
  fc.assert(
    fc.property(notebookPieces, (text) => {
      const { value } = parseNotebook(text);
      const lines = text.replace(/^\ufeff/, "").split(/\r\n|\n|\r/);
      for (const [i, { firstLine, shifts }] of locateCells(text, value).entries()) {
        const own = value.cells[i]!.text.split("\n");
        expect(shifts).toHaveLength(own.length);
        if (value.cells[i]!.text === "") continue;
        for (const [k, line] of own.entries()) expect(lines[firstLine - 1 + k]!.slice(shifts[k]).startsWith(line)).toBe(true);
      }
    }),
    { seed: 7, numRuns: 2000 },
  );
});
