import { Worker, type Transferable } from "node:worker_threads";
import { cancelSlot } from "../../server/kernel/messages";
import type { StartKernelWorker } from "../host/kernel-worker";

/**
 * Starts kernels as threads that run `script`.
 *
 * @param memoryMegabytes for the objects of one kernel; over it the worker ends and the cell says so.
 */
export function nodeKernelWorkers(script: string, memoryMegabytes = 4096): StartKernelWorker {
  return nodeWorkers(script, memoryMegabytes, {});
}

/** Starts stores of finished tables as threads that run `script`; numbers are not counted in its memory. */
export function nodeResultsWorkers(script: string): StartKernelWorker {
  return nodeWorkers(script, 1024, { role: "results" });
}

function nodeWorkers(script: string, memoryMegabytes: number, data: object): StartKernelWorker {
  return ({ onMessage, onLost }) => {
    const flags = new Int32Array(new SharedArrayBuffer(4));
    const worker = new Worker(script, {
      workerData: { flags: flags.buffer, ...data },
      resourceLimits: { maxOldGenerationSizeMb: memoryMegabytes },
      // The kernel gets nothing of the host's environment and prints nothing into its log.
      env: {},
      stdout: true,
      stderr: true,
    });
    worker.on("message", onMessage);
    worker.on("messageerror", () => {
      void worker.terminate();
      onLost("a message of the kernel was lost", true);
    });
    worker.on("error", (error) => {
      const isMemory = "code" in error && error.code === "ERR_WORKER_OUT_OF_MEMORY";
      if (isMemory) onLost(`the cell needs more memory than a kernel may use (${memoryMegabytes} MB)`, true);
      // The message of any other error may hold paths of this machine.
      else onLost("the kernel ended with a fault of the program", false);
    });
    worker.on("exit", () => onLost("the kernel ended by itself", false));
    return {
      post: (message, transfer = []) => worker.postMessage(message, transfer as Transferable[]),
      cancelUpTo: (run) => void Atomics.store(flags, cancelSlot, run),
      terminate: async () => void (await worker.terminate()),
    };
  };
}
