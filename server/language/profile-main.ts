import { parentPort } from "node:worker_threads";
import type { ToProfiler } from "./profile-messages";
import { startProfiler } from "./profile-worker";

const port = parentPort;
if (port === null) throw new Error("sessions are profiled in a worker");

startProfiler({
  post: (message) => port.postMessage(message),
  listen: (receive) => port.on("message", (message: ToProfiler) => receive(message)),
});
