import { Worker } from "node:worker_threads";
import { contentKey } from "../../core/content-key";
import type { FilePort, FileRead } from "../../core/file-port";
import { problem } from "../../core/problem";
import type { ProfiledSession } from "../../core/profile-loader";
import { textStart } from "../../core/text-position";
import type { FromProfiler, ProfilerData, ToProfiler } from "./profile-messages";
import type { ProfileSession } from "./profile-session";

/** Profiles sessions in a worker of its own, one after another. */
export interface ProfileProcess {
  /**
   * The profile of a session, whose files are read here and handed over to the worker. One that takes too long is ended
   * with its worker: then there is no table, and a problem says so. Rejected when the worker fails: the next job
   * gets a new one.
   */
  readonly profile: ProfileSession;
  /** Ends the worker; whoever waits for a profile is told that there will be none. */
  readonly dispose: () => Promise<void>;
}

/** What may be set otherwise, by tests. */
export interface ProfileProcessOptions {
  /** Time without work after which the worker is ended, so that its memory goes away. */
  readonly idleMilliseconds?: number;
  /** Memory for the objects of the worker, in MB; what holds the numbers is not counted. */
  readonly memoryMegabytes?: number;
  /** Time after which a profile is given up. */
  readonly mostMilliseconds?: number;
  /** Does something after a time; the answer takes it back. */
  readonly later?: (milliseconds: number, action: () => void) => () => void;
}

interface Job {
  readonly number: number;
  readonly path: string;
  readonly files: FilePort;
  /** Digests of the files that were read for it, by path. */
  readonly digests: Map<string, string | null>;
  readonly resolve: (session: ProfiledSession) => void;
  readonly reject: (fault: Error) => void;
}

/** Returns a process that runs the worker `script`; the worker starts with the first job. */
export function createProfileProcess(script: string, options: ProfileProcessOptions = {}): ProfileProcess {
  const { idleMilliseconds = 10_000, memoryMegabytes = 512, mostMilliseconds = 60_000, later = afterTime } = options;
  const waiting: Job[] = [];
  let current: Job | null = null;
  let worker: Worker | null = null;
  /** Takes back what would happen once it is time: to the job at hand, or to a worker without one. */
  let takeBack: () => void = () => undefined;
  let isDisposed = false;
  let jobs = 0;

  function start(): Worker {
    const started = new Worker(script, {
      workerData: { role: "profiler" } satisfies ProfilerData,
      resourceLimits: { maxOldGenerationSizeMb: memoryMegabytes },
      // As a kernel, it gets nothing of the environment; and what it prints would stand between the protocol's messages.
      env: {},
      execArgv: [],
      stdout: true,
      stderr: true,
    });
    const lose = (fault: string): void => {
      if (worker !== started) return;
      worker = null;
      end((job) => job.reject(new Error(fault)));
    };
    started.on("message", (message: FromProfiler) => {
      if (worker === started) receive(started, message);
    });
    started.on("messageerror", () => {
      lose("a message of the worker that reads sessions was lost");
      void started.terminate();
    });
    started.on("error", (error) => lose(`the worker that reads sessions failed: ${error.message}`));
    started.on("exit", () => lose("the worker that reads sessions ended by itself"));
    // The server ends when its editor goes, whatever is being read.
    started.unref();
    return started;
  }

  function receive(from: Worker, message: FromProfiler): void {
    if (message.job !== current?.number) return;
    switch (message.type) {
      case "read":
        void answer(from, current, message);
        return;
      case "profiled":
        end((job) => job.resolve(message.session));
        return;
      case "fault":
        end((job) => job.reject(new Error(message.message)));
    }
  }

  async function answer(from: Worker, { files, digests }: Job, asked: Extract<FromProfiler, { type: "read" }>): Promise<void> {
    const { question, path, known } = asked;
    const read = await readUnlessKnown(files, asked).catch((): FileRead => ({ ok: false, reason: "unreadable" }));
    digests.set(path, read === "same" ? known : read.ok ? read.digest : null);
    if (worker !== from) return;
    if (read === "same") return from.postMessage({ type: "file", question, read } satisfies ToProfiler);
    const own = ownBytes(read);
    from.postMessage({ type: "file", question, read: own } satisfies ToProfiler, own.ok ? [own.bytes.buffer] : []);
  }

  /** Gives up the current job: what does not end by itself ends with its worker. */
  function giveUp(job: Job): void {
    void stop();
    end(() => job.resolve(unreadInTime(job, mostMilliseconds)));
  }

  /** Tells how the current job ended, and goes on with the next. */
  function end(tell: (job: Job) => void): void {
    takeBack();
    const ended = current;
    current = null;
    if (ended !== null) tell(ended);
    next();
  }

  function next(): void {
    if (current !== null) return;
    takeBack();
    const job = waiting.shift();
    if (job !== undefined) {
      current = job;
      takeBack = later(mostMilliseconds, () => giveUp(job));
      worker ??= start();
      worker.postMessage({ type: "profile", job: job.number, path: job.path } satisfies ToProfiler);
    } else if (worker !== null) {
      takeBack = later(idleMilliseconds, () => void stop());
    }
  }

  async function stop(): Promise<void> {
    const ending = worker;
    worker = null;
    await ending?.terminate();
  }

  return {
    profile: (path, files) =>
      new Promise((resolve, reject) => {
        if (isDisposed) return reject(disposed());
        waiting.push({ number: ++jobs, path, files, digests: new Map(), resolve, reject });
        next();
      }),
    dispose: async () => {
      isDisposed = true;
      takeBack();
      const left = [...(current === null ? [] : [current]), ...waiting.splice(0)];
      current = null;
      for (const job of left) job.reject(disposed());
      await stop();
    },
  };
}

/** What is known of a session that was not read in time. */
function unreadInTime({ path, digests }: Job, milliseconds: number): ProfiledSession {
  const inputs = [...new Map([[path, null], ...digests])].map(([file, digest]) => ({ path: file, digest }));
  const tooSlow = problem("run.session-out-of-time", { path, seconds: milliseconds / 1000 }, textStart, { file: path });
  return {
    path,
    table: null,
    problems: [tooSlow],
    key: contentKey("out of time", ...inputs.flatMap((input) => [input.path, input.digest ?? ""])),
    fault: null,
    inputs,
    exports: [],
    counts: null,
  };
}

function afterTime(milliseconds: number, action: () => void): () => void {
  const timer = setTimeout(action, milliseconds);
  // The server ends when its editor goes, whatever is waited for.
  timer.unref();
  return () => clearTimeout(timer);
}

/** Reads a file that the worker does not have as it is now. */
async function readUnlessKnown(files: FilePort, { path, most, known }: Extract<FromProfiler, { type: "read" }>): Promise<FileRead | "same"> {
  if (known !== null && (await files.isCurrent?.(path, known)) === true) return "same";
  const read = await files.read(path, most ?? undefined);
  return read.ok && read.digest === known ? "same" : read;
}

function disposed(): Error {
  return new Error("sessions are not read any more");
}

/** The same answer with bytes that fill their buffer, which can be given away: a small one may be a part of what others use. */
function ownBytes(read: FileRead): FileRead & ({ readonly ok: false } | { readonly bytes: Uint8Array<ArrayBuffer> }) {
  if (!read.ok) return read;
  const { bytes } = read;
  const isOwn = bytes.buffer instanceof ArrayBuffer && bytes.byteLength === bytes.buffer.byteLength;
  return { ...read, bytes: isOwn ? new Uint8Array(bytes.buffer) : Uint8Array.from(bytes) };
}
