import { cappedProblems } from "./capped-problems";
import { contentKey } from "./content-key";
import type { FileFault, FilePort } from "./file-port";
import type { Limits } from "./limits";
import { folderOf, resolvePath } from "./path";
import { dropUnused, putLast } from "./kept-entries";
import { placedPath, unreadFile } from "./placed-path";
import type { Checked, Problem } from "./problem";
import { inFile, problem } from "./problem";
import { conventionProblems } from "./quality/session-conventions";
import { combineTables } from "./session/combine-sessions";
import { withExportFixes } from "./session/export-fixes";
import type { ExportProfile } from "./session/export-profile";
import { loadShots, type LoadedShots } from "./session/load-shots";
import { readSession } from "./session/read-session";
import { inUnits } from "./table/convert-units";
import { decodeText } from "./table/decode-text";
import { schemaOf, type Schema } from "./table/schema";
import type { Table } from "./table/table";
import { textStart } from "./text-position";
import type { UnitSystem } from "./units";

export type { ExportProfile } from "./session/export-profile";

/** A file that was asked for; its digest is `null` when it could not be read. */
export interface InputFile {
  /** Relative to the root. */
  readonly path: string;
  readonly digest: string | null;
  /** Its bytes; absent when it could not be read. */
  readonly size?: number;
}

/** One session file with its exports, read: the shots in the export's units, and everything that was wrong. */
export interface LoadedSession {
  /** The session file, relative to the root. */
  readonly path: string;
  /** `null` when the shots cannot be had: one of `problems` says why, or `fault` does. */
  readonly table: Table | null;
  /** Problems in the session file and in its exports; each names its file, relative to the root. */
  readonly problems: readonly Problem[];
  /** Equal for equal bytes of the session file and all its exports. */
  readonly key: string;
  /** Why the session file itself could not be opened; `null` when it could. */
  readonly fault: FileFault | null;
  /** The session file and every export that it names, each once. */
  readonly inputs: readonly InputFile[];
  /** One for each export that could be read, in the order of the session's sources. */
  readonly exports: readonly ExportProfile[];
}

/** The shots of several sessions in one table. */
export interface CombinedShots {
  readonly table: Table;
  readonly schema: Schema;
}

/** Loads session files, each again only when its bytes or those of its exports have changed. */
export interface SessionLoader {
  readonly load: (path: string) => Promise<LoadedSession>;
  /**
   * One table of the shots of all sessions, in the given units. Problems stand at the beginning of whatever text named
   * the sessions; `null` when a session has no table, when one is there twice, or when there are too many rows.
   */
  readonly combine: (sessions: readonly LoadedSession[], units: UnitSystem) => Checked<CombinedShots | null>;
  /** Lets go of what is remembered of sessions that are not used, but for a few that were loaded last. */
  readonly keepUsed: (isUsed: (path: string) => boolean) => void;
}

/**
 * The same combining, which puts a session that is alone together once for as long as it is there, in each units: many
 * notebooks may name it.
 */
export function rememberAlone(combine: SessionLoader["combine"]): SessionLoader["combine"] {
  const known = new WeakMap<LoadedSession, Map<UnitSystem, ReturnType<SessionLoader["combine"]>>>();
  return (sessions, units) => {
    const [only, ...others] = sessions;
    if (only === undefined || others.length > 0) return combine(sessions, units);
    const byUnits = known.get(only) ?? new Map<UnitSystem, ReturnType<SessionLoader["combine"]>>();
    known.set(only, byUnits);
    const made = byUnits.get(units) ?? combine(sessions, units);
    byUnits.set(units, made);
    return made;
  };
}

/** Tables of so many sessions that nobody uses are kept: a path that is being written may be back in a moment. */
const spareSessions = 2;

/** Returns a loader that reads through `files` and remembers what it has read last. */
export function createSessionLoader(files: FilePort, limits: Limits): SessionLoader {
  const known = new Map<string, LoadedSession>();

  async function isCurrent(session: LoadedSession): Promise<boolean> {
    if (files.isCurrent === undefined) return false;
    for (const { path, digest } of session.inputs) if (digest === null || !(await files.isCurrent(path, digest))) return false;
    return true;
  }

  return {
    load: async (path) => {
      const before = known.get(path);
      const isSame = before !== undefined && (await isCurrent(before));
      const loaded = isSame ? before : await loadSession(path, files, { limits, ...(before === undefined ? {} : { before }) });
      putLast(known, path, loaded);
      return loaded;
    },
    combine: rememberAlone((sessions, units) => combineShots(sessions, units, limits)),
    keepUsed: (isUsed) => dropUnused(known, isUsed, spareSessions),
  };
}

/** How one session is loaded. */
export interface LoadOptions {
  readonly limits: Limits;
  /** What was loaded before: given again when nothing has changed. */
  readonly before?: LoadedSession;
  /** Bytes of an export that are read: of a longer one the beginning is taken, up to its last whole line. All of it when absent. */
  readonly exportBytes?: number;
}

/** Reads the session file `path` and its exports through `files`. */
export async function loadSession(path: string, files: FilePort, { limits, before, exportBytes }: LoadOptions): Promise<LoadedSession> {
  const unread = (fault: FileFault, digest: string | null = null): LoadedSession => ({
    path,
    table: null,
    problems: [],
    key: contentKey(path, fault),
    fault,
    inputs: [{ path, digest }],
    exports: [],
  });
  const read = await files.read(path);
  if (!read.ok) return unread(read.reason);
  // A session is written by hand, as a notebook is: one of another size is some other file.
  if (read.bytes.length > limits.notebookText) return unread("too large", read.digest);
  const text = decodeText(read.bytes);
  const session = text.value === null ? { value: null, problems: [] } : readSession(text.value);
  const problems: Problem[] = [...text.problems, ...session.problems].map((found) => inFile(found, path));
  const inputs: InputFile[] = [{ path, digest: read.digest, size: read.bytes.length }];
  const faults: string[] = [];
  const exports = new Map<string, Uint8Array>();
  const wholeBytes = new Map<string, number>();
  const places = new Map<string, string>();
  const digests = new Map<string, string>();
  for (const source of session.value?.sources ?? []) {
    if (places.has(source.file)) continue;
    const place = resolvePath(folderOf(path), source.file);
    if (place.value === null) {
      problems.push(...place.problems.map((found) => inFile(placedPath(found, source.fileRange), path)));
      continue;
    }
    places.set(source.file, place.value);
    const found = await files.read(place.value, exportBytes);
    inputs.push(found.ok ? { path: place.value, digest: found.digest, size: found.size ?? found.bytes.length } : { path: place.value, digest: null });
    if (found.ok) {
      const size = found.size ?? found.bytes.length;
      const part = exportBytes === undefined ? found.bytes : found.bytes.subarray(0, exportBytes);
      exports.set(source.file, part);
      digests.set(source.file, found.digest);
      if (size > part.length) wholeBytes.set(source.file, size);
    } else {
      faults.push(found.reason);
      const unread = await unreadFile(source.file, place.value, found.reason, files);
      problems.push(inFile(unread(source.fileRange), path));
    }
  }
  const key = contentKey(...inputs.flatMap((input) => [input.path, input.digest ?? ""]), ...faults);
  if (before?.key === key) return before;
  const shots: LoadedShots = session.value === null ? { value: null, problems: [], exports: [] } : loadShots(session.value, exports, limits, wholeBytes);
  const exported = session.value === null || text.value === null ? [] : withExportFixes(shots.problems, { path, text: text.value, session: session.value, places, digests });
  for (const found of exported) {
    problems.push(inFile(found.file === undefined ? found : { ...found, file: places.get(found.file) ?? found.file }, path));
  }
  // What the shots say of a whole column is not told from some of them.
  if (session.value !== null && shots.value !== null && text.value !== null && wholeBytes.size === 0)
    problems.push(...conventionProblems(shots.value, session.value, text.value, shots.problems).map((found) => inFile(found, path)));
  const errors = problems.filter((found) => found.severity === "error").length;
  const table = shots.value === null ? null : { ...shots.value, sessions: shots.value.sessions.map((facts) => ({ ...facts, file: path, errors })) };
  const profiles = shots.exports.map((each) => ({ ...each, path: places.get(each.path) ?? each.path }));
  return { path, table, problems: cappedIn(path, problems, limits.problems), key, fault: null, inputs, exports: profiles };
}

/** The problems, of those in the session file itself no more than the limit with their true total; those in exports are so already. */
function cappedIn(path: string, problems: readonly Problem[], most: number): readonly Problem[] {
  const own = cappedProblems(problems.filter(({ file }) => file === path), most, "yaml.more");
  return [...own.map((found) => inFile(found, path)), ...problems.filter(({ file }) => file !== path)];
}

/** A problem when the tables together have more rows than the limit. */
export function tooManyRows(rowCounts: readonly number[], limits: Limits): readonly Problem[] {
  const rows = rowCounts.reduce((sum, count) => sum + count, 0);
  return rows > limits.rows ? [problem("run.too-large", { what: "rows", count: rows, most: limits.rows }, textStart)] : [];
}

function combineShots(sessions: readonly LoadedSession[], units: UnitSystem, limits: Limits): Checked<CombinedShots | null> {
  const tables = sessions.flatMap((session) => (session.table === null ? [] : [session.table]));
  if (tables.length < sessions.length) return { value: null, problems: [] };
  const tooMany = tooManyRows(tables.map((table) => table.rowCount), limits);
  if (tooMany.length > 0) return { value: null, problems: tooMany };
  const { value, problems } = combineTables(tables);
  if (value === null) return { value, problems };
  const table = inUnits(value, units);
  return { value: { table, schema: schemaOf(table) }, problems };
}
