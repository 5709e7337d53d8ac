import { writeFileSync } from "node:fs";
import path from "node:path";
import { expect, onTestFinished, test } from "vitest";
import type { FilePort } from "../../core/file-port";
import { parseNotebook } from "../../core/notebook/parse-notebook";
import { nodeKernelWorkers } from "../../extension/node/kernel-worker";
import { createKernelProcess, type KernelOptions, type KernelProcess, type RunEnd } from "../../extension/host/kernel-process";
import { bundle } from "../support/bundle";
import { memoryFiles } from "../support/memory-files";
import { notebookText, smallFiles, smallSession } from "../support/small-session";
import { tempFolder } from "../support/temp-folder";

const script = await bundle("server/kernel/node-main.ts", "cjs");
const front = "shots: s/one.session.yaml";
const plain = notebookText(front, "query=a\nshots", "query=b\na.count()");

/** Shots enough for a cell that takes many seconds and looks at the cancel flag all the while. */
function longFiles(): FilePort {
  const lines = ["No,Club,Ball speed,Carry,Side"];
  for (let shot = 1; shot <= 15_000; shot++) lines.push(`${shot},${shot % 2 === 0 ? "Wren" : "Heron"},${100 + (shot % 100) / 10},${140 + (shot % 400) / 10},1`);
  return memoryFiles({ "s/one.session.yaml": smallSession("one"), "s/small.csv": lines.join("\n") });
}

const busy = `shots${'.derive({ x: d => op.round(op.abs(d.carry * 1.1 - d.offline), 2) }).orderby("carry", "ball_speed")'.repeat(60)}`;
const long = notebookText(front, "query=short\nshots.count()", `query=long\n${busy}`);

/** A run that was started: what it tells, as it tells it, and how it ends. */
interface Started {
  readonly told: string[];
  readonly end: Promise<RunEnd>;
  /** Settles when the cell with this number has started. */
  readonly started: (index: number) => Promise<void>;
}

function makeKernel(files: FilePort = memoryFiles(smallFiles), options: KernelOptions & { readonly memoryMegabytes?: number } = {}, program = script): KernelProcess {
  const kernel = createKernelProcess(nodeKernelWorkers(program, options.memoryMegabytes), files, options);
  onTestFinished(() => kernel.end());
  return kernel;
}

function run(kernel: KernelProcess, text: string, only: readonly number[]): Started {
  const told: string[] = [];
  const waiting = new Map<number, () => void>();
  const end = kernel.run("n.shots.md", parseNotebook(text).value, only, {
    onStart: (index) => {
      told.push(`started ${index}`);
      waiting.get(index)?.();
    },
    onCell: (cell) => told.push(`${cell.name} ${cell.status}${cell.kept ? " kept" : ""}`),
  });
  return {
    told,
    end,
    started: (index) => (told.includes(`started ${index}`) ? Promise.resolve() : new Promise((resolve) => waiting.set(index, resolve))),
  };
}

const done: RunEnd = { problems: [], cancelled: false, fault: null };
const cancelled: RunEnd = { problems: [], cancelled: true, fault: null };

/** A worker script of a few lines that stands in for a kernel; returns its path. */
function scriptOf(body: string): string {
  const file = path.join(tempFolder(), "worker.js");
  writeFileSync(file, `const { parentPort, workerData } = require("node:worker_threads");\n${body}\n`);
  return file;
}

test("a run gives its cells, and the next one keeps what still holds", async () => {
  const kernel = makeKernel();
  const first = run(kernel, plain, [2]);
  expect([await first.end, first.told]).toEqual([done, ["started 1", "a ok", "started 2", "b ok"]]);
  const second = run(kernel, plain, [1, 2]);
  expect([await second.end, second.told]).toEqual([done, ["a ok kept", "b ok kept"]]);
});

test("R-01 R-02 a cell that is running is cancelled and stops by itself; what was computed before is kept", async () => {
  const kernel = makeKernel(longFiles(), { graceMilliseconds: 20_000 });
  const first = run(kernel, long, [1, 2]);
  await first.started(2);
  await kernel.cancel();
  expect([await first.end, first.told]).toEqual([cancelled, ["started 1", "short ok", "started 2"]]);
  const second = run(kernel, long, [1]);
  expect([await second.end, second.told]).toEqual([done, ["short ok kept"]]);
});

test("R-01 a cell that does not stop by itself is stopped with its worker, and the next run has a new one", async () => {
  const kernel = makeKernel(longFiles(), { graceMilliseconds: 0 });
  const first = run(kernel, long, [2]);
  await first.started(2);
  await kernel.cancel();
  expect(await first.end).toEqual(cancelled);
  const second = run(kernel, long, [1]);
  expect([await second.end, second.told]).toEqual([done, ["started 1", "short ok"]]);
});

/**
 * Stands in for a kernel: a run of cell 1 ends at once, one of cell 2 when it is cancelled, and one of cell 3 never.
 * It tells of a run only that it has started, and of one that was cancelled before its turn nothing.
 */
const obedient = `
  const flags = new Int32Array(workerData.flags);
  const isCancelled = (run) => Atomics.load(flags, 0) >= run;
  parentPort.postMessage({ type: "ready" });
  parentPort.on("message", ({ run, only }) => {
    if (!isCancelled(run)) parentPort.postMessage({ type: "started", run, index: only[0] });
    while (only[0] === 3 || (only[0] === 2 && !isCancelled(run))) Atomics.wait(flags, 0, flags[0], 10);
    parentPort.postMessage({ type: "done", run, problems: [], cancelled: isCancelled(run) });
  });`;

test("R-02 cancelling twice, and when nothing runs, does nothing more", async () => {
  const kernel = makeKernel(memoryFiles({}), {}, scriptOf(obedient));
  await kernel.cancel();
  const first = run(kernel, plain, [2]);
  await first.started(2);
  await Promise.all([kernel.cancel(), kernel.cancel()]);
  await kernel.cancel();
  const second = run(kernel, plain, [1]);
  expect([await first.end, await second.end, second.told]).toEqual([cancelled, done, ["started 1"]]);
});

test("R-02 a run that waits behind another is cancelled with it", async () => {
  for (const stuck of [2, 3]) {
    const kernel = makeKernel(memoryFiles({}), { graceMilliseconds: stuck === 2 ? 20_000 : 0 }, scriptOf(obedient));
    const first = run(kernel, plain, [stuck]);
    const second = run(kernel, plain, [1]);
    await first.started(stuck);
    await kernel.cancel();
    expect([await first.end, await second.end, second.told]).toEqual([cancelled, cancelled, []]);
  }
});

test("R-02 a run that was asked for after the cancel is not cancelled, even when the worker has to be ended", async () => {
  const kernel = makeKernel(memoryFiles({}), { graceMilliseconds: 20 }, scriptOf(obedient));
  const first = run(kernel, plain, [3]);
  await first.started(3);
  const cancelling = kernel.cancel();
  const second = run(kernel, plain, [1]);
  await cancelling;
  expect([await first.end, await second.end, second.told]).toEqual([cancelled, done, ["started 1"]]);
});

test("R-02 R-03 nothing is told of a run after its kernel was ended", async () => {
  const kernel = makeKernel(memoryFiles({}), {}, scriptOf(obedient));
  const first = run(kernel, plain, [3]);
  await first.started(3);
  await kernel.end();
  expect(await first.end).toEqual(cancelled);
  const second = run(kernel, plain, [1]);
  await second.end;
  expect([first.told, second.told]).toEqual([["started 3"], ["started 1"]]);
});

test("a kernel that was never started is ended and cancelled without one", async () => {
  const kernel = makeKernel();
  await kernel.cancel();
  await kernel.end();
  await kernel.end();
  expect(await run(kernel, plain, [1]).end).toEqual(done);
});

test("R-06 a cell that needs too much memory says so, and the next run has a new kernel", async () => {
  const hungry = scriptOf(`
    parentPort.postMessage({ type: "ready" });
    parentPort.on("message", ({ run, only }) => {
      const kept = [];
      while (only.length === 0) kept.push(Array.from({ length: 10_000 }, (_, i) => ({ i })));
      parentPort.postMessage({ type: "done", run, problems: [], cancelled: false });
    });`);
  const kernel = makeKernel(memoryFiles({}), { memoryMegabytes: 40 }, hungry);
  const first = run(kernel, plain, []);
  const second = run(kernel, plain, [1]);
  expect(await first.end).toEqual({ problems: [], cancelled: false, fault: "the cell needs more memory than a kernel may use (40 MB)" });
  expect(await second.end).toEqual(done);
});

test("R-07 a kernel that cannot be started is tried twice, and then the run says so without a path of the machine", async () => {
  const kernel = makeKernel(memoryFiles({}), {}, path.join(tempFolder(), "nowhere.js"));
  expect(await run(kernel, plain, [1]).end).toEqual({ problems: [], cancelled: false, fault: "the kernel could not be started" });
  const broken = makeKernel(memoryFiles({}), {}, scriptOf("process.exit(3);"));
  expect(await run(broken, plain, [1]).end).toMatchObject({ fault: "the kernel could not be started" });
});

test("R-07 a kernel that comes up the second time runs what it was asked the first time", async () => {
  const folder = tempFolder();
  const shy = scriptOf(`
    const fs = require("node:fs");
    const mark = ${JSON.stringify(path.join(folder, "mark"))};
    if (!fs.existsSync(mark)) { fs.writeFileSync(mark, ""); throw new Error("not yet"); }
    parentPort.postMessage({ type: "ready" });
    parentPort.on("message", ({ run }) => parentPort.postMessage({ type: "done", run, problems: [], cancelled: false }));`);
  expect(await run(makeKernel(memoryFiles({}), {}, shy), plain, [1]).end).toEqual(done);
});

test("R-07 a kernel that ends in the middle of a run ends that run with a fault", async () => {
  const frail = scriptOf(`
    parentPort.postMessage({ type: "ready" });
    parentPort.on("message", ({ only }) => { if (only.length === 1) process.exit(0); throw new Error("/srv/somebody/secret"); });`);
  const kernel = makeKernel(memoryFiles({}), {}, frail);
  expect(await run(kernel, plain, [1]).end).toMatchObject({ cancelled: false, fault: "the kernel ended by itself" });
  expect(await run(kernel, plain, [1, 2]).end).toMatchObject({ cancelled: false, fault: "the kernel ended with a fault of the program" });
});

test("R-09 what is no message, and messages of runs that are not there, are dropped", async () => {
  const odd = scriptOf(`
    parentPort.postMessage({ type: "ready" });
    parentPort.on("message", ({ run }) => {
      for (const message of [null, 7, "x", [], {}, { type: 7 }, { type: "cell", run: "1" }, { type: "none", run }, { type: "started", run: 99, index: 1 }]) parentPort.postMessage(message);
      parentPort.postMessage({ type: "done", run, problems: [], cancelled: false });
      parentPort.postMessage({ type: "started", run, index: 1 });
      parentPort.postMessage({ type: "done", run, problems: [], cancelled: true });
    });`);
  const kernel = makeKernel(memoryFiles({}), {}, odd);
  const first = run(kernel, plain, [1]);
  expect(await first.end).toEqual(done);
  const second = run(kernel, plain, [1]);
  expect([await second.end, first.told, second.told]).toEqual([done, [], []]);
});

test("G5 the worker gets files through the host alone, and nothing of its environment", async () => {
  const curious = scriptOf(`
    parentPort.postMessage({ type: "ready" });
    parentPort.on("message", (message) => {
      if (message.type === "run") return parentPort.postMessage({ type: "read", request: 1, path: "s/one.session.yaml" });
      const found = message.read.ok && Object.keys(process.env).length === 0 && Object.keys(workerData).join() === "flags";
      parentPort.postMessage({ type: "done", run: 1, problems: [], cancelled: found });
    });`);
  expect(await run(makeKernel(memoryFiles(smallFiles), {}, curious), plain, [1]).end).toEqual(cancelled);
});

test("a file port that fails all the same answers that the file cannot be read", async () => {
  const files: FilePort = { read: () => Promise.reject(new Error("gone")), list: () => Promise.reject(new Error("gone")), isCurrent: () => Promise.reject(new Error("gone")) };
  const started = run(makeKernel(files), plain, [1]);
  expect([await started.end, started.told]).toEqual([done, ["started 1", "a blocked"]]);
});

test("a kernel can be looked at once it runs, and never keeps anybody waiting for an answer that will not come", async () => {
  const kernel = makeKernel();
  const { value } = parseNotebook(plain);
  expect(await kernel.look("n.shots.md", value)).toBeNull();
  await run(kernel, plain, [2]).end;
  const cells = await kernel.look("n.shots.md", value);
  expect(cells?.map((basis) => Object.keys(basis).length)).toEqual([0, 4, 5]);
  const waiting = kernel.look("n.shots.md", value);
  await kernel.end();
  expect(await waiting).toBeNull();
});
