import { readdir, stat } from "node:fs/promises";
import path from "node:path";
import { defaultLimits } from "../../core/limits";
import type { Problem } from "../../core/problem";
import { createEngine, type Engine } from "../../core/run-notebook";
import { vocabulary } from "../../core/vocabulary";
import { nodeFiles } from "../node-files";
import { UsageError, type Command, type Terminal } from "./command";
import { exitCodes } from "./exit-codes";
import { findRoot } from "./find-root";
import { openNotebook } from "./open-notebook";
import { readArguments } from "./read-arguments";
import { countProblems, forTerminal, sayProblem } from "./say-problems";

/** `fairstrike check`: says what is wrong with notebooks and session files without running anything. */
export const checkCommand: Command = {
  usage: "check PATH…",
  help: "Check notebooks (NAME.shots.md) and session files (NAME.session.yaml), or folders of them, without running.",
  run: async (given, terminal) => {
    const { others } = readArguments(given, []);
    if (others.length === 0) throw new UsageError("name the files or folders to check");
    const named = await Promise.all(others.map((each) => expand(each, terminal.folder)));
    // A folder and a file in it may both be named.
    const files = [...new Map(named.flat().map((file) => [path.resolve(terminal.folder, file), file])).values()];
    if (files.length === 0) throw new UsageError("there is no notebook (NAME.shots.md) and no session file (NAME.session.yaml) there");
    const engines = new Map<string, Engine>();
    let forgetLast = (): void => undefined;
    const problems = new Map<string, FoundBelow>();
    for (const file of files) {
      const found = file.endsWith(".session.yaml") ? await checkSession(file, terminal, engines) : await checkNotebookFile(file, terminal, engines);
      // Only now, for the next file often names the same sessions.
      forgetLast();
      forgetLast = () => engines.get(found.root)?.forget(found.place);
      // Two notebooks may name one session: its problems are said once.
      for (const problem of found.problems) {
        problems.set(JSON.stringify([found.root, problem.file, problem.code, problem.range, problem.message]), { root: found.root, problem });
      }
    }
    for (const { root, problem } of problems.values()) await terminal.say(sayProblem(problem, { folder: terminal.folder, root }));
    const all = [...problems.values()].map((found) => found.problem);
    await terminal.say(forTerminal(`${files.length} ${files.length === 1 ? "file" : "files"} checked; ${countProblems(all)}\n`));
    return all.some((found) => found.severity === "error") ? exitCodes.problems : exitCodes.clean;
  },
};

/** The notebooks and session files that a path names: itself, or those in its folder and below, sorted. Links to folders are not followed. */
async function expand(given: string, folder: string): Promise<readonly string[]> {
  const place = path.resolve(folder, given);
  const found = await stat(place).catch(() => null);
  if (found === null) throw new UsageError(`there is no ${JSON.stringify(given)}`);
  if (!found.isDirectory()) {
    if (!isChecked(given)) throw new UsageError(`${JSON.stringify(given)} is neither a notebook (NAME.shots.md) nor a session file (NAME.session.yaml)`);
    return [given];
  }
  const entries = await readdir(place, { withFileTypes: true }).catch(() => {
    throw new UsageError(`the folder ${JSON.stringify(given)} cannot be read`);
  });
  const below: string[] = [];
  for (const entry of entries.sort((a, b) => (a.name < b.name ? -1 : 1))) {
    if (entry.name.startsWith(".") || entry.name === "node_modules") continue;
    const name = path.join(given, entry.name);
    if (entry.isDirectory()) below.push(...(await expand(name, folder)));
    else if (isChecked(entry.name) && (await stat(path.resolve(folder, name)).catch(() => null))?.isFile() === true) below.push(name);
  }
  return below;
}

function isChecked(name: string): boolean {
  return name.endsWith(".shots.md") || name.endsWith(".session.yaml");
}

/** One engine for each root, so that a session which many notebooks name is read once. */
function engineAt(root: string, terminal: Terminal, engines: Map<string, Engine>): Engine {
  let engine = engines.get(root);
  if (engine === undefined) {
    const files = nodeFiles(root, defaultLimits.fileBytes);
    engines.set(root, (engine = createEngine({ files, vocabulary, limits: defaultLimits, clock: terminal.clock })));
  }
  return engine;
}

/** Problems of one checked file and of those it names, each file relative to the root, as is its own `place`. */
interface CheckedFile {
  readonly root: string;
  readonly place: string;
  readonly problems: readonly Problem[];
}

/** A problem of a file below `root`. */
interface FoundBelow {
  readonly root: string;
  readonly problem: Problem;
}

async function checkNotebookFile(given: string, terminal: Terminal, engines: Map<string, Engine>): Promise<CheckedFile> {
  const opened = await openNotebook(given, terminal.folder);
  const { root, path: place } = opened.place;
  if (opened.document === null) return { root, place, problems: opened.problems };
  const checked = await engineAt(root, terminal, engines).check(opened.document, place);
  const inCells = checked.cells.flatMap((cell) => cell.problems.map((found) => opened.inNotebook(cell.index, found)));
  return { root, place, problems: [...opened.problems, ...inCells, ...checked.fileProblems] };
}

async function checkSession(given: string, terminal: Terminal, engines: Map<string, Engine>): Promise<CheckedFile> {
  const place = findRoot(path.resolve(terminal.folder, given));
  return { root: place.root, place: place.path, problems: await engineAt(place.root, terminal, engines).checkSession(place.path) };
}
