import { UsageError, type Command } from "./command";
import { exitCodes, type ExitCode } from "./exit-codes";
import { openNotebook } from "./open-notebook";
import { readArguments } from "./read-arguments";
import { reportTargets, writeReports } from "./report-files";
import { resultsFile, writeResults } from "./results-file";
import { resultsJson } from "./results-json";
import { cellText } from "./results-text";
import { indexOfCell, runOpened, type RanNotebook } from "./run-opened";
import { countProblems, forTerminal, sayFile, sayProblem } from "./say-problems";

/** `fairstrike run`: runs a notebook from top to bottom and prints what its cells give. */
export const runCommand: Command = {
  usage: "run NOTEBOOK [--html FILE|-] [--markdown FILE|-] [--json FILE|-] [--cell NAME]",
  help: "Run a notebook and print its results; --html and --markdown write a report, --json results for machines; --cell runs one cell and what it needs.",
  run: async (given, terminal) => {
    const { options, others } = readArguments(given, ["html", "markdown", "json", "cell"]);
    refuseTogether(options);
    const opened = await openNotebook(theNotebook(others), terminal.folder);
    const cell = options.cell === undefined ? null : indexOfCell(options.cell, opened);
    const target = options.json === undefined || options.json === "-" ? null : await resultsFile(options.json, terminal.folder);
    const reports = await reportTargets(options, terminal.folder);
    const ran = await runOpened(opened, cell, terminal);
    if (target !== null) await writeResults(target, resultsJson(ran), opened, ran.inputs);
    await writeReports(reports, ran, terminal);
    if (options.json === "-") await terminal.out(resultsJson(ran));
    else if (reports.every(({ file }) => file !== null)) {
      const told = ran.cells.filter(({ outcome }) => cell === null || outcome.index === cell);
      await terminal.out(told.map((each) => cellText(each, terminal.columns)).join("\n"));
    }
    const problems = [...ran.problems, ...ran.cells.flatMap((each) => each.problems)];
    const from = { folder: terminal.folder, root: opened.place.root };
    for (const found of problems) await terminal.say(sayProblem(found, from));
    const failed = ran.cells.filter(({ outcome }) => outcome.status !== "ok").length;
    const cells = `${ran.cells.length} ${ran.cells.length === 1 ? "cell" : "cells"}`;
    await terminal.say(forTerminal(`${sayFile(opened.place.path, from)}: ${cells}, ${failed} without a result; ${countProblems(problems)}\n`));
    return exitCodeOf(ran, failed);
  },
};

/** @throws {UsageError} for options that cannot be had together. */
function refuseTogether({ html, markdown, json, cell }: Readonly<Partial<Record<"html" | "markdown" | "json" | "cell", string>>>): void {
  if ([html, markdown, json].filter((given) => given === "-").length > 1) throw new UsageError("standard output takes one of --html, --markdown and --json; name a file for the others");
  if (cell !== undefined && (html !== undefined || markdown !== undefined)) throw new UsageError("a report is of the whole notebook; leave out --cell");
}

function theNotebook(given: readonly string[]): string {
  const [notebook, ...more] = given;
  if (notebook === undefined) throw new UsageError("name the notebook to run");
  if (more.length > 0) throw new UsageError(`it runs one notebook at a time, not also ${more.map((each) => JSON.stringify(each)).join(", ")}`);
  if (!notebook.endsWith(".shots.md")) throw new UsageError(`${JSON.stringify(notebook)} is no notebook; its name would end in .shots.md`);
  return notebook;
}

function exitCodeOf({ opened, cells, problems }: RanNotebook, failed: number): ExitCode {
  const inCells = cells.flatMap((each) => each.problems);
  if (inCells.some((found) => found.code === "run.internal")) return exitCodes.internal;
  const isBad = opened.document === null || failed > 0 || [...problems, ...inCells].some((found) => found.severity === "error");
  return isBad ? exitCodes.problems : exitCodes.clean;
}
