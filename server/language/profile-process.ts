import { Worker } from "node:worker_threads";
import type { FilePort, FileRead } from "../../core/file-port";
import type { ProfiledSession } from "../../core/profile-loader";
import type { FromProfiler, ProfilerData, ToProfiler } from "./profile-messages";
import type { ProfileSession } from "./profile-session";

/** Profiles sessions in a worker of its own, one after another. */
export interface ProfileProcess {
  /**
   * The profile of a session, whose files are read here and handed over to the worker. Rejected when the worker fails: the
   * next job gets a new one.
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
}

interface Job {
  readonly number: number;
  readonly path: string;
  readonly files: FilePort;
  readonly resolve: (session: ProfiledSession) => void;
  readonly reject: (fault: Error) => void;
}

/** Returns a process that runs the worker `script`; the worker starts with the first job. */
export function createProfileProcess(script: string, options: ProfileProcessOptions = {}): ProfileProcess {
  const { idleMilliseconds = 10_000, memoryMegabytes = 512 } = options;
  const waiting: Job[] = [];
  let current: Job | null = null;
  let worker: Worker | null = null;
  let idle: NodeJS.Timeout | undefined;
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

  async function answer(from: Worker, { files }: Job, asked: Extract<FromProfiler, { type: "read" }>): Promise<void> {
    const { question } = asked;
    const read = await readUnlessKnown(files, asked).catch((): FileRead => ({ ok: false, reason: "unreadable" }));
    if (worker !== from) return;
    if (read === "same") return from.postMessage({ type: "file", question, read } satisfies ToProfiler);
    const own = ownBytes(read);
    from.postMessage({ type: "file", question, read: own } satisfies ToProfiler, own.ok ? [own.bytes.buffer] : []);
  }

  /** Tells how the current job ended, and goes on with the next. */
  function end(tell: (job: Job) => void): void {
    const ended = current;
    current = null;
    if (ended !== null) tell(ended);
    next();
  }

  function next(): void {
    if (current !== null) return;
    clearTimeout(idle);
    const job = waiting.shift();
    if (job !== undefined) {
      current = job;
      worker ??= start();
      worker.postMessage({ type: "profile", job: job.number, path: job.path } satisfies ToProfiler);
    } else if (worker !== null) {
      idle = setTimeout(() => void stop(), idleMilliseconds);
      idle.unref();
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
        waiting.push({ number: ++jobs, path, files, resolve, reject });
        next();
      }),
    dispose: async () => {
      isDisposed = true;
      clearTimeout(idle);
      const left = [...(current === null ? [] : [current]), ...waiting.splice(0)];
      current = null;
      for (const job of left) job.reject(disposed());
      await stop();
    },
  };
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
