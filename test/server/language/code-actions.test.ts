import { expect, test } from "vitest";
import { problem } from "../../../core/problem";
import { codeActionsFor } from "../../../server/language/code-actions";

const range = { start: { line: 2, column: 3 }, end: { line: 2, column: 8 } };
const fix = { title: "Use carry", edits: [{ range: { start: { line: 2, column: 3 }, end: { line: 4, column: 1 } }, text: "carry" }] };
const found = problem("query.empty", {}, range, { fix });

test("the fix of a problem is offered where the problem is, as an edit of the whole stretch", () => {
  const at = (line: number, character: number) => ({ start: { line, character }, end: { line, character } });
  const [action, ...others] = codeActionsFor("file:///a", [found, problem("query.empty", {}, range)], at(1, 4));
  expect(others).toEqual([]);
  expect(action?.title).toBe("Use carry");
  expect(action?.edit?.changes).toEqual({ "file:///a": [{ range: { start: { line: 1, character: 2 }, end: { line: 3, character: 0 } }, newText: "carry" }] });
  expect(codeActionsFor("file:///a", [found], at(1, 2))).toHaveLength(1);
  expect(codeActionsFor("file:///a", [found], at(1, 8))).toHaveLength(0);
  expect(codeActionsFor("file:///a", [found], at(0, 4))).toEqual([]);
});
