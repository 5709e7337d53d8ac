import { expect, test } from "vitest";
import { defaultLimits } from "../../../core/limits";
import { createSessionLoader } from "../../../core/session-loader";
import { largestCopied } from "../../../core/table/corrected-copy";
import { copyActionsFor, type CopyFiles } from "../../../server/language/copy-actions";
import { createEditWriter, type EditAbilities } from "../../../server/language/workspace-edits";
import { memoryFiles } from "../../support/memory-files";

const root = "file:///w";
const session = "session: a\nsources: data/a.csv # bay 3\n";
const asked = { start: { line: 0, character: 2 }, end: { line: 0, character: 2 } };

/** The actions for the export `csv`, of which `now` is what is there when they are asked for. */
async function actionsIn(csv: string, names: readonly string[] | null, { only, now = csv, abilities = { versions: true, newFiles: true } }: Asked = {}) {
  const port = memoryFiles({ "s/a.session.yaml": session, "s/data/a.csv": csv });
  const { problems } = await createSessionLoader(port, defaultLimits).load("s/a.session.yaml");
  port.put("s/data/a.csv", now);
  const wanted: number[] = [];
  const files: CopyFiles = {
    read: (path, most) => {
      wanted.push(most);
      return port.read(path, most);
    },
    list: (folder) => Promise.resolve(folder === "s/data" ? names : null),
  };
  const writer = createEditWriter(abilities, new Map([[`${root}/s/a.session.yaml`, 4]]));
  const actions = await copyActionsFor({ uri: `${root}/s/data/a.csv`, around: new Map([[`${root}/s/data/a.csv`, problems.filter(({ file }) => file === "s/data/a.csv")]]), isCell: false, range: asked, only, writer }, files);
  expect(wanted.every((most) => most === largestCopied + 1)).toBe(true);
  return actions;
}

interface Asked {
  readonly only?: readonly string[];
  readonly now?: string;
  readonly abilities?: EditAbilities;
}

test("a corrected copy is made beside the export and the session pointed to it, in one edit", async () => {
  const [action, ...others] = await actionsIn("a,\n1,2\n", ["a.csv"]);
  expect(others).toEqual([]);
  expect([action?.title, action?.kind, action?.diagnostics?.map(({ code }) => code)]).toEqual(['Use a corrected copy of "a.csv"', "quickfix", ["csv.empty-header"]]);
  expect(action?.isPreferred).toBeUndefined();
  const copy = `${root}/s/data/a.corrected.csv`;
  const start = { line: 0, character: 0 };
  expect(action?.edit?.documentChanges).toEqual([
    { kind: "create", uri: copy, options: { overwrite: false, ignoreIfExists: false } },
    { textDocument: { uri: copy, version: null }, edits: [{ range: { start, end: start }, newText: "a,column 2\n1,2\n" }] },
    { textDocument: { uri: `${root}/s/a.session.yaml`, version: 4 }, edits: [{ range: { start: { line: 1, character: 9 }, end: { line: 1, character: 19 } }, newText: '"data/a.corrected.csv"' }] },
  ]);
});

test("a copy never takes the name of a file that is there", async () => {
  const [action] = await actionsIn("a,\n1,2\n", ["a.csv", "A.Corrected.csv", "a.corrected-2.csv"]);
  const text = JSON.stringify(action?.edit);
  expect(text).toContain(`${root}/s/data/a.corrected-3.csv`);
  expect(text).toContain("data/a.corrected-3.csv\\\"");
});

test("where the names in the folder are not known, or only other kinds are asked for, there is no copy", async () => {
  expect(await actionsIn("a,\n1,2\n", null)).toEqual([]);
  expect(await actionsIn("a,\n1,2\n", [], { only: ["source.fixAll"] })).toEqual([]);
  expect(await actionsIn("a,b\n1,2\n", [])).toEqual([]);
});

test("no copy is made of an export that is another by now, nor for a client that makes no files", async () => {
  expect(await actionsIn("a,\n1,2\n", ["a.csv"], { now: "a,\n3,4\n" })).toEqual([]);
  expect(await actionsIn("a,\n1,2\n", ["a.csv"], { abilities: { versions: true, newFiles: false } })).toEqual([]);
});
