import { expect, test } from "vitest";
import { defaultLimits } from "../../core/limits";
import { parseNotebook } from "../../core/notebook/parse-notebook";
import { presentOutcome } from "../../core/present/present-outcome";
import { createEngine } from "../../core/run-notebook";
import { vocabulary } from "../../core/vocabulary";
import { memoryFiles } from "../support/memory-files";
import { notebookText, smallExport, smallSession } from "../support/small-session";

const aside = 'set_aside:\n  - { shots: "2-4", columns: [carry], because: "wind: gust" }\n';

/** Checks what is told of the cells of a notebook: rows in, rows out, values set aside, what is in the way. */
async function checkTold(cells: readonly string[], expected: readonly string[]): Promise<void> {
  const files = memoryFiles({ "s/one.session.yaml": smallSession("one") + aside, "s/small.csv": smallExport });
  const engine = createEngine({ files, vocabulary, limits: defaultLimits, clock: () => 0 });
  const { cells: outcomes } = await engine.run(parseNotebook(notebookText("shots: s/one.session.yaml", ...cells)).value, "n.shots.md");
  const told = outcomes.map((outcome) => {
    const { name, inputs, rowCount, blockedBy } = presentOutcome(outcome, defaultLimits);
    return `${name}: ${inputs === null ? "-" : `${inputs.rows.join("+")}, ${inputs.setAside} aside`} -> ${rowCount ?? "-"} ${blockedBy.join(" ")}`.trim();
  });
  expect(told).toEqual(expected);
}

test("rows in and out are told, and values set aside among the shots that are left", () =>
  checkTold(["query=a\nshots.filter(d => d.shot > 3)", "query=b\na.count()"], ["a: 12, 3 aside -> 9", "b: 9, 1 aside -> 1"]));

test("a cell that takes two tables tells the rows of both", () =>
  checkTold(["query=a\nshots.slice(0, 5)", "query=b\nshots.semijoin(a, \"shot\")"], ["a: 12, 3 aside -> 5", "b: 12+5, 3 aside -> 5"]));

test("a blocked cell names what it waits for", () => checkTold(["query=a\nshots.nosuch()", "query=b\na.count()"], ["a: - -> -", "b: - -> - a"]));

test("a summary has no shots, and nothing set aside among them", () =>
  checkTold(['query=a\nshots.groupby("head").count()', "query=b\na.count()"], ["a: 12, 3 aside -> 2", "b: 2, 0 aside -> 1"]));
