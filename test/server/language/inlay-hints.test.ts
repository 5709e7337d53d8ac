import { assert, integer, property } from "fast-check";
import { expect, test } from "vitest";
import { hintsOf } from "../../../server/language/inlay-hints";
import { notebookView, smallFront } from "../../support/notebook-view";
import { hostileNames, tagsIn } from "../../support/rendered-markdown";

async function hints(body: string) {
  const text = `query=x\n${body}`;
  const view = await notebookView([smallFront, ["query", text]]);
  return hintsOf(view, 1).map((hint) => ({ ...hint, line: text.slice(0, hint.at).split("\n").length - 1, isAtEnd: hint.at === text.length || text[hint.at] === "\n" }));
}

/** Hints as `line: label`, lines of the body from 1. */
async function checkHints(body: string, ...expected: readonly string[]): Promise<void> {
  const found = await hints(body);
  expect(found.map(({ line, label }) => `${line}: ${label}`)).toEqual(expected);
  expect(found.every(({ isAtEnd }) => isAtEnd)).toBe(true);
}

test("a new column with its unit", () => checkHints("shots.derive({ curve: d => d.offline / 2 })", "1: + curve yd"));
test("columns that are kept", () => checkHints('shots.select("head", "carry")', "1: 2 columns: head, carry yd"));
test("another table", () => checkHints('shots.groupby("head").rollup({ n: op.count(), typical: op.median("carry") })', "1: 3 columns: head, n, typical yd"));
test("a renamed column", () => checkHints('shots.rename({ carry: "length" })', "1: − carry yd + length yd"));
test("verbs that change no column have none", () => checkHints('shots.filter(d => d.carry > 1).orderby("carry")'));
test("each line of a chain has its own", () =>
  checkHints('shots\n  .derive({ a: d => d.carry })\n  .filter(d => d.a > 1)\n  .select("a")', "2: + a yd", "4: 1 column: a yd"));
test("two verbs on a line are taken together", () => checkHints('shots.derive({ a: d => d.carry, b: d => d.carry }).select("a", "b")', "1: 2 columns: a yd, b yd"));
test("a verb's hint stands where its bracket closes", () => checkHints("shots.derive({\n  a: d => d.carry,\n})", "3: + a yd"));
test("a constant that is a table", () => checkHints('const w = shots.select("head").filter(d => d.head === "Wren")\nw', "1: 1 column: head"));
test("a constant whose verbs change no column says which there are", async () => {
  const [found] = await hints("const w = shots.filter(d => d.carry > 1)\nw");
  expect(found?.label).toMatch(/^\d+ columns: session, shot, .*…$/u);
  expect(found!.label.length).toBeLessThanOrEqual(61);
});
test("a plain constant has none", () => checkHints("const a = 1\nshots.filter(d => d.carry > a)"));
test("a table within brackets", () => checkHints('shots.join(\n  shots.groupby("head").rollup({ t: op.median("carry") }),\n  "head")', "2: 2 columns: head, t yd", "3: + t yd"));
test("tables of charts and of texts", async () => {
  await checkHints("chart.landing(shots.derive({ a: d => d.carry }))", "1: + a yd");
  await checkHints('text`a ${shots.groupby("head").count()}`', "1: 2 columns: head, count");
});
test("columns that come from the data", () => checkHints('shots.groupby("head").pivot("session", "carry")', "1: 1 column or more: head"));
test("a mistake in one verb says nothing of columns", () => checkHints("shots.derive({ a: d => d.nothing })"));
test("a cell that does not parse has none", () => checkHints("shots.derive({ a: d =>"));

test("the whole list is in the tooltip", async () => {
  const [found] = await hints('shots.select("head", "carry")');
  expect(found?.tooltip).toBe("- `head`: text\n- `carry`: numbers in yd");
});

test.each(hostileNames)("L-11 a column called %j is shown as it is", async (name) => {
  const [found] = await hints(`shots.derive({ ${JSON.stringify(name)}: d => d.carry })`);
  expect(found?.label).not.toMatch(/[\r\n\u202e]/u);
  expect(tagsIn(found!.tooltip).filter((tag) => !["ul", "li", "code"].includes(tag))).toEqual([]);
});

test("hints of any cut stand at ends of lines, sorted", async () => {
  const text = 'query=x\nconst w = shots.derive({ a: d => d.carry })\nw.join(shots.count(),\n "count").rollup({ n: op.count() })';
  const views = await Promise.all(Array.from({ length: 25 }, (_, i) => notebookView([smallFront, ["query", text.slice(0, 8 + i * 5)]])));
  assert(
    property(integer({ min: 0, max: views.length - 1 }), (i) => {
      const own = views[i]!.cells[1]!.text;
      const places = hintsOf(views[i]!, 1).map(({ at }) => at);
      expect(places).toEqual([...new Set(places)].sort((a, b) => a - b));
      for (const at of places) expect(at === own.length || own[at] === "\n").toBe(true);
    }),
    { seed: 4, numRuns: 50 },
  );
});
