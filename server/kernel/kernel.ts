import type { FilePort, FileRead } from "../../core/file-port";
import { defaultLimits } from "../../core/limits";
import { presentOutcome } from "../../core/present/present-outcome";
import { createEngine } from "../../core/run-notebook";
import { vocabulary } from "../../core/vocabulary";
import type { FromKernel, ToKernel } from "./messages";

/** What a kernel needs from where it runs. */
export interface KernelHost {
  readonly post: (message: FromKernel) => void;
  readonly listen: (receive: (message: ToKernel) => void) => void;
  /** True once run number `run` has been cancelled; read often, also in the middle of a cell. */
  readonly isCancelled: (run: number) => boolean;
  /** Milliseconds from any fixed moment. */
  readonly clock: () => number;
}

/**
 * Starts a kernel: it holds the tables of one notebook, runs its cells when told, and asks the host for every file.
 *
 * Runs are taken one after another in the order in which they arrive.
 */
export function startKernel(host: KernelHost): void {
  const waiting = new Map<number, (message: ToKernel) => void>();
  let requests = 0;
  const ask = (make: (request: number) => FromKernel): Promise<ToKernel> =>
    new Promise((resolve) => {
      const request = ++requests;
      waiting.set(request, resolve);
      host.post(make(request));
    });
  const files: FilePort = {
    read: async (path): Promise<FileRead> => {
      const answer = await ask((request) => ({ type: "read", request, path }));
      return answer.type === "file" ? answer.read : { ok: false, reason: "unreadable" };
    },
    list: async (folder) => {
      const answer = await ask((request) => ({ type: "list", request, folder }));
      return answer.type === "listing" ? answer.names : null;
    },
  };
  const engine = createEngine({ files, vocabulary, limits: defaultLimits, clock: host.clock });
  let last: Promise<void> = Promise.resolve();

  async function run(message: Extract<ToKernel, { type: "run" }>): Promise<void> {
    const { run: number, path, document, only } = message;
    try {
      const outcome = await engine.run(document, path, {
        only,
        isCancelled: () => host.isCancelled(number),
        onStart: (index) => host.post({ type: "started", run: number, index }),
        onCell: (cell) => host.post({ type: "cell", run: number, cell: presentOutcome(cell, defaultLimits) }),
      });
      host.post({ type: "done", run: number, problems: outcome.problems, cancelled: outcome.cancelled });
    } catch (error) {
      host.post({ type: "fault", run: number, message: error instanceof Error ? error.message : "unknown fault" });
    }
  }

  host.listen((message) => {
    switch (message.type) {
      case "run":
        last = last.then(() => run(message));
        return;
      case "file":
      case "listing":
        waiting.get(message.request)?.(message);
        waiting.delete(message.request);
    }
  });
  host.post({ type: "ready" });
}
