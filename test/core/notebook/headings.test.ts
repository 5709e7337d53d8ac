import { expect, test } from "vitest";
import { findHeadings } from "../../../core/notebook/headings";

function checkHeadings(prose: string, ...expected: readonly string[]): void {
  expect(findHeadings(prose).map(({ text, level, from, to }) => `${level} ${text}: ${prose.slice(from, to)}`)).toEqual(expected);
}

test("headings with number signs and with lines below", () => checkHeadings("# One *b*\n\ntext\n\n## Two ##\n\nThree\n-----\n", "1 One *b*: # One *b*", "2 Two: ## Two ##", "2 Three: Three\n-----"));
test("a heading of several lines", () => checkHeadings("a\nb\n===", "1 a\nb: a\nb\n==="));
test("what is in code, lists and quotations is none", () => checkHeadings("```\n# a\n```\n> # b\n\n- # c\n\n    # d"));
test("a heading without words is none", () => checkHeadings("#\n\n## ##"));
test("line ends of other systems", () => checkHeadings("# a\r\n\r\nb\r\n---\r\n", "1 a: # a", "2 b: b\r\n---"));
test("no prose has no headings", () => checkHeadings(""));
