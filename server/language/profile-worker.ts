import type { FilePort, FileRead } from "../../core/file-port";
import type { FromProfiler, ToProfiler } from "./profile-messages";
import { profileHere } from "./profile-session";

/** Where a worker that profiles sessions runs. */
export interface ProfilerHost {
  readonly post: (message: FromProfiler) => void;
  readonly listen: (receive: (message: ToProfiler) => void) => void;
}

/** Bytes of exports that are kept for the next job, 32 MB: while a session is written, its exports stay as they are. */
const mostKept = 32 * 1024 * 1024;

type Found = Extract<FileRead, { readonly ok: true }>;

/**
 * Starts to profile sessions when told, and asks the host for every file. Each job ends with one `profiled` or `fault`, and
 * leaves nothing behind but the bytes of its exports.
 */
export function startProfiler(host: ProfilerHost): void {
  const waiting = new Map<number, (read: FileRead | "same") => void>();
  /** By path, what was used last at the end. */
  const kept = new Map<string, Found>();
  let questions = 0;

  function keep(path: string, found: Found): void {
    kept.delete(path);
    kept.set(path, found);
    let size = [...kept.values()].reduce((sum, each) => sum + each.bytes.length, 0);
    for (const [other, { bytes }] of kept) {
      if (size <= mostKept) return;
      kept.delete(other);
      size -= bytes.length;
    }
  }

  function filesOf(job: number): FilePort {
    return {
      read: async (path, most) => {
        const before = most === undefined ? undefined : kept.get(path);
        const answered = await new Promise<FileRead | "same">((resolve) => {
          const question = ++questions;
          waiting.set(question, resolve);
          host.post({ type: "read", job, question, path, most: most ?? null, known: before?.digest ?? null });
        });
        const read = answered === "same" ? before! : answered;
        if (most !== undefined && read.ok) keep(path, read);
        return read;
      },
      // A session names its exports one by one.
      list: () => Promise.resolve(null),
    };
  }

  async function profile(job: number, path: string): Promise<void> {
    try {
      host.post({ type: "profiled", job, session: await profileHere(path, filesOf(job)) });
    } catch (error) {
      host.post({ type: "fault", job, message: error instanceof Error ? error.message : "something that is no error was thrown" });
    }
  }

  host.listen((message) => {
    if (message.type === "profile") void profile(message.job, message.path);
    else {
      waiting.get(message.question)?.(message.read);
      waiting.delete(message.question);
    }
  });
}
