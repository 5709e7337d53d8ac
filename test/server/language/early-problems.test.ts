import { expect, test } from "vitest";
import type { Problem } from "../../../core/problem";
import { defaultLimits } from "../../../core/limits";
import { parseNotebook } from "../../../core/notebook/parse-notebook";
import { createEngine } from "../../../core/run-notebook";
import { vocabulary } from "../../../core/vocabulary";
import { earlyNotebookProblems, earlySessionProblems, sessionTextProblems } from "../../../server/language/early-problems";
import { makeView } from "../../../server/language/make-view";
import { memoryFiles } from "../../support/memory-files";
import { notebookText, smallFiles, smallSession } from "../../support/small-session";

const codesOf = (problems: readonly Problem[] | null) => problems?.map(({ code, range }) => `${range.start.line} ${code}`) ?? null;

async function viewOf(text: string) {
  const { value: document } = parseNotebook(text);
  const engine = createEngine({ files: memoryFiles(smallFiles), vocabulary, limits: defaultLimits, clock: () => 0 });
  return makeView(document, "n.shots.md", await engine.look(document, "n.shots.md"), { vocabulary, limits: defaultLimits, listFolder: () => Promise.resolve([]) });
}

const misspelt = "query=a\nshots.filter(d => d.cary > 1)";
const notebook = (...cells: readonly string[]): string => notebookText("shots: s/one.session.yaml", ...cells);

test("a cell that cannot be read is told at once, beside what was found in cells that are as they were, where they stand now", async () => {
  const before = await viewOf(notebook("query=b\nshots.count()", misspelt));
  const now = notebook("query=b\n\n\nshots.count(", misspelt);
  const line = (part: string): number => now.split("\n").findIndex((each) => each.includes(part)) + 1;
  const told = codesOf(earlyNotebookProblems(now, before));
  expect(told).toContain(`${line("cary")} query.unknown-column`);
  expect(told).toContain(`${line("count")} query.syntax`);
  expect(codesOf(earlyNotebookProblems(now, null))).toEqual([`${line("count")} query.syntax`]);
});

test("nothing is told at once where every text can be read", async () => {
  expect(earlyNotebookProblems(notebook(misspelt), await viewOf(notebook("query=a\nshots.count()")))).toBeNull();
  expect(earlySessionProblems(smallSession("one").replace("iron", "spoon"))).toBeNull();
});

test("a session file that is no YAML is told at once, with what else is wrong in its text", () => {
  const text = smallSession("one").replace("iron", "spoon").replace("  head: Club", "  head: [Club");
  expect(codesOf(earlySessionProblems(text))).toContain("7 yaml.syntax");
});

test("of a session file what its text shows is told without its exports, beside what they showed last in lines that are as they were", async () => {
  const first = smallSession("one").replace("from: Carry,", "from: Cary,");
  const engine = createEngine({ files: memoryFiles({ ...smallFiles, "s/one.session.yaml": first }), vocabulary, limits: defaultLimits, clock: () => 0 });
  const problems = await engine.checkSession("s/one.session.yaml");
  expect(codesOf(problems)).toEqual(["9 session.unknown-header"]);
  const told = (text: string) => codesOf(sessionTextProblems(text, { text: first, problems }));
  const wrong = first.replace("Wren: { kind: iron", "Wren: { kind: spoon");
  expect(codesOf(sessionTextProblems(wrong, null))).toEqual(["12 session.wrong-choice"]);
  expect(told(wrong)).toEqual(["12 session.wrong-choice", "9 session.unknown-header"]);
  expect(told(`# Invented\n\n${first}`)).toEqual(["11 session.unknown-header"]);
  expect(told(first.replace("Cary", "Carry"))).toEqual([]);
  expect(told(wrong.replace("heads:", "heads: ["))).not.toContain("9 session.unknown-header");
});
