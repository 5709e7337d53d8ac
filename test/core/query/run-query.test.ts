import { expect, test } from "vitest";
import { defaultLimits } from "../../../core/limits";
import { Cancelled, OutOfTime } from "../../../core/query/interruption";
import { runQuery } from "../../../core/query/run-query";
import { makeTable, numberColumn, textColumn, type Table } from "../../../core/table/table";
import { vocabulary } from "../../../core/vocabulary";
import { check, listsOf, placed, run, runTable, sampleTables, type Setting } from "./query-support";

/** Expects running the body to give no value and this error, placed on this text. */
function checkFails(body: string, expected: string, setting: Setting = {}): void {
  const { value, problems } = run(body, setting);
  expect(value).toBeNull();
  expect(placed(body, problems.filter((found) => found.severity === "error"))).toEqual([expected]);
}

function numbered(rowCount: number): ReadonlyMap<string, Table> {
  const rows = Array.from({ length: rowCount }, (_, row) => row);
  return new Map([["shots", makeTable([numberColumn("row", rows), textColumn("head", rows.map(() => "Wren"))], rowCount)]]);
}

test("a filter, a group and a rollup", () => {
  const body = 'shots.filter(d => d.intent === "stock").groupby("head").rollup({ n: op.count(), mean: op.mean("carry") })';
  expect(listsOf(runTable(body))).toEqual({ head: ["Plover", "Wren", "Heron"], n: [4, 3, 3], mean: [156.5, 153, 148.5] });
});

test("a condition that missing values leave open leaves the row out, and says so at the condition", () => {
  const body = "shots.filter(d => d.carry > 0)";
  const { value, problems } = run(body);
  expect(value).toMatchObject({ rowCount: 11 });
  expect(placed(body, problems)).toEqual(["query.undecided-rows d => d.carry > 0"]);
  expect(problems[0]).toMatchObject({ severity: "info", facts: { count: 1, of: 12 } });
  expect(run("shots.filter(d => d.carry > 0 || d.carry === null)")).toMatchObject({ value: { rowCount: 12 }, problems: [] });
  expect(run("shots.filter(d => !(d.carry > 0))")).toMatchObject({ value: { rowCount: 0 } });
});

test("a condition that holds for no row says so at the condition, once, and not of rows that are none", () => {
  const body = 'shots.filter(d => d.shot > 0).filter(d => d.shot > 999).filter(d => d.head === "Wren")';
  const { value, problems } = run(body);
  expect(value).toMatchObject({ rowCount: 0 });
  expect(placed(body, problems)).toEqual(["query.none-left d => d.shot > 999"]);
  expect(problems[0]).toMatchObject({ severity: "info", facts: { of: 12 } });
});

test("V-16 what a group does not determine is missing, and the count says of how many groups", () => {
  const { value, problems } = run('shots.slice(4, 6).groupby("head").rollup({ m: op.mean("carry"), s: op.sd("carry"), n: op.count() })');
  if (value?.type !== "table") throw new Error("no table");
  expect(listsOf(value)).toEqual({ head: ["Heron", "Plover"], m: [null, 157], s: [null, null], n: [1, 1] });
  expect(problems.map((found) => [found.code, found.facts])).toEqual([
    ["query.undetermined", { name: "m", count: 1, of: 2 }],
    ["query.undetermined", { name: "s", count: 2, of: 2 }],
  ]);
  expect(listsOf(runTable('shots.filter(d => d.carry > 999).rollup({ m: op.mean("carry"), s: op.sum("carry"), n: op.count() })'))).toEqual({
    m: [null],
    s: [null],
    n: [0],
  });
  expect(runTable('shots.filter(d => d.carry > 999).groupby("head").rollup({ m: op.mean("carry") })').rowCount).toBe(0);
});

test("columns that come from data are checked when the cell runs", () => {
  const wide = 'shots.groupby("intent", "head").rollup({ m: op.mean("carry") }).groupby("intent").pivot("head", "m")';
  expect(listsOf(runTable(`${wide}.derive({ gap: d => d.Wren - d.Heron }).select("intent", "gap")`))).toEqual({
    intent: ["warm-up", "stock"],
    gap: [155 - 151, 153 - 148.5],
  });
  checkFails(`${wide}.derive({ gap: d => d.Wren - d.Egret })`, "query.unknown-column Egret");
  checkFails(`${wide}.filter(d => d.Wren === "far")`, 'query.kind "far"');
  checkFails(`${wide}.select("Egret")`, 'query.unknown-column "Egret"');
  checkFails(`${wide}.rollup({ m: op.first("intent"), n: op.mean("Egret") })`, 'query.unknown-column "Egret"');
  checkFails(`${wide}.fold("Wren", "intent")`, 'query.mixed-columns "Wren", "intent"');
});

test("Q-19 what would grow too large is refused with numbers, before it is made", () => {
  const setting = { tables: numbered(4000), limits: { rows: 100_000 } };
  checkFails('shots.join(shots, "head")', "run.too-large shots", setting);
  expect(run('shots.join(shots, "head")', setting).problems[0]).toMatchObject({ facts: { what: "rows", count: 16_000_000, most: 100_000 } });
  checkFails('shots.join_left(shots, "head")', "run.too-large shots", setting);
  checkFails('shots.concat(shots)', "run.too-large shots", { tables: numbered(4000), limits: { rows: 5000 } });
  checkFails('shots.derive({ row2: d => d.row }).fold("row", "row2")', 'run.too-large "row", "row2"', {
    tables: numbered(4000),
    limits: { rows: 5000 },
  });
  checkFails('shots.derive({ k: d => d.row }).pivot("k", "row")', 'run.too-large "k", "row"', setting);
  checkFails('shots.groupby("row").pivot("row", "head")', 'run.too-large "row", "head"', { tables: numbered(400), limits: { rows: 100_000 } });
  checkFails(`shots.derive({ ${Array.from({ length: 30 }, (_, index) => `c${index}: d => 1`).join(", ")} })`, "run.too-large derive", { limits: { columns: 40 } });
});

test("columns that would hold more values than there is memory for are refused, before they are made", () => {
  const setting = { tables: numbered(1000), limits: { values: 3000 } };
  const [first] = setting.tables.values();
  expect(first!.columns.map((column) => column.name)).toEqual(["row", "head"]);
  checkFails("shots.derive({ a: d => d.row, b: d => d.row })", "run.too-large { a: d => d.row, b: d => d.row }", setting);
  expect(run("shots.derive({ a: d => d.row, b: d => d.row })", setting).problems[0]).toMatchObject({ facts: { what: "values", count: 4000, most: 3000 } });
  checkFails('shots.rollup({ a: op.mean("row"), b: op.max("row"), c: op.min("row"), d: op.sum("row") })', 'run.too-large { a: op.mean("row"), b: op.max("row"), c: op.min("row"), d: op.sum("row") }', setting);
  checkFails("shots.concat(shots)", "run.too-large shots", setting);
  checkFails('shots.derive({ a: d => d.row }).fold("row", "a")', 'run.too-large "row", "a"', setting);
  checkFails('shots.join(shots, "row")', "run.too-large shots", { ...setting, limits: { values: 2500 } });
  checkFails('shots.join_left(shots, "row")', "run.too-large shots", { ...setting, limits: { values: 2500 } });
  for (const body of ["shots.derive({ a: d => d.row })", 'shots.join(shots, "row")']) expect(runTable(body, setting).rowCount).toBe(1000);
  expect(runTable("shots.filter(d => d.row > 10)", { ...setting, limits: { values: 1 } }).rowCount).toBeGreaterThan(900);
  expect(defaultLimits.values).toBeGreaterThanOrEqual(defaultLimits.rows * 50);
});

test("the steps of a cell are bounded", () => {
  checkFails("shots.derive({ x: d => d.row + 1 + 2 + 3 })", "run.too-large d.row + 1 + 2 + 3", { tables: numbered(4000), limits: { steps: 20_000 } });
  expect(runTable("shots.derive({ x: d => d.row + 1 + 2 + 3 })", { tables: numbered(2000), limits: { steps: 20_000 } }).rowCount).toBe(2000);
});

test("R-01 R-02 a checkpoint can end a run in the middle of its rows", () => {
  for (const stop of [new Cancelled(), new OutOfTime()]) {
    let calls = 0;
    const checkpoint = (): void => {
      calls++;
      if (calls === 5) throw stop;
    };
    expect(() => run("shots.derive({ x: d => d.row * 2 })", { tables: numbered(100_000), checkpoint })).toThrow(stop);
    expect(calls).toBe(5);
  }
});

test("a table that has no result blocks what needs it", () => {
  const checked = check("shots.count()").value!;
  const context = { limits: defaultLimits, units: "yd-mph" as const, margins: {}, seed: 1, warn: () => {}, checkpoint: () => {} };
  const { value, problems } = runQuery(checked, new Map(), context, vocabulary);
  expect(value).toBeNull();
  expect(placed("shots.count()", problems)).toEqual(["run.blocked shots"]);
});

test("a cell with errors cannot be run", () => {
  const checked = check("shots.filter(d => d.carri > 1)").value!;
  const context = { limits: defaultLimits, units: "yd-mph" as const, margins: {}, seed: 1, warn: () => {}, checkpoint: () => {} };
  expect(() => runQuery(checked, sampleTables, context, vocabulary)).toThrow(TypeError);
});

test("sessions are found by their path as written", () => {
  const tables = new Map([...sampleTables, ["spring.session.yaml", sampleTables.get("shots")!]]);
  expect(runTable('session("spring.session.yaml").count()', { tables }).rowCount).toBe(1);
});

test("a constant's table is made once", () => {
  let calls = 0;
  runTable("const a = shots.derive({ x: d => d.row * 2 })\na.concat(a).concat(a)", { tables: numbered(10), checkpoint: () => void calls++ });
  const once = calls;
  calls = 0;
  runTable("shots.derive({ x: d => d.row * 2 }).concat(shots).concat(shots)", { tables: numbered(10), checkpoint: () => void calls++ });
  expect(once).toBe(calls);
});

test("a chart is drawn of its table, with its options", () => {
  const { value, problems } = run('chart.landing(shots.filter(d => d.carry !== null), { by: "head" })');
  expect(problems).toEqual([]);
  expect(value).toMatchObject({ type: "chart" });
});

test("V-18 two runs of a sample are equal, and another seed gives another", () => {
  const body = 'shots.groupby("head").sample(2).select("shot")';
  const first = listsOf(runTable(body))["shot"];
  expect(listsOf(runTable(body))["shot"]).toEqual(first);
  expect(first).toHaveLength(6);
  const others = Array.from({ length: 20 }, (_, seed) => listsOf(runTable(body, { seed }))["shot"]!.join());
  expect(new Set(others).size).toBeGreaterThan(10);
});

test("the longest chain and the widest expression that pass the gate run", () => {
  const sum = Array.from({ length: 490 }, () => "1").join(" + ");
  expect(listsOf(runTable(`shots.derive({ x: d => ${sum} }).slice(0, 1).select("x")`))).toEqual({ x: [490] });
  expect(runTable(`shots${".slice(0, 5)".repeat(490)}`).rowCount).toBe(5);
  expect(listsOf(runTable(`shots.derive({ x: d => ${"(".repeat(95)}1${")".repeat(95)} }).slice(0, 1).select("x")`))).toEqual({ x: [1] });
});
