import { expect, test } from "vitest";
import type { CodeAction, TextDocumentEdit } from "vscode-languageserver";
import { problem, type Fix, type Problem } from "../../../core/problem";
import { codeActionsFor } from "../../../server/language/code-actions";
import { createEditWriter } from "../../../server/language/workspace-edits";

const uri = "file:///w/data/a.csv";
const at = (line: number, character: number) => ({ start: { line, character }, end: { line, character } });
const rangeAt = (line: number, from: number, to: number) => ({ start: { line, column: from }, end: { line, column: to } });

function equality(line: number, fix: Partial<Fix> = {}): Problem {
  const range = rangeAt(line, 3, 5);
  return problem("query.loose-equality", { found: "==", use: "===" }, range, { fix: { title: "Use ===", edits: [{ range, text: "===" }], ...fix } });
}

const session = "file:///w/my%20sessions/s.session.yaml";
const writer = createEditWriter({ versions: true, newFiles: true }, new Map([[uri, 7], [session, 3]]));

/** The actions at a place of a document. */
function actionsAt(problems: readonly Problem[], line: number, character: number, only?: readonly string[], document = uri): readonly CodeAction[] {
  return codeActionsFor({ uri: document, around: new Map([[document, problems]]), isCell: false, range: at(line, character), only, writer });
}

/** What an action edits: each document with its version, and its edits. */
function editsOf(action: CodeAction | undefined): readonly (readonly [uri: string, version: number | null, edits: TextDocumentEdit["edits"]])[] {
  const changes = (action?.edit?.documentChanges ?? []) as readonly TextDocumentEdit[];
  return changes.map(({ textDocument, edits }) => [textDocument.uri, textDocument.version, edits]);
}

/** Titles of the actions at a place; a preferred one begins with `*`. */
function titles(problems: readonly Problem[], line: number, character: number, only?: readonly string[]): readonly string[] {
  return actionsAt(problems, line, character, only).map(({ title, isPreferred }) => `${isPreferred === true ? "*" : ""}${title}`);
}

test("the fix of a problem is offered where the problem is, as an edit of the whole stretch", () => {
  const range = rangeAt(2, 3, 8);
  const found = problem("query.empty", {}, range, { fix: { title: "Use carry", edits: [{ range: { start: { line: 2, column: 3 }, end: { line: 4, column: 1 } }, text: "carry" }] } });
  const [action, ...others] = actionsAt([found, problem("query.empty", {}, range)], 1, 4);
  expect(others).toEqual([]);
  expect([action?.title, action?.kind, action?.isPreferred]).toEqual(["Use carry", "quickfix", true]);
  expect(editsOf(action)).toEqual([[uri, 7, [{ range: { start: { line: 1, character: 2 }, end: { line: 3, character: 0 } }, newText: "carry" }]]]);
  expect(actionsAt([found], 1, 2)).toHaveLength(1);
  expect(actionsAt([found], 1, 8)).toHaveLength(0);
  expect(actionsAt([found], 0, 4)).toEqual([]);
});

test("a fix of several problems is offered once, with all of them", () => {
  const shared = { title: "Number names", edits: [{ range: rangeAt(9, 1, 1), text: "x" }] };
  const [action, ...others] = actionsAt([equality(1, shared), equality(1, shared)], 0, 3);
  expect(others).toEqual([]);
  expect(action?.diagnostics).toHaveLength(2);
});

test("where a code is there several times, all of its fixes are offered together", () => {
  expect(titles([equality(1), equality(2), equality(5)], 1, 3)).toEqual(["*Use ===", "Fix all 3 of these (query.loose-equality)"]);
  const all = actionsAt([equality(1), equality(2)], 0, 3, ["quickfix"]).at(-1);
  expect(editsOf(all)[0]?.[2].map((edit) => "range" in edit && edit.range.start.line)).toEqual([0, 1]);
});

test("a fix that a person has to decide is neither preferred nor made with others, which are counted as they are made", () => {
  const decided = equality(1, { byPerson: true });
  expect(titles([decided, equality(2), equality(5)], 0, 3)).toEqual(["Use ===", "Fix all 2 of these (query.loose-equality)"]);
  expect(titles([decided, { ...decided, range: rangeAt(2, 3, 5) }], 0, 3)).toEqual(["Use ==="]);
  const overlapping = equality(2, { title: "Use !==", edits: [{ range: rangeAt(2, 4, 6), text: "!==" }] });
  const all = actionsAt([equality(2), overlapping, equality(5)], 1, 3).at(-1);
  expect([all?.title, all?.diagnostics?.length]).toEqual(["Fix all 2 of these (query.loose-equality)", 2]);
});

test("a client that takes no versions gets the edits without", () => {
  const plain = createEditWriter({ versions: false, newFiles: false }, new Map([[uri, 7]]));
  const [action] = codeActionsFor({ uri, around: new Map([[uri, [equality(1)]]]), isCell: false, range: at(0, 3), only: undefined, writer: plain });
  expect(action?.edit).toEqual({ changes: { [uri]: [{ range: { start: { line: 0, character: 2 }, end: { line: 0, character: 4 } }, newText: "===" }] } });
});

test("all fixes of a document are one source action, without those that a person has to decide", () => {
  const problems = [equality(1), equality(2, { byPerson: true }), equality(1, { title: "Use ==", edits: [{ range: rangeAt(1, 4, 6), text: "!" }] })];
  for (const only of [["source"], ["source.fixAll"], ["source.fixAll.fairstrike"]]) {
    const [action, ...others] = actionsAt(problems, 40, 0, only);
    expect(others).toEqual([]);
    expect(action?.kind).toBe("source.fixAll.fairstrike");
    expect(editsOf(action)[0]?.[2]).toHaveLength(1);
  }
  expect(titles(problems, 0, 3, ["source.organizeImports"])).toEqual([]);
  expect(titles([equality(1, { byPerson: true })], 0, 3, ["source.fixAll"])).toEqual([]);
});

test("a fix in another file edits that file, told from the problem's own place", () => {
  const other = { ...equality(1, { file: "my sessions/s.session.yaml" }), file: "data/a.csv" } as Problem;
  const [action] = actionsAt([other], 0, 3);
  expect(editsOf(action).map(([document, version]) => [document, version])).toEqual([[session, 3]]);
  expect(actionsAt([other], 0, 3, undefined, "file:///elsewhere/b.csv")).toEqual([]);
  expect(titles([other], 0, 3, ["source.fixAll"])).toEqual([]);
});

test("in a notebook fixes of a code are made in all cells, and all fixes in the cell or in the whole, as is asked for", () => {
  const [a, b] = ["cell:a", "cell:b"];
  const around = new Map([[a, [equality(1)]], [b, [equality(2), equality(3, { byPerson: true })]], ["cell:c", []]]);
  const cells = createEditWriter({ versions: true, newFiles: true }, new Map([[a, 2], [b, 5]]));
  const actionsOf = (only?: readonly string[]) => codeActionsFor({ uri: a, around, isCell: true, range: at(0, 3), only, writer: cells });
  const edited = (action: CodeAction | undefined) => editsOf(action).map(([document, version]) => [document, version]);
  const all = actionsOf().at(-1);
  expect([all?.title, all?.diagnostics?.length, edited(all)]).toEqual(["Fix all 2 of these (query.loose-equality)", 1, [[a, 2], [b, 5]]]);
  expect(actionsOf(["source.fixAll"]).map((each) => [each.kind, edited(each)])).toEqual([["source.fixAll.fairstrike", [[a, 2]]]]);
  expect(actionsOf(["notebook.source.fixAll"]).map((each) => [each.kind, edited(each)])).toEqual([["notebook.source.fixAll.fairstrike", [[a, 2], [b, 5]]]]);
  expect(actionsAt([equality(1)], 0, 3, ["notebook"])).toEqual([]);
  const alone = codeActionsFor({ uri: a, around: new Map([[a, [equality(1)]]]), isCell: true, range: at(0, 3), only: ["notebook.source.fixAll"], writer: cells });
  expect(alone.map(edited)).toEqual([[[a, 2]]]);
});
