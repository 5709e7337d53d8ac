import * as fc from "fast-check";
import { readFileSync, readdirSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { defaultLimits } from "../../../core/limits";
import { parseNotebook } from "../../../core/notebook/parse-notebook";
import { createEngine } from "../../../core/run-notebook";
import { vocabulary } from "../../../core/vocabulary";
import { completeQuery } from "../../../server/language/complete-query";
import { tradeSnippets } from "../../../server/language/trade-snippets";
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
  const found = await completeQuery(view, 4, offset);
  return { text, offset, found, labels: found.map((each) => each.label) };
}

/** The body after the suggestion with this label was taken, its placeholders as they are. */
async function taken(marked: string, label: string): Promise<string> {
  const { text, found } = await offers(marked);
  const one = found.find((each) => each.label === label);
  if (one === undefined) throw new Error(`no ${label} among ${found.map((each) => each.label).join(", ")}`);
  const insert = one.isSnippet ? plain(one.insert) : one.insert;
  return (text.slice(0, one.replace.from) + insert + text.slice(one.replace.to)).slice("query=mine\n".length);
}

function plain(snippet: string): string {
  return snippet.replace(/\$\{\d+:([^}]*)\}/gu, "$1").replace(/\$\d+/gu, "");
}

/** What is offered holds all of the first words, and none of the second. */
async function checkOffers(marked: string, has: readonly string[], lacks: readonly string[] = []): Promise<void> {
  const { labels } = await offers(marked);
  expect(labels, marked).toEqual(expect.arrayContaining([...has]));
  for (const label of lacks) expect(labels, marked).not.toContain(label);
}

test("L-08 tables, verbs, functions and columns are offered where they can stand", async () => {
  await checkOffers("¦", ["shots", "stock", "odd", "session", "compare carry by head", "strikes by head", "landing by head"], ["mine", "pic", "filter"]);
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
  await checkOffers('shots.filter(d => "¦" === d.head)', [], ["carry"]);
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

test("a suggestion that was taken leaves a cell that checks without a problem", async () => {
  for (const [marked, label] of [
    ["sho¦", "shots"],
    ["shots.¦", "compare"],
    ["shots.¦", "describe"],
    ["shots.filter(d => d.¦ > 1)", "ball_speed"],
    ['shots.filter(d => d.head === "¦")', "Heron"],
    ['shots.compare({ of: "carry", by: "head", ¦ })', "same strikes"],
    ["¦", "compare carry by head"],
    ["chart.¦", "landing"],
  ] as const) {
    const { labels } = await offers(marked);
    if (!labels.includes(label)) continue;
    const view = await notebookView([smallFront, ...others, ["query", `query=mine\n${await taken(marked, label)}`]]);
    expect(view.cells[4]!.checked.problems.filter((found) => found.severity === "error"), `${marked} ${label}`).toEqual([]);
  }
});

test("in a cell without a first line a question brings its own", async () => {
  const { found } = await offers("¦", "");
  expect(found.find((each) => each.label === "compare carry by head")!.insert).toMatch(/^query=gap\n/u);
});

test("each question runs on the sample as it is offered, and has a name of its own", async () => {
  const samples = path.join(import.meta.dirname, "../../../sample-notebooks");
  const engine = createEngine({ files: nodeFiles(samples, defaultLimits.fileBytes), vocabulary, limits: defaultLimits, clock: () => 0 });
  const cells = tradeSnippets.map(({ name, body }) => `\`\`\`js query=${name}\n${plain(body)}\n\`\`\``);
  const text = ["---", "fairstrike: 1", "shots: sessions/spring-bay-1.session.yaml", "---", "", ...cells.map((cell) => `${cell}\n`)].join("\n");
  const { cells: outcomes } = await engine.run(parseNotebook(text).value, "questions.shots.md");
  expect(outcomes.filter(({ status }) => status !== "ok").map(({ name, problems }) => [name, problems.map((found) => found.message)])).toEqual([]);
  expect(outcomes).toHaveLength(tradeSnippets.length);
});

test("L-08 any place of any cut text has suggestions on one line around the cursor, or none", async () => {
  const folder = path.join(import.meta.dirname, "../../../sample-notebooks");
  const bodies = readdirSync(folder).filter((name) => name.endsWith(".shots.md")).flatMap((name) => parseNotebook(readFileSync(path.join(folder, name), "utf8")).value.cells.flatMap((cell) => (cell.kind === "query" ? [cell.text] : [])));
  await fc.assert(
    fc.asyncProperty(fc.constantFrom(...bodies), fc.nat(), fc.nat(), fc.nat(), async (body, a, b, c) => {
      const from = a % (body.length + 1);
      const text = body.slice(0, from) + body.slice(from + (b % 12));
      const offset = c % (text.length + 1);
      const view = await notebookView([smallFront, ["query", text]]);
      for (const { replace } of await completeQuery(view, 1, offset)) {
        expect(replace.from <= offset && offset <= replace.to && replace.to <= text.length).toBe(true);
        expect(text.slice(replace.from, replace.to)).not.toContain("\n");
      }
    }),
    { seed: 5, numRuns: 150 },
  );
});

test("hostile names of columns and heads stay what they are", async () => {
  const files = { "s/one.session.yaml": smallSession("one").replace("Wren:", '"W\\"]); x(":'), "s/small.csv": smallExport.replaceAll("Wren", '"W""]); x("') };
  const { text, offset } = atMark('query=a\nshots.filter(d => d.head === "¦")');
  const view = await notebookView([smallFront, ["query", text]], files);
  const found = (await completeQuery(view, 1, offset)).find((each) => each.label.startsWith("W"));
  expect(found?.insert).toBe('W\\"]); x(');
});
