import { writeFile, rename, rm, realpath } from "node:fs/promises";
import path from "node:path";
import { parseArgs } from "node:util";
import { defaultLimits } from "../../core/limits";
import { plainText } from "../../core/present/plain-text";
import { presentOutcome } from "../../core/present/present-outcome";
import type { Problem } from "../../core/problem";
import { createEngine, type CellOutcome } from "../../core/run-notebook";
import { vocabulary } from "../../core/vocabulary";
import { nodeFiles } from "../node-files";
import { UsageError, type Command, type Terminal } from "./command";
import { exitCodes, type ExitCode } from "./exit-codes";
import { openNotebook, type OpenNotebook } from "./open-notebook";
import { countProblems, forTerminal, sayProblem } from "./say-problems";

/** `fairstrike run`: runs a notebook from top to bottom and prints what its cells give. */
export const runCommand: Command = {
  usage: "run NOTEBOOK [--json FILE|-] [--cell NAME]",
  help: "Run a notebook and print its results; --json writes them for machines, --cell runs one cell and what it needs.",
  run: async (given, terminal) => {
    const { notebook, json, cell } = readArguments(given);
    const opened = await openNotebook(notebook, terminal.folder);
    if (json !== null && json !== "-") await refuseInput(json, opened, terminal.folder);
    const result = await runOpened(opened, cell, terminal);
    const problems = [...opened.problems, ...result.fileProblems, ...result.cells.flatMap((each) => each.problems)];
    if (json !== null) await writeJson(json, toJson(opened, result), terminal);
    if (json !== "-") await terminal.out(result.cells.map(cellText).join("\n"));
    for (const found of problems) await terminal.say(sayProblem(found));
    const failed = result.cells.filter((each) => each.outcome.status !== "ok").length;
    await terminal.say(forTerminal(`${opened.given}: ${result.cells.length} cells, ${failed} without a result; ${countProblems(problems)}\n`));
    return exitFor(opened, problems, failed);
  },
};

/** Rows of a table that a terminal gets; the count of all is said. */
const rowsPrinted = 20;
/** Rows of a table that a results file gets; the count of all is beside them. */
const rowsWritten = 100_000;

interface RanCell {
  readonly outcome: CellOutcome;
  /** Its problems, placed in the notebook's file. */
  readonly problems: readonly Problem[];
}

interface Ran {
  readonly cells: readonly RanCell[];
  readonly fileProblems: readonly Problem[];
}

function readArguments(given: readonly string[]): { notebook: string; json: string | null; cell: string | null } {
  let parsed;
  try {
    parsed = parseArgs({
      args: [...given],
      allowPositionals: true,
      options: { json: { type: "string" }, cell: { type: "string" } },
    });
  } catch (error) {
    throw new UsageError(error instanceof Error ? error.message : String(error));
  }
  const [notebook, ...more] = parsed.positionals;
  if (notebook === undefined) throw new UsageError("name the notebook to run");
  if (more.length > 0) throw new UsageError(`it runs one notebook at a time, not also ${more.map((each) => JSON.stringify(each)).join(", ")}`);
  return { notebook, json: parsed.values.json ?? null, cell: parsed.values.cell ?? null };
}

async function runOpened(opened: OpenNotebook, cell: string | null, terminal: Terminal): Promise<Ran> {
  if (opened.document === null) return { cells: [], fileProblems: [] };
  const engine = createEngine({
    files: nodeFiles(opened.place.root, defaultLimits.fileBytes),
    vocabulary,
    limits: defaultLimits,
    clock: terminal.clock,
  });
  const only = cell === null ? null : await indexOfCell(cell, opened, engine);
  const outcome = await engine.run(opened.document, opened.place.path, only === null ? {} : { only: [only] });
  // Problems of the front matter and of conflict regions belong to cells that do not run.
  const still = outcome.checked.cells.filter((each) => each.kind === "front" || each.kind === "conflict" || each.kind === "prose");
  return {
    cells: [...outcome.cells]
      .sort((a, b) => a.index - b.index)
      .map((each) => ({ outcome: each, problems: each.problems.map((found) => opened.inNotebook(each.index, found)) })),
    fileProblems: [
      ...still.flatMap((each) => each.problems.map((found) => opened.inNotebook(each.index, found))),
      ...outcome.problems,
    ],
  };
}

async function indexOfCell(name: string, opened: OpenNotebook, engine: ReturnType<typeof createEngine>): Promise<number> {
  const checked = await engine.check(opened.document!, opened.place.path);
  const found = checked.cells.find((each) => each.name === name && each.kind !== "prose");
  if (found !== undefined) return found.index;
  const names = checked.cells.map((each) => each.name).filter((each) => each !== "");
  throw new UsageError(`there is no cell ${JSON.stringify(name)}; there are ${names.join(", ")}`);
}

function cellText({ outcome }: RanCell): string {
  const shown = presentOutcome(outcome, { ...defaultLimits, rowsShown: rowsPrinted });
  // The picture of a table says in its description what it shows; its own table would be the same numbers once more.
  const table = shown.results.find((result) => result.type === "table");
  const body = shown.results.map((result) => (result.type === "chart" && table !== undefined ? `${result.description}\n` : plainText(result))).join("\n");
  return forTerminal(`── ${outcome.name} (${outcome.status})\n${body}${body.endsWith("\n") || body === "" ? "" : "\n"}`);
}

/** The result as JSON, in the form that the reference gives; keys in a fixed order, so that equal runs give equal bytes. */
function toJson(opened: OpenNotebook, ran: Ran): string {
  const cells = ran.cells.map(({ outcome, problems }) => ({
    name: outcome.name,
    kind: outcome.kind,
    status: outcome.status,
    problems: problems.map(problemJson),
    result: presentOutcome(outcome, { ...defaultLimits, rowsShown: rowsWritten }).results.at(-1) ?? null,
  }));
  const problems = [...opened.problems, ...ran.fileProblems].map(problemJson);
  return `${JSON.stringify({ fairstrike: 1, notebook: path.posix.basename(opened.place.path), problems, cells }, null, 1)}\n`;
}

function problemJson(found: Problem): Record<string, unknown> {
  const { code, severity, message, hint, file, range } = found;
  return { code, severity, message, hint, file: file ?? null, start: range.start, end: range.end };
}

async function refuseInput(target: string, opened: OpenNotebook, folder: string): Promise<void> {
  const real = await realpath(path.resolve(folder, target)).catch(() => null);
  const notebook = await realpath(path.join(opened.place.root, opened.place.path));
  const looksLikeInput = /\.(?:md|csv|tsv|txt|ya?ml|parquet)$/iu.test(target);
  if (real === notebook || looksLikeInput)
    throw new UsageError(`results are not written to ${JSON.stringify(target)}, which may be somebody's input; name a .json file, or - for standard output`);
}

async function writeJson(target: string, text: string, terminal: Terminal): Promise<void> {
  if (target === "-") return terminal.out(text);
  const file = path.resolve(terminal.folder, target);
  // Written beside its place and moved there, so that a stop in the middle leaves the old file whole.
  const draft = `${file}.${process.pid}.draft`;
  try {
    await writeFile(draft, text, { flag: "wx" });
    await rename(draft, file);
  } catch (error) {
    await rm(draft, { force: true });
    throw new UsageError(`${JSON.stringify(target)} cannot be written: ${error instanceof Error && "code" in error ? String(error.code) : String(error)}`);
  }
}

function exitFor(opened: OpenNotebook, problems: readonly Problem[], failed: number): ExitCode {
  const bad = opened.document === null || failed > 0 || problems.some((found) => found.severity === "error");
  return bad ? exitCodes.problems : exitCodes.clean;
}
