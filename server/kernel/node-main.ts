import { parentPort, workerData } from "node:worker_threads";
import { startKernel } from "./kernel";
import { cancelSlot, type ToKernel } from "./messages";

const port = parentPort;
if (port === null) throw new Error("the kernel runs in a worker");
const flags = new Int32Array((workerData as { readonly flags: SharedArrayBuffer }).flags);

startKernel({
  post: (message) => port.postMessage(message),
  listen: (receive) => port.on("message", (message: ToKernel) => receive(message)),
  isCancelled: (run) => Atomics.load(flags, cancelSlot) >= run,
  clock: () => performance.now(),
});
