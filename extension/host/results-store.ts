import type * as vscode from "vscode";
import type { TableReply } from "../../core/present/table-messages";
import type { FromStore, StoreWish } from "../../server/results/messages";
import type { KernelWorker, StartKernelWorker } from "./kernel-worker";

/** The store of finished tables, in a worker that is shared by all notebooks and outlives their kernels. */
export interface ResultsStore {
  /** Starts kernels whose finished tables go to the store, as the owner's. */
  readonly fedBy: (start: StartKernelWorker, owner: string) => StartKernelWorker;
  readonly ask: (owner: string, handle: string, wish: StoreWish) => Promise<TableReply>;
  /** Lets go of an owner's tables. */
  readonly drop: (owner: string) => void;
  readonly dispose: () => void;
}

/** Under which a notebook's tables are kept. */
export function ownerOf(notebook: vscode.NotebookDocument): string {
  return notebook.uri.toString();
}

/** How often a store that ends by itself is started again. */
const mostStarts = 5;

/** Returns a store whose worker is started with the first kernel. Tables of a worker that was lost are expired. */
export function createResultsStore(startWorker: StartKernelWorker): ResultsStore {
  const kernels = new Map<KernelWorker, string>();
  const waiting = new Map<number, (reply: TableReply) => void>();
  // No handle that an editor still shows may mean another table, also after the extension has been started again.
  const prefix = crypto.randomUUID();
  let worker: KernelWorker | null = null;
  let starts = 0;
  let links = 0;
  let requests = 0;

  function expireAll(): void {
    for (const tell of waiting.values()) tell({ kind: "expired" });
    waiting.clear();
  }

  function start(): KernelWorker | null {
    if (worker !== null || starts >= mostStarts) return worker;
    starts++;
    const started = startWorker({
      onMessage: (message) => {
        const { request, reply } = message as FromStore;
        waiting.get(request)?.(reply);
        waiting.delete(request);
      },
      onLost: () => {
        if (worker !== started) return;
        worker = null;
        expireAll();
        for (const [kernel, owner] of kernels) link(kernel, owner);
      },
    });
    worker = started;
    return worker;
  }

  /** Gives the kernel a channel of its own to the store. */
  function link(kernel: KernelWorker, owner: string): void {
    const store = start();
    if (store === null) return;
    const { port1, port2 } = new MessageChannel();
    store.post({ type: "connect", owner, port: port1 }, [port1]);
    kernel.post({ type: "results", prefix: `${prefix}-${++links}`, port: port2 }, [port2]);
  }

  return {
    fedBy: (startKernel, owner) => (events) => {
      const kernel = startKernel({
        ...events,
        onLost: (fault, isLimit) => {
          kernels.delete(kernel);
          events.onLost(fault, isLimit);
        },
      });
      kernels.set(kernel, owner);
      link(kernel, owner);
      return kernel;
    },
    ask: (owner, handle, wish) => {
      const store = worker;
      if (store === null) return Promise.resolve({ kind: "expired" });
      return new Promise((resolve) => {
        const request = ++requests;
        waiting.set(request, resolve);
        store.post({ type: "ask", request, owner, handle, wish });
      });
    },
    drop: (owner) => worker?.post({ type: "drop", owner }),
    dispose: () => {
      const ended = worker;
      worker = null;
      expireAll();
      void ended?.terminate();
    },
  };
}
