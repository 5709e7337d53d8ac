import type { Basis } from "../../core/basis";
import type { FilePort } from "../../core/file-port";
import type { NotebookDocument } from "../../core/notebook/document";
import type { PresentedCell } from "../../core/present/present-outcome";
import type { Problem } from "../../core/problem";
import type { ReportForm } from "../../core/report/write-report";
import type { Answer, FromKernel, MadeReport, Question, ToKernel } from "../../server/kernel/messages";
import type { KernelWorker, KernelWorkerEvents, StartKernelWorker } from "./kernel-worker";

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
  /** The report, where one was asked for and the run came to its end. */
  readonly report?: MadeReport;
}

/** A kernel in a worker of its own, which can be ended at any moment. */
export interface KernelProcess {
  /**
   * Runs cells after whatever was asked for before; always ends, and nothing is told after the end. With a form of report
   * all cells are run, and the report is part of the end.
   */
  readonly run: (path: string, document: NotebookDocument, only: readonly number[], listener: RunListener, report?: ReportForm) => Promise<RunEnd>;
  /** What each cell's result would be computed from now; `null` when nothing has been run yet, or it cannot be told. */
  readonly look: (path: string, document: NotebookDocument) => Promise<readonly Basis[] | null>;
  /**
   * Cancels whatever is running or waiting now. A cell that does not stop by itself is stopped with its worker; runs
   * that were asked for meanwhile go on in a new one.
   */
  readonly cancel: () => Promise<void>;
  /** Ends the worker; the next run starts a new one. */
  readonly end: () => Promise<void>;
  /** True while there is a worker. */
  readonly isStarted: () => boolean;
}

/** What may be set otherwise, by tests. */
export interface KernelOptions {
  /** Time a cancelled cell gets to stop by itself before its worker is ended. */
  readonly graceMilliseconds?: number;
}

interface Running {
  readonly message: Extract<ToKernel, { type: "run" }>;
  readonly listener: RunListener;
  readonly ended: Promise<RunEnd>;
  readonly finish: (end: RunEnd) => void;
}

const cancelledEnd: RunEnd = { problems: [], cancelled: true, fault: null };

/** Returns a kernel whose worker `startWorker` starts, with the first run, and that reads files through `files`. */
export function createKernelProcess(startWorker: StartKernelWorker, files: FilePort, options: KernelOptions = {}): KernelProcess {
  const { graceMilliseconds = 500 } = options;
  const running = new Map<number, Running>();
  const looking = new Map<number, (cells: readonly Basis[] | null) => void>();
  let worker: KernelWorker | null = null;
  let runs = 0;
  let looks = 0;

  /** Answers everybody who waits for a look that will not come any more. */
  function endLooks(): void {
    for (const tell of looking.values()) tell(null);
    looking.clear();
  }

  /** Ends the runs up to number `upTo`; what the worker still says of them is not listened to. */
  function finish(end: RunEnd, upTo = runs): void {
    for (const [run, { finish: tell }] of running) {
      if (run > upTo) continue;
      running.delete(run);
      tell(end);
    }
  }

  function receive(from: KernelWorker, message: FromKernel): void {
    switch (message.type) {
      case "ready":
        return;
      case "read":
      case "list":
      case "ask-current":
        void answerTo(message, files).then((answer) => from.post(answer));
        return;
      case "started":
        running.get(message.run)?.listener.onStart(message.index);
        return;
      case "cell":
        running.get(message.run)?.listener.onCell(message.cell);
        return;
      case "looked":
        looking.get(message.look)?.(message.cells);
        looking.delete(message.look);
        return;
      case "done":
      case "fault": {
        const ended = running.get(message.run);
        running.delete(message.run);
        ended?.finish(
          message.type === "done"
            ? { problems: message.problems, cancelled: message.cancelled, fault: null, ...(message.report === undefined ? {} : { report: message.report }) }
            : { problems: [], cancelled: false, fault: message.message },
        );
      }
    }
  }

  function startedOrNull(events: KernelWorkerEvents): KernelWorker | null {
    try {
      return startWorker(events);
    } catch {
      // A page may forbid workers; the message may hold addresses.
      return null;
    }
  }

  /** Starts a worker and gives it every run that has not ended; one that does not come up is tried once more. */
  function start(attempt = 1): void {
    let isReady = false;
    const lose = (fault: string): void => {
      if (worker !== started) return;
      worker = null;
      endLooks();
      if (!isReady && attempt === 1) return start(2);
      // Runs are taken in turn: the first is the one that it happened in, and the others have a worker again.
      const [first = runs] = running.keys();
      finish({ problems: [], cancelled: false, fault }, isReady ? first : runs);
      if (running.size > 0) start();
    };
    const started = startedOrNull({
      onMessage: (message) => {
        if (!isMessage(message)) return;
        isReady ||= message.type === "ready";
        if (started !== null) receive(started, message);
      },
      onLost: (fault, isLimit) => lose(isReady || isLimit ? fault : "the kernel could not be started"),
    });
    if (started === null) return finish({ problems: [], cancelled: false, fault: "the kernel could not be started" });
    worker = started;
    for (const { message } of running.values()) started.post(message);
  }

  /** Ends the worker at once. */
  async function stop(): Promise<void> {
    const ending = worker;
    worker = null;
    endLooks();
    await ending?.terminate();
  }

  return {
    run: (path, document, only, listener, report) => {
      const run = ++runs;
      const message: Running["message"] = { type: "run", run, path, document, only, ...(report === undefined ? {} : { report }) };
      let tell: (end: RunEnd) => void = () => undefined;
      const ended = new Promise<RunEnd>((resolve) => (tell = resolve));
      running.set(run, { message, listener, ended, finish: tell });
      if (worker === null) start();
      else worker.post(message);
      return ended;
    },
    look: (path, document) => {
      if (worker === null) return Promise.resolve(null);
      const look = ++looks;
      const answered = new Promise<readonly Basis[] | null>((resolve) => looking.set(look, resolve));
      worker.post({ type: "look", look, path, document } satisfies ToKernel);
      return answered;
    },
    cancel: async () => {
      const upTo = runs;
      worker?.cancelUpTo(upTo);
      const ends = Promise.all([...running.values()].map((each) => each.ended));
      if (await isDoneWithin(ends, graceMilliseconds)) return;
      const stopped = stop();
      finish(cancelledEnd, upTo);
      if (running.size > 0) start();
      await stopped;
    },
    end: async () => {
      const stopped = stop();
      finish(cancelledEnd);
      await stopped;
    },
    isStarted: () => worker !== null,
  };
}

/** The kernels' messages are those of a program of ours; all the same nothing else is taken for one. */
function isMessage(value: unknown): value is FromKernel {
  if (typeof value !== "object" || value === null || !("type" in value)) return false;
  const number = "run" in value ? value.run : "request" in value ? value.request : "look" in value ? value.look : 0;
  return typeof value.type === "string" && Number.isSafeInteger(number);
}

async function answerTo(question: Question, files: FilePort): Promise<Answer> {
  const { request, path } = question;
  switch (question.type) {
    case "read":
      return { type: "file", request, read: await files.read(path).catch(() => ({ ok: false, reason: "unreadable" }) as const) };
    case "list":
      return { type: "listing", request, names: await files.list(path).catch(() => null) };
    case "ask-current":
      return { type: "current", request, isCurrent: (await files.isCurrent?.(path, question.digest).catch(() => false)) ?? false };
  }
}

/** True when the promise is settled before the time is up. */
async function isDoneWithin(done: Promise<unknown>, milliseconds: number): Promise<boolean> {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const late = new Promise<boolean>((resolve) => (timer = setTimeout(() => resolve(false), milliseconds)));
  try {
    return await Promise.race([done.then(() => true), late]);
  } finally {
    clearTimeout(timer);
  }
}
