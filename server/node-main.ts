import { isMainThread } from "node:worker_threads";

// One file for both, since they share nearly everything and the extension is meant to be light: the language server is
// a process of its own, the kernel a worker. What is not asked for is parsed, and never run.
void (isMainThread ? import("./language/node-main") : import("./kernel/node-main"));
