import { existsSync, readdirSync, readFileSync, realpathSync, symlinkSync, writeFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { widthOf } from "../../../core/present/plain-text";
import { repository, runIn, type Finished } from "../../support/command-line";
import { notebookText, smallExport, smallSession } from "../../support/small-session";
import { tempFolder } from "../../support/temp-folder";

const samples = path.resolve(import.meta.dirname, "../../../sample-notebooks");
const front = "shots: s/one.session.yaml";
const clean = notebookText(front, "query=a\nshots.filter(d => d.carry > 155)", "query=b\na.count()");
const broken = notebookText(front, "query=a\nshots.filter(d => d.cary > 155)", "query=b\na.count()", "query=c\nshots.count()");

/** A problem as results have it. */
interface JsonProblem {
  readonly code: string;
  readonly severity: string;
  readonly message: string;
  readonly hint: string;
  readonly file: string;
  readonly start: { readonly line: number; readonly column: number };
  readonly end: { readonly line: number; readonly column: number };
}

/** Results as they are written. */
interface Json {
  readonly fairstrike: number;
  readonly notebook: string;
  readonly problems: readonly JsonProblem[];
  readonly cells: readonly { readonly name: string; readonly kind: string; readonly status: string; readonly problems: readonly JsonProblem[]; readonly result: Record<string, unknown> | null }[];
}

async function json(folder: string, ...given: readonly string[]): Promise<Json> {
  return JSON.parse((await runIn(folder, ["run", ...given, "--json", "-"])).out) as Json;
}

/** Expects a call to be refused as wrong usage, with these words, before anything is written. */
async function checkUsage(given: readonly string[], words: string | RegExp, folder = repository({ "n.shots.md": clean, "d/x": "" })): Promise<void> {
  const finished = await runIn(folder, given);
  expect([finished.code, finished.out]).toEqual([2, ""]);
  expect(finished.said).toMatch(words);
  expect(finished.said).not.toContain(folder);
}

test.each(["three-irons", "two-sessions"])("the sample %s runs clean, in the width of the terminal", async (name) => {
  const { code, out, said } = await runIn(samples, ["run", `${name}.shots.md`]);
  expect([code, said.match(/error/g)]).toEqual([0, ["error"]]);
  expect(said).toContain(" 0 without a result; 0 errors, 0 warnings");
  for (const line of out.split("\n")) expect(widthOf(line)).toBeLessThanOrEqual(100);
  expect(out).not.toContain("NaN");
});

test("a clean notebook prints its results and ends with 0", async () => {
  const finished = await runIn(repository({ "n.shots.md": clean }), ["run", "n.shots.md"]);
  expect(finished).toEqual<Finished>({
    code: 0,
    out: [
      "── a",
      "session  shot  head   player  stint  pass  intent  ball_speed (mph)  carry (yd)  offline (yd)",
      "one         4  Heron  P1          2     1  stock              116.0       158.0          −2.0",
      "one         5  Heron  P1          2     1  stock              115.0       157.0           0.5",
      "one         6  Heron  P1          2     1  stock              117.0       161.0           6.0",
      "one        10  Heron  P1          4     2  stock              116.5       159.5           3.0",
      "one        11  Heron  P1          4     2  stock              114.5       156.0          −4.0",
      "one        12  Heron  P1          4     2  stock              115.5       158.5           1.5",
      "6 rows",
      "",
      "Synthetic data: no shot behind these numbers was hit.",
      "",
      "── b",
      "count",
      "    6",
      "1 row",
      "",
      "Synthetic data: no shot behind these numbers was hit.",
      "",
    ].join("\n"),
    said: "n.shots.md: 2 cells, 0 without a result; 0 errors, 0 warnings, 0 notes\n",
  });
});

test("a text is printed as plain text, and is Markdown in the JSON", async () => {
  const said = 'query=said\ntext`**Heron** flew beyond 155 yd ${a.count().one("count")} times, in player ${a.slice(0, 1).one("player")}\'s hands.\n\n${a.groupby("head").count()}`';
  const folder = repository({ "n.shots.md": notebookText(front, "query=a\nshots.filter(d => d.carry > 155)", said) });
  const words = ["**Heron** flew beyond 155 yd 6 times, in player P1's hands.", "", "| head | count |", "| --- | ---: |", "| Heron | 6 |", "", "Synthetic data: no shot behind these numbers was hit."];
  const { code, out } = await runIn(folder, ["run", "n.shots.md", "--cell", "said"]);
  expect([code, out.slice(out.indexOf("── said"))]).toEqual([0, ["── said", ...words, ""].join("\n")]);
  expect((await json(folder, "n.shots.md")).cells[1]).toMatchObject({ name: "said", kind: "query", status: "ok", result: { type: "text", markdown: words.join("\n") } });
});

test("M-02 a notebook with a mistake ends with 1, says where it is in the file, and runs the rest", async () => {
  const { code, out, said } = await runIn(repository({ "n.shots.md": broken }), ["run", "n.shots.md"]);
  expect(code).toBe(1);
  expect(out.split("\n").filter((line) => line.startsWith("──"))).toEqual(["── a (failed)", "── b (blocked)", "── c"]);
  expect(said.split("\n").filter((line) => !line.startsWith("    "))).toEqual([
    'n.shots.md:6:21: error: there is no column "cary" [query.unknown-column]',
    'n.shots.md:10:1: error: "a" has no result, and this needs it [run.blocked]',
    "n.shots.md: 3 cells, 2 without a result; 2 errors, 0 warnings, 0 notes",
    "",
  ]);
});

test("M-02 a fault of the program in a cell ends with 3, is handed on, and the JSON is whole", async () => {
  const faults: unknown[] = [];
  let looks = 0;
  const clock = (): number => {
    if (looks++ === 1) throw new Error("the clock has stopped");
    return 0;
  };
  const { code, out } = await runIn(repository({ "n.shots.md": clean }), ["run", "n.shots.md", "--json", "-"], { clock, onFault: (fault) => faults.push(fault) });
  expect([code, faults]).toEqual([3, [new Error("the clock has stopped")]]);
  const { cells } = JSON.parse(out) as Json;
  expect(cells.map(({ status, problems }) => [status, problems.map((found) => found.code)])).toEqual([
    ["failed", ["run.internal"]],
    ["blocked", ["run.blocked"]],
  ]);
});

test("results as JSON have the shape that is written down", async () => {
  const found = await json(repository({ "deep/n.shots.md": broken.replace("s/one", "../s/one") }), "deep/n.shots.md");
  expect(Object.keys(found)).toEqual(["fairstrike", "notebook", "problems", "cells"]);
  expect([found.fairstrike, found.notebook, found.problems]).toEqual([1, "n.shots.md", []]);
  expect(found.cells.map(({ name, kind, status }) => [name, kind, status])).toEqual([
    ["a", "query", "failed"],
    ["b", "query", "blocked"],
    ["c", "query", "ok"],
  ]);
  expect(found.cells[0]!.problems).toMatchObject([
    { code: "query.unknown-column", severity: "error", message: 'there is no column "cary"', file: "deep/n.shots.md", start: { line: 6, column: 21 }, end: { line: 6, column: 25 } },
  ]);
  expect(found.cells[2]!.result).toMatchObject({ type: "table", columns: [{ name: "count", kind: "number", unit: null }], rows: [[12]], row_count: 1, method: null, sentences: [] });
});

test("problems of front matter, session and export stand at the top of the JSON, each with its file", async () => {
  const folder = repository({
    "n.shots.md": notebookText(`${front}\nseed: x`, "query=a\nshots.count()"),
    "s/one.session.yaml": `${smallSession("one")}date: soon\n`,
    "s/small.csv": smallExport.replace("150.0", "far"),
  });
  const found = await json(folder, "n.shots.md");
  expect(found.problems.map(({ code, file, start }) => `${code} ${file}:${start.line}:${start.column}`)).toEqual([
    "nb.value n.shots.md:3:7",
    "value.date s/one.session.yaml:14:7",
    "value.not-a-number s/small.csv:2:14",
  ]);
  expect(found.cells[0]!.status).toBe("ok");
});

test("missing values are null in the JSON, a chart has its specification, and a table with a picture is the table", async () => {
  const folder = repository({
    "n.shots.md": notebookText(front, "query=a\nshots.derive({ x: d => d.shot > 1 ? d.carry : null }).select(\"x\").slice(0, 2)", "query=c\nchart.landing(shots)", 'query=g\nshots.compare({ of: "carry", by: "head" })'),
  });
  const found = await json(folder, "n.shots.md");
  expect(found.cells[0]!.result!["rows"]).toEqual([[null], [152]]);
  expect(found.cells.map((cell) => cell.result!["type"])).toEqual(["table", "chart", "table"]);
  expect(found.cells[2]!.result).toMatchObject({ method: expect.any(String), sentences: expect.arrayContaining([expect.any(String)]) });
});

test("one cell is printed alone, and what it needs is run and in the JSON", async () => {
  const folder = repository({ "n.shots.md": clean });
  const { code, out, said } = await runIn(folder, ["run", "n.shots.md", "--cell", "b"]);
  expect([code, out.split("\n")[0]]).toEqual([0, "── b"]);
  expect(out).not.toContain("── a");
  expect(said).toContain("2 cells, 0 without a result");
  expect((await json(folder, "n.shots.md", "--cell", "a")).cells.map((cell) => cell.name)).toEqual(["a"]);
});

test("a results file is written whole, replaced, and holds what standard output would", async () => {
  const folder = repository({ "n.shots.md": clean, "r.json": "old" });
  expect((await runIn(folder, ["run", "n.shots.md", "--json", "r.json"])).code).toBe(0);
  expect(JSON.parse(readFileSync(path.join(folder, "r.json"), "utf8"))).toEqual(await json(folder, "n.shots.md"));
  expect(readdirSync(folder).sort()).toEqual([".git", "n.shots.md", "r.json", "s"]);
});

test("a results file that is a link is written where it leads", async () => {
  const folder = repository({ "n.shots.md": clean, "out/r.json": "old" });
  symlinkSync("out/r.json", path.join(folder, "link.json"));
  await runIn(folder, ["run", "n.shots.md", "--json", "link.json"]);
  expect(readFileSync(path.join(folder, "out/r.json"), "utf8")).toContain('"fairstrike": 1');
  expect(realpathSync(path.join(folder, "link.json"))).toBe(path.join(folder, "out/r.json"));
});

test("M-01 what is called wrongly is refused with 2", async () => {
  await checkUsage(["run"], "name the notebook to run");
  await checkUsage(["run", "n.shots.md", "m.shots.md"], 'not also "m.shots.md"');
  await checkUsage(["run", "n.shots.md", "--fast"], /--fast.*\nusage: fairstrike run NOTEBOOK/su);
  await checkUsage(["run", "gone.shots.md"], 'there is no file "gone.shots.md"');
  await checkUsage(["run", "-"], '"-" is no notebook');
  await checkUsage(["run", "s/small.csv"], '"s/small.csv" is no notebook');
  await checkUsage(["run", "n.shots.md", "--json"], "--json");
  await checkUsage(["run", "n.shots.md", "--json="], "--json is empty");
  await checkUsage(["run", "n.shots.md", "--json", "a.json", "--json", "b.json"], "--json can be given once");
  await checkUsage(["run", "n.shots.md", "--cell", "c"], 'there is no cell "c"; there are a, b');
});

test("M-01 a folder that is called like a notebook is none", () => checkUsage(["run", "n.shots.md"], "is not a file", repository({ "n.shots.md/x": "" })));

test("M-01 after -- a name may begin with a dash, and --help is a name", async () => {
  expect((await runIn(repository({ "-n.shots.md": clean }), ["run", "--", "-n.shots.md"])).code).toBe(0);
  await checkUsage(["run", "--", "--help"], '"--help" is no notebook');
});

test("X-07 results go into no input, whatever it is called", async () => {
  for (const name of ["n.shots.md", "s/small.csv", "s/one.session.yaml", "new.TSV", "n.txt"])
    await checkUsage(["run", "n.shots.md", "--json", name], "may be somebody's input");
  const odd = { "n.shots.md": clean, "s/one.session.yaml": smallSession("one", "export.dat"), "s/export.dat": smallExport };
  const folder = repository(odd);
  symlinkSync("s/export.dat", path.join(folder, "link.json"));
  for (const name of ["s/export.dat", "link.json"]) await checkUsage(["run", "n.shots.md", "--json", name], "they were made from it", folder);
  expect(readFileSync(path.join(folder, "s/export.dat"), "utf8")).toBe(smallExport);
});

test("X-06 results go into no folder, no device and no folder that is not there, which is said before anything runs", async () => {
  await checkUsage(["run", "n.shots.md", "--json", "d"], "is not an ordinary file");
  await checkUsage(["run", "n.shots.md", "--json", "/dev/null"], "is not an ordinary file");
  await checkUsage(["run", "n.shots.md", "--json", "nowhere/r.json"], "there is no folder");
  await checkUsage(["run", "n.shots.md", "--json", "n.shots.md/r.json"], "there is no folder");
});

test("what is no notebook inside is said, and its results are still valid JSON", async () => {
  for (const [text, code] of [
    ["---\nfairstrike: 99\n---\n", "nb.newer-format"],
    [Uint8Array.of(0x23, 0xff, 0xfe), "csv.encoding"],
  ] as const) {
    const folder = repository({ "n.shots.md": text });
    expect((await runIn(folder, ["run", "n.shots.md"])).code).toBe(1);
    expect((await json(folder, "n.shots.md")).problems.map((found) => [found.code, found.file])).toEqual([[code, "n.shots.md"]]);
  }
});

test("M-06 escape sequences in data, names and arguments come out as text", async () => {
  const escape = "\u001b]8;;x\u0007\u009b31m\u202e";
  const folder = repository({ "n.shots.md": notebookText(`${front}\ntitle: "${escape}"`, "query=a\nshots.filter(d => d.carry > 160)", `query=b\nshots.filter(d => d.head === "${escape}")`), "s/small.csv": smallExport.replaceAll("Heron", `Her${escape}on`) });
  const { out, said } = await runIn(folder, ["run", "n.shots.md"]);
  const usage = await runIn(folder, ["run", `${escape}.shots.md`]);
  const unknown = await runIn(folder, [escape]);
  const option = await runIn(folder, ["run", "n.shots.md", `--${escape}`]);
  const texts = [out, said, usage.said, unknown.said, option.said];
  expect(out).toContain("\\u001b");
  // oxlint-disable-next-line no-control-regex -- that there are none is what is tested
  for (const text of texts) expect(text).not.toMatch(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u202e]/u);
});

test("X-05 G8 the same notebook in another folder gives the same bytes, and no path of the machine is in them", async () => {
  const files = { "n.shots.md": broken };
  const [one, two] = [repository(files), repository(files)];
  const first = await runIn(one, ["run", path.join(one, "n.shots.md"), "--json", "-"]);
  expect(await runIn(two, ["run", path.join(two, "n.shots.md"), "--json", "-"])).toEqual(first);
  expect(first.out + first.said).not.toContain(one);
});

test("data come from the repository that the notebook is in, and from the notebook's folder where there is none", async () => {
  const text = notebookText("shots: ../s/one.session.yaml", "query=a\nshots.count()");
  expect((await runIn(repository({ "deep/n.shots.md": text }), ["run", "deep/n.shots.md"])).code).toBe(0);
  const loose = tempFolder({ "s/one.session.yaml": smallSession("one"), "s/small.csv": smallExport, "deep/n.shots.md": text });
  const { code, said } = await runIn(loose, ["run", "deep/n.shots.md"]);
  // Above a temporary folder there is no repository, on a machine that is in order.
  expect([code, said.includes("path.outside-root")]).toEqual([1, true]);
});

test("running changes no file", async () => {
  const folder = repository({ "n.shots.md": broken });
  const before = readFileSync(path.join(folder, "n.shots.md"), "utf8");
  await runIn(folder, ["run", "n.shots.md"]);
  expect(readFileSync(path.join(folder, "n.shots.md"), "utf8")).toBe(before);
  expect(existsSync(path.join(folder, "n.shots.record.json"))).toBe(false);
  writeFileSync(path.join(folder, "s/small.csv"), "");
  expect((await runIn(folder, ["run", "n.shots.md"])).code).toBe(1);
});

test("a cell says what is chosen before what it gives", async () => {
  const text = notebookText(`${front}\nchoose:\n  head: { of: head, is: Wren }\n  window: { of: carry, from: 150 yd }`, "query=a\nshots.choose()", "query=b\na.count()", "query=c\nshots.count()");
  const { out } = await runIn(repository({ "n.shots.md": text }), ["run", "n.shots.md"]);
  const said = out.split("\n").flatMap((line, i, all) => (line.startsWith("── ") ? [[line, all[i + 1]!.startsWith("Chosen") ? all[i + 1] : ""]] : []));
  expect(said).toEqual([
    ["── a", "Chosen: head = Wren; window (carry) = from 150 yd"],
    ["── b", "Chosen in the cells it uses: head = Wren; window (carry) = from 150 yd"],
    ["── c", ""],
  ]);
});
