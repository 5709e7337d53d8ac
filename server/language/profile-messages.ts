import type { FileRead } from "../../core/file-port";
import type { ProfiledSession } from "../../core/profile-loader";

/** What the language server says to its worker: which session to profile, and files that the worker asked for. */
export type ToProfiler =
  | {
      readonly type: "profile";
      /** The number of the job: 1, 2, 3 … for one worker. */
      readonly job: number;
      /** The session file, relative to the root. */
      readonly path: string;
    }
  /** The answer to a question; `same` when the file has the digest that the worker knows. */
  | { readonly type: "file"; readonly question: number; readonly read: FileRead | "same" };

/** What the worker says: which file it needs of a job, or how the job ended. */
export type FromProfiler =
  | {
      readonly type: "read";
      readonly job: number;
      readonly question: number;
      readonly path: string;
      /** Bytes that are wanted; `null` for all. */
      readonly most: number | null;
      /** The digest of the file as the worker has it already; `null` when it has not. */
      readonly known: string | null;
    }
  | { readonly type: "profiled"; readonly job: number; readonly session: ProfiledSession }
  | { readonly type: "fault"; readonly job: number; readonly message: string };

/** What tells a worker of the bundle that it is to profile sessions, and not to be a kernel. */
export interface ProfilerData {
  readonly role: "profiler";
}

/** True for the data that a worker which profiles sessions is started with. */
export function isProfilerData(data: unknown): data is ProfilerData {
  return typeof data === "object" && data !== null && "role" in data && data.role === "profiler";
}
