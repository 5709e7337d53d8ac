import { expect, test } from "vitest";
import type { FilePort } from "../../../core/file-port";
import type { ProfiledSession } from "../../../core/profile-loader";
import { problem } from "../../../core/problem";
import { textStart } from "../../../core/text-position";
import { profileHere, type ProfileSession } from "../../../server/language/profile-session";
import { createSessionProfiler, type SessionProfiler } from "../../../server/language/session-profiler";
import { memoryFiles, type MemoryFiles } from "../../support/memory-files";
import { smallExport, smallFiles, smallSession } from "../../support/small-session";

const path = "s/one.session.yaml";

interface Setting extends SessionProfiler {
  readonly files: MemoryFiles;
  /** Sessions that were profiled, in order. */
  readonly made: string[];
}

/** A profiler of the small session; files that cannot tell whether they are current where `isTold` is false. */
function profilerOf(profile: ProfileSession = profileHere, isTold = true): Setting {
  const files = memoryFiles(smallFiles);
  const made: string[] = [];
  const { isCurrent: _isCurrent, ...untold } = files;
  const port: FilePort = isTold ? files : untold;
  const counted: ProfileSession = (name, through) => {
    made.push(name);
    return profile(name, through);
  };
  return { files, made, ...createSessionProfiler(port, counted) };
}

test("a session is profiled again when its file or an export has changed, and only then", async () => {
  const { load, files, made } = profilerOf();
  const first = await load(path);
  expect(first.counts!.rowCount).toBe(12);
  expect(await load(path)).toBe(first);
  expect([made, files.reads]).toEqual([[path], [path, "s/small.csv"]]);
  files.put("s/small.csv", smallExport.replace("12,Heron,115.5,158.5,1.5\n", ""));
  expect((await load(path)).counts!.rowCount).toBe(11);
  files.put(path, smallSession("other"));
  expect((await load(path)).table!.sessions[0]!.name).toBe("other");
  expect(made).toEqual([path, path, path]);
});

test("where files cannot tell whether they are current they are read, and the session is not profiled again", async () => {
  const { load, files, made } = profilerOf(profileHere, false);
  const first = await load(path);
  expect(await load(path)).toBe(first);
  expect([made, files.reads]).toEqual([[path], [path, "s/small.csv", path, "s/small.csv"]]);
});

test("what was read to compare it is not read again to profile it", async () => {
  const { load, files } = profilerOf(profileHere, false);
  await load(path);
  files.put("s/small.csv", smallExport.replace("150.0", "151.0"));
  await load(path);
  expect(files.reads).toEqual([path, "s/small.csv", path, "s/small.csv"]);
});

test("an export that was missing is looked for again, and the same answer is the same profile", async () => {
  const { load, files, made } = profilerOf();
  files.put("s/small.csv", null);
  const without = await load(path);
  expect([without.table, await load(path)]).toEqual([null, without]);
  files.put("s/small.csv", smallExport);
  expect((await load(path)).counts!.rowCount).toBe(12);
  expect(made).toHaveLength(3);
});

test("all who ask while a session is being profiled share the next profile, which sees what changed meanwhile", async () => {
  const { load, files, made } = profilerOf();
  const first = load(path);
  files.put("s/small.csv", smallExport.replace("150.0", "15"));
  const later = [load(path), load(path), load(path)];
  files.put("s/small.csv", smallExport.replace("150.0", "16"));
  await first;
  const [a, b, c] = await Promise.all(later);
  expect([a === b, b === c, carryLow(a!)]).toEqual([true, true, 16]);
  expect(made.length).toBeLessThanOrEqual(2);
  expect(await load(path)).toBe(a);
});

function carryLow({ table, counts }: ProfiledSession): number | undefined {
  return counts!.columns[table!.columns.findIndex((column) => column.name === "carry")]!.range?.low;
}

test("profiles of sessions that nobody uses are kept for the last few alone, and those that are used all", async () => {
  const { load, lastKnown, keepUsed, files } = profilerOf();
  const names = Array.from({ length: 50 }, (_, i) => `s/day-${i}.session.yaml`);
  for (const name of names) {
    files.put(name, smallSession("day"));
    await load(name);
    keepUsed((each) => each === names[0]);
  }
  const kept = names.filter((name) => lastKnown(name) !== null);
  expect([kept.length, kept[0], kept.at(-1)]).toEqual([9, names[0], names.at(-1)]);
});

test("a profile that fails is told once to whoever asked, and the next is tried anew", async () => {
  let times = 0;
  const { load, made } = profilerOf((name, files) => (times++ === 0 ? Promise.reject(new Error("gone")) : profileHere(name, files)));
  const [first, next] = [load(path), load(path)];
  await expect(first).rejects.toThrow("gone");
  expect((await next).counts!.rowCount).toBe(12);
  expect(made).toHaveLength(2);
});

test("a session that was not read in time is read again when it is asked for again, though its files are the same", async () => {
  let isBusy = true;
  const { load, lastKnown } = profilerOf(async (name, through) => {
    const made = await profileHere(name, through);
    return isBusy ? { ...made, table: null, counts: null, exports: [], problems: [problem("run.session-out-of-time", { path: name, seconds: 60 }, textStart)] } : made;
  });
  expect([(await load(path)).table, lastKnown(path)]).toEqual([null, null]);
  isBusy = false;
  const made = await load(path);
  expect(made.counts!.rowCount).toBe(12);
  expect(lastKnown(path)).toBe(made);
});
