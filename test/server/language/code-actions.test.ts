import { expect, test } from "vitest";
import { problem, type Fix, type Problem } from "../../../core/problem";
import { codeActionsFor } from "../../../server/language/code-actions";

const uri = "file:///w/data/a.csv";
const at = (line: number, character: number) => ({ start: { line, character }, end: { line, character } });
const rangeAt = (line: number, from: number, to: number) => ({ start: { line, column: from }, end: { line, column: to } });

function equality(line: number, fix: Partial<Fix> = {}): Problem {
  const range = rangeAt(line, 3, 5);
  return problem("query.loose-equality", { found: "==", use: "===" }, range, { fix: { title: "Use ===", edits: [{ range, text: "===" }], ...fix } });
}

/** Titles of the actions at a place; a preferred one begins with `*`. */
function titles(problems: readonly Problem[], line: number, character: number, only?: readonly string[]): readonly string[] {
  return codeActionsFor(uri, problems, at(line, character), only).map(({ title, isPreferred }) => `${isPreferred === true ? "*" : ""}${title}`);
}

test("the fix of a problem is offered where the problem is, as an edit of the whole stretch", () => {
  const range = rangeAt(2, 3, 8);
  const found = problem("query.empty", {}, range, { fix: { title: "Use carry", edits: [{ range: { start: { line: 2, column: 3 }, end: { line: 4, column: 1 } }, text: "carry" }] } });
  const [action, ...others] = codeActionsFor(uri, [found, problem("query.empty", {}, range)], at(1, 4), undefined);
  expect(others).toEqual([]);
  expect([action?.title, action?.kind, action?.isPreferred]).toEqual(["Use carry", "quickfix", true]);
  expect(action?.edit?.changes).toEqual({ [uri]: [{ range: { start: { line: 1, character: 2 }, end: { line: 3, character: 0 } }, newText: "carry" }] });
  expect(codeActionsFor(uri, [found], at(1, 2), undefined)).toHaveLength(1);
  expect(codeActionsFor(uri, [found], at(1, 8), undefined)).toHaveLength(0);
  expect(codeActionsFor(uri, [found], at(0, 4), undefined)).toEqual([]);
});

test("a fix of several problems is offered once, with all of them", () => {
  const shared = { title: "Number names", edits: [{ range: rangeAt(9, 1, 1), text: "x" }] };
  const [action, ...others] = codeActionsFor(uri, [equality(1, shared), equality(1, shared)], at(0, 3), undefined);
  expect(others).toEqual([]);
  expect(action?.diagnostics).toHaveLength(2);
});

test("where a code is there several times, all of its fixes are offered together", () => {
  expect(titles([equality(1), equality(2), equality(5)], 1, 3)).toEqual(["*Use ===", "Fix all 3 of these (query.loose-equality)"]);
  const all = codeActionsFor(uri, [equality(1), equality(2)], at(0, 3), ["quickfix"]).at(-1);
  expect(all?.edit?.changes?.[uri]?.map(({ range }) => range.start.line)).toEqual([0, 1]);
});

test("all fixes of a document are one source action, without those that a person has to decide", () => {
  const problems = [equality(1), equality(2, { byPerson: true }), equality(1, { title: "Use ==", edits: [{ range: rangeAt(1, 4, 6), text: "!" }] })];
  for (const only of [["source"], ["source.fixAll"], ["source.fixAll.fairstrike"]]) {
    const [action, ...others] = codeActionsFor(uri, problems, at(40, 0), only);
    expect(others).toEqual([]);
    expect(action?.kind).toBe("source.fixAll.fairstrike");
    expect(action?.edit?.changes?.[uri]).toHaveLength(1);
  }
  expect(titles(problems, 0, 3, ["source.organizeImports"])).toEqual([]);
  expect(titles([equality(1, { byPerson: true })], 0, 3, ["source.fixAll"])).toEqual([]);
});

test("a fix in another file edits that file, told from the problem's own place", () => {
  const other = { ...equality(1, { file: "my sessions/s.session.yaml" }), file: "data/a.csv" } as Problem;
  const [action] = codeActionsFor(uri, [other], at(0, 3), undefined);
  expect(Object.keys(action?.edit?.changes ?? {})).toEqual(["file:///w/my%20sessions/s.session.yaml"]);
  expect(codeActionsFor("file:///elsewhere/b.csv", [other], at(0, 3), undefined)).toEqual([]);
  expect(titles([other], 0, 3, ["source.fixAll"])).toEqual([]);
});
