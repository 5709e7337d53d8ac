import { BrowserMessageReader, BrowserMessageWriter, createConnection } from "vscode-languageserver/browser";
import { startKernel } from "../kernel/kernel";
import type { ToKernel } from "../kernel/messages";
import { serveLanguage } from "../language/language-server";
import type { ToStore } from "../results/messages";
import { serveResults } from "../results/serve-results";

// One file for both, as for Node, since they share nearly everything. Whoever starts the worker says by its first message
// what it is to be. Sessions are read on the language server's own thread: a worker of a worker is not to be had everywhere.
const scope = self as unknown as DedicatedWorkerGlobalScope;

scope.addEventListener(
  "message",
  ({ data }: MessageEvent<{ readonly role?: unknown }>) => {
    if (data.role === "kernel") {
      startKernel({
        post: (message) => scope.postMessage(message),
        listen: (receive) => scope.addEventListener("message", ({ data: message }: MessageEvent<ToKernel>) => receive(message)),
        // Nothing reaches a worker that computes: a run that is cancelled ends with its worker.
        isCancelled: () => false,
        clock: () => performance.now(),
      });
    } else if (data.role === "results") {
      serveResults({
        post: (message) => scope.postMessage(message),
        listen: (receive) => scope.addEventListener("message", ({ data: message }: MessageEvent<ToStore>) => receive(message)),
      });
    } else if (data.role === "language") {
      serveLanguage(createConnection(new BrowserMessageReader(scope), new BrowserMessageWriter(scope)));
    }
  },
  { once: true },
);
