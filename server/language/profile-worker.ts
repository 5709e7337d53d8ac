import type { FilePort, FileRead } from "../../core/file-port";
import type { FromProfiler, ToProfiler } from "./profile-messages";
import { profileHere } from "./profile-session";

/** Where a worker that profiles sessions runs. */
export interface ProfilerHost {
  readonly post: (message: FromProfiler) => void;
  readonly listen: (receive: (message: ToProfiler) => void) => void;
}

/**
 * Starts to profile sessions when told, and asks the host for every file. Each job ends with one `profiled` or `fault`, and
 * leaves nothing behind.
 */
export function startProfiler(host: ProfilerHost): void {
  const waiting = new Map<number, (read: FileRead) => void>();
  let questions = 0;

  function filesOf(job: number): FilePort {
    return {
      read: (path, most) =>
        new Promise((resolve) => {
          const question = ++questions;
          waiting.set(question, resolve);
          host.post({ type: "read", job, question, path, most });
        }),
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
