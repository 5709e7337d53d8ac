import type { StartKernelWorker } from "../host/kernel-worker";

/**
 * Starts kernels as web workers that run `script`. What they compute cannot be told to stop: a cell that is cancelled ends
 * with its worker. How much memory they may use is the browser's affair.
 */
export function webKernelWorkers(script: string): StartKernelWorker {
  return webWorkers(script, "Fairstrike kernel", "kernel");
}

/** Starts stores of finished tables as web workers that run `script`. */
export function webResultsWorkers(script: string): StartKernelWorker {
  return webWorkers(script, "Fairstrike tables", "results");
}

function webWorkers(script: string, name: string, role: string): StartKernelWorker {
  return ({ onMessage, onLost }) => {
    const worker = new Worker(script, { name });
    worker.addEventListener("message", ({ data }: MessageEvent<unknown>) => onMessage(data));
    worker.addEventListener("messageerror", () => {
      worker.terminate();
      onLost("a message of the kernel was lost", true);
    });
    worker.addEventListener("error", () => {
      worker.terminate();
      onLost("the kernel ended with a fault of the program", false);
    });
    worker.postMessage({ role });
    return {
      post: (message, transfer = []) => worker.postMessage(message, transfer as Transferable[]),
      cancelUpTo: () => undefined,
      terminate: () => {
        worker.terminate();
        return Promise.resolve();
      },
    };
  };
}
