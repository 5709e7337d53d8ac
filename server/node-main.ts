import { isMainThread, workerData } from "node:worker_threads";
import { isProfilerData } from "./language/profile-messages";
import { isStoreData } from "./results/messages";

// One file for all, since they share nearly everything and the extension is meant to be light: the language server is a
// process of its own, the kernel and the store of finished tables are workers, and the server has a worker that reads sessions. What is not asked for is
// parsed, and never run.
if (isMainThread) void import("./language/node-main");
else if (isStoreData(workerData)) void import("./results/node-main");
else void (isProfilerData(workerData) ? import("./language/profile-main") : import("./kernel/node-main"));
