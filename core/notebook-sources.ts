import { contentKey } from "./content-key";
import type { FilePort } from "./file-port";
import type { NotebookDocument } from "./notebook/document";
import { readFrontMatter } from "./notebook/read-front-matter";
import { folderOf, resolvePath } from "./path";
import type { Problem } from "./problem";
import { problem } from "./problem";
import { referencesOf } from "./query/references";
import { combineTables } from "./session/combine-sessions";
import type { LoadedSession, SessionLoader } from "./session-loader";
import { listSessions } from "./session-loader";
import { inUnits } from "./table/convert-units";
import { schemaOf, type Schema } from "./table/schema";
import type { Table } from "./table/table";
import type { TextRange } from "./text-position";
import { bodyOffset } from "./notebook/read-header";
import type { UnitSystem } from "./units";

/** One table that a notebook takes from session files: what is known of it, and the table itself where it is kept. */
export interface Source {
  /** `null` when not a single session of it could be read. */
  readonly table: Table | null;
  readonly schema: Schema | null;
  /** Equal for equal bytes behind it. */
  readonly key: string;
  /** The first error that kept it from being made, for whoever asks for it; `null` when there is none. */
  readonly fault: string | null;
}

/** Every table that a notebook's cells can take from session files. */
export interface Sources {
  /** The table `shots`: the sessions of the front matter; `null` when it names none. */
  readonly shots: Source | null;
  /** Tables of `session("…")` and `sessions("…")`, by the path as written. */
  readonly byPath: ReadonlyMap<string, Source>;
  /** Problems of the front matter's paths, in the front matter's text. */
  readonly frontProblems: readonly Problem[];
  /** Problems of paths in cells, by cell index, in the cell's text. */
  readonly cellProblems: ReadonlyMap<number, readonly Problem[]>;
  /** Problems in session files and exports; each names its file. */
  readonly fileProblems: readonly Problem[];
  /** Every file that was read, with its digest, sorted by path. */
  readonly inputs: readonly { readonly path: string; readonly digest: string }[];
}

/**
 * Reads all sessions that a notebook names, in its front matter and in its cells, and makes their tables in the
 * notebook's units.
 *
 * @param path the notebook's own path, relative to the root; paths in it are relative to its folder.
 */
export async function readSources(
  document: NotebookDocument,
  path: string,
  files: FilePort,
  loader: SessionLoader,
): Promise<Sources> {
  const front = readFrontMatter(document.cells.find((cell) => cell.kind === "front")?.text ?? "").value;
  const folder = folderOf(path);
  const loaded = new Map<string, LoadedSession>();
  const load = async (place: string): Promise<LoadedSession> => {
    const known = loaded.get(place) ?? (await loader.load(place));
    loaded.set(place, known);
    return known;
  };

  async function open(text: string, range: TextRange): Promise<{ sessions: readonly LoadedSession[]; problems: readonly Problem[] }> {
    const pattern = /^(?:(.*)\/)?\*\.session\.yaml$/u.exec(text);
    const place = resolvePath(folder, pattern === null ? text : (pattern[1] ?? "."));
    if (place.value === null) return { sessions: [], problems: place.problems.map((found) => ({ ...found, range })) };
    const paths = pattern === null ? [place.value] : await listSessions(place.value, files);
    if (paths === null || paths.length === 0)
      return { sessions: [], problems: [problem("run.no-sessions", { path: text }, range)] };
    const sessions: LoadedSession[] = [];
    const problems: Problem[] = [];
    for (const each of paths) {
      const session = await load(each);
      if (session.fault !== null) problems.push(problem("run.file", { path: text, reason: session.fault }, range));
      sessions.push(session);
    }
    return { sessions, problems };
  }

  const frontProblems: Problem[] = [];
  const shots: LoadedSession[] = [];
  for (const named of front.shots) {
    const opened = await open(named.path, named.range);
    shots.push(...opened.sessions);
    frontProblems.push(...opened.problems);
  }
  const byPath = new Map<string, Source>();
  const cellProblems = new Map<number, Problem[]>();
  for (const [index, cell] of document.cells.entries()) {
    if (cell.kind !== "query") continue;
    for (const named of referencesOf(cell.text, bodyOffset(cell.text)).paths) {
      const opened = await open(named.path, named.range);
      if (opened.problems.length > 0) cellProblems.set(index, [...(cellProblems.get(index) ?? []), ...opened.problems]);
      if (!byPath.has(named.path)) byPath.set(named.path, makeSource(opened.sessions, opened.problems, front.units));
    }
  }
  const combined = makeSource(shots, frontProblems, front.units);
  return {
    shots: front.shots.length === 0 ? null : combined,
    byPath,
    frontProblems,
    cellProblems,
    fileProblems: [...loaded.values()].flatMap((session) => session.problems),
    inputs: [...loaded.values()]
      .flatMap((session) => session.inputs)
      .filter((input, index, all) => all.findIndex((other) => other.path === input.path) === index)
      .sort((a, b) => (a.path < b.path ? -1 : 1)),
  };
}

function makeSource(sessions: readonly LoadedSession[], problems: readonly Problem[], units: UnitSystem): Source {
  const tables = sessions.flatMap((session) => (session.table === null ? [] : [session.table]));
  const key = contentKey(units, ...sessions.map((session) => session.key));
  const worst =
    problems.find((found) => found.severity === "error") ??
    sessions.flatMap((session) => session.problems).find((found) => found.severity === "error");
  const fault = worst === undefined ? null : sentenceOf(worst);
  if (tables.length === 0 || tables.length < sessions.length) return { table: null, schema: null, key, fault: fault ?? "it names no session" };
  const combined = combineTables(tables);
  if (combined.value === null) return { table: null, schema: null, key, fault: combined.problems.map(sentenceOf)[0] ?? fault };
  const table = inUnits(combined.value, units);
  return { table, schema: schemaOf(table), key, fault: null };
}

function sentenceOf(found: Problem): string {
  return found.file === undefined ? found.message : `${found.file}, line ${found.range.start.line}: ${found.message}`;
}
