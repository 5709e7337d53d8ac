import { expect, test } from "vitest";
import type { Problem } from "../../../core/problem";
import { defaultLimits } from "../../../core/limits";
import { parseNotebook } from "../../../core/notebook/parse-notebook";
import { createEngine } from "../../../core/run-notebook";
import { vocabulary } from "../../../core/vocabulary";
import { earlyNotebookProblems, earlySessionProblems } from "../../../server/language/early-problems";
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
