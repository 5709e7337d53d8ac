import type { FilePort, FileRead } from "../../core/file-port";
import { editorExportBytes } from "../../core/limits";
import type { ProfiledSession } from "../../core/profile-loader";
import type { ProfileSession } from "./profile-session";

/** Gives profiles of sessions, each made again only when its bytes or those of its exports have changed. */
export interface SessionProfiler {
  /**
   * The profile of a session as it is now. Whoever asks while one is being made gets the next, which is shared with all
   * others who ask meanwhile. Rejected when it could not be made; asking again tries again.
   */
  readonly load: (path: string) => Promise<ProfiledSession>;
}

/** One session: the profile that is being made, and the one that is wanted after it. */
interface Turn {
  readonly running: Promise<ProfiledSession>;
  next: Promise<ProfiledSession> | null;
}

/** Returns a profiler that reads through `files`, and remembers the profile last made of each session. */
export function createSessionProfiler(files: FilePort, profile: ProfileSession): SessionProfiler {
  const known = new Map<string, ProfiledSession>();
  const turns = new Map<string, Turn>();

  async function make(path: string): Promise<ProfiledSession> {
    const before = known.get(path);
    const read = new Map<string, FileRead>();
    if (before !== undefined && (await isUnchanged(before, files, read))) return before;
    const made = await profile(path, withRead(files, read));
    const kept = before?.key === made.key ? before : made;
    known.set(path, kept);
    return kept;
  }

  function begin(path: string): Promise<ProfiledSession> {
    const turn: Turn = { running: make(path), next: null };
    turns.set(path, turn);
    const over = (): void => {
      if (turns.get(path) === turn && turn.next === null) turns.delete(path);
    };
    turn.running.then(over, over);
    return turn.running;
  }

  return {
    load: (path) => {
      const turn = turns.get(path);
      if (turn === undefined) return begin(path);
      // What is being made may have read files before they were changed.
      turn.next ??= turn.running.then(
        () => begin(path),
        () => begin(path),
      );
      return turn.next;
    },
  };
}

/**
 * True when every file of a session has the digest that it had. Files whose digest cannot be told otherwise are read, and
 * kept in `read`.
 */
async function isUnchanged({ path: own, inputs }: ProfiledSession, files: FilePort, read: Map<string, FileRead>): Promise<boolean> {
  for (const { path, digest } of inputs) {
    if (digest === null) return false;
    if ((await files.isCurrent?.(path, digest)) === true) continue;
    const found = await files.read(path, path === own ? undefined : editorExportBytes);
    read.set(path, found);
    if (!found.ok || found.digest !== digest) return false;
  }
  return true;
}

/** The same files; those that were read are given once without reading them again. */
function withRead(files: FilePort, read: Map<string, FileRead>): FilePort {
  return {
    ...files,
    read: (path, most) => {
      const found = read.get(path);
      read.delete(path);
      return found === undefined ? files.read(path, most) : Promise.resolve(found);
    },
  };
}
