import { contentKey } from "./content-key";
import type { FileFault, FilePort } from "./file-port";
import type { Limits } from "./limits";
import { checkPath, folderOf, resolvePath } from "./path";
import type { Checked, Problem } from "./problem";
import { inFile, problem } from "./problem";
import { loadShots } from "./session/load-shots";
import { readSession } from "./session/read-session";
import { decodeText } from "./table/decode-text";
import type { Table } from "./table/table";

/** One session file with its exports, read: the shots in the export's units, and everything that was wrong. */
export interface LoadedSession {
  /** The session file, relative to the root. */
  readonly path: string;
  /** `null` when the session file cannot be read at all. */
  readonly table: Table | null;
  /** Problems in the session file and in its exports; each names its file, relative to the root. */
  readonly problems: readonly Problem[];
  /** Equal for equal bytes of the session file and all its exports. */
  readonly key: string;
  /** Why the session file itself could not be opened; `null` when it could. */
  readonly fault: FileFault | null;
  /** Every file that was read, with its digest. */
  readonly inputs: readonly { readonly path: string; readonly digest: string }[];
}

/** Loads session files, each again only when its bytes or those of its exports have changed. */
export interface SessionLoader {
  readonly load: (path: string) => Promise<LoadedSession>;
}

/** Returns a loader that reads through `files` and remembers what it has read. */
export function createSessionLoader(files: FilePort, limits: Limits): SessionLoader {
  const known = new Map<string, LoadedSession>();
  return {
    load: async (path) => {
      const loaded = await loadSession(path, files, limits, known.get(path));
      known.set(path, loaded);
      return loaded;
    },
  };
}

async function loadSession(
  path: string,
  files: FilePort,
  limits: Limits,
  before: LoadedSession | undefined,
): Promise<LoadedSession> {
  const read = await files.read(path);
  if (!read.ok) return { path, table: null, problems: [], key: contentKey(path, read.reason), fault: read.reason, inputs: [] };
  const text = decodeText(read.bytes);
  const session = text.value === null ? { value: null, problems: [] } : readSession(text.value);
  const problems: Problem[] = [...text.problems, ...session.problems].map((found) => inFile(found, path));
  const inputs = [{ path, digest: read.digest }];
  const exports = new Map<string, Uint8Array>();
  const places = new Map<string, string>();
  for (const source of session.value?.sources ?? []) {
    const place = resolvePath(folderOf(path), source.file);
    if (place.value === null) {
      problems.push(...place.problems.map((found) => inFile({ ...found, range: source.fileRange }, path)));
      continue;
    }
    const bytes = await files.read(place.value);
    places.set(source.file, place.value);
    if (bytes.ok) {
      exports.set(source.file, bytes.bytes);
      inputs.push({ path: place.value, digest: bytes.digest });
    } else {
      inputs.push({ path: place.value, digest: bytes.reason });
      problems.push(problem("run.file", { path: source.file, reason: bytes.reason }, source.fileRange, { file: path }));
    }
  }
  const key = contentKey(...inputs.flatMap((input) => [input.path, input.digest]));
  if (before?.key === key) return before;
  const shots: Checked<Table | null> =
    session.value === null ? { value: null, problems: [] } : loadShots(session.value, exports, limits);
  for (const found of shots.problems) {
    problems.push(inFile(found.file === undefined ? found : { ...found, file: places.get(found.file) ?? found.file }, path));
  }
  const table = shots.value === null ? null : { ...shots.value, sessions: shots.value.sessions.map((s) => ({ ...s, file: path })) };
  return { path, table, problems, key, fault: null, inputs };
}

/** The session files that a pattern `folder/*.session.yaml` names, sorted; `null` when it names no folder. */
export async function listSessions(folder: string, files: FilePort): Promise<readonly string[] | null> {
  const names = await files.list(folder === "" ? "." : folder);
  if (names === null) return null;
  return names
    .filter((name) => name.endsWith(".session.yaml") && checkPath(name).problems.length === 0)
    .map((name) => (folder === "" || folder === "." ? name : `${folder}/${name}`));
}
