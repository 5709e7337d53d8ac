import * as fc from "fast-check";
import { expect, test } from "vitest";
import type { CellKind } from "../../../core/notebook/document";
import { replaceSpans } from "../../../core/replace-spans";
import { occurrencesOf } from "../../../server/language/occurrences";
import { highlightsAt, referencesAt } from "../../../server/language/references";
import { renamableAt, renameAt } from "../../../server/language/rename";
import { atMark, notebookView, smallFront } from "../../support/notebook-view";

type Cells = readonly (readonly [CellKind, string])[];

/** Cells of a notebook on the small session: a chart for a header line with `chart=`, else a query; `¦` marks the cursor. */
async function marked(...texts: readonly string[]) {
  const cell = texts.findIndex((text) => text.includes("¦"));
  const { offset } = atMark(texts[cell]!);
  const cells: Cells = texts.map((text) => [text.startsWith("chart=") ? "chart" : "query", text.replace("¦", "")]);
  return { view: await notebookView([smallFront, ...cells]), cell: cell + 1, offset, texts: cells.map(([, text]) => text) };
}

async function renamed(texts: readonly string[], to: string): Promise<readonly string[] | string> {
  const { view, cell, offset, texts: before } = await marked(...texts);
  const answer = renameAt(view, cell, offset, to);
  if (!answer.ok) return answer.because;
  return before.map((text, i) => replaceSpans(text, answer.edits.filter((edit) => edit.cell === i + 1)));
}

/** Expects what the cells are after renaming what is at the mark. */
async function checkRename(texts: readonly string[], to: string, expected: readonly string[]): Promise<void> {
  expect(await renamed(texts, to)).toEqual(expected);
}

/** Expects a reason that has `because` in it. */
async function checkRefused(texts: readonly string[], to: string, because: string): Promise<void> {
  const answer = await renamed(texts, to);
  expect(answer).toBeTypeOf("string");
  expect(answer).toContain(because);
}

const chart = (field: string, table = "a"): string => `chart=c table=${table} description="d"\n{ "mark": "point", "encoding": { "x": { "field": ${field} } } }`;

test("a cell is renamed in its first line, in queries and in a chart's table", () =>
  checkRename(["query=sto¦ck\nshots", "query=b\nstock.join(stock, \"shot\").count()", chart('"carry"', "stock")], "usual", [
    "query=usual\nshots",
    "query=b\nusual.join(usual, \"shot\").count()",
    chart('"carry"', "usual"),
  ]));

const means = (as: string, field: string): string =>
  `chart=c table=a description="d"\n{ "mark": "bar", "transform": [{ "aggregate": [{ "op": "mean", "field": "carry", "as": ${as} }], "groupby": ["head"] }], "encoding": { "x": { "field": "head" }, "y": { "field": ${field} } } }`;

test("a column that a chart makes is renamed where it is made and drawn, from either", async () => {
  await checkRename(["query=a\nshots", means('"¦m"', '"m"')], "typical", ["query=a\nshots", means('"typical"', '"typical"')]);
  await checkRename(["query=a\nshots", means('"m"', '"m¦"')], "far.off", ["query=a\nshots", means('"far.off"', String.raw`"far\\.off"`)]);
  await checkRename(["query=a\nshots.derive({ m: d => 1 })", means('"m"', '"¦m"'), chart('"m"')], "typical", ["query=a\nshots.derive({ m: d => 1 })", means('"typical"', '"typical"'), chart('"m"')]);
  await checkRefused(["query=a\nshots", means('"m"', '"¦m"')], "head", "shot column");
});

test("a chart's own column is found wherever the chart names it", async () => {
  const { view, cell, offset, texts } = await marked("query=a\nshots", means('"m"', '"¦m"'));
  expect(highlightsAt(view, cell, offset).map(({ from, isWrite }) => [from, isWrite])).toEqual([
    [texts[1]!.indexOf('"m"') + 1, true],
    [texts[1]!.lastIndexOf('"m"') + 1, false],
  ]);
});

test("a cell is renamed from where it is used", () => checkRename(["query=a\nshots", "query=b\n¦a.count()"], "z", ["query=z\nshots", "query=b\nz.count()"]));

test("a constant is renamed in its cell alone", () =>
  checkRename(["query=a\nconst far¦ = 150; shots.filter(d => d.carry > far)", "query=b\nconst far = 1; shots.filter(d => d.carry > far)"], "limit", [
    "query=a\nconst limit = 150; shots.filter(d => d.carry > limit)",
    "query=b\nconst far = 1; shots.filter(d => d.carry > far)",
  ]));

test("a row is renamed in its row function alone", () =>
  checkRename(["query=a\nshots.filter((¦d) => d.carry > d.offline).filter(d => d.carry > 1)"], "row", ["query=a\nshots.filter((row) => row.carry > row.offline).filter(d => d.carry > 1)"]));

test("a derived column is renamed in functions, strings, options, aggregates, renames, fields and holes", () =>
  checkRename(
    [
      "query=a\nshots.derive({ cur¦ve: d => d.offline })",
      "query=b\na.filter(d => d.curve > 1 && d['curve'] < 9).select('curve', \"head\").orderby(op.desc(\"curve\"))",
      'query=c\na.groupby("head").rollup({ far: op.max("curve"), curve: op.mean(d => d.curve) })',
      'query=d\na.describe({ of: ["curve", "carry"], by: "head" })',
      'query=e\na.rename({ curve: "side" }).filter(d => d.side > 1)',
      "query=f\ntext`${a.slice(0, 1).one(\"curve\")}`",
      'query=g\nconst of = "curve";\na.select(of)',
      chart('"curve"'),
    ],
    "bend",
    [
      "query=a\nshots.derive({ bend: d => d.offline })",
      "query=b\na.filter(d => d.bend > 1 && d['bend'] < 9).select('bend', \"head\").orderby(op.desc(\"bend\"))",
      'query=c\na.groupby("head").rollup({ far: op.max("bend"), curve: op.mean(d => d.bend) })',
      'query=d\na.describe({ of: ["bend", "carry"], by: "head" })',
      'query=e\na.rename({ bend: "side" }).filter(d => d.side > 1)',
      "query=f\ntext`${a.slice(0, 1).one(\"bend\")}`",
      'query=g\nconst of = "bend";\na.select(of)',
      chart('"bend"'),
    ],
  ));

test("a name that is no plain word gets brackets, quotes and backslashes", () =>
  checkRename(["query=a\nshots.derive({ curve: d => d.offline }).filter(d => d.¦curve > 1)", chart('"curve"')], "curve [a.b]", [
    'query=a\nshots.derive({ "curve [a.b]": d => d.offline }).filter(d => d["curve [a.b]"] > 1)',
    chart('"curve \\\\[a\\\\.b\\\\]"'),
  ]));

test("a plain word loses brackets, quotes and backslashes", () =>
  checkRename(['query=a\nshots.derive({ "a¦.b": d => d.offline }).filter(d => d["a.b"] > 1)', chart('"a\\\\.b"')], "curve", [
    "query=a\nshots.derive({ curve: d => d.offline }).filter(d => d.curve > 1)",
    chart('"curve"'),
  ]));

test("endings that a join gives stay", () =>
  checkRename(['query=a\nshots.derive({ curve: d => d.offline })', 'query=b\na.join(a, "shot").filter(d => d.cur¦ve_1 > d.curve_2)'], "bend_1", [
    "query=a\nshots.derive({ bend: d => d.offline })",
    'query=b\na.join(a, "shot").filter(d => d.bend_1 > d.bend_2)',
  ]));

test("columns that concat puts together are renamed together", () =>
  checkRename(["query=a\nshots.derive({ c¦: d => 1 })", "query=b\nshots.derive({ c: d => 2 })", "query=x\na.concat(b).select(\"c\")"], "z", [
    "query=a\nshots.derive({ z: d => 1 })",
    "query=b\nshots.derive({ z: d => 2 })",
    'query=x\na.concat(b).select("z")',
  ]));

const curve = "query=a\nshots.derive({ cur¦ve: d => d.offline })";

test("no shot column is renamed", () => checkRefused(["query=a\nshots.select(\"car¦ry\")"], "x", "columns: in s/one.session.yaml"));
test("no verb is renamed", () => checkRefused(["query=a\nshots.sel¦ect(\"carry\")"], "x", "word of the query language"));
test("no value is renamed", () => checkRefused(['query=a\nshots.filter(d => d.head === "W¦ren")'], "x", "value in the shots"));
test("shots is not renamed", () => checkRefused(["query=a\n¦shots"], "x", "front matter"));
test("no column of a verb's own is renamed", () => checkRefused(['query=a\nshots.groupby("head").count().select("co¦unt")'], "x", "what a verb calls its column"));
test("a cell that is not there is not renamed", () => checkRefused(["query=a\nno¦ne.count()"], "x", "no cell called"));
test("one of two cells of a name is not renamed", () => checkRefused(["query=a¦\nshots", "query=a\nshots"], "x", "2 cells"));
test("nothing is called as another cell is", () => checkRefused(["query=a¦\nshots", "query=b\nshots"], "b", "already"));
test("no cell is called op", () => checkRefused(["query=a¦\nshots"], "op", "it is where the functions are"));
test("no cell is called as a constant beside its use is", () => checkRefused(["query=a¦\nshots", "query=b\nconst z = 1; a.filter(d => d.carry > z)"], "z", "the cell b"));
test("no constant is called as its row is", () => checkRefused(["query=a\nconst far¦ = 1; shots.filter(r => r.carry > far)"], "r", "a row of that name"));
test("no row is called as a constant is", () => checkRefused(["query=a\nconst far = 1; shots.filter(r¦ => r.carry > far)"], "far", "a constant of that name"));
test("no column is called as one that is there", () => checkRefused([curve, 'query=b\na.derive({ bend: d => d.curve })'], "bend", "the cell b has a column called"));
test("no column is called as a shot column", () => checkRefused([curve], "total", "that is a shot column"));
test("no column is called as the engine's own", () => checkRefused([curve], "__proto__", "belongs to JavaScript"));
test("no column goes without a name", () => checkRefused([curve], " ", "it is empty"));
test.each([" bend", "bend ", " bend ", "\u00a0bend"])("no column's name begins or ends with a space: %j", (to) => checkRefused([curve], to, "a column cannot be called"));
test("the reason names the space", () => checkRefused([curve], " bend ", "a name neither begins nor ends with a space"));
test("no cell's name has a space", () => checkRefused(["query=a¦\nshots"], " b ", "a name is letters, digits and _"));
test("no column is called as what a chart makes", () =>
  checkRefused([curve, 'chart=c table=a description="d"\n{ "mark": "point", "transform": [{ "aggregate": [{ "op": "mean", "field": "curve", "as": "bend" }], "groupby": ["curve"] }], "encoding": { "x": { "field": "bend" } } }'], "bend", "makes a field called"));
test("no column that stands in another's place is renamed", () => checkRefused(["query=a\nshots.derive({ car¦ry: d => d.carry * 2 })"], "far", "in the place of another column"));
test("no column that a verb looks for is renamed", () => checkRefused(['query=a\nshots.select("shot", "head", "offline").derive({ ca¦rry: d => d.offline })', "query=b\na.spread()"], "far", "spread in the cell b looks for"));
test("no column is renamed while a cell with its name cannot be read", () => checkRefused([curve, "query=b\na.filter(d => d.curve >"], "bend", "the cell b has"));
test("no column is renamed whose name may be a value", () =>
  checkRefused([curve, 'query=b\na.select("curve", "offline").fold("curve", "offline").filter(d => d.key === "curve")'], "bend", "names of columns"));
test("no column is renamed that may be meant after a pivot", () =>
  checkRefused([curve, 'query=b\na.select("shot", "curve", "offline").fold("curve", "offline").groupby("shot").pivot("key", "value").filter(d => d.curve > 1)'], "bend", "known only when it runs"));
test("no column is renamed in a join that gives it an ending because of another", () =>
  checkRefused([curve, "query=b\nshots.derive({ curve: d => 1 })", 'query=x\na.join(b, "shot").filter(d => d.curve_1 > 0)'], "bend", "the cell x"));
test("prose has no names", async () => {
  const view = await notebookView([smallFront, ["prose", "carry"]]);
  expect(renamableAt(view, 1, 2)).toEqual({ because: "there is no name here" });
});

test("L-10 a column used in 500 places, in strings and chart specifications, is renamed in all or none", async () => {
  const uses = Array.from({ length: 100 }, (_, i) => `query=q${i}\na.filter(d => d.curve > ${i}).select("curve", "head").rollup({ x: op.max("curve") }).filter(d => d.x > 1)`);
  const charts = Array.from({ length: 200 }, (_, i) => `chart=v${i} table=a description="d"\n{ "mark": "point", "encoding": { "x": { "field": "curve" } } }`);
  const all = [curve, ...uses, ...charts];
  const after = await renamed(all, "bend");
  expect(after).toEqual(all.map((text) => text.replace("¦", "").replaceAll("curve", "bend")));
  await checkRefused([...all, "query=last\na.derive({ bend: d => d.curve })"], "bend", "the cell last");
});

test("renaming to a fresh name and back gives the same texts", async () => {
  const texts = [
    'query=stock\nconst far = 150;\nshots.derive({ curve: d => d.offline / 2, "odd name": r => r["carry"] }).filter(d => d.carry > far)',
    'query=b\nstock.groupby("head").rollup({ m: op.mean("curve"), n: op.max("odd name") }).filter(d => d.m > 1 || d.n > 1)',
    'query=e\nstock.filter(d => d["odd name"] > 1).rename({ "odd name": "plain", curve: \'other\' }).select("plain", "other")',
    chart('"odd name"', "stock"),
  ];
  const cells: Cells = texts.map((text) => [text.startsWith("chart=") ? "chart" : "query", text]);
  const view = await notebookView([smallFront, ...cells]);
  const names = view.cells.flatMap(({ index }) => occurrencesOf(view, index).map((each) => ({ ...each, cell: index })));
  const open = names.filter((each) => "cell" in renamableAt(view, each.cell, each.from));
  expect(open.length).toBeGreaterThan(25);
  for (const name of open) {
    const there = renameAt(view, name.cell, name.from, "fresh");
    expect(there).toMatchObject({ ok: true });
    if (!there.ok) continue;
    const changed = view.cells.map(({ kind, text, index }) => [kind, replaceSpans(text, there.edits.filter((edit) => edit.cell === index))] as const);
    const next = await notebookView(changed);
    const place = next.cells.flatMap(({ index }) => occurrencesOf(next, index).map((each) => ({ ...each, cell: index }))).find((each) => each.name === "fresh")!;
    const back = renameAt(next, place.cell, place.from, name.name);
    expect(back).toMatchObject({ ok: true });
    if (back.ok) expect(next.cells.map(({ text, index }) => replaceSpans(text, back.edits.filter((edit) => edit.cell === index)))).toEqual(view.cells.map(({ text }) => text));
  }
});

test("references are in the order of the cells, the declaration on request", async () => {
  const { view, cell, offset } = await marked("query=a\nshots.derive({ curve: d => d.offline })", "query=b\na.filter(d => d.cur¦ve > 1)", chart('"curve"'));
  expect(referencesAt(view, cell, offset, false).map((place) => place.cell)).toEqual([2, 3]);
  expect(referencesAt(view, cell, offset, true).map((place) => place.cell)).toEqual([1, 2, 3]);
  expect(highlightsAt(view, cell, offset).map((place) => [place.cell, place.isWrite])).toEqual([[1, true], [2, false], [3, false]]);
});

test.each([
  ["a derived column in a chart's field", ["query=a\nshots.derive({ cur¦ve: d => d.offline })", chart('"curve"')], ["2 curve"]],
  ["a derived column in an option of a chart", ["query=a\nshots.derive({ cur¦ve: d => d.head })", 'query=b\nchart.landing(a, { by: "curve" })'], ["2 curve"]],
  ["a new name of rename", ['query=a\nshots.rename({ carry: "f¦ar" })', "query=b\na.filter(d => d.far > 1)", chart('"far"')], ["2 far", "3 far"]],
  ["a name of rollup", ['query=a\nshots.groupby("head").rollup({ m¦: op.mean("carry") })', 'query=b\na.orderby(op.desc("m")).rename({ m: "n" })', chart('"m"')], ["2 m", "2 m", "3 m"]],
  ["both sides of a join", ["query=a\nshots.derive({ cur¦ve: d => d.offline })", 'query=b\na.join(a, "head").filter(d => d.curve_1 > d.curve_2)', chart('"curve_2"', "b")], ["2 curve_1", "2 curve_2", "3 curve_2"]],
  ["a column that a constant's table has", ["query=a\nconst t = shots.derive({ cur¦ve: d => d.offline });\nt.select(\"curve\")"], ["1 curve"]],
] as const)("references and highlights hold %s", async (_, texts, expected) => {
  const { view, cell, offset } = await marked(...texts);
  const shown = referencesAt(view, cell, offset, false).map((place) => `${place.cell} ${view.cells[place.cell]!.text.slice(place.from, place.to)}`);
  expect(shown).toEqual(expected);
  expect(highlightsAt(view, cell, offset).filter(({ isWrite }) => !isWrite)).toHaveLength(expected.length);
});

test("a head's references are its values in every cell", async () => {
  const { view, cell, offset } = await marked('query=a\nshots.filter(d => d.head === "Wr¦en")', 'query=b\nshots.compare({ of: "carry", by: "head", against: "Wren" })', 'query=c\nshots.filter(d => op.any_of(d.head, "Wren"))');
  expect(referencesAt(view, cell, offset, false).map((place) => place.cell)).toEqual([1, 2, 3]);
});

test("no offset, cell or name throws", async () => {
  const texts = ["query=a\nconst b = 1; shots.derive({ x: d => d.carry }).filter(d => d.x >", "query=b\nb.filter(d => d.b > a)", "query=c\nc.join(c, \"x\").concat(a)", "chart=d table=c\n{ \"mark\": ", "query=a\ntext`${a.one(\"x\")}`"];
  const cells: Cells = texts.map((text) => [text.startsWith("chart=") ? "chart" : "query", text]);
  const view = await notebookView([smallFront, ...cells]);
  fc.assert(
    fc.property(fc.integer({ min: -1, max: 7 }), fc.integer({ min: -5, max: 90 }), fc.string(), (cell, offset, to) => {
      renamableAt(view, cell, offset);
      renameAt(view, cell, offset, to);
      referencesAt(view, cell, offset, true);
    }),
    { seed: 11, numRuns: 400 },
  );
});
