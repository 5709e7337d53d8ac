import type { FilePort, FileRead } from "../../core/file-port";
import { dropUnused, putLast } from "../../core/kept-entries";
import { editorExportBytes } from "../../core/limits";
import type { ProfiledSession } from "../../core/profile-loader";
import type { ProfileSession } from "./profile-session";
import { sketchSession, withKnown } from "./session-sketch";

/** Gives profiles of sessions, each made again only when its bytes or those of its exports have changed. */
export interface SessionProfiler {
  /**
   * The profile of a session as it is now. Whoever asks while one is being made gets the next, which is shared with all
   * others who ask meanwhile. Rejected when it could not be made; asking again tries again, also after one that
   * took too long.
   */
  readonly load: (path: string) => Promise<ProfiledSession>;
  /**
   * The profile of a session that was made last, whatever changed since; while there is nothing to be known of its exports,
   * the last in which there was. `null` when none was made.
   */
  readonly lastKnown: (path: string) => ProfiledSession | null;
  /**
   * What can be known of a session without waiting for its exports: the profile that was made last, and where the text of
   * the session file is another since, or none was made, what that text tells.
   */
  readonly now: (path: string) => Promise<ProfiledSession>;
  /** Lets go of profiles of sessions that are not used, but for a few that were asked for last. */
  readonly keepUsed: (isUsed: (path: string) => boolean) => void;
}

/** Profiles of so many sessions that nobody uses are kept: a path that is being written may be back in a moment. */
const spareProfiles = 8;

interface Known {
  readonly last: ProfiledSession;
  /** The last that knows something of the exports: a text that is being written is broken at times. */
  readonly telling: ProfiledSession;
}

/** What a text told, and what was made of that and the profile that was known. */
interface Sketched {
  readonly last: ProfiledSession | null;
  readonly drawn: ProfiledSession;
  readonly made: ProfiledSession;
}

/** One session: the profile that is being made, and the one that is wanted after it. */
interface Turn {
  readonly running: Promise<ProfiledSession>;
  next: Promise<ProfiledSession> | null;
}

/** Returns a profiler that reads through `files`, and remembers the profile last made of each session. */
export function createSessionProfiler(files: FilePort, profile: ProfileSession): SessionProfiler {
  const known = new Map<string, Known>();
  const turns = new Map<string, Turn>();
  const sketches = new Map<string, Sketched>();

  async function make(path: string): Promise<ProfiledSession> {
    const before = known.get(path)?.last;
    const read = new Map<string, FileRead>();
    const isSame = before !== undefined && (await isUnchanged(before, files, read));
    const made = isSame ? before : await profile(path, withRead(files, read));
    // One busy moment is no reason to know nothing for as long as the files are the same.
    if (made.problems.some(({ code }) => code === "run.session-out-of-time")) return made;
    const kept = before?.key === made.key ? before : made;
    putLast(known, path, { last: kept, telling: kept.exports.length > 0 ? kept : (known.get(path)?.telling ?? kept) });
    return kept;
  }

  /** What the text of a session file tells, drawn once while it is the same, beside what was known of the exports. */
  async function sketch(path: string): Promise<ProfiledSession> {
    const last = known.get(path)?.telling ?? null;
    const before = sketches.get(path);
    if (before !== undefined && before.last === last && (await hasSameText(before.drawn, files))) return before.made;
    const drawn = await sketchSession(path, files);
    const made = last === null ? drawn : withKnown(drawn, last);
    putLast(sketches, path, { last, drawn, made });
    return made;
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
    lastKnown: (path) => known.get(path)?.telling ?? null,
    now: async (path) => {
      const last = known.get(path)?.last;
      return last !== undefined && (await hasSameText(last, files)) ? last : sketch(path);
    },
    keepUsed: (isUsed) => {
      dropUnused(known, isUsed, spareProfiles);
      dropUnused(sketches, isUsed, spareProfiles);
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

/** True when the session file itself has the digest that it had. */
async function hasSameText({ path: own, inputs }: ProfiledSession, files: FilePort): Promise<boolean> {
  const digest = inputs.find(({ path }) => path === own)?.digest ?? null;
  if (digest === null) return false;
  if ((await files.isCurrent?.(own, digest)) === true) return true;
  const read = await files.read(own);
  return read.ok && read.digest === digest;
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
