import type { FilePort } from "../../core/file-port";
import { defaultLimits, type Limits } from "../../core/limits";
import { presentOutcome } from "../../core/present/present-outcome";
import type { Vocabulary } from "../../core/query/vocabulary";
import { createEngine } from "../../core/run-notebook";
import { vocabulary } from "../../core/vocabulary";
import { writeReport } from "../../core/report/write-report";
import { version } from "../cli/version";
import { finishedTables } from "./finished-tables";
import type { Answer, FromKernel, Question, ToKernel } from "./messages";

/** What a kernel needs from where it runs. */
export interface KernelHost {
  readonly post: (message: FromKernel) => void;
  readonly listen: (receive: (message: ToKernel) => void) => void;
  /** True once run number `run` has been cancelled; read often, also in the middle of a cell. */
  readonly isCancelled: (run: number) => boolean;
  /** Milliseconds from any fixed moment. */
  readonly clock: () => number;
}

/** What a kernel knows and how much it may do; as shipped unless told otherwise. */
export interface KernelSettings {
  readonly vocabulary?: Vocabulary;
  readonly limits?: Limits;
}

/**
 * Starts a kernel: it holds the tables of one notebook, runs its cells when told, and asks the host for every file.
 *
 * Runs are taken one after another in the order in which they arrive. Every run ends with one `done` or `fault`.
 */
export function startKernel(host: KernelHost, settings: KernelSettings = {}): void {
  const limits = settings.limits ?? defaultLimits;
  const questions = openQuestions(host);
  const engine = createEngine({ files: questions.files, vocabulary: settings.vocabulary ?? vocabulary, limits, clock: host.clock });
  const results = finishedTables();
  let last: Promise<void> = Promise.resolve();

  async function run({ run: number, path, document, only, report: form }: Extract<ToKernel, { type: "run" }>): Promise<void> {
    const isCancelled = (): boolean => host.isCancelled(number);
    // One that was cancelled while it waited reads no file.
    if (isCancelled()) return host.post({ type: "done", run: number, problems: [], cancelled: true });
    try {
      const outcome = await engine.run(document, path, {
        ...(form === undefined ? { only } : {}),
        isCancelled,
        onStart: (index) => host.post({ type: "started", run: number, index }),
        onCell: (cell) => {
          const presented = presentOutcome(cell, limits);
          // What still holds is shown already, with its handle, unless it was asked for.
          const isShownAnew = form === undefined && (!cell.kept || only.includes(cell.index));
          host.post({ type: "cell", run: number, cell: isShownAnew ? results.withHandles(presented, cell.value) : presented });
        },
      });
      const text = form === undefined || outcome.cancelled ? null : await writeReport({ document, path, outcome, limits, version }, form, isCancelled);
      const cancelled = outcome.cancelled || (form !== undefined && text === null);
      const withoutResult = outcome.cells.filter(({ status }) => status !== "ok").length;
      const report = text === null ? {} : { report: { text, inputs: outcome.inputs.map((input) => input.path), withoutResult } };
      host.post({ type: "done", run: number, problems: outcome.problems, cancelled, ...report });
    } catch (error) {
      host.post({ type: "fault", run: number, message: error instanceof Error ? error.message : "something that is no error was thrown" });
    }
  }

  async function look({ look: number, path, document }: Extract<ToKernel, { type: "look" }>): Promise<void> {
    const checked = await engine.check(document, path).catch(() => null);
    host.post({ type: "looked", look: number, cells: checked?.cells.map((cell) => cell.basis) ?? null });
  }

  host.listen((message) => {
    if (message.type === "run") last = last.then(() => run(message));
    else if (message.type === "look") last = last.then(() => look(message));
    else if (message.type === "results") results.sendTo(message);
    else questions.answer(message);
  });
  host.post({ type: "ready" });
}

/** A file port whose every call is a question to the host, and where the answers go. */
function openQuestions(host: KernelHost): { readonly files: Required<FilePort>; readonly answer: (message: Answer) => void } {
  const waiting = new Map<number, (message: Answer) => void>();
  let requests = 0;
  const ask = (make: (request: number) => Question): Promise<Answer> =>
    new Promise((resolve) => {
      const request = ++requests;
      waiting.set(request, resolve);
      host.post(make(request));
    });
  return {
    files: {
      read: async (path) => {
        const answer = await ask((request) => ({ type: "read", request, path }));
        return answer.type === "file" ? answer.read : { ok: false, reason: "unreadable" };
      },
      list: async (path) => {
        const answer = await ask((request) => ({ type: "list", request, path }));
        return answer.type === "listing" ? answer.names : null;
      },
      isCurrent: async (path, digest) => {
        const answer = await ask((request) => ({ type: "ask-current", request, path, digest }));
        return answer.type === "current" && answer.isCurrent;
      },
    },
    answer: (message) => {
      waiting.get(message.request)?.(message);
      waiting.delete(message.request);
    },
  };
}
