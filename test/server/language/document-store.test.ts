import { expect, test } from "vitest";
import { createDocumentStore, type DocumentStore } from "../../../server/language/document-store";

const uri = "file:///n.shots.md";
const cell = (name: string): string => `vscode-notebook-cell:///n.shots.md#${name}`;
const item = (name: string, text = name, version = 1) => ({ uri: cell(name), languageId: "fairstrike-query", version, text });
const kindAnd = (name: string) => ({ kind: 2 as const, document: cell(name) });

function opened(...names: readonly string[]): DocumentStore {
  const store = createDocumentStore();
  store.openNotebook({
    notebookDocument: { uri, notebookType: "fairstrike-notebook", version: 1, cells: names.map(kindAnd) },
    cellTextDocuments: names.map((name) => item(name)),
  });
  return store;
}

const textsOf = (store: DocumentStore): readonly string[] => (store.notebook(uri)?.cells ?? []).map((each) => each.getText());

function structure(store: DocumentStore, version: number, start: number, deleteCount: number, cells: readonly string[], didOpen: readonly string[] = [], didClose: readonly string[] = []) {
  return store.changeNotebook({
    notebookDocument: { uri, version },
    change: {
      cells: {
        structure: {
          array: { start, deleteCount, cells: cells.map(kindAnd) },
          didOpen: didOpen.map((name) => item(name)),
          didClose: didClose.map((name) => ({ uri: cell(name) })),
        },
      },
    },
  });
}

const place = (line: number, character: number) => ({ line, character });

function edit(store: DocumentStore, name: string, version: number, start: ReturnType<typeof place>, end: ReturnType<typeof place>, text: string) {
  return store.changeNotebook({
    notebookDocument: { uri, version },
    change: { cells: { textContent: [{ document: { uri: cell(name), version }, changes: [{ range: { start, end }, text }] }] } },
  });
}

test("L-02 cells are added, removed, and moved as the editor says it", () => {
  const store = opened("a", "b", "c");
  expect(structure(store, 2, 1, 0, ["d"], ["d"])).toEqual({ uri, kind: "notebook", cells: [cell("d")] });
  expect(textsOf(store)).toEqual(["a", "d", "b", "c"]);
  structure(store, 3, 0, 2, ["d", "a"]);
  expect(textsOf(store)).toEqual(["d", "a", "b", "c"]);
  structure(store, 4, 3, 1, [], [], ["c"]);
  expect([textsOf(store), store.notebookOf(cell("c")), store.notebookOf(cell("b"))?.index]).toEqual([["d", "a", "b"], null, 2]);
  store.closeNotebook(uri);
  expect([store.notebook(uri), store.notebookOf(cell("a")), store.closeNotebook(uri)]).toEqual([null, null, null]);
});

test("L-03 what does not fit changes nothing and says so", () => {
  const store = opened("one\ntwo", "b");
  const outOfStep = { outOfStep: uri, kind: "notebook" };
  for (const [start, end] of [
    [place(0, 0), place(9, 0)],
    [place(-1, 0), place(0, 0)],
    [place(0, 2), place(0, 7)],
    [place(1, 0), place(0, 0)],
    [place(0, 0.5), place(0, 1)],
  ] as const)
    expect(edit(store, "one\ntwo", 2, start, end, "x")).toEqual(outOfStep);
  expect(edit(store, "nobody", 2, place(0, 0), place(0, 0), "x")).toEqual(outOfStep);
  expect(structure(store, 2, 2, 1, [])).toEqual(outOfStep);
  expect(structure(store, 2, 0, 0, ["b"])).toEqual(outOfStep);
  expect(structure(store, 2, 0, 0, ["new"])).toEqual(outOfStep);
  expect(createDocumentStore().changeText({ textDocument: { uri, version: 2 }, contentChanges: [{ text: "x" }] })).toEqual({ outOfStep: uri, kind: "text" });
  expect(textsOf(store)).toEqual(["one\ntwo", "b"]);
});

test("L-03 a message that is older than what is known changes nothing", () => {
  const store = opened("a");
  edit(store, "a", 5, place(0, 0), place(0, 1), "five");
  expect(edit(store, "a", 4, place(0, 0), place(0, 4), "four")).toBeNull();
  expect(textsOf(store)).toEqual(["five"]);
});

test("L-03 half a pair of surrogates and half a line end are places like others", () => {
  const store = opened("\u{1f3af}\r\nb");
  edit(store, "\u{1f3af}\r\nb", 2, place(0, 1), place(0, 2), "");
  expect(textsOf(store)).toEqual(["\ud83c\r\nb"]);
});

test("a text changes by ranges and as a whole, and is gone once closed", () => {
  const store = createDocumentStore();
  store.openText({ uri, languageId: "markdown", version: 1, text: "abc" });
  store.changeText({ textDocument: { uri, version: 2 }, contentChanges: [{ range: { start: place(0, 1), end: place(0, 2) }, text: "B" }, { range: { start: place(0, 3), end: place(0, 3) }, text: "!" }] });
  expect(store.text(uri)?.getText()).toBe("aBc!");
  store.changeText({ textDocument: { uri, version: 3 }, contentChanges: [{ text: "whole" }] });
  expect(store.text(uri)?.getText()).toBe("whole");
  expect([store.closeText(uri)?.uri, store.text(uri)]).toEqual([uri, null]);
});
