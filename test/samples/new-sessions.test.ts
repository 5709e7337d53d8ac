import { readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { defaultLimits } from "../../core/limits";
import { parseNotebook } from "../../core/notebook/parse-notebook";
import { createEngine } from "../../core/run-notebook";
import { vocabulary } from "../../core/vocabulary";
import { memoryFiles } from "../support/memory-files";
import { checkLoads } from "../support/new-session";

const folder = path.resolve(import.meta.dirname, "../../sample-notebooks/sessions");

/** Expects that every cell of the notebook that new sessions begin with runs without an error, and names these cells. */
async function checkStarter(files: readonly string[], hand: "left" | "right", ...names: readonly string[]): Promise<void> {
  const exports = files.map((file) => ({ file, bytes: new Uint8Array(readFileSync(path.join(folder, file))) }));
  const { text, notebook } = checkLoads(exports, { hand });
  const name = /shots: "(.*)"/u.exec(notebook)![1]!;
  const port = memoryFiles({ ...Object.fromEntries(exports.map(({ file, bytes }) => [file, bytes])), [name]: text });
  const engine = createEngine({ files: port, vocabulary, limits: defaultLimits, clock: () => 0 });
  const { cells } = await engine.run(parseNotebook(notebook).value, "new.shots.md");
  expect(cells.filter(({ status, problems }) => status !== "ok" || problems.some(({ severity }) => severity === "error")).map((cell) => cell.name)).toEqual([]);
  expect(cells.map((cell) => cell.name)).toEqual(names);
  expect(notebook.includes("\nunits: m-kmh\nmargin: { carry: 3 m }\n---\n")).toBe(files.some((file) => metric.includes(file)));
}

/** The exports that are in metres and km/h throughout. */
const metric = ["autumn-range-1-heron.csv"];

const withStrikes = ["what_was_hit", "stock", "landing", "strikes", "described", "compared", "doubted"];

test("the notebook that spring-bay-1 begins with runs", () => checkStarter(["spring-bay-1.csv"], "right", ...withStrikes));
test("the notebook that summer-net-1 begins with runs", () => checkStarter(["summer-net-1.tsv"], "right", ...withStrikes));
test("the notebook that winter-bay-1 begins with runs, a left-hander's strikes among them", () => checkStarter(["winter-bay-1.csv"], "left", ...withStrikes));
test("the notebook that autumn-range-1 begins with runs, two files in one order", () => checkStarter(["autumn-range-1-heron.csv", "autumn-range-1-plover.csv"], "right", ...withStrikes));
