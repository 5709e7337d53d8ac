import { readFile, stat, writeFile } from "node:fs/promises";
import path from "node:path";
import { defaultLimits } from "../../core/limits";
import { hasError } from "../../core/problem";
import { firstAnswers, openQuestions, proposeSession, readBack, unreadText, withHeadsNamed, writeNewSession, type GivenExport, type HeadCount, type Question, type SessionProposal } from "../../core/session/new-session";
import { readAnswers } from "../../core/session/read-answers";
import { isDate } from "../../core/session/read-time";
import { answerHint, hintText } from "./answer-hints";
import { UsageError, type Command } from "./command";
import { exitCodes } from "./exit-codes";
import { readArguments } from "./read-arguments";
import { problemJson } from "./results-json";
import { forTerminal, sayProblem } from "./say-problems";

/** `fairstrike new`: a session file and a starter notebook from exports. */
export const newCommand: Command = {
  usage: "new EXPORT… [--answers FILE.json] [--name NAME] [--date YYYY-MM-DD] [--session FILE.session.yaml] [--notebook FILE.shots.md] [--json]",
  help: "Bring in exports: say what each column seems to be and what has to be asked, and once nothing is open write a session file beside the export and a notebook that begins with it. Nothing is written over. --json prints questions, answers and proposal and writes no files: put it into a file (fairstrike new range.csv --json > answers.json), answer the questions under answers in it, and give it back (fairstrike new range.csv --answers answers.json).",
  run: async (given, terminal) => {
    const { options, others, flags } = readArguments(given, ["answers", "name", "date", "session", "notebook"], ["json"]);
    const files = others.map((each) => path.resolve(terminal.folder, each));
    const [first] = files;
    if (first === undefined) throw new UsageError("name an export, such as a .csv file");
    const folder = path.dirname(first);
    const exports = await Promise.all(files.map((file) => readGiven(file, folder)));
    const { value: proposal, problems } = proposeSession(exports, defaultLimits);
    const said = { folder: terminal.folder, root: folder };
    const unread = unreadText(problems);
    if (unread.length > 0) {
      for (const found of unread) await terminal.say(sayProblem(found, said));
      if (flags.has("json")) await terminal.out(`${JSON.stringify({ problems: unread.map((found) => problemJson(found)) }, null, 2)}\n`);
      return exitCodes.problems;
    }
    // What was told of the file stands in the proposal too.
    for (const found of problems) if (found.severity !== "info") await terminal.say(sayProblem(found, said));
    const { value: read, wrong } = options.answers === undefined ? { value: firstAnswers(proposal), wrong: [] } : readAnswers(await readJson(path.resolve(terminal.folder, options.answers)), firstAnswers(proposal));
    if (wrong.length > 0) throw new UsageError(`the answers cannot be read: ${wrong.join("; ")}`);
    if (options.date !== undefined && !isDate(options.date)) throw new UsageError(`--date is a day as 2026-03-14, not ${JSON.stringify(options.date)}`);
    const answers = { ...read, session: options.name ?? read.session, date: options.date ?? read.date };
    const questions = openQuestions(proposal, answers);
    if (flags.has("json")) {
      const asked = questions.map((question) => ({ ...question, write: answerHint(question) }));
      await terminal.out(`${JSON.stringify({ questions: asked, answers: withHeadsNamed(proposal, answers), proposal }, null, 2)}\n`);
      return questions.length > 0 ? exitCodes.problems : exitCodes.clean;
    }
    if (questions.length > 0) {
      await terminal.out(forTerminal(`${proposalText(proposal)}\n${questionsText(questions)}`));
      return exitCodes.problems;
    }
    const session = placeOf(options.session, terminal.folder, path.join(folder, `${proposal.name}.session.yaml`), ".session.yaml");
    const notebook = placeOf(options.notebook, terminal.folder, path.join(folder, `${proposal.name}.shots.md`), ".shots.md");
    if (path.dirname(session) !== folder) throw new UsageError("a session file stands in the folder of its first export");
    for (const file of [session, notebook]) if ((await stat(file).catch(() => null)) !== null) throw new UsageError(`${JSON.stringify(path.relative(terminal.folder, file))} is there already and is not written over; name another file`);
    const written = writeNewSession(proposal, answers, path.relative(path.dirname(notebook), session).split(path.sep).join("/"));
    if (written.value === null) {
      for (const found of written.problems) await terminal.say(sayProblem({ ...found, file: path.basename(session) }, said));
      return exitCodes.problems;
    }
    const loaded = readBack(written.value.session, exports);
    for (const found of loaded.problems) if (found.severity !== "info") await terminal.say(sayProblem({ ...found, file: found.file ?? path.basename(session) }, said));
    if (loaded.value === null) return exitCodes.problems;
    // A file that came to be there meanwhile stays.
    await writeFile(session, written.value.session, { flag: "wx" });
    await writeFile(notebook, written.value.notebook, { flag: "wx" });
    await terminal.say(forTerminal(`${headCounts(loaded.value)}\nwrote ${path.relative(terminal.folder, session)} and ${path.relative(terminal.folder, notebook)}\n`));
    return hasError(loaded.problems) ? exitCodes.problems : exitCodes.clean;
  },
};

/** The shots of each head in words. */
function headCounts(counts: readonly HeadCount[]): string {
  const total = counts.reduce((sum, { shots }) => sum + shots, 0);
  return `${total} ${total === 1 ? "shot" : "shots"}: ${counts.map(({ head, shots, stints }) => `${head ?? "no head"} ${shots} in ${stints} ${stints === 1 ? "stint" : "stints"}`).join(", ")}`;
}

async function readGiven(file: string, folder: string): Promise<GivenExport> {
  const found = await stat(file).catch(() => null);
  if (found?.isFile() !== true) throw new UsageError(`there is no file ${JSON.stringify(path.basename(file))}`);
  if (found.size > defaultLimits.fileBytes) throw new UsageError(`${JSON.stringify(path.basename(file))} is too large`);
  return { file: path.relative(folder, file).split(path.sep).join("/"), bytes: new Uint8Array(await readFile(file)) };
}

async function readJson(file: string): Promise<unknown> {
  const text = await readFile(file, "utf8").catch(() => null);
  if (text === null) throw new UsageError(`the answers ${JSON.stringify(path.basename(file))} cannot be read`);
  try {
    return JSON.parse(text) as unknown;
  } catch {
    throw new UsageError(`${JSON.stringify(path.basename(file))} is no JSON; --json prints answers to begin with`);
  }
}

function placeOf(given: string | undefined, folder: string, usual: string, ending: string): string {
  if (given === undefined) return usual;
  if (!given.endsWith(ending)) throw new UsageError(`the name of ${JSON.stringify(given)} has to end in ${ending}`);
  return path.resolve(folder, given);
}

function proposalText({ exports, columns }: SessionProposal): string {
  const rows = [["header", "column", "unit", "how sure", "why"], ...columns.map(({ header, column, unit, certainty, evidence }) => [header, column ?? "?", unit ?? "", certainty, evidence])];
  const widths = [0, 1, 2, 3].map((at) => Math.max(...rows.map((row) => row[at]!.length)));
  const table = rows.map((row) => row.map((text, at) => (at < 4 ? text.padEnd(widths[at]!) : text)).join("  ").trimEnd());
  const read = exports.map(({ file, shotCount, delimiter, decimal, summaryRows }) => `${file}: ${shotCount} ${shotCount === 1 ? "shot" : "shots"}, ${delimiter}, decimal mark "${decimal}"${summaryRows.length > 0 ? `; left out as summaries: line ${summaryRows.map(({ line }) => line).join(", ")}` : ""}`);
  return [...read, "", ...table, "", "keep: stays under its own header", ""].join("\n");
}

function questionsText(questions: readonly Question[]): string {
  const lines = questions.flatMap((question) => {
    const { words, accepted } = question;
    const last = accepted.at(-1) === "keep" ? ", keep" : "";
    const shown = accepted.length > 8 ? `${accepted.slice(0, 6).join(", ")}, …${last}` : accepted.join(", ");
    return [`  ${words}${shown === "" ? "" : ` ${shown}`}`, `      ${hintText(answerHint(question))}`];
  });
  return ["Open, and below each what answers it, for example:", ...lines, "", "Nothing was written. --json prints answers to fill in: put them into a file, and give it back with --answers FILE.json.", ""].join("\n");
}
