import { isMainThread, workerData } from "node:worker_threads";
import { isProfilerData } from "./language/profile-messages";

// One file for all, since they share nearly everything and the extension is meant to be light: the language server is a
// process of its own, the kernel a worker, and the server has a worker that reads sessions. What is not asked for is
// parsed, and never run.
if (isMainThread) void import("./language/node-main");
else void (isProfilerData(workerData) ? import("./language/profile-main") : import("./kernel/node-main"));
