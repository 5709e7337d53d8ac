import { expect, test } from "vitest";
import { createCheckMemo } from "../../core/check-memo";
import { defaultLimits } from "../../core/limits";
import { loadSources, type Sources } from "../../core/notebook-sources";
import { parseNotebook } from "../../core/notebook/parse-notebook";
import { readCells } from "../../core/read-cells";
import { createSessionLoader } from "../../core/session-loader";
import { findColumn, valueAt } from "../../core/table/table";
import { memoryFiles, type MemoryFiles } from "../support/memory-files";
import { notebookText, smallExport, smallFiles, smallSession } from "../support/small-session";

/** Sources of several versions of a notebook, one after another, through one loader. */
async function load(files: MemoryFiles, ...texts: readonly string[]): Promise<Sources[]> {
  const loader = createSessionLoader(files, defaultLimits);
  const memo = createCheckMemo();
  const all: Sources[] = [];
  for (const text of texts) all.push(await loadSources(readCells(parseNotebook(text).value), "n.shots.md", files, loader, memo));
  return all;
}

const several: Readonly<Record<string, string>> = {
  "s/b.session.yaml": smallSession("b"),
  "s/a.session.yaml": smallSession("a"),
  "s/small.csv": smallExport,
};

test("sessions of a folder come in the order of their names, and every file is listed once", async () => {
  const [sources] = await load(memoryFiles(several), notebookText("shots: s/*.session.yaml", 'query=x\nsession("s/a.session.yaml")'));
  const session = findColumn(sources!.shots!.table!, "session")!;
  expect([valueAt(session, 0), valueAt(session, 23)]).toEqual(["a", "b"]);
  expect(sources!.inputs.map((input) => input.path)).toEqual(["s/a.session.yaml", "s/b.session.yaml", "s/small.csv"]);
  expect([...sources!.byPath.keys()]).toEqual(["s/a.session.yaml"]);
});

test("tables are in the notebook's units", async () => {
  const [sources] = await load(memoryFiles(smallFiles), notebookText("shots: s/one.session.yaml\nunits: m-kmh"));
  const carry = findColumn(sources!.shots!.table!, "carry")!;
  // 150 yards of 0.9144 m.
  expect([carry.kind === "number" && carry.unit, valueAt(carry, 0)]).toEqual(["m", expect.closeTo(137.16, 9)]);
});

test("a file that cannot be read is listed without a digest", async () => {
  const files = memoryFiles({ "s/one.session.yaml": smallSession("one", "gone.csv") });
  const [sources] = await load(files, notebookText("shots: s/one.session.yaml"));
  expect(sources!.inputs).toEqual([{ path: "s/gone.csv", digest: null }, { path: "s/one.session.yaml", digest: expect.any(String), size: expect.any(Number) }]);
});

test("the same sessions in the same units are put together once", async () => {
  const front = "shots: s/*.session.yaml";
  const [first, again, metric, changed] = await load(memoryFiles(several), notebookText(front), notebookText(`${front}\ntitle: x`), notebookText(`${front}\nunits: m-ms`), notebookText(front));
  expect(again!.shots!.table).toBe(first!.shots!.table);
  expect(metric!.shots!.key).not.toBe(first!.shots!.key);
  expect(changed!.shots!.key).toBe(first!.shots!.key);
});

test("a session that is alone is put together once for all notebooks that name it, in each units", async () => {
  const loader = createSessionLoader(memoryFiles(smallFiles), defaultLimits);
  const tableOf = async (units: string) => (await loadSources(readCells(parseNotebook(notebookText(`shots: s/one.session.yaml\nunits: ${units}`)).value), "n.shots.md", memoryFiles(smallFiles), loader)).shots!.table;
  const first = await tableOf("yd-mph");
  expect(await tableOf("m-kmh")).not.toBe(first);
  expect(await tableOf("yd-mph")).toBe(first);
});

test("through a port that cannot tell what is current, files are read again and sessions that are the same are kept", async () => {
  const { read, list, reads, put } = memoryFiles(smallFiles);
  const loader = createSessionLoader({ read, list }, defaultLimits);
  const first = await loader.load("s/one.session.yaml");
  expect(await loader.load("s/one.session.yaml")).toBe(first);
  expect(reads).toHaveLength(4);
  put("s/small.csv", null);
  const lost = await loader.load("s/one.session.yaml");
  expect([lost.table, lost.problems.map((found) => found.code)]).toEqual([null, ["run.file"]]);
  put("s/small.csv", smallExport);
  expect((await loader.load("s/one.session.yaml")).key).toBe(first.key);
});

test("an export that two sources name is read once", async () => {
  const files = memoryFiles({ ...smallFiles, "s/one.session.yaml": smallSession("one").replace("[{ file: small.csv, order: shot }]", "[{ file: small.csv, order: shot }, { file: small.csv, order: shot }]") });
  await load(files, notebookText("shots: s/one.session.yaml"));
  expect(files.reads).toEqual(["s/one.session.yaml", "s/small.csv"]);
});

const meant: readonly (readonly [string, string, string | null, boolean])[] = [
  ["shots: spring-bay-1", "", "sessions/spring-bay-1.session.yaml", false],
  ["shots: sessions/spring-bay-1", "", "sessions/spring-bay-1.session.yaml", false],
  ["shots: sessions/spring-bay-1.session.yml", "", "sessions/spring-bay-1.session.yaml", false],
  ["shots: sessions/spring-bay-2.session.yaml", "", "sessions/spring-bay-1.session.yaml", true],
  ["shots: sessions/autumn.session.yaml", "", null, false],
  ["shots: sessions/spring-bay-1.session.yaml", 'query=q\nsession("spring-bay-1.session.yaml")', "sessions/spring-bay-1.session.yaml", false],
];
test.each(meant)("a session that is not there, %s %j: the one that was meant", async (front, cell, path, isForPerson) => {
  const files = memoryFiles({ "sessions/spring-bay-1.session.yaml": smallSession("b"), "sessions/small.csv": smallExport });
  const [sources] = await load(files, notebookText(front, ...(cell === "" ? [] : [cell])));
  const found = [...sources!.problems.values()].flat();
  expect(found.map(({ code, fix }) => [code, fix?.edits[0]!.text, fix?.byPerson === true])).toEqual([["run.file", path === null ? undefined : JSON.stringify(path), isForPerson]]);
  if (path !== null) expect(found[0]!.hint).toContain(`did you mean "${path}"?`);
});
