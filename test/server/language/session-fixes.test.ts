import { expect, test } from "vitest";
import { codeActionsFor } from "../../../server/language/code-actions";
import { createDiagnoser } from "../../../server/language/diagnoser";
import { createEditWriter } from "../../../server/language/workspace-edits";
import { inventedFiles } from "../../support/invented-export";
import { memoryFiles } from "../../support/memory-files";

const root = "file:///w";
const uri = `${root}/i.session.yaml`;

test("a turned sign is a quick fix at the column's entry in the session file", async () => {
  const { session, csv } = inventedFiles({ turned: ["offline"] });
  const port = memoryFiles({ "i.session.yaml": session, "a.csv": csv });
  const diagnoser = createDiagnoser({
    place: () => Promise.resolve({ root, path: "i.session.yaml" }),
    read: (_, path) => port.read(path),
    list: (_, folder) => port.list(folder),
    isCurrent: (_, path, digest) => port.isCurrent(path, digest),
    openText: () => null,
  });
  const problems = (await diagnoser.sessionProblems(uri)).get(uri)!;
  const line = session.split("\n").findIndex((each) => each.startsWith("  offline:"));
  const at = session.split("\n")[line]!.indexOf("OFFLINE");
  const writer = createEditWriter({ versions: false, newFiles: false }, new Map());
  const actions = codeActionsFor({ uri, around: new Map([[uri, problems]]), isCell: false, range: { start: { line, character: at }, end: { line, character: at } }, only: undefined, writer });
  expect(actions.map(({ title }) => title)).toEqual(["State that positive offline means left"]);
  const written = session.split("\n")[line]!.indexOf("right");
  expect(actions[0]!.edit!.changes).toEqual({ [uri]: [{ range: { start: { line, character: written }, end: { line, character: written + 5 } }, newText: "left" }] });
});
