import { expect, test } from "vitest";
import { parseNotebook } from "../../../core/notebook/parse-notebook";
import { printNotebook } from "../../../core/notebook/print-notebook";

const fence = "```";

/** Codes with their lines; the text comes back as it was, whatever was said. */
function checkSaid(text: string, expected: readonly string[]): void {
  const { value, problems } = parseNotebook(text);
  expect(problems.map((found) => `${found.code} ${found.range.start.line}`)).toEqual(expected);
  expect(printNotebook(value)).toBe(text);
}

test("N-07 a cell in a list or a quotation is said to be read as text", () => {
  checkSaid(`- one\n\n  ${fence}js query=a\n  shots\n  ${fence}\n`, ["nb.not-a-cell 3"]);
  checkSaid(`> ${fence}js query=a\n> shots\n> ${fence}\n`, ["nb.not-a-cell 1"]);
});
test("N-10 a cell with other words or in upper case is said to be read as text", () => {
  checkSaid(`${fence}js extra query=a\nshots\n${fence}\n`, ["nb.not-a-cell 1"]);
  checkSaid(`${fence}js QUERY=a\nshots\n${fence}\n`, ["nb.not-a-cell 1"]);
});
test("fences that name no query and no chart are nobody's business", () => {
  checkSaid(`${fence}js\nconst query = 1\n${fence}\n\n${fence}sql\nselect chart\n${fence}\n`, []);
  checkSaid(`${fence}js query=a\nshots\n${fence}\n`, []);
});
test("front matter below blank lines is said to be read as text", () => {
  checkSaid("\n\n---\nfairstrike: 1\n---\n", ["nb.front-not-first 3"]);
  checkSaid("\n---\n\nA line between two rules.\n\n---\n", []);
});
