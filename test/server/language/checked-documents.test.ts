import { expect, test } from "vitest";
import { LSPErrorCodes } from "vscode-languageserver";
import { notebookType } from "../../../core/notebook/cell-languages";
import { createCheckedDocuments, isOutdated, type CheckedDocument, type CheckedDocuments } from "../../../server/language/checked-documents";
import { createDiagnoser } from "../../../server/language/diagnoser";
import { createDocumentStore, type DocumentStore } from "../../../server/language/document-store";
import { profileHere } from "../../../server/language/profile-session";
import { memoryFiles } from "../../support/memory-files";
import { notebookText, smallFiles, smallSession } from "../../support/small-session";

const root = "file:///folder";
const session = `${root}/s/one.session.yaml`;
const text = `${root}/m.shots.md`;

interface Setting {
  readonly store: DocumentStore;
  readonly checked: CheckedDocuments;
  /** Sessions that were profiled, in order. */
  readonly profiled: string[];
  /** Lets the profiles that wait for it be made. */
  readonly release: () => void;
  readonly write: (uri: string, version: number, text: string) => void;
}

/** Documents of a store, over the small session and `s/two.session.yaml`; profiles wait to be released where `isHeld`. */
function setting(isHeld = false): Setting {
  const store = createDocumentStore();
  const port = memoryFiles({ ...smallFiles, "s/two.session.yaml": smallSession("two") });
  const profiled: string[] = [];
  let release: () => void = () => undefined;
  const held = isHeld ? new Promise<void>((resolve) => (release = resolve)) : Promise.resolve();
  const diagnoser = createDiagnoser(
    {
      place: (document) => Promise.resolve({ root, path: document.slice(root.length + 1) }),
      read: (_, path) => port.read(path),
      list: (_, folder) => port.list(folder),
      isCurrent: (_, path, digest) => port.isCurrent(path, digest),
      openText: (uri) => store.text(uri)?.getText() ?? null,
    },
    async (path, files) => {
      profiled.push(path);
      await held;
      return profileHere(path, files);
    },
  );
  return {
    store,
    profiled,
    checked: createCheckedDocuments(store, diagnoser),
    release: () => release(),
    write: (uri, version, content) => {
      if (version === 1) store.openText({ uri, languageId: "markdown", version, text: content });
      else store.changeText({ textDocument: { uri, version }, contentChanges: [{ text: content }] });
    },
  };
}

const notebookOf = (name: string, file = "one"): string => notebookText(`shots: s/${file}.session.yaml`, `query=${name}\nshots.filter(d => d.carry > 1)`);

async function nameIn(answer: Promise<CheckedDocument | null>): Promise<string | number> {
  try {
    return (await answer)!.placed.view.notebook.cells[0]!.name;
  } catch (error) {
    return isOutdated(error) ? LSPErrorCodes.ContentModified : String(error);
  }
}

test("L-03 an answer is that of the version asked for, or says that the document has changed, and never of another version", async () => {
  const { checked, write, release } = setting(true);
  const asked: Promise<string | number>[] = [];
  for (const [version, name] of [[1, "first"], [2, "second"], [3, "third"]] as const) {
    write(text, version, notebookOf(name));
    asked.push(nameIn(checked.notebookText(text)), nameIn(checked.notebookText(text)));
    // The first is being made by now.
    await new Promise(setImmediate);
  }
  release();
  expect(await Promise.all(asked)).toEqual(["first", "first", -32801, -32801, "third", "third"]);
});

test("a notebook is asked for again when its cells are others, whatever its version", async () => {
  const { store, checked } = setting();
  const open = (name: string) =>
    store.openNotebook({
      notebookDocument: { uri: text, notebookType, version: 1, cells: [{ kind: 2, document: "cell:a" }] },
      cellTextDocuments: [{ uri: "cell:a", languageId: "fairstrike-query", version: 1, text: `query=${name}\nshots` }],
    });
  open("a");
  expect(await nameIn(checked.notebook(text))).toBe("a");
  open("b");
  expect(await nameIn(checked.notebook(text))).toBe("b");
});

test("what is known of a notebook that is open both ways is kept when one of them is closed, and forgotten with the other", async () => {
  const { store, checked, write, profiled } = setting();
  write(text, 1, notebookOf("a"));
  store.openNotebook({
    notebookDocument: { uri: text, notebookType, version: 1, cells: [{ kind: 2, document: "cell:a" }] },
    cellTextDocuments: [{ uri: "cell:a", languageId: "fairstrike-front", version: 1, text: "shots: s/one.session.yaml" }],
  });
  const before = await checked.notebook(text);
  store.closeText(text);
  checked.forget(text);
  expect(checked.isKnown(text)).toBe(true);
  expect(await checked.notebook(text)).toBe(before);
  store.closeNotebook(text);
  checked.forget(text);
  expect(checked.isKnown(text)).toBe(false);
  expect(profiled).toHaveLength(1);
});

test("a session is known with the text at the time of asking, while its exports are still being read", async () => {
  const { checked, write, release } = setting(true);
  write(session, 1, smallSession("one"));
  const problems = checked.sessionProblems(session);
  const first = checked.session(session);
  write(session, 2, smallSession("second"));
  expect([(await first).view.session!.name, (await checked.session(session)).view.session!.name]).toEqual(["one", "second"]);
  release();
  await expect(problems).rejects.toMatchObject({ code: LSPErrorCodes.ContentModified });
  expect((await checked.sessionProblems(session)).size).toBe(0);
  expect((await checked.session(session)).view.exports.map((each) => each.rowCount)).toEqual([12]);
});

test("requests about a notebook wait for no export: the texts of its sessions tell what is known until those were read", async () => {
  const { checked, write, release } = setting(true);
  const carry = async () => {
    const { columns } = (await checked.notebookTextNow(text))!.view.sources.shots!.schema!;
    return columns.filter(({ name }) => name === "carry").map(({ unit, range }) => `${unit} ${range?.low}`);
  };
  write(text, 1, notebookOf("a"));
  const whole = checked.notebookText(text);
  expect(await carry()).toEqual(["yd undefined"]);
  release();
  const { placed } = (await whole)!;
  expect(await checked.notebookTextNow(text)).toBe(placed);
  expect(await carry()).toEqual(["yd 149"]);
  write(text, 2, notebookOf("b"));
  expect(await carry()).toEqual(["yd 149"]);
  write(session, 1, smallSession("one").replace("  carry: { from: Carry, unit: yd }\n", "").replace("ball_speed: { from: Ball speed, unit: mph }", "total: { from: Carry, unit: yd }"));
  checked.sessionChanged(session);
  expect((await checked.notebookTextNow(text))!.view.sources.shots!.schema!.columns.map(({ name }) => name)).toContain("total");
});

test("when a session's text changes, only notebooks that name it are checked again", async () => {
  const { checked, write, profiled } = setting();
  const other = `${root}/other.shots.md`;
  write(text, 1, notebookOf("a"));
  write(other, 1, notebookOf("b", "two"));
  expect([checked.isKnown(text), checked.isKnown(other)]).toEqual([false, false]);
  const before = [await checked.notebookText(text), await checked.notebookText(other)];
  write(session, 1, smallSession("one").replace("kind: iron", "kind: spoon"));
  checked.sessionChanged(session);
  expect([checked.isKnown(text), checked.isKnown(other)]).toEqual([false, true]);
  const after = [await checked.notebookText(text), await checked.notebookText(other)];
  expect([after[0] === before[0], after[1] === before[1]]).toEqual([false, true]);
  expect([...after[0]!.problems.keys()]).toEqual([session, text]);
  expect(profiled).toEqual(["s/one.session.yaml", "s/two.session.yaml", "s/one.session.yaml"]);
  checked.filesChanged();
  expect(checked.isKnown(other)).toBe(false);
});
