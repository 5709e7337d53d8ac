import * as fc from "fast-check";
import { readFileSync, readdirSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { defaultLimits } from "../../../core/limits";
import { parseNotebook } from "../../../core/notebook/parse-notebook";
import { createEngine } from "../../../core/run-notebook";
import { vocabulary } from "../../../core/vocabulary";
import { toCompletionItems } from "../../../server/language/answer-protocol";
import { completeQuery } from "../../../server/language/complete-query";
import { tradeSnippets, withoutPlaceholders } from "../../../server/language/trade-snippets";
import { nodeFiles } from "../../../server/node-files";
import { atMark, notebookView, smallFront } from "../../support/notebook-view";
import { smallExport, smallSession } from "../../support/small-session";

const others = [
  ["query", "query=stock\nshots.derive({ curve: d => d.offline * 2 })"],
  ["query", 'query=odd\nshots.rename({ carry: "car ry" }).select("head", "car ry")'],
  ["query", 'query=pic\nchart.landing(shots, { by: "head" })'],
] as const;

async function offers(marked: string, header = "query=mine\n") {
  const { text, offset } = atMark(header + marked);
  const view = await notebookView([smallFront, ...others, ["query", text]]);
  const given = await completeQuery(view, 4, offset);
  const found = given.map((each, place) => ({ each, place })).sort((a, b) => (a.each.rank ?? 0) - (b.each.rank ?? 0) || a.place - b.place).map(({ each }) => each);
  return { text, offset, found, labels: found.map((each) => each.label) };
}

/** The body after the suggestion with this label was taken, its placeholders as they are. */
async function taken(marked: string, label: string): Promise<string> {
  const { text, found } = await offers(marked);
  const one = found.find((each) => each.label === label);
  if (one === undefined) throw new Error(`no ${label} among ${found.map((each) => each.label).join(", ")}`);
  const insert = one.isSnippet ? withoutPlaceholders(one.insert) : one.insert;
  return (text.slice(0, one.replace.from) + insert + text.slice(one.replace.to)).slice("query=mine\n".length);
}

/** What is offered holds all of the first words, and none of the second. */
async function checkOffers(marked: string, has: readonly string[], lacks: readonly string[] = []): Promise<void> {
  const { labels } = await offers(marked);
  expect(labels, marked).toEqual(expect.arrayContaining([...has]));
  for (const label of lacks) expect(labels, marked).not.toContain(label);
}

test("L-08 tables, verbs, functions and columns are offered where they can stand", async () => {
  await checkOffers("¦", ["shots", "stock", "odd", "session", "compare carry by head", "landing by head", "how many more shots"], ["mine", "pic", "filter", "strikes by head"]);
  await checkOffers("sho¦", ["shots"]);
  await checkOffers("shots.¦", ["filter", "compare", "rollup"], ["carry", "one"]);
  await checkOffers("shots.fil¦", ["filter"]);
  await checkOffers("shots.filter(d => d.¦", ["carry", "head", "offline"], ["curve", "filter"]);
  await checkOffers("stock.filter(d => d.¦)", ["carry", "curve"]);
  await checkOffers("shots.filter(d => op.¦", ["abs", "any_of"], ["mean"]);
  await checkOffers('shots.groupby("head").rollup({ m: op.¦ })', ["mean", "count"], ["abs"]);
  await checkOffers('shots.groupby("head").rollup({ m: op.mean("¦") })', ["carry"], ["head"]);
  await checkOffers("chart.¦", ["landing", "strikes"], ["filter"]);
  await checkOffers("shots.join(¦", ["stock", "odd"], ["mine"]);
  await checkOffers("text`${shots.¦}`", ["one", "sentences", "rollup"]);
});

test("what columns there are follows from the verbs before, whatever comes after", async () => {
  await checkOffers("shots.derive({ a: d => d.carry }).filter(d => d.¦ && )).(", ["a", "carry"]);
  await checkOffers('shots.groupby("head").rollup({ m: op.mean("carry") }).filter(d => d.¦', ["head", "m"], ["carry"]);
  await checkOffers('shots.rename({ carry: "length" }).orderby("¦")', ["length"], ["carry"]);
  await checkOffers('const wren = shots.select("head", "carry");\nwren.filter(d => d.¦', ["head", "carry"], ["offline"]);
  await checkOffers('const a = shots.select("head")\nconst b = shots.select("carry")\na.concat(b.filter(d => d.¦', ["carry"], ["head"]);
  await checkOffers('shots.compare({ of: "carry", by: "head" }).filter(d => d.¦', ["difference", "verdict"], ["carry"]);
});

test("values of the column are offered in the string that it is compared with", async () => {
  await checkOffers('shots.filter(d => d.head === "¦")', ["Heron", "Wren"], ["carry"]);
  await checkOffers('shots.filter(d => d["head"] !== "W¦', ["Heron", "Wren"]);
  await checkOffers('shots.filter(d => op.any_of(d.head, "Wren", "¦"))', ["Heron", "Wren"]);
  await checkOffers('shots.filter(d => d.session === "¦")', ["one"]);
  for (const sign of ["==", "!=", "==="]) {
    await checkOffers(`shots.filter(d => d.head ${sign} "¦")`, ["Heron", "Wren"]);
    await checkOffers(`shots.filter(d => d.head ${sign} ¦)`, ["Heron", "Wren"]);
    await checkOffers(`shots.filter(d => "¦" ${sign} d.head)`, ["Heron", "Wren"]);
  }
});

test("options, their columns and choices are offered, those that are needed first", async () => {
  const { labels } = await offers("shots.compare({ ¦ })");
  expect(labels.slice(0, 2).sort()).toEqual(["by", "of"]);
  await checkOffers('shots.compare({ of: "carry", ¦ })', ["by", "margin", "strikes"], ["of"]);
  await checkOffers('shots.compare({ of: "¦", by: "head" })', ["carry", "ball_speed"], ["head"]);
  await checkOffers('shots.compare({ of: "carry", by: "¦" })', ["head"], ["carry"]);
  await checkOffers('shots.compare({ of: "carry", by: "head", strikes: "¦" })', ["same"]);
  await checkOffers('shots.compare({ of: "carry", by: "head", margin: "¦" })', ["1 yd"]);
  await checkOffers("shots.compare({ of: ¦ })", ["carry"], ["head"]);
  await checkOffers('chart.landing(shots, { by: "¦" })', ["head"]);
  await checkOffers('session("¦")', ["s/one.session.yaml"]);
  await checkOffers('sessions("¦")', ["s/*.session.yaml"]);
});

test("L-08 nothing is offered in comments, numbers, plain text and right behind a value", async () => {
  for (const marked of ["// sho¦", "/* shots.¦ */ shots", "text`Heron ¦`", "shots.slice(0, 1¦0)", 'shots.filter(d => d.carry > 1 ¦', "const ¦"]) await checkOffers(marked, [], ["shots", "filter", "carry"]);
});

test("L-08 what is taken stands in the place of the word or of what is between the quotes", async () => {
  expect(await taken("shots.filter(d => d.ca¦rry > 1)", "carry")).toBe("shots.filter(d => d.carry > 1)");
  expect(await taken("shots.filter(d => d.¦ > 1)", "carry")).toBe("shots.filter(d => d.carry > 1)");
  expect(await taken('shots.filter(d => d.head === "He¦ro")', "Wren")).toBe('shots.filter(d => d.head === "Wren")');
  expect(await taken('shots.filter(d => d.head === "W¦)', "Wren")).toBe('shots.filter(d => d.head === "Wren")');
  expect(await taken("shots.filter(d => d.head === '¦')", "Wren")).toBe("shots.filter(d => d.head === 'Wren')");
  expect(await taken("odd.filter(d => d.c¦ > 1)", "car ry")).toBe('odd.filter(d => d["car ry"] > 1)');
  expect(await taken('odd.filter(d => d["¦"] > 1)', "car ry")).toBe('odd.filter(d => d["car ry"] > 1)');
  expect(await taken("shots.com¦", "compare")).toBe('shots.compare({ of: "carry", by: "head" })');
  expect(await taken("shots.fil¦(d => d.carry > 1)", "filter")).toBe("shots.filter(d => d.carry > 1)");
  expect(await taken('shots.compare({ of: "carry", b¦ })', "by")).toBe('shots.compare({ of: "carry", by: "head" })');
  expect(await taken("shots.groupby(¦)", "head")).toBe('shots.groupby("head")');
  expect(await taken('shots.groupby("head").rollup({ m: ¦ })', "op.mean")).toBe('shots.groupby("head").rollup({ m: op.mean("") })');
});

test("L-08 nothing is doubled by what is taken", async () => {
  for (const [marked, label, whole] of [
    ["sess¦(\"s/one.session.yaml\")", "session", 'session("s/one.session.yaml")'],
    ["fli¦({ ball_speed: \"120 mph\" })", "flight", 'flight({ ball_speed: "120 mph" })'],
    ["te¦`words`", "text", "text`words`"],
    ["cons¦ a = shots", "const", "const a = shots"],
    ["sho¦.filter(d => d.carry > 1)", "shots", "shots.filter(d => d.carry > 1)"],
    ["chart.lan¦(shots)", "landing", "chart.landing(shots)"],
    ["shots.filter(d => op¦.abs(d.offline) < 5)", "op", "shots.filter(d => op.abs(d.offline) < 5)"],
    ["shots.filter(d => op.a¦(d.offline) < 5)", "abs", "shots.filter(d => op.abs(d.offline) < 5)"],
    ['shots.groupby("head").rollup({ m: op.¦("carry") })', "mean", 'shots.groupby("head").rollup({ m: op.mean("carry") })'],
    ['shots.compare({ o¦: "carry" })', "of", 'shots.compare({ of: "carry" })'],
    ['shots.compare({ ¦ of: "carry" })', "by", 'shots.compare({ by: "head", of: "carry" })'],
    ["odd.filter(d => d[\"c¦\"] > 1)", "car ry", 'odd.filter(d => d["car ry"] > 1)'],
    ["odd.rename({ ¦ })", "car ry", 'odd.rename({ "car ry": "" })'],
    ["shots.groupby('¦')", "head", "shots.groupby('head')"],
    ["shots.groupby(\"he¦", "head", 'shots.groupby("head"'],
  ] as const) expect(await taken(marked, label), marked).toBe(whole);
  for (const marked of ["shots.filter(¦d => d.carry > 1)", "shots.compare(¦{ of: \"carry\" })", "shots.groupby(¦\"head\")"]) expect((await offers(marked)).labels, marked).toEqual([]);
});

test("L-08 a string that took the quote of the next one ends at the end of its word", async () => {
  expect(await taken('shots.filter(d => d.head === "W¦ && d.zone === "centre")', "Wren")).toBe('shots.filter(d => d.head === "Wren" && d.zone === "centre")');
  expect(await taken('shots.groupby("¦, "session")', "head")).toBe('shots.groupby("head", "session")');
  expect(await taken('shots.filter(d => d.head === "¦\n// "Heron"', "Wren")).toBe('shots.filter(d => d.head === "Wren"\n// "Heron"');
});

test("constants are offered as what they are, those that are unfinished apart", async () => {
  await checkOffers("const far = shots;\nconst limit = 150;\n¦", ["far", "shots", "compare carry by head"], ["limit"]);
  await checkOffers("const limit = 150\nshots.filter(d => d.carry > ¦)", ["limit", "d"], ["shots"]);
  await checkOffers('const name = "Heron"\nshots.compare({ of: "carry", by: "head", against: ¦ })', ["name", "Heron"]);
  await checkOffers("const a = shots.filter(d => d.\nconst b = ¦", ["shots", "a"], ["carry"]);
  await checkOffers('const a = shots.select("head");\nconst b = shots.filter(d => ;\nconst c = shots;\na.filter(d => d.¦', ["head"], ["carry"]);
  await checkOffers("shots ¦", [], ["shots", "stock"]);
});

test("an air is offered by its own names and by the sessions that state theirs, never by heads", async () => {
  for (const call of ["shots.standardAir", "shots.flight"]) await checkOffers(`${call}({ air: "¦`, ["sea level", "ball test"], ["Heron", "Wren", "one"]);
  await checkOffers('flight({ air: "¦" })', ["sea level", "ball test"], ["one"]);
  const stated = smallSession("one").replace("columns:", "air: { temperature: 21 degC, pressure: 1009 hPa }\ncolumns:");
  const { text, offset } = atMark('query=q\nshots.standardAir({ air: "¦" })');
  const view = await notebookView([smallFront, ["query", text]], { "s/one.session.yaml": stated, "s/small.csv": smallExport });
  expect((await completeQuery(view, 1, offset)).map(({ label, detail }) => [label, detail])).toContainEqual(["one", "session"]);
});

test("a session that a cell opens has its columns and heads while the cell cannot be read", async () => {
  await checkOffers('session("s/one.session.yaml").filter(d => d.¦)', ["carry", "head"]);
  await checkOffers('session("s/one.session.yaml").filter(d => d.head === "¦', ["Heron", "Wren"]);
});

test("a text that stands before what it is compared with is offered the values of every column of text", async () => {
  for (const condition of ['d => "¦', 'd => d.carry > 150 && "¦', 'd => ("¦"', 'd => !("¦']) await checkOffers(`shots.filter(${condition}`, ["Heron", "Wren", "one"], ["carry"]);
  await checkOffers('shots.filter(d => op.includes("¦', [], ["Heron"]);
  await checkOffers('shots.derive({ far: d => "¦', [], ["Heron"]);
});

test("windows and measures are offered in the unit of their column", async () => {
  await checkOffers('shots.scorecard({ windows: { ball_speed: "¦', ["113 to 116 mph", "from 113 mph", "up to 116 mph"], ["carry"]);
  await checkOffers("shots.scorecard({ windows: { ball_speed: ¦", ["from 113 mph"], ["carry"]);
  expect(await taken("shots.scorecard({ windows: { carry: ¦ } })", "from 152 yd")).toBe('shots.scorecard({ windows: { carry: "from 152 yd" } })');
  await checkOffers('shots.scorecard({ windows: { head: "¦', [], ["from 10"]);
  const struck = smallSession("one").replace("offline: { from: Side, unit: yd, positive: right }", "strike_x: { from: Side, unit: mm, positive: toe }");
  const { text, offset } = atMark('query=q\nshots.forgiveness({ miss_across: "¦" })');
  const view = await notebookView([smallFront, ["query", text]], { "s/one.session.yaml": struck, "s/small.csv": smallExport });
  expect((await completeQuery(view, 1, offset)).map(({ label }) => label)).toEqual(["10 mm"]);
});

test("what was named already is not offered again, and a join takes what both tables have", async () => {
  await checkOffers('shots.groupby("head", "¦")', ["session"], ["head"]);
  await checkOffers('shots.compare({ ¦, by: "head" })', ["of"], ["by"]);
  await checkOffers('shots.describe({ of: ["carry", "¦"], by: "head" })', ["ball_speed"], ["carry", "head"]);
  await checkOffers('shots.join(odd, "¦")', ["head"], ["carry", "car ry"]);
  await checkOffers('shots.rename({ carry: "length", ¦ })', ["offline"], ["carry"]);
});

test("a half-typed entry hides neither its siblings nor the table, whatever follows", async () => {
  await checkOffers("shots.derive({ x: d => d., y: d => d.¦ })", ["carry"], ["x"]);
  await checkOffers("shots.derive({ x: d => d., y: d => d.carry }).filter(d => d.¦", ["x", "y", "carry"]);
  await checkOffers("shots.derive({ x: d => d.nope, y: d => d.carry }).filter(d => d.¦", ["y", "carry"]);
  await checkOffers("shots.filter(d => d.carry > ).derive({ y: d => d.carry }).filter(d => d.¦", ["y", "carry"]);
  await checkOffers('shots.groupby("head").rollup({ m: op.mean(, n: op.count() }).filter(d => d.¦', [], ["filter"]);
  await checkOffers('shots.groupby("head").rollup({ m: op., n: op.count() }).filter(d => d.¦', ["head", "m", "n"], ["carry"]);
  await checkOffers('shots.rename({ carry: , head: "who" }).select("¦")', ["who", "carry"], ["head"]);
  await checkOffers('shots.join(stock.filter(d => d.), "head").filter(d => d.¦', ["curve", "carry_1"]);
  await checkOffers('const a = shots.derive({ x: d => d., y: d => d.carry });\na.filter(d => d.¦', ["x", "y"]);
});

test("nothing follows the dot of a name that is no table", async () => {
  for (const marked of ["Math.¦", "shouts.¦", "shots.filter(d => Math.¦)", "shots.filter(d => d.carry.¦)", "shots.filter(d => e.¦)", "const limit = 150\nlimit.¦", "chart.landing(shots).¦", "op.abs(1).¦", "Math.abs(1).¦", "session.¦"]) {
    expect((await offers(marked)).labels, marked).toEqual([]);
  }
  await checkOffers('session("s/one.session.yaml").¦', ["filter", "compare"]);
  await checkOffers('flight({ ball_speed: "120 mph" }).¦', ["filter"]);
  await checkOffers("const far = shots.filter(d => d.carry > 150)\nfar.¦", ["filter", "compare"]);
  await checkOffers("stock.filter(d => d.).¦", ["filter", "compare"]);
});

test("verbs of the trade are offered where the table is one of shots and not grouped", async () => {
  const trade = ["compare", "describe", "scorecard", "drift", "enough", "spread"];
  const summed = ["query", 'query=gap\nshots.compare({ of: "carry", by: "head" })'] as const;
  for (const chain of ["shots", "stock", 'shots.groupby("head").ungroup()', "shots.putBack()", 'shots.derive({ up: d => d.carry }).select("head", "up")']) await checkOffers(`${chain}.¦`, ["compare", "describe", "enough", "filter"]);
  for (const chain of [
    'shots.groupby("head")',
    'shots.compare({ of: "carry", by: "head" })',
    'shots.compare({ of: "carry", by: "head" }).filter(d => d.n > 3)',
    "const a = shots.describe({ of: \"carry\" })\na",
    'shots.groupby("head").rollup({ carry: op.mean("carry") })',
    'shots.select("carry")',
  ])
    await checkOffers(`${chain}.¦`, ["filter", "rollup"], trade);
  const { text, offset } = atMark("query=mine\ngap.orderby(\"n\").¦");
  const view = await notebookView([smallFront, summed, ["query", text]]);
  const labels = (await completeQuery(view, 2, offset)).map(({ label }) => label);
  expect(labels).toContain("filter");
  expect(labels.filter((label) => trade.includes(label))).toEqual([]);
});

test("what begins a chart goes on with its kinds", async () => {
  const chart = (await offers("cha¦")).found.find(({ label }) => label === "chart")!;
  expect(chart).toMatchObject({ insert: "chart.$0", isSnippet: true });
  expect(toCompletionItems([chart], () => ({ start: { line: 0, character: 0 }, end: { line: 0, character: 0 } }))[0]!.command?.command).toBe("editor.action.triggerSuggest");
  expect(await taken("cha¦.landing(shots)", "chart")).toBe("chart.landing(shots)");
});

test("only columns of the kind that fits are offered", async () => {
  await checkOffers('shots.compare({ of: "carry", by: "¦" })', ["head", "session"], ["carry", "shot", "speed_ratio"]);
  await checkOffers('shots.orderby(op.desc("¦"))', ["carry", "head"]);
  await checkOffers('shots.groupby("head").rollup({ m: op.quantile("carry", ¦) })', [], ["carry"]);
  await checkOffers('shots.scorecard({ by: "head", windows: { ¦ } })', ["carry"], ["head"]);
  expect((await offers('shots.groupby("head").¦')).labels.slice(0, 2).sort()).toEqual(["count", "rollup"]);
  expect((await offers('shots.compare({ of: "carry", margin: "¦" })')).labels[0]).toBe("3 yd");
});

test("a row may have any name and stand in another one's call", async () => {
  await checkOffers("shots.filter(shot_ => op.abs(op.round(shot_.¦)) > 1)", ["carry"]);
  await checkOffers('shots.join(stock.filter(x => x.¦), "head")', ["curve"]);
  await checkOffers("shots.filter((r) => r.¦)", ["carry"]);
  await checkOffers("shots.derive({ a: d => d.carry, b: e => e.¦ })", ["offline"], ["a"]);
  await checkOffers('shots.filter(d => d.head === ¦)', ["Wren", "d"]);
  await checkOffers('shots.filter(d => "¦" === d.head)', ["Wren", "Heron"]);
  await checkOffers('shots.filter(d => op.starts_with(d["head"], "¦"))', ["Wren", "Heron"]);
  expect(await taken("shots.filter(d => d.head === ¦)", "Wren")).toBe('shots.filter(d => d.head === "Wren")');
});

/** The suggestion, taken as it is, leaves a cell without a problem. */
async function checkLeavesNoProblem(marked: string, label: string): Promise<void> {
  const view = await notebookView([smallFront, ...others, ["query", `query=mine\n${await taken(marked, label)}`]]);
  expect(view.cells[4]!.checked.problems.map(({ message }) => message), `${marked} ${label}`).toEqual([]);
}

test("a suggestion that was taken leaves a cell that checks without a problem", async () => {
  for (const [marked, label] of [
    ["sho¦", "shots"],
    ["shots.¦", "compare"],
    ["shots.¦", "describe"],
    ["shots.¦", "groupby"],
    ["shots.¦", "orderby"],
    ["shots.¦", "semijoin"],
    ["odd.¦", "groupby"],
    ["shots.filter(d => d.¦ > 1)", "ball_speed"],
    ["odd.filter(d => d.¦ > 1)", "car ry"],
    ['shots.filter(d => d.head === "¦")', "Heron"],
    ["shots.filter(d => d.head === ¦)", "Heron"],
    ['shots.compare({ of: "carry", by: "head", margin: "¦" })', "3 yd"],
    ['shots.compare({ of: "carry", by: "head", ¦ })', "strikes"],
    ['shots.groupby("head").rollup({ ¦ })', "count"],
    ['shots.groupby("head").rollup({ m: op.mean("¦") })', "carry"],
    ["¦", "compare carry by head"],
    ["¦", "stock shots alone"],
    ["chart.¦", "landing"],
    ['session("¦")', "s/one.session.yaml"],
  ] as const) await checkLeavesNoProblem(marked, label);
});

test("a query can be written by taking suggestions alone", async () => {
  const steps = [
    ["¦", "shots"],
    [".¦", "groupby"],
    [".¦", "rollup"],
  ] as const;
  let body = "";
  for (const [more, label] of steps) body = await taken(body + more, label);
  expect(body).toBe('shots.groupby("head").rollup({ name: op. })');
  body = await taken(body.replace("op. ", "op.¦ "), "mean");
  body = await taken(body.replace('""', '"¦"'), "carry");
  expect(body).toBe('shots.groupby("head").rollup({ name: op.mean("carry") })');
  await checkLeavesNoProblem(body.replace("rollup", "rol¦lup"), "rollup");
});

test("in a cell without a first line a question brings its own", async () => {
  const { found } = await offers("¦", "");
  expect(found.find((each) => each.label === "compare carry by head")!.insert).toMatch(/^query=gap\n/u);
  const view = await notebookView([smallFront, ["query", "query=gap\nshots"], ["query", ""]]);
  expect((await completeQuery(view, 2, 0)).find((each) => each.label === "compare carry by head")!.insert).toMatch(/^query=gap_2\n/u);
  const below = await notebookView([smallFront, ["query", "// why\n"]]);
  expect((await completeQuery(below, 1, 7)).find((each) => each.label === "compare carry by head")!.insert).toMatch(/^shots\.compare/u);
});

test("a head's own name fills a question, whatever it holds, where the shots have what it asks for", async () => {
  const hostile = '${1:A}"]); x(\\';
  const yaml = smallSession("one").replace("Wren:", `${JSON.stringify(hostile)}:`).replace("heads:", "  strike_x: { from: X, unit: mm, positive: toe }\n  strike_y: { from: Y, unit: mm }\nheads:");
  const lines = smallExport.trimEnd().split("\n").map((line, i) => `${line.replace("Wren", () => `"${hostile.replaceAll('"', '""')}"`)}${i === 0 ? ",X,Y" : ",1,-9"}`);
  const files = { "s/one.session.yaml": yaml, "s/small.csv": `${lines.join("\n")}\n` };
  const view = await notebookView([smallFront, ["query", ""]], files);
  const found = await completeQuery(view, 1, 0);
  expect(found.map(({ label }) => label)).toContain("strikes by head");
  const question = found.find(({ label }) => label === "one head and centred strikes")!;
  const body = withoutPlaceholders(question.insert);
  expect(body).toContain(`d.head === ${JSON.stringify(hostile)}`);
  const after = await notebookView([smallFront, ["query", body]], files);
  expect(after.cells[1]!.checked.problems.filter(({ severity }) => severity === "error")).toEqual([]);
});

test("each question runs on the sample as it is offered, and has a name of its own", async () => {
  const samples = path.join(import.meta.dirname, "../../../sample-notebooks");
  const engine = createEngine({ files: nodeFiles(samples, defaultLimits.fileBytes), vocabulary, limits: defaultLimits, clock: () => 0 });
  const cells = tradeSnippets.map(({ name, body }) => `\`\`\`js query=${name}\n${withoutPlaceholders(body)}\n\`\`\``);
  const text = ["---", "fairstrike: 1", "shots: sessions/spring-bay-1.session.yaml", "---", "", ...cells.map((cell) => `${cell}\n`)].join("\n");
  const { cells: outcomes } = await engine.run(parseNotebook(text).value, "questions.shots.md");
  expect(outcomes.filter(({ status }) => status !== "ok").map(({ name, problems }) => [name, problems.map((found) => found.message)])).toEqual([]);
  expect(outcomes).toHaveLength(tradeSnippets.length);
});

test("L-08 any place of any cut text has suggestions on one line around the cursor, or none", async () => {
  const folder = path.join(import.meta.dirname, "../../../sample-notebooks");
  const bodies = readdirSync(folder).filter((name) => name.endsWith(".shots.md")).flatMap((name) => parseNotebook(readFileSync(path.join(folder, name), "utf8")).value.cells.flatMap((cell) => (cell.kind === "query" ? [cell.text] : [])));
  let offered = 0;
  await fc.assert(
    fc.asyncProperty(fc.constantFrom(...bodies), fc.nat(), fc.nat(), fc.nat(), async (body, a, b, c) => {
      const from = a % (body.length + 1);
      const text = body.slice(0, from) + body.slice(from + (b % 12));
      const offset = c % (text.length + 1);
      const view = await notebookView([smallFront, ["query", text]]);
      for (const { replace } of await completeQuery(view, 1, offset)) {
        offered++;
        expect(replace.from <= offset && offset <= replace.to && replace.to <= text.length).toBe(true);
        expect(text.slice(replace.from, replace.to)).not.toContain("\n");
      }
    }),
    { seed: 5, numRuns: 150 },
  );
  expect(offered).toBeGreaterThan(150);
});

test("hostile names of columns and heads stay what they are", async () => {
  const hostile = '${1:W}"]); x(\\';
  const yaml = JSON.stringify(hostile);
  const files = { "s/one.session.yaml": smallSession("one").replace("Wren:", `${yaml}:`), "s/small.csv": smallExport.replaceAll("Wren", `"${hostile.replaceAll('"', '""')}"`) };
  const inserted = async (marked: string): Promise<string> => {
    const { text, offset } = atMark(`query=a\n${marked}`);
    const view = await notebookView([smallFront, ["query", text]], files);
    const found = (await completeQuery(view, 1, offset)).find((each) => each.label.startsWith("${1:W"))!;
    expect(found.isSnippet).toBeUndefined();
    return text.slice("query=a\n".length, found.replace.from) + found.insert + text.slice(found.replace.to);
  };
  for (const quote of ['"', "'"]) {
    const body = await inserted(`shots.filter(d => d.head === ${quote}¦${quote})`);
    const view = await notebookView([smallFront, ["query", `query=a\n${body}`]], files);
    expect(view.cells[1]!.checked.problems.filter(({ severity }) => severity === "error"), body).toEqual([]);
  }
  const odd = await notebookView([smallFront, ["query", 'query=a\nshots.rename({ carry: "a${1:b}" }).rename({  })']]);
  const key = (await completeQuery(odd, 1, 'query=a\nshots.rename({ carry: "a${1:b}" }).rename({ '.length)).find((each) => each.label === "a${1:b}")!;
  expect(withoutPlaceholders(key.insert)).toBe('"a${1:b}": ""');
});
