import { array, assert, asyncProperty, constantFrom, record } from "fast-check";
import { expect, test } from "vitest";
import { defaultLimits, type Limits } from "../../core/limits";
import { parseNotebook } from "../../core/notebook/parse-notebook";
import { presentOutcome } from "../../core/present/present-outcome";
import type { Vocabulary } from "../../core/query/vocabulary";
import { createEngine, type Engine, type RunOutcome, type RunRequest } from "../../core/run-notebook";
import { vocabulary } from "../../core/vocabulary";
import { createDiagnoser, documentOf } from "../../server/language/diagnoser";
import { languageOfKind } from "../../core/notebook/cell-languages";
import { memoryFiles, type MemoryFiles } from "../support/memory-files";
import { withOddVerb } from "../support/odd-verbs";
import { notebookText, smallExport, smallFiles, smallSession } from "../support/small-session";

const front = "shots: s/one.session.yaml";

interface Setting {
  readonly files?: MemoryFiles;
  readonly limits?: Partial<Limits>;
  readonly vocabulary?: Vocabulary;
  readonly clock?: () => number;
  readonly onFault?: (fault: unknown) => void;
}

function engineOf(setting: Setting = {}): Engine {
  return createEngine({
    files: setting.files ?? memoryFiles(smallFiles),
    vocabulary: setting.vocabulary ?? vocabulary,
    limits: { ...defaultLimits, ...setting.limits },
    clock: setting.clock ?? (() => 0),
    ...(setting.onFault === undefined ? {} : { onFault: setting.onFault }),
  });
}

function run(engine: Engine, text: string, request?: RunRequest): Promise<RunOutcome> {
  return engine.run(parseNotebook(text).value, "n.shots.md", request);
}

/** Names with statuses, in the order of running: `a ok`, `b blocked`. */
function statuses(outcome: RunOutcome): string[] {
  return outcome.cells.map(({ name, status, kept }) => `${name} ${status}${kept ? " kept" : ""}`);
}

/** Everything that can be seen of a run but for whether a result was kept, as text. */
function seen(outcome: RunOutcome): string {
  const cells = outcome.cells.map((cell) => ({ ...presentOutcome(cell, defaultLimits), kept: false }));
  return JSON.stringify({ cells, problems: outcome.problems, inputs: outcome.inputs });
}

/** Runs the cells and expects these statuses; cells that need one another come in the order of running. */
async function checkRun(cells: readonly string[], expected: readonly string[], setting?: Setting): Promise<RunOutcome> {
  const outcome = await run(engineOf(setting), notebookText(front, ...cells));
  expect(statuses(outcome)).toEqual(expected);
  return outcome;
}

function codes(outcome: RunOutcome, name: string): string[] {
  return outcome.cells.find((cell) => cell.name === name)!.problems.map((found) => `${found.code} ${found.range.start.line}:${found.range.start.column}`);
}

test("cells run in the order of what they need, and give tables and charts", async () => {
  const outcome = await checkRun(["query=late\nearly.count()", "query=picture\nchart.landing(early)", 'query=early\nshots.filter(d => d.head === "Wren")'], ["early ok", "late ok", "picture ok"]);
  expect(outcome.cells.map(({ value }) => value?.type)).toEqual(["table", "table", "chart"]);
  expect(outcome.inputs.map((input) => input.path)).toEqual(["s/one.session.yaml", "s/small.csv"]);
});

test("a text runs after the tables in its holes, and gives Markdown", async () => {
  const cells = ['query=said\ntext`Wren was hit ${counts.filter(d => d.head === "Wren").one("count")} times.`', 'query=counts\nshots.groupby("head").count()'];
  const outcome = await checkRun(cells, ["counts ok", "said ok"]);
  const { results, rowCount } = presentOutcome(outcome.cells[1]!, defaultLimits);
  expect(results).toEqual([{ type: "text", markdown: "Wren was hit 6 times.\n\nSynthetic data: no shot behind these numbers was hit." }]);
  expect(rowCount).toBeNull();
  expect(outcome.checked.cells[1]!.needs).toEqual([2]);
  expect([outcome.checked.cells[1]!.schema, outcome.checked.cells[1]!.query?.result]).toEqual([null, { type: "text" }]);
});

test("a text is computed again when a table in its holes is another, and only then", async () => {
  const engine = engineOf();
  const said = 'query=said\ntext`${counts.one("count")}`';
  const cells = (least: number): string => notebookText(front, `query=counts\nshots.filter(d => d.carry > ${least}).count()`, said);
  expect(statuses(await run(engine, cells(155)))).toEqual(["counts ok", "said ok"]);
  expect(statuses(await run(engine, cells(155)))).toEqual(["counts ok kept", "said ok kept"]);
  expect(statuses(await run(engine, cells(150)))).toEqual(["counts ok", "said ok"]);
});

test("a text is no table for another cell, and a cell that needs itself through a hole is in a cycle", async () => {
  const outcome = await checkRun(["query=said\ntext`Hello.`", "query=a\nsaid.count()", 'query=b\ntext`${said.one("x")}`', 'chart=c table=said\n{ "mark": "point" }'], [
    "said ok",
    "a failed",
    "b failed",
    "c failed",
  ]);
  expect(codes(outcome, "a")).toEqual(["query.not-a-table 2:1"]);
  expect(codes(outcome, "b")).toEqual(["query.not-a-table 2:8"]);
  expect(codes(outcome, "c")).toContain("query.not-a-table 1:15");
  expect(outcome.cells[1]!.problems[0]!.message).toBe("a table is wanted here, not the text said");
  const cycle = await checkRun(['query=said\ntext`${said.one("x")}`'], ["said failed"]);
  expect(codes(cycle, "said")).toEqual(["nb.cycle 2:8"]);
});

test("Q-12 a cell cannot be called text", async () => {
  const outcome = await checkRun(["query=text\nshots.count()"], ["text failed"]);
  expect(codes(outcome, "text")).toEqual(["nb.bad-name 1:7"]);
});

test("R-04 after a mistake in the middle, what does not need it still runs, and what does is blocked", () =>
  checkRun(["query=a\nshots", "query=b\na.filter(d => d.cary > 1)", "query=c\nb.count()", "query=d1\nc.count()", "query=e\na.count()"], [
    "a ok",
    "b failed",
    "c blocked",
    "d1 blocked",
    "e ok",
  ]));

test("R-04 a cell that fails only when it runs blocks what uses it, at the use", async () => {
  const outcome = await checkRun(["query=big\nshots.concat(shots)", "query=after\nshots.concat(big)"], ["big failed", "after blocked"], { limits: { rows: 20 } });
  expect(codes(outcome, "big")).toEqual(["run.too-large 2:14"]);
  expect(codes(outcome, "after")).toEqual(["run.blocked 2:14"]);
});

test("cells in a cycle and of one name still have an outcome, after all others", () =>
  checkRun(["query=a\nb", "query=b\na", "query=twice\nshots", "query=twice\nshots", "query=c\nshots"], ["c ok", "a failed", "b failed", "twice failed", "twice failed"]));

test("without the shots that it needs a cell is blocked, which is no failure of its own", async () => {
  await checkRun(["query=a\nshots"], ["a blocked"], { files: memoryFiles({}) });
  expect(statuses(await run(engineOf(), notebookText("title: x", "query=a\nshots")))).toEqual(["a blocked"]);
  expect(statuses(await run(engineOf(), notebookText("title: x", 'query=a\nsession("s/two.session.yaml")')))).toEqual(["a failed"]);
});

test("a cell without shots rests on the files that are not there, and says which", async () => {
  const engine = engineOf({ files: memoryFiles({ "s/one.session.yaml": smallFiles["s/one.session.yaml"]! }) });
  const outcome = await run(engine, notebookText(front, "query=a\nshots.count()", "query=b\na.count()"));
  expect(statuses(outcome)).toEqual(["a blocked", "b blocked"]);
  for (const { basis } of outcome.cells) expect(basis).toMatchObject({ "s/one.session.yaml": expect.stringMatching(/./u) as string, "s/small.csv": "" });
  expect(outcome.cells[0]!.problems[0]!.message).toContain('"small.csv" does not exist');
});

test("asked for some cells, it runs those and what they need", async () => {
  const text = notebookText(front, "query=a\nshots", "query=b\na.count()", "query=c\nshots.count()", "query=bad\nnowhere");
  expect(statuses(await run(engineOf(), text, { only: [2] }))).toEqual(["a ok", "b ok"]);
  expect(statuses(await run(engineOf(), text, { only: [0, 99] }))).toEqual([]);
  const cyclic = notebookText(front, "query=a\nb", "query=b\na", "query=c\na");
  expect(statuses(await run(engineOf(), cyclic, { only: [3] }))).toEqual(["c blocked", "a failed", "b failed"]);
});

const plain = ["query=stock\nshots.filter(d => d.carry > 130)", 'query=gap\nstock.compare({ of: "carry", by: "head" })', "query=other\nshots.count()"];

/** Runs the notebook, changes it or its files, runs it again, and expects these cells' results to be kept. */
async function checkKept(change: { text?: (text: string) => string; files?: (files: MemoryFiles) => void }, kept: readonly string[]): Promise<void> {
  const files = memoryFiles(smallFiles);
  const engine = engineOf({ files });
  const text = notebookText(front, "query=first\nshots", ...plain).replace("```js query=stock", "Some prose.\n\n```js query=stock");
  await run(engine, text);
  change.files?.(files);
  const again = await run(engine, change.text?.(text) ?? text);
  expect(again.cells.every((cell) => cell.status === "ok")).toBe(true);
  expect(again.cells.filter((cell) => cell.kept).map((cell) => cell.name)).toEqual(kept);
}

const all = ["first", "stock", "gap", "other"];
test("a result holds as long as nothing that it comes from has changed", () => checkKept({}, all));
test("a result holds when the prose changes, or another cell", async () => {
  await checkKept({ text: (text) => text.replace("Some prose.", "Other *prose*.\n\nAnd more.") }, all);
  await checkKept({ text: (text) => text.replace("query=other\nshots.count()", 'query=other\nshots.groupby("head").count()') }, ["first", "stock", "gap"]);
});
test("a result holds no longer when its text, or a cell that it needs, changes", () => checkKept({ text: (text) => text.replace("> 130", "> 131") }, ["first", "other"]));
test("no result holds when margins, units or seed change", async () => {
  await checkKept({ text: (text) => text.replace(front, `${front}\nmargin: { carry: 2 yd }`) }, []);
  await checkKept({ text: (text) => text.replace(front, `${front}\nunits: m-kmh`) }, []);
  await checkKept({ text: (text) => text.replace(front, `${front}\nseed: 3`) }, []);
});
test("a title changes no result", () => checkKept({ text: (text) => text.replace(front, `title: New\n${front}`) }, all));
test("no result holds when a byte of the export or of the session changes", async () => {
  await checkKept({ files: (files) => files.put("s/small.csv", smallExport.replace("150.0", "150.1")) }, []);
  await checkKept({ files: (files) => files.put("s/one.session.yaml", `${smallSession("one")}\n# a remark\n`) }, []);
});

test("a result is let go with its cell", async () => {
  const engine = engineOf();
  const text = notebookText(front, ...plain);
  await run(engine, text);
  await run(engine, notebookText(front, "query=other\nshots.count()"));
  expect(statuses(await run(engine, text))).toEqual(["stock ok", "gap ok", "other ok kept"]);
});

test("files that have not changed are not read again", async () => {
  const files = memoryFiles(smallFiles);
  const engine = engineOf({ files });
  const text = notebookText(front, 'query=a\nsession("s/one.session.yaml").concat(shots)');
  await run(engine, text);
  await run(engine, text.replace("concat(shots)", "count()"));
  expect(files.reads).toEqual(["s/one.session.yaml", "s/small.csv"]);
  files.put("s/small.csv", `${smallExport}13,Wren,112,150,0\n`);
  const outcome = await run(engine, text);
  expect(outcome.cells[0]!.value).toMatchObject({ rowCount: 26 });
});

test("R-12 whatever was run before, and however much at a time, a notebook gives what it gives afresh", async () => {
  const fronts = [front, `${front}\nunits: m-ms`, "shots: s/none.session.yaml"];
  const bodies = {
    a: ["shots", 'shots.filter(d => d.head === "Wren")', "c.count()", "shots.filter(d => d.cary > 1)"],
    b: ["a.count()", "a.concat(shots)", 'chart.landing(a, { by: "head" })'],
    c: ["shots.count()", 'b.select("head")', 'session("s/one.session.yaml")'],
  };
  const step = { front: constantFrom(...fronts), a: constantFrom(...bodies.a), b: constantFrom(...bodies.b), c: constantFrom(...bodies.c), only: constantFrom(undefined, [1], [2, 3]) };
  await assert(
    asyncProperty(array(record(step), { minLength: 2, maxLength: 6 }), async (edits) => {
      const engine = engineOf();
      for (const { front: top, a, b, c, only } of edits) {
        const text = notebookText(top, `query=a\n${a}`, `query=b\n${b}`, `query=c\n${c}`);
        const request = only === undefined ? {} : { only };
        expect(seen(await run(engine, text, request))).toBe(seen(await run(engineOf(), text, request)));
      }
    }),
    { seed: 7, numRuns: 15 },
  );
});

test("a run of some cells gives them what a run of all gives", async () => {
  const text = notebookText(front, ...plain);
  const whole = await run(engineOf(), text);
  for (const [index, cell] of whole.cells.entries()) {
    const alone = await run(engineOf(), text, { only: [index + 1] });
    expect(JSON.stringify(presentOutcome(alone.cells.at(-1)!, defaultLimits))).toBe(JSON.stringify(presentOutcome(cell, defaultLimits)));
  }
});

test("R-02 a run cancelled before a cell leaves out that one and the rest, and says that it was cancelled", async () => {
  const engine = engineOf();
  let finished = 0;
  const text = notebookText(front, ...plain);
  const outcome = await run(engine, text, { isCancelled: () => finished > 0, onCell: () => finished++ });
  expect([statuses(outcome), outcome.cancelled]).toEqual([["stock ok"], true]);
  expect(statuses(await run(engine, text))).toEqual(["stock ok kept", "gap ok", "other ok"]);
});

test("R-02 a run cancelled in the middle of a cell leaves that cell without an outcome", async () => {
  let isCancelled = false;
  const engine = engineOf({
    vocabulary: withOddVerb((context) => {
      isCancelled = true;
      context.checkpoint();
    }),
  });
  const started: number[] = [];
  const outcome = await run(engine, notebookText(front, "query=a\nshots", "query=b\nshots.odd()", "query=c\nshots"), { isCancelled: () => isCancelled, onStart: (index) => started.push(index) });
  expect([statuses(outcome), outcome.cancelled, started]).toEqual([["a ok"], true, [1, 2]]);
});

test("R-01 a cell over its time is stopped, blocks what needs it, and leaves the others alone", async () => {
  let now = 0;
  const slow = withOddVerb((context) => {
    now += 10_001;
    context.checkpoint();
  });
  const outcome = await checkRun(["query=slow\nshots.odd()", "query=after\nslow.count()", "query=other\nshots.count()"], ["slow failed", "after blocked", "other ok"], { vocabulary: slow, clock: () => now });
  expect(codes(outcome, "slow")).toEqual(["run.out-of-time 1:7"]);
  expect(outcome.cells[0]!.problems[0]!.message).toBe("this cell was stopped after 10 seconds");
});

test("a fault of the program in one cell is reported there, told to whoever runs it, and leaves the others alone", async () => {
  const faults: unknown[] = [];
  const broken = withOddVerb(() => {
    throw new RangeError("out of reach");
  });
  const outcome = await checkRun(["query=bad\nshots.odd()", "query=good\nshots.count()"], ["bad failed", "good ok"], { vocabulary: broken, onFault: (fault) => faults.push(fault) });
  expect(codes(outcome, "bad")).toEqual(["run.internal 1:7"]);
  expect(faults).toEqual([new RangeError("out of reach")]);
});

test("what a verb warns of stands beside the result, and still does when it is kept", async () => {
  const engine = engineOf();
  const text = notebookText(front, "query=a\nshots.derive({ x: d => d.carry / (d.shot - 1) })");
  const first = await run(engine, text);
  const second = await run(engine, text);
  expect(codes(first, "a")).toEqual(["query.undefined-numbers 2:24"]);
  expect(second.cells[0]).toEqual({ ...first.cells[0], kept: true });
});

test("R-08 a long result is cut for showing, and its true length is told", async () => {
  const outcome = await checkRun(["query=a\nshots.concat(shots)"], ["a ok"]);
  const shown = presentOutcome(outcome.cells[0]!, { ...defaultLimits, rowsShown: 5 });
  expect(shown.results).toMatchObject([{ type: "table", row_count: 24 }]);
  expect(shown.results[0]?.type === "table" && shown.results[0].rows.length).toBe(5);
});

test("V-18 two runs give the same bytes, samples drawn by chance among them, and no number that is none", async () => {
  const cells = ['query=some\nshots.groupby("head").sample(3)', 'query=gap\nshots.compare({ of: "carry", by: "head" })', 'query=each\nsome.describe({ of: "carry", by: "head" })', 'query=where\nchart.landing(some, { by: "head" })'];
  const text = notebookText(`${front}\nseed: 5`, ...cells);
  const first = seen(await run(engineOf(), text));
  expect(first).toBe(seen(await run(engineOf(), text)));
  expect(first).not.toContain("NaN");
  expect(first).not.toBe(seen(await run(engineOf(), text.replace("seed: 5", "seed: 6"))));
});

test("G3 nothing of the language's own objects is changed by a run, whatever headers and names it meets", async () => {
  const snapshot = (): string =>
    JSON.stringify([Object.prototype, Array.prototype, Function.prototype, Map.prototype, globalThis].map((one) => Reflect.ownKeys(one).map(String).sort()));
  const before = snapshot();
  const headers = smallExport.replace("No,Club,Ball speed,Carry,Side", "No,Club,Ball speed,Carry,Side,__proto__,constructor").replace(/(\d)\n/g, "$1,1,2\n");
  const files = memoryFiles({ ...smallFiles, "s/small.csv": headers });
  const outcome = await run(engineOf({ files }), notebookText(front, "query=a\nshots", "query=b\na.count()", "query=__proto__\nshots", 'query=c\nshots.select("__proto__")'));
  expect(statuses(outcome)).toEqual(["a ok", "b ok", "__proto__ failed", "c ok"]);
  expect(snapshot()).toBe(before);
});

test("G7 check, run and the editor's diagnoser find the same problems", async () => {
  const notebooks = [
    notebookText(front, "query=a\nshots.filter(d => d.cary > 1)", "query=b\na.count()", "query=b\na", 'chart=c table=b\n{ "mark": "pont" }'),
    notebookText("shots: s/none.session.yaml\nmargin: { carry: 3 mph }", "query=a\nshots", "query=b\nc", "query=c\nb"),
    notebookText("title: x", "query=a\nshots", 'query=b\nsession("../x.session.yaml")', "query=c\neval(1)"),
  ];
  for (const text of notebooks) {
    const document = parseNotebook(text).value;
    const checked = await engineOf().check(document, "n.shots.md");
    const outcome = await run(engineOf(), text);
    const files = memoryFiles(smallFiles);
    const diagnoser = createDiagnoser({
      place: () => Promise.resolve({ root: "file:///w", path: "n.shots.md" }),
      read: (_, name) => files.read(name),
      list: (_, name) => files.list(name),
      isCurrent: (_, name, digest) => files.isCurrent(name, digest),
      openText: () => null,
    });
    const found = await diagnoser.notebook("file:///w/n.shots.md", documentOf(document.cells.map((cell) => ({ language: languageOfKind[cell.kind], text: cell.text }))));
    expect(found.view.cells.map((cell) => cell.checked.problems)).toEqual(checked.cells.map((cell) => cell.problems));
    for (const cell of outcome.cells) expect(cell.problems).toEqual(checked.cells[cell.index]!.problems);
    expect(outcome.cells.some((cell) => cell.status !== "ok")).toBe(true);
  }
});

const wide = 'query=wide\nshots.groupby("shot").pivot("head", "carry")';
const chartOf = (field: string): string => `chart=drawn table=wide description="Points."\n{ "mark": "point", "encoding": { "y": { "field": "${field}" } } }`;

test("a chart of a table whose columns only a run tells is checked again with them", async () => {
  const drawn = await checkRun([wide, chartOf("Heron")], ["wide ok", "drawn ok"]);
  const { value } = drawn.cells.find((cell) => cell.name === "drawn")!;
  if (value?.type !== "chart") throw new Error("no chart");
  expect(JSON.stringify(value.spec)).toContain("Heron (yd)");
  const unknown = await checkRun([wide, chartOf("Herron")], ["wide ok", "drawn failed"]);
  expect(codes(unknown, "drawn")).toEqual(["chart.unknown-column 2:50"]);
});
