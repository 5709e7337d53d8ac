import { readdir, stat } from "node:fs/promises";
import path from "node:path";
import { parseArgs } from "node:util";
import { defaultLimits } from "../../core/limits";
import { problem, type Problem } from "../../core/problem";
import { createEngine } from "../../core/run-notebook";
import { createSessionLoader } from "../../core/session-loader";
import { textStart } from "../../core/text-position";
import { vocabulary } from "../../core/vocabulary";
import { nodeFiles } from "../node-files";
import { UsageError, type Command, type Terminal } from "./command";
import { exitCodes } from "./exit-codes";
import { findRoot } from "./find-root";
import { openNotebook } from "./open-notebook";
import { countProblems, forTerminal, sayProblem } from "./say-problems";

/** `fairstrike check`: says what is wrong with notebooks and session files without running anything. */
export const checkCommand: Command = {
  usage: "check PATH…",
  help: "Check notebooks (NAME.shots.md) and session files (NAME.session.yaml), or folders of them, without running.",
  run: async (given, terminal) => {
    const paths = readArguments(given);
    const files = (await Promise.all(paths.map((each) => expand(each, terminal.folder)))).flat();
    if (files.length === 0) throw new UsageError("there is no notebook (NAME.shots.md) and no session file (NAME.session.yaml) there");
    const seen = new Map<string, Problem>();
    for (const file of files) {
      const found = file.endsWith(".session.yaml") ? await checkSession(file, terminal) : await checkNotebookFile(file, terminal);
      // Two notebooks may name one session: its problems are said once.
      for (const each of found) seen.set(JSON.stringify([each.file, each.code, each.range, each.message]), each);
    }
    const problems = [...seen.values()];
    for (const found of problems) await terminal.say(sayProblem(found));
    await terminal.say(forTerminal(`${files.length} ${files.length === 1 ? "file" : "files"} checked; ${countProblems(problems)}\n`));
    return problems.some((found) => found.severity === "error") ? exitCodes.problems : exitCodes.clean;
  },
};

function readArguments(given: readonly string[]): readonly string[] {
  try {
    const { positionals } = parseArgs({ args: [...given], allowPositionals: true, options: {} });
    if (positionals.length === 0) throw new UsageError("name the files or folders to check");
    return positionals;
  } catch (error) {
    throw error instanceof UsageError ? error : new UsageError(error instanceof Error ? error.message : String(error));
  }
}

/** The notebooks and session files that a path names: itself, or those in its folder and below, sorted. */
async function expand(given: string, folder: string): Promise<readonly string[]> {
  const place = path.resolve(folder, given);
  const found = await stat(place).catch(() => null);
  if (found === null) throw new UsageError(`there is no ${JSON.stringify(given)}`);
  if (!found.isDirectory()) {
    if (!isChecked(given)) throw new UsageError(`${JSON.stringify(given)} is neither a notebook (NAME.shots.md) nor a session file (NAME.session.yaml)`);
    return [given];
  }
  const entries = await readdir(place, { withFileTypes: true });
  const below = await Promise.all(
    entries
      .filter((entry) => !entry.name.startsWith(".") && entry.name !== "node_modules")
      .sort((a, b) => (a.name < b.name ? -1 : 1))
      .map((entry) => {
        const name = path.join(given, entry.name);
        if (entry.isDirectory()) return expand(name, folder);
        return entry.isFile() && isChecked(entry.name) ? [name] : [];
      }),
  );
  return below.flat();
}

function isChecked(name: string): boolean {
  return name.endsWith(".shots.md") || name.endsWith(".session.yaml");
}

async function checkNotebookFile(given: string, terminal: Terminal): Promise<readonly Problem[]> {
  const opened = await openNotebook(given, terminal.folder);
  if (opened.document === null) return opened.problems;
  const files = nodeFiles(opened.place.root, defaultLimits.fileBytes);
  const engine = createEngine({ files, vocabulary, limits: defaultLimits, clock: terminal.clock });
  const checked = await engine.check(opened.document, opened.place.path);
  return [
    ...opened.problems,
    ...checked.cells.flatMap((cell) => cell.problems.map((found) => opened.inNotebook(cell.index, found))),
    ...checked.fileProblems,
  ];
}

async function checkSession(given: string, terminal: Terminal): Promise<readonly Problem[]> {
  const place = findRoot(path.resolve(terminal.folder, given));
  const loader = createSessionLoader(nodeFiles(place.root, defaultLimits.fileBytes), defaultLimits);
  const loaded = await loader.load(place.path);
  if (loaded.fault !== null) return [problem("run.file", { path: given, reason: loaded.fault }, textStart, { file: place.path })];
  return loaded.problems;
}
