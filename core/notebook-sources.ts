import { createCheckMemo, type CheckMemo } from "./check-memo";
import { contentKey } from "./content-key";
import type { FilePort } from "./file-port";
import { folderOf, resolvePath } from "./path";
import { placedPath, unreadFile } from "./placed-path";
import { hasError, problem, type Problem } from "./problem";
import type { ReadNotebook } from "./read-cells";
import type { InputFile, LoadedSession, SessionLoader } from "./session-loader";
import type { Schema } from "./table/schema";
import type { Table } from "./table/table";
import { textStart, type TextRange } from "./text-position";

/** One table that a notebook takes from session files. */
export interface Source {
  /** `null` when its shots could not be had; the place that names it says why. */
  readonly table: Table | null;
  readonly schema: Schema | null;
  /** Equal for equal bytes behind it and equal units. */
  readonly key: string;
  /** The session files and exports behind it, each once. */
  readonly files: readonly InputFile[];
}

/** Every table that a notebook's cells can take from session files. */
export interface Sources {
  /** The table `shots`: the sessions of the front matter; `null` when it names none. */
  readonly shots: Source | null;
  /** Tables of `session("…")` and `sessions("…")`, by the path as written. */
  readonly byPath: ReadonlyMap<string, Source>;
  /** Problems of paths by the number of the cell that names them, in the cell's text. */
  readonly problems: ReadonlyMap<number, readonly Problem[]>;
  /** Problems in session files and exports, each naming its file; what several sessions say of one export once, unless their fixes differ. */
  readonly fileProblems: readonly Problem[];
  /** Every file that was asked for, each once, sorted by path. */
  readonly inputs: readonly InputFile[];
}

/** Makes a problem at the place where a path is written. */
type MakeProblem = (range: TextRange) => Problem;

/** The sessions that one path or pattern names, and what is wrong with them. */
interface Opened {
  readonly sessions: readonly LoadedSession[];
  readonly problems: readonly MakeProblem[];
}

/**
 * Reads all sessions that a notebook names, in its front matter and in its cells, and makes their tables in the
 * notebook's units.
 *
 * A table is made of all sessions that were named for it or not at all: a part of the shots is never taken for the
 * whole.
 *
 * @param path the notebook's own path, relative to the root; paths in it are relative to its folder.
 * @param memo what was put together before: the same sessions in the same units are put together once.
 */
export async function loadSources(
  notebook: ReadNotebook,
  path: string,
  files: FilePort,
  loader: Pick<SessionLoader, "load" | "combine">,
  memo: CheckMemo = createCheckMemo(),
): Promise<Sources> {
  const { front } = notebook;
  const loaded = new Map<string, LoadedSession>();
  const problems = new Map<number, readonly Problem[]>();
  const report = (index: number, found: readonly MakeProblem[], range: TextRange): void => {
    if (found.length > 0) problems.set(index, [...(problems.get(index) ?? []), ...found.map((make) => make(range))]);
  };

  async function load(place: string): Promise<LoadedSession> {
    const session = loaded.get(place) ?? (await loader.load(place));
    loaded.set(place, session);
    return session;
  }

  async function open(text: string): Promise<Opened> {
    const { paths, problems: faults } = await pathsOf(text, folderOf(path), files);
    const found = [...faults];
    const sessions: LoadedSession[] = [];
    for (const each of paths) {
      const session = await load(each);
      sessions.push(session);
      const name = text.endsWith("*.session.yaml") ? each : text;
      if (session.fault !== null) found.push(await unreadFile(name, each, session.fault, files, { base: folderOf(path), written: foldersNamed(front) }));
      else if (session.table === null) found.push((range) => problem("run.no-shots", { name, reason: reasonOf(session) }, range));
    }
    return { sessions, problems: found };
  }

  /** The table of everything that was opened, and what is wrong with putting it together. */
  function makeSource(opened: readonly Opened[]): { readonly source: Source; readonly problems: readonly MakeProblem[] } {
    const sessions = opened.flatMap((each) => each.sessions);
    const key = contentKey(front.units, ...sessions.flatMap((session) => [session.path, session.key]));
    const behind = once(sessions.flatMap((session) => session.inputs), (input) => input.path);
    if (opened.some((each) => hasError(each.problems.map((make) => make(textStart))))) return { source: { table: null, schema: null, key, files: behind }, problems: [] };
    const { value, problems: found } = memo.of(`shots in ${front.units}`, sessions.map((session) => session.path).join("\n"), sessions, () => loader.combine(sessions, front.units));
    return { source: { table: value?.table ?? null, schema: value?.schema ?? null, key, files: behind }, problems: found.map((each) => (range) => ({ ...each, range })) };
  }

  const opened: Opened[] = [];
  for (const named of front.shots) {
    const each = await open(named.path);
    opened.push(each);
    report(notebook.frontIndex, each.problems, named.range);
  }
  const shots = makeSource(opened);
  const last = front.shots.at(-1);
  if (last !== undefined) report(notebook.frontIndex, shots.problems, last.range);

  const byPath = new Map<string, Source>();
  const problemsOf = new Map<string, readonly MakeProblem[]>();
  for (const cell of notebook.cells) {
    for (const named of cell.uses.paths) {
      if (!byPath.has(named.path)) {
        const each = await open(named.path);
        const made = makeSource([each]);
        byPath.set(named.path, made.source);
        problemsOf.set(named.path, [...each.problems, ...made.problems]);
      }
      report(cell.index, problemsOf.get(named.path)!, named.range);
    }
  }
  const sessions = [...loaded.values()];
  return {
    shots: last === undefined ? null : notebook.namesAllShots ? shots.source : { ...shots.source, table: null, schema: null },
    byPath,
    problems,
    fileProblems: once(sessions.flatMap((session) => session.problems), (found) => JSON.stringify([found.file, found.code, found.range, found.message, found.fix ?? null])),
    inputs: once(sessions.flatMap((session) => session.inputs), (input) => input.path).sort((a, b) => (a.path < b.path ? -1 : 1)),
  };
}

/** The folders of sessions that a front matter names, and the usual one, as they are written there. */
function foldersNamed({ shots }: ReadNotebook["front"]): readonly string[] {
  return [...shots.map(({ path }) => path.slice(0, path.lastIndexOf("/") + 1)), "sessions/"];
}

/** The session files that a path or a pattern `folder/*.session.yaml` names, relative to the root; a folder's are sorted. */
async function pathsOf(text: string, folder: string, files: FilePort): Promise<{ paths: readonly string[]; problems: readonly MakeProblem[] }> {
  const pattern = /^(.*\/)?\*\.session\.yaml$/u.exec(text);
  const place = resolvePath(folder, pattern === null ? text : (pattern[1] ?? ".").replace(/(.)\/$/u, "$1"));
  const write = (folderName: string): string => JSON.stringify(pattern === null ? folderName : `${folderName}/*.session.yaml`);
  if (place.value === null) return { paths: [], problems: place.problems.map((found) => (range) => placedPath(found, range, write)) };
  if (pattern === null) return { paths: [place.value], problems: [] };
  const names = ((await files.list(place.value)) ?? []).filter((name) => name.endsWith(".session.yaml"));
  if (names.length === 0) return { paths: [], problems: [(range) => problem("run.no-sessions", { path: text }, range)] };
  const found = names.map((name) => resolvePath(place.value!, name));
  return { paths: found.flatMap((each) => each.value ?? []), problems: found.flatMap((each) => each.problems.map((wrong) => (range: TextRange) => ({ ...wrong, range }))) };
}

/** The first error of a session without shots, with its place: an export that is not there before anything else. */
function reasonOf(session: LoadedSession): string {
  const errors = session.problems.filter((found) => found.severity === "error");
  const worst = errors.find((found) => found.code === "run.file") ?? errors[0];
  if (worst === undefined) return "it has none";
  const file = worst.file === undefined || worst.file === session.path ? "" : `${worst.file}, `;
  return `${file}line ${worst.range.start.line}: ${worst.message}`;
}

/** The items without those whose key was there before. */
function once<T>(items: readonly T[], keyOf: (item: T) => string): T[] {
  const seen = new Set<string>();
  return items.filter((item) => {
    const key = keyOf(item);
    return !seen.has(key) && seen.add(key);
  });
}
