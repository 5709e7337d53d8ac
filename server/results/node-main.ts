import { parentPort } from "node:worker_threads";
import type { ToStore } from "./messages";
import { serveResults } from "./serve-results";

const port = parentPort;
if (port === null) throw new Error("the store of finished tables runs in a worker");

serveResults({
  post: (message) => port.postMessage(message),
  listen: (receive) => port.on("message", (message: ToStore) => receive(message)),
});
