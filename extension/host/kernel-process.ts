import { Worker } from "node:worker_threads";
import type { FilePort } from "../../core/file-port";
import type { NotebookDocument } from "../../core/notebook/document";
import type { PresentedCell } from "../../core/present/present-outcome";
import type { Problem } from "../../core/problem";
import { cancelSlot, type FromKernel, type ToKernel } from "../../server/kernel/messages";

/** What a run tells while it goes on. */
export interface RunListener {
  readonly onStart: (index: number) => void;
  readonly onCell: (cell: PresentedCell) => void;
}

/** How a run ended. */
export interface RunEnd {
  readonly problems: readonly Problem[];
  readonly cancelled: boolean;
  /** Why the kernel failed; `null` when it did not. */
  readonly fault: string | null;
}

/** A kernel in a worker of its own, which can be ended at any moment. */
export interface KernelProcess {
  readonly run: (path: string, document: NotebookDocument, only: readonly number[], listener: RunListener) => Promise<RunEnd>;
  /** Cancels whatever is running or waiting; a cell that does not stop by itself is stopped with its worker. */
  readonly cancel: () => Promise<void>;
  /** Ends the worker; the next run starts a new one. */
  readonly end: () => Promise<void>;
}

/** Time a cancelled cell gets to stop by itself before its worker is ended. */
const graceMilliseconds = 500;
/** Memory one kernel may use, in MB; over it the worker ends and the cell says so. */
const memoryMegabytes = 4096;

interface Running {
  readonly listener: RunListener;
  readonly finish: (end: RunEnd) => void;
}

/** Returns a kernel that runs the worker `script` and reads files through `files`. The worker starts with the first run. */
export function createKernelProcess(script: string, files: FilePort): KernelProcess {
  let worker: Worker | null = null;
  let flags = new Int32Array(new SharedArrayBuffer(4));
  let runs = 0;
  const running = new Map<number, Running>();

  function finishAll(end: RunEnd): void {
    for (const { finish } of running.values()) finish(end);
    running.clear();
  }

  async function answer(target: Worker, message: Extract<FromKernel, { type: "read" | "list" }>): Promise<void> {
    const reply: ToKernel =
      message.type === "read"
        ? { type: "file", request: message.request, read: await files.read(message.path) }
        : { type: "listing", request: message.request, names: await files.list(message.folder) };
    target.postMessage(reply);
  }

  function receive(target: Worker, message: FromKernel): void {
    switch (message.type) {
      case "ready":
        return;
      case "read":
      case "list":
        void answer(target, message);
        return;
      case "started":
        running.get(message.run)?.listener.onStart(message.index);
        return;
      case "cell":
        running.get(message.run)?.listener.onCell(message.cell);
        return;
      case "done":
      case "fault": {
        const run = running.get(message.run);
        running.delete(message.run);
        run?.finish(
          message.type === "done"
            ? { problems: message.problems, cancelled: message.cancelled, fault: null }
            : { problems: [], cancelled: false, fault: message.message },
        );
      }
    }
  }

  function start(): Worker {
    flags = new Int32Array(new SharedArrayBuffer(4));
    const started = new Worker(script, {
      workerData: { flags: flags.buffer },
      resourceLimits: { maxOldGenerationSizeMb: memoryMegabytes },
      // The kernel gets nothing of the host's environment and prints nothing into its log.
      env: {},
      stdout: true,
      stderr: true,
    });
    started.on("message", (message: FromKernel) => receive(started, message));
    started.on("error", (error) => {
      if (worker === started) worker = null;
      const memory = "code" in error && error.code === "ERR_WORKER_OUT_OF_MEMORY";
      finishAll({
        problems: [],
        cancelled: false,
        fault: memory ? `the cell needs more memory than a kernel may use (${memoryMegabytes} MB)` : error.message,
      });
    });
    started.on("exit", () => {
      if (worker !== started) return;
      worker = null;
      finishAll({ problems: [], cancelled: true, fault: null });
    });
    return started;
  }

  async function end(): Promise<void> {
    const ending = worker;
    worker = null;
    finishAll({ problems: [], cancelled: true, fault: null });
    await ending?.terminate();
  }

  return {
    run: (path, document, only, listener) =>
      new Promise((resolve) => {
        worker ??= start();
        const run = ++runs;
        running.set(run, { listener, finish: resolve });
        const message: ToKernel = { type: "run", run, path, document, only };
        worker.postMessage(message);
      }),
    cancel: async () => {
      const upTo = runs;
      Atomics.store(flags, cancelSlot, upTo);
      const deadline = new Promise<"late">((resolve) => setTimeout(() => resolve("late"), graceMilliseconds));
      const stopped = new Promise<"stopped">((resolve) => {
        const poll = setInterval(() => {
          if ([...running.keys()].some((run) => run <= upTo)) return;
          clearInterval(poll);
          resolve("stopped");
        }, 20);
        void deadline.then(() => clearInterval(poll));
      });
      if ((await Promise.race([deadline, stopped])) === "late") await end();
    },
    end,
  };
}
