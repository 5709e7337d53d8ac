import { stat } from "node:fs/promises";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { defaultLimits } from "../../core/limits";
import { hasError } from "../../core/problem";
import { checkDescription } from "../../core/session/check-description";
import { describeSession } from "../../core/session/data-description";
import { createSessionLoader } from "../../core/session-loader";
import { nodeFiles } from "../node-files";
import { UsageError, type Command } from "./command";
import { exitCodes } from "./exit-codes";
import { findRoot } from "./find-root";
import { readArguments } from "./read-arguments";
import { resultsFile, writeResults } from "./results-file";
import { countProblems, forTerminal, sayFile, sayProblem } from "./say-problems";

/** `fairstrike describe-data`: what the columns of a session's exports are, in the form that other programs read. */
export const describeDataCommand: Command = {
  usage: "describe-data SESSION [--out FILE|-]",
  help: "Describe the exports of a session file for other programs: header, datatype, unit, meaning and missing texts of each column, as metadata of CSV on the Web (W3C Recommendation, 2015). It goes to standard output, or into the file after --out; URLs in it are relative to that file, or else to the session file.",
  run: async (given, terminal) => {
    const { options, others } = readArguments(given, ["out"]);
    const [session, ...more] = others;
    if (session === undefined) throw new UsageError("name a session file, NAME.session.yaml");
    if (more.length > 0) throw new UsageError(`it takes one session at a time, not also ${more.map((each) => JSON.stringify(each)).join(", ")}`);
    const shown = JSON.stringify(session);
    if (!session.endsWith(".session.yaml")) throw new UsageError(`${shown} is no session file; its name would end in .session.yaml`);
    const file = path.resolve(terminal.folder, session);
    if ((await stat(file).catch(() => null))?.isFile() !== true) throw new UsageError(`there is no file ${shown}`);
    const target = options.out === undefined || options.out === "-" ? null : await resultsFile(options.out, terminal.folder);
    const place = findRoot(file);
    const files = nodeFiles(place.root, defaultLimits.fileBytes);
    const loaded = await createSessionLoader(files, defaultLimits).load(place.path);
    if (loaded.fault !== null) throw new UsageError(`${shown} cannot be read: ${loaded.fault}`);
    const from = { folder: terminal.folder, root: place.root };
    for (const found of loaded.problems) await terminal.say(sayProblem(found, from));
    await terminal.say(forTerminal(`${sayFile(place.path, from)}: ${countProblems(loaded.problems)}\n`));
    const base = path.dirname(target ?? file);
    const described = await describeSession(place.path, files, defaultLimits, (each) => relativeUrl(base, path.join(place.root, each)));
    if (described === null) return exitCodes.problems;
    const [broken] = checkDescription(described.json, (url) => described.headers.get(url) ?? null);
    if (broken !== undefined) throw new Error(`the description breaks section ${broken.section} at ${broken.at}: ${broken.rule}`);
    const text = `${JSON.stringify(described.json, null, 2)}\n`;
    if (target === null) await terminal.out(text);
    else await writeResults(target, text, { place }, loaded.inputs.map((input) => input.path));
    return hasError(loaded.problems) ? exitCodes.problems : exitCodes.clean;
  },
};

/** The URL of a file relative to a folder, other characters percent-encoded. */
function relativeUrl(folder: string, file: string): string {
  const relative = path.relative(folder, file);
  // On another drive there is no way from one to the other.
  if (path.isAbsolute(relative)) return pathToFileURL(file).href;
  return relative.split(path.sep).map((name) => encodeURIComponent(name)).join("/");
}
