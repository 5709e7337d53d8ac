import { expect, test } from "vitest";
import { cappedProblems } from "../../core/capped-problems";
import { defaultLimits } from "../../core/limits";
import { problem, type Problem } from "../../core/problem";
import { createEngine } from "../../core/run-notebook";
import { textStart } from "../../core/text-position";
import { vocabulary } from "../../core/vocabulary";
import { memoryFiles } from "../support/memory-files";
import { smallFiles } from "../support/small-session";

const error = problem("query.empty", {}, textStart);
const warning = problem("query.hidden-character", { code: "U+200B" }, textStart);

function checkCapped(problems: readonly Problem[], most: number, codes: readonly string[]): void {
  expect(cappedProblems(problems.map((each) => ({ ...each })), most).map(({ code }) => code)).toEqual(codes);
}

test("as many problems as the limit are all listed", () => {
  checkCapped([error, warning], 2, ["query.empty", "query.hidden-character"]);
});

test("of more problems errors are kept first, in the order of the text, with the true total", () => {
  checkCapped([warning, warning, error, warning, error], 3, ["query.hidden-character", "query.empty", "query.empty", "nb.more-problems"]);
  expect(cappedProblems([error, error, error], 1).at(-1)?.facts).toEqual({ total: 3, listed: 1 });
});

async function problemsIn(body: string): Promise<readonly Problem[]> {
  const engine = createEngine({ files: memoryFiles(smallFiles), vocabulary, limits: defaultLimits, clock: () => 0 });
  const cells = [["front", "shots: s/one.session.yaml"], ["query", `query=q\n${body}`]] as const;
  const checked = await engine.check({ cells: cells.map(([kind, text]) => ({ kind, text, form: {} })), lineEnd: "\n", mark: false }, "n.shots.md");
  return checked.cells[1]!.problems;
}

test("a cell with hundreds of mistakes lists some of them with their true total", async () => {
  const problems = await problemsIn(`shots.select(${Array.from({ length: 300 }, (_, i) => `"no column ${i}"`).join(", ")})`);
  expect(problems).toHaveLength(defaultLimits.problems + 1);
  expect(problems.at(-1)?.message).toBe("300 problems in this cell in all; 100 of them are listed");
});

test("many characters that nobody sees are listed with their true total, and hide no mistake", async () => {
  const problems = await problemsIn(`shots.coutn() // ${"\u200b".repeat(250)}`);
  expect(problems.filter(({ severity }) => severity === "error").map(({ code }) => code)).toEqual(["query.unknown-verb"]);
  expect(problems.at(-1)?.facts).toEqual({ total: 251, listed: 100 });
});
