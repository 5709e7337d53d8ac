import { writeFileSync } from "node:fs";
import path from "node:path";
import { expect, onTestFinished, test } from "vitest";
import type { FilePort } from "../../../core/file-port";
import { editorExportBytes } from "../../../core/limits";
import { createProfileProcess, type ProfileProcess, type ProfileProcessOptions } from "../../../server/language/profile-process";
import { profileHere } from "../../../server/language/profile-session";
import { bundle } from "../../support/bundle";
import { memoryFiles } from "../../support/memory-files";
import { smallExport, smallFiles, smallSession } from "../../support/small-session";
import { tempFolder } from "../../support/temp-folder";

const script = await bundle("server/language/profile-main.ts", "cjs");
const session = "s/one.session.yaml";

function start(options: ProfileProcessOptions = {}, worker = script): ProfileProcess {
  const started = createProfileProcess(worker, options);
  onTestFinished(() => started.dispose());
  return started;
}

/** Files in memory whose bytes are the reader's own, as a port gives them. */
function files(texts: Readonly<Record<string, string>> = smallFiles): FilePort {
  const port = memoryFiles(texts);
  return {
    ...port,
    read: async (name) => {
      const read = await port.read(name);
      return read.ok ? { ...read, bytes: Uint8Array.from(read.bytes) } : read;
    },
  };
}

/** A worker of this text in the place of ours. */
function workerOf(text: string): string {
  const file = path.join(tempFolder(), "worker.cjs");
  writeFileSync(file, `const { parentPort } = require("node:worker_threads");\n${text}`);
  return file;
}

test("a worker gives the profile that this thread would give", async () => {
  const { profile } = start();
  const texts = { ...smallFiles, "s/small.csv": smallExport.replace("150.0", "far").replace("113.0", ""), "s/two.session.yaml": smallSession("two") };
  for (const name of [session, "s/two.session.yaml", "s/none.session.yaml"]) expect(await profile(name, files(texts))).toEqual(await profileHere(name, files(texts)));
});

test("jobs asked for together are done one after another, each with its own files", async () => {
  const { profile } = start();
  const log: string[] = [];
  const named = (name: string): FilePort => {
    const port = files({ ...smallFiles, [session]: smallSession(name) });
    return { ...port, read: (each, most) => (each === session && log.push(`begin ${name}`), port.read(each, most)) };
  };
  const names = ["a", "b", "c"];
  const profiled = await Promise.all(names.map((name) => profile(session, named(name)).finally(() => log.push(`end ${name}`))));
  expect(profiled.map((each) => each.table!.sessions[0]!.name)).toEqual(names);
  expect(log).toEqual(names.flatMap((name) => [`begin ${name}`, `end ${name}`]));
});

test("L-06 of an export of more than 16 MB the beginning is asked for, and the profile says so", async () => {
  const { profile } = start();
  const row = "5,Wren,112.0,150.0,-3.0\n";
  const lines = Math.ceil(editorExportBytes / row.length) + 10;
  const port = files({ ...smallFiles, "s/small.csv": `${smallExport.split("\n")[0]!}\n${row.repeat(lines)}`, [session]: smallSession("one").replace("order: shot", "order: file") });
  const asked: (number | undefined)[] = [];
  const profiled = await profile(session, { ...port, read: (name, most) => port.read(name, (asked.push(most), most)) });
  expect(asked).toEqual([undefined, editorExportBytes]);
  expect(profiled.problems.map((found) => found.code)).toContain("csv.checked-in-part");
  expect(profiled.counts).toMatchObject({ isPart: true });
});

test("bytes are handed over to the worker where they fill their buffer, and copied where they do not", async () => {
  const { profile } = start();
  const whole = new TextEncoder().encode(smallExport);
  const around = new Uint8Array(whole.length + 8);
  around.set(whole, 4);
  for (const bytes of [Uint8Array.from(whole), around.subarray(4, 4 + whole.length)]) {
    const port = files();
    const read: FilePort["read"] = (name) => (name === session ? port.read(name) : Promise.resolve({ ok: true, bytes, digest: "d" }));
    expect((await profile(session, { ...port, read })).counts!.rowCount).toBe(12);
  }
  expect(around.length).toBe(whole.length + 8);
});

test("an export that the worker has as it is now is not read again, and one that changed is", async () => {
  const { profile } = start();
  const put = (texts: Readonly<Record<string, string>>): FilePort & { readonly reads: string[] } => {
    const reads: string[] = [];
    const port = files({ ...smallFiles, ...texts });
    return { ...port, reads, read: (name, most) => port.read(name, (reads.push(name), most)) };
  };
  const rowsOf = async (port: FilePort): Promise<number> => (await profile(session, port)).counts!.rowCount;
  const shorter = smallExport.replace("12,Heron,115.5,158.5,1.5\n", "");
  const ports = [put({}), put({ [session]: smallSession("other") }), put({ "s/small.csv": shorter }), put({})];
  const { isCurrent: _isCurrent, ...untold } = put({});
  expect([await rowsOf(ports[0]!), await rowsOf(ports[1]!), await rowsOf(ports[2]!), await rowsOf(ports[3]!), await rowsOf(untold)]).toEqual([12, 12, 11, 12, 12]);
  expect([...ports, untold].map((port) => port.reads.length)).toEqual([2, 1, 2, 2, 2]);
});

test("a port that fails is a file that cannot be read", async () => {
  const { profile } = start();
  const { fault } = await profile(session, { ...files(), read: () => Promise.reject(new Error("lost")) });
  expect(fault).toBe("unreadable");
});

test("a worker that dies is told to the job at hand alone, and the next job has a new one", async () => {
  // The first job of each worker ends it before it says a word; a later one is answered with a fault of its own.
  const { profile } = start({}, workerOf('parentPort.on("message", (message) => { if (message.job === 1) process.exit(3); else parentPort.postMessage({ type: "fault", job: message.job, message: "of its own" }); });'));
  const [first, second] = [profile(session, files()), profile(session, files())];
  await expect(first).rejects.toThrow("ended by itself");
  await expect(second).rejects.toThrow("of its own");
});

test("an error in the worker, and a worker that is not there, are told", async () => {
  await expect(start({}, workerOf('parentPort.on("message", () => { throw new Error("broken"); });')).profile(session, files())).rejects.toThrow("broken");
  const missing = start({}, path.join(tempFolder(), "nothing.cjs"));
  for (let i = 0; i < 2; i++) await expect(missing.profile(session, files())).rejects.toThrow("failed");
});

test("a worker without work is ended, and work starts a new one", async () => {
  const counting = workerOf(`
    let jobs = 0;
    parentPort.on("message", ({ job }) => parentPort.postMessage({ type: "fault", job, message: "job " + ++jobs + " of its worker" }));`);
  const quick = start({ idleMilliseconds: 0 }, counting);
  await expect(quick.profile(session, files())).rejects.toThrow("job 1 of");
  await new Promise((resolve) => setTimeout(resolve, 20));
  await expect(quick.profile(session, files())).rejects.toThrow("job 1 of");
  const patient = start({ idleMilliseconds: 60_000 }, counting);
  for (const n of [1, 2]) await expect(patient.profile(session, files())).rejects.toThrow(`job ${n} of`);
});

/** A clock that stands still; `pass` ends every time that is waited for. */
function stoppedClock(): { readonly later: NonNullable<ProfileProcessOptions["later"]>; readonly times: number[]; readonly pass: () => void } {
  const due = new Set<() => void>();
  const times: number[] = [];
  return {
    times,
    later: (milliseconds, action) => {
      times.push(milliseconds);
      due.add(action);
      return () => void due.delete(action);
    },
    pass: () => {
      const now = [...due];
      due.clear();
      for (const action of now) action();
    },
  };
}

test("a session that is not read in time is ended with its worker and says so, and the next job has a new worker", async () => {
  // It reads the session file, is busy for ever with whatever a first job names, and would answer any other.
  const busy = workerOf(`
    parentPort.on("message", (message) => {
      if (message.type === "file") for (;;);
      if (message.job === 1) parentPort.postMessage({ type: "read", job: 1, question: 1, path: message.path, most: null, known: null });
      else parentPort.postMessage({ type: "fault", job: message.job, message: "of its own" });
    });`);
  const { later, times, pass } = stoppedClock();
  const { profile } = start({ later }, busy);
  let tellRead: () => void = () => undefined;
  const wasRead = new Promise<void>((resolve) => (tellRead = resolve));
  const port = files();
  const slow = profile(session, { ...port, read: (name) => port.read(name).finally(tellRead) });
  const next = profile(session, files());
  await wasRead;
  await new Promise(setImmediate);
  pass();
  const given = await slow;
  expect(given).toMatchObject({ table: null, counts: null, problems: [{ code: "run.session-out-of-time", file: session, facts: { path: session, seconds: 60 } }] });
  expect(given.inputs).toEqual([{ path: session, digest: expect.any(String) }]);
  await expect(next).rejects.toThrow("of its own");
  expect(times.slice(0, 2)).toEqual([60_000, 60_000]);
});

test("a session that is read in time is not given up afterwards", async () => {
  const { later, pass } = stoppedClock();
  const { profile } = start({ later });
  for (let i = 0; i < 2; i++) {
    expect((await profile(session, files())).counts!.rowCount).toBe(12);
    pass();
  }
});

test("once it is disposed of, whoever waits and whoever asks later is told", async () => {
  const process = start({}, workerOf('parentPort.on("message", () => undefined);'));
  const waiting = [process.profile(session, files()), process.profile(session, files())].map((each) => each.then(() => "done", (error: Error) => error.message));
  await process.dispose();
  expect(await Promise.all([...waiting, process.profile(session, files()).catch((error: Error) => error.message)])).toEqual(Array.from({ length: 3 }, () => "sessions are not read any more"));
});
