import { expect, test } from "vitest";
import { changedSince } from "../../core/basis";
import { defaultLimits } from "../../core/limits";
import { parseNotebook } from "../../core/notebook/parse-notebook";
import { createEngine, type RunOutcome } from "../../core/run-notebook";
import { vocabulary } from "../../core/vocabulary";
import { memoryFiles } from "../support/memory-files";
import { notebookText, smallFiles } from "../support/small-session";

const newEngine = () => createEngine({ files: memoryFiles(smallFiles), vocabulary, limits: defaultLimits, clock: () => 0 });

function run(choices: string, cells: readonly string[], engine = newEngine()): Promise<RunOutcome> {
  const text = notebookText(`shots: s/one.session.yaml\nchoose:\n${choices}`, ...cells);
  return engine.run(parseNotebook(text).value, "n.shots.md");
}

/** Rows of the table that a cell gives with these choices. */
async function checkRows(choices: string, body: string, rows: number): Promise<void> {
  const { cells } = await run(choices, [`query=a\n${body}`]);
  expect(cells[0]!.problems.filter(({ severity }) => severity === "error")).toEqual([]);
  const { value } = cells[0]!;
  expect(value?.type === "table" ? value.rowCount : null).toBe(rows);
}

test("a choice lets through the rows of its values", async () => {
  await checkRows("  head: { of: head, is: any }", 'shots.choose("head")', 12);
  await checkRows("  head: { of: head, is: Wren }", 'shots.choose("head")', 6);
  await checkRows("  head: { of: head, is: [Wren, Heron] }", 'shots.choose("head")', 12);
  await checkRows("  head:\n    of: head\n    is:\n      - Heron", 'shots.choose("head")', 6);
  await checkRows("  turn: { of: stint, is: [1, 4] }", "shots.choose()", 6);
});

test("a choice lets through the rows within its bounds, both included, whatever their unit", async () => {
  await checkRows("  window: { of: carry, from: 158 yd }", 'shots.choose("window")', 4);
  await checkRows("  window: { of: carry, from: 150 yd, to: 152 yd }", 'shots.choose("window")', 3);
  await checkRows("  window: { of: carry, to: 137.16 m }", 'shots.choose("window")', 2);
  await checkRows("  window: { of: offline, to: -3 yd }", 'shots.choose("window")', 3);
  await checkRows("  window: { of: carry, from: }", 'shots.choose("window")', 12);
});

test("without names all choices hold whose column the table has", async () => {
  const both = "  head: { of: head, is: Wren }\n  window: { of: carry, from: 151 yd }";
  await checkRows(both, "shots.choose()", 4);
  await checkRows(both, 'shots.choose("head", "window")', 4);
  await checkRows(both, 'shots.select("carry").choose()', 10);
});

test("a text with quotes or code in it is a value and nothing else", async () => {
  await checkRows("  head: { of: head, is: '\" || true || \"' }", 'shots.choose("head")', 0);
});

test("the word of a choice stands wherever a text can", async () => {
  const choices = "  what: { among: [carry, ball_speed], is: ball_speed }\n  who: { among: [Wren, Heron], is: Heron }";
  const { cells } = await run(choices, ['query=a\nshots.describe({ of: chosen.what, by: "head" })', "query=b\nconst one = chosen.who\nshots.filter(d => d.head === one && d.head === chosen.who)"]);
  expect(cells.map(({ status }) => status)).toEqual(["ok", "ok"]);
  expect(JSON.stringify(cells[0]!.value)).toContain("mph");
  expect(cells[1]!.value?.type === "table" ? cells[1]!.value.rowCount : null).toBe(6);
});

/** Problems, errors first in the front matter and then in the cells, as `code line:column`. */
async function checkProblems(choices: string, body: string, expected: readonly string[]): Promise<void> {
  const { checked } = await run(choices, [`query=a\n${body}`]);
  expect(checked.cells.flatMap(({ problems }) => problems.map(({ code, range }) => `${code} ${range.start.line}:${range.start.column}`))).toEqual(expected);
}

test("what is wrong with a choice is said where it stands", async () => {
  await checkProblems("  head: { of: haed, is: any }", "shots.count()", ["nb.choice-column 3:15", "nb.choice-unused 3:3"]);
  await checkProblems("  head: { of: head, is: [Wern] }", "shots.choose()", ["nb.choice-value 3:26"]);
  await checkProblems("  head: { of: head, is: [Wren, Heronn] }", "shots.choose()", ["nb.choice-value 3:32"]);
  await checkProblems("  head: { of: head, is: Wern }", "shots.count()", ["nb.choice-value 3:25", "nb.choice-unused 3:3"]);
  await checkProblems("  head:\n    of: head\n    is:\n      - Wren\n      - ' Wren'", "shots.choose()", ["nb.choice-value 7:9"]);
  await checkProblems("  head: { of: head, is: [] }", "shots.count()", ["nb.value 3:25"]);
  await checkProblems("  window: { of: carry, from: 120 mph }", "shots.count()", ["nb.value 3:30"]);
  await checkProblems("  window: { of: carry, from: 120 }", "shots.count()", ["nb.value 3:30"]);
  await checkProblems("  what: { among: [carry, offline], is: cary }", "shots.count()", ["nb.value 3:40"]);
  await checkProblems("  what: { amung: [carry], is: carry }", "shots.count()", ["nb.choice-key 3:11"]);
  await checkProblems("  a-b: { of: head, is: any }", "shots.count()", ["nb.choice-name 3:3"]);
  await checkProblems("  head: { of: head, from: 3 }", "shots.count()", ["nb.value 3:27"]);
});

/** A table of which some columns are named by data. */
const pivoted = 'shots.groupby("stint", "head").rollup({ typical: op.mean("carry") }).groupby("stint").pivot("head", "typical")';

test("a value that no shot has is said beside answers by head, and after columns that data name", async () => {
  for (const other of ['a.describe({ of: "carry", by: "head" })', "a.suspects()", pivoted]) {
    const { checked } = await run("  head: { of: head, is: [Wren, Heronn] }", ["query=a\nshots.choose()", `query=b\n${other}`]);
    expect(checked.cells.flatMap(({ problems }) => problems.map(({ code }) => code)), other).toEqual(["nb.choice-value"]);
  }
});

test("a value is looked for where the choice is used, and nothing is said while that is not known", async () => {
  const derived = 'shots.derive({ far: d => d.carry > 155 ? "far" : "near" }).choose()';
  await checkProblems("  far: { of: far, is: [far, nearr] }", derived, ["nb.choice-value 3:29"]);
  await checkProblems("  far: { of: far, is: [far, near] }", derived, []);
  await checkProblems("  head: { of: head, is: Heron }", 'shots.filter(d => d.head === "Wren").choose()', []);
  await checkProblems("  Wren: { of: Wren, from: 3 yd }", `${pivoted}.choose("Wren")`, []);
});

test("any stands alone: in a list it is refused, and read as any", async () => {
  await checkProblems("  head: { of: head, is: [any] }", "shots.choose()", ["nb.value 3:26"]);
  await checkProblems("  head: { of: head, is: [Wren, any] }", "shots.choose()", ["nb.value 3:32"]);
  await checkProblems("  turn: { of: stint, is: [any] }", "shots.choose()", ["nb.value 3:27"]);
  await checkProblems('  head: { of: head, is: ["any"] }', "shots.choose()", ["nb.choice-value 3:26"]);
  await checkRows("  head: { of: head, is: [any] }", "shots.choose()", 12);
});

test("a range from above to is refused, whatever its units, and lets no row through", async () => {
  await checkProblems("  window: { of: carry, from: 160 yd, to: 150 yd }", "shots.choose()", ["nb.value 3:30"]);
  await checkProblems("  window: { of: carry, to: 140 m, from: 160 yd }", "shots.choose()", ["nb.value 3:41"]);
  await checkProblems("  turn: { of: stint, from: 4, to: -2 }", "shots.choose()", ["nb.value 3:28"]);
  await checkProblems("  window: { of: carry, from: 160 yd, to: 160 yd }", "shots.choose()", []);
  await checkProblems("  window: { of: carry, from: 152 yd, to: 138.9888 m }", "shots.choose()", []);
  await checkProblems("  side: { of: offline, from: -5 yd, to: -1 yd }", "shots.choose()", []);
  await checkRows("  window: { of: carry, from: 160 yd, to: 150 yd }", "shots.choose()", 0);
});

test("what is wrong with the use of a choice is said in the cell", async () => {
  const choices = "  head: { of: head, is: any }\n  what: { among: [carry, offline], is: carry }";
  const used = "\nshots.choose().derive({ it: d => chosen.what })";
  await checkProblems(choices, `const all = shots.choose("haed")${used.replace("shots", "shots")}`, ["query.unknown-named-choice 2:26"]);
  await checkProblems(choices, `const all = shots.choose("what")${used}`, ["query.choice-kind 2:26"]);
  await checkProblems(choices, "shots.choose().derive({ it: d => chosen.waht })", ["nb.choice-unused 4:3", "query.unknown-named-choice 2:41"]);
  await checkProblems(choices, `const all = shots.select("carry").choose("head")${used}`, ["query.choice-column 2:42"]);
});

test("a choice among columns is checked as the column it names", async () => {
  await checkProblems("  what: { among: [carry, spinn], is: spinn }", 'shots.describe({ of: chosen.what, by: "head" })', ["query.unknown-column 2:22"]);
});

test("the columns and values behind a choice are known without a run", async () => {
  const { checked } = await run("  head: { of: head, is: Wren }", ['query=a\nshots.choose("head")']);
  expect(checked.cells.at(-1)!.schema?.columns.find(({ name }) => name === "head")?.values).toEqual(["Wren"]);
});

test("changing a choice leaves the results that do not use it", async () => {
  const cells = ['query=own\nshots.choose("head").count()', "query=after\nown.derive({ twice: d => d.count * 2 })", "query=other\nshots.count()", "query=all\nshots.choose()"];
  const engine = newEngine();
  const first = await run("  head: { of: head, is: any }\n  window: { of: carry, from: 151 yd }", cells, engine);
  const second = await run("  head: { of: head, is: Wren } # one\n  window: { of: carry, from: 151 yd }", cells, engine);
  expect(second.cells.filter(({ kept }) => kept).map(({ name }) => name)).toEqual(["other"]);
  const changed = (name: string) => changedSince(first.cells.find((cell) => cell.name === name)!.basis, second.cells.find((cell) => cell.name === name)!.basis);
  expect(changed("own")).toEqual(["the choice head"]);
  expect(changed("after")).toEqual(["the choice head"]);
  expect(changed("other")).toEqual([]);
  const third = await run("  head: { of: head, is: [Wren] }\n  window: { of: carry, from: 152 yd }", cells, engine);
  expect(third.cells.filter(({ kept }) => kept).map(({ name }) => name).sort()).toEqual(["after", "other", "own"]);
});
