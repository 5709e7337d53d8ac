import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { array, assert, asyncProperty, constantFrom, nat, property } from "fast-check";
import { expect, test } from "vitest";
import { parseNotebook } from "../../../core/notebook/parse-notebook";
import { bodyOffset } from "../../../core/notebook/read-header";
import { formatCell, formatEdits } from "../../../server/language/format";

const samples = path.join(import.meta.dirname, "../../../sample-notebooks");

/** Every query and chart cell of the samples. */
const cells = readdirSync(samples)
  .filter((name) => name.endsWith(".shots.md"))
  .flatMap((name) => parseNotebook(readFileSync(path.join(samples, name), "utf8")).value.cells)
  .flatMap(({ kind, text }) => (kind === "query" || kind === "chart" ? [{ kind, text }] : []));

/** Checks what a body becomes under a header line; `null` where nothing is to be changed. */
async function checkQuery(body: string, expected: string | null): Promise<void> {
  expect(await formatCell("query", `query=a\n${body}`)).toBe(expected === null ? null : `query=a\n${expected}`);
}

async function checkChart(body: string, expected: string | null): Promise<void> {
  const header = 'chart=a  table=stock description="As it is"';
  expect(await formatCell("chart", `${header}\n${body}`)).toBe(expected === null ? null : `${header}\n${expected}`);
}

test("a query is laid out as the samples are: no semicolon at the end, no brackets around the row's name", async () => {
  await checkQuery("shots.filter((d)=>d.carry>150) ;", "shots.filter(d => d.carry > 150)");
  await checkQuery("const far = shots.filter(d=>d.carry>1e2);\n\n\n\nfar.count()\n\n", "const far = shots.filter(d => d.carry > 1e2)\n\nfar.count()");
  await checkQuery("  shots  ", "shots");
  await checkQuery("shots", null);
});

test("a long chain has one verb a line", async () => {
  await checkQuery(
    'stock.filter(d => d.head === "Plover" && d.intent === "stock").groupby("session").rollup({ shots: op.count(), carry: op.mean("carry") })',
    'stock\n  .filter(d => d.head === "Plover" && d.intent === "stock")\n  .groupby("session")\n  .rollup({ shots: op.count(), carry: op.mean("carry") })',
  );
});

test("comments stay where they are, and quotes of names as they were", async () => {
  await checkQuery(
    "// the far ones\nshots.rename({ 'Side 2':'side_2' }) /* all */ // done",
    '// the far ones\nshots.rename({ "Side 2": "side_2" }) /* all */ // done',
  );
  await checkQuery('shots.select( "a" ) // 12 L', 'shots.select("a") // 12 L');
  await checkQuery('shots.derive({ "x": d => 1 })', null);
});

test("the words of a text stay as they are, and its holes too", async () => {
  const words = "text`\n -  ${ a.one(  \"carry\" ) }   yd ;\n\n\n  $ \\` \\${ {x}  `";
  const formatted = await formatCell("query", `query=a\n${words}`);
  expect(formatted?.replace('${a.one("carry")}', '${ a.one(  "carry" ) }')).toBe(`query=a\n${words}`);
});

test("a semicolon that guards against nothing is taken away again", async () => {
  await checkQuery("(a ?  b : c).slice(0, 1)", "(a ? b : c).slice(0, 1)");
  await checkQuery("// why\n-a", null);
  await checkQuery("const b = a\n;(b ? a : b).slice(0, 1)", null);
});

test("what cannot be read, is no cell of ours or has other line ends is left alone", async () => {
  for (const body of ["shots.filter(d => ", "", "// nothing", "for (;;) {}", "a; b", '"unclosed', "shots .filter(d =>\r\n d.x)", "a.b(/x/)"]) await checkQuery(body, null);
  expect(await formatCell("front", "title:   x\nshots:    y")).toBeNull();
  expect(await formatCell("query", "query=a")).toBeNull();
  expect(await formatCell("query", " shots")).toBe("shots");
});

test("a chart keeps what was written in one line in one line, where it fits", async () => {
  await checkChart('{"mark":"point",\n"encoding":{"x":{"field":"carry"}},"y":[ ],"z":[1,2.50,"\\u00b0"]}', '{\n  "mark": "point",\n  "encoding": { "x": { "field": "carry" } },\n  "y": [],\n  "z": [1, 2.50, "\\u00b0"]\n}');
  await checkChart('{ "mark": "point" }', null);
  const long = "x".repeat(80);
  await checkChart(`{"a":{"b":"${long}"},"c":["${long}"]}`, `{\n  "a": { "b": "${long}" },\n  "c": ["${long}"]\n}`);
  await checkChart("{\n}", "{}");
});

test("a chart that is no JSON is left alone; keys that are there twice stay", async () => {
  for (const body of ["{", '{"a":1,}', "{'a':1}", '{"a":1} // x', ""]) await checkChart(body, null);
  await checkChart('{"a":1,"a":2}', '{ "a": 1, "a": 2 }');
});

test("cells of the samples keep their header line, are formatted once and for all, and the charts are as they were", async () => {
  expect(cells.length).toBeGreaterThan(60);
  for (const { kind, text } of cells) {
    const once = await formatCell(kind, text);
    const formatted = once ?? text;
    expect(formatted.slice(0, bodyOffset(text))).toBe(text.slice(0, bodyOffset(text)));
    expect(await formatCell(kind, formatted)).toBeNull();
    if (kind === "query") expect(words(formatted)).toBe(words(text));
    else expect(once).toBeNull();
  }
});

/** A query without white space, and without what a change of line breaks adds: commas at the end, and brackets. */
function words(text: string): string {
  return text.replace(/\s+/gu, "").replace(/,([)\]}])/gu, "$1").replace(/[()]/gu, "");
}

/** A text with other white space wherever some stands outside of quotes, texts and comments. */
function respaced(text: string, start: number, spaces: readonly string[]): string {
  let i = 0;
  const quoted = /"(?:\\.|[^"\\])*"|`[^`]*`|\/\/[^\n]*|[ ]+|[(),{}]/gu;
  const body = text.slice(start).replace(quoted, (part) => {
    const space = spaces[i++ % spaces.length]!;
    if (/^ +$/u.test(part)) return space.replace(/\n/gu, " ") || " ";
    return /^[(,{]$/u.test(part) ? part + space : part;
  });
  return text.slice(0, start) + body;
}

test("whatever the spacing was, the second formatting changes nothing and the meaning stays", async () => {
  await assert(
    asyncProperty(constantFrom(...cells), array(constantFrom("", " ", "  ", "\n", "\n\n", "\t", " \n  "), { minLength: 1, maxLength: 12 }), async ({ kind, text }, spaces) => {
      const odd = respaced(text, bodyOffset(text), spaces);
      const formatted = (await formatCell(kind, odd)) ?? odd;
      expect(await formatCell(kind, formatted)).toBeNull();
      if (kind === "query") expect(words(formatted)).toBe(words(odd));
      else expect(JSON.parse(formatted.slice(bodyOffset(text)))).toEqual(JSON.parse(text.slice(bodyOffset(text))));
    }),
    { seed: 5, numRuns: 120 },
  );
});

test("no cut of a sample's cell throws", async () => {
  await assert(
    asyncProperty(constantFrom(...cells), nat(), nat(), async ({ kind, text }, a, b) => {
      const [from, to] = [a % (text.length + 1), b % (text.length + 1)];
      const cut = text.slice(0, Math.min(from, to)) + text.slice(Math.max(from, to));
      const formatted = await formatCell(kind, cut);
      expect(formatted).not.toBe(cut);
    }),
    { seed: 5, numRuns: 150 },
  );
});

function applied(old: string, edits: ReturnType<typeof formatEdits>): string {
  return edits.reduceRight((text, { from, to, text: instead }) => text.slice(0, from) + instead + text.slice(to), old);
}

test("edits touch only what differs", () => {
  expect(formatEdits("shots.slice( 0,9 )", "shots.slice(0, 9)")).toEqual([
    { from: 12, to: 13, text: "" },
    { from: 15, to: 15, text: " " },
    { from: 16, to: 17, text: "" },
  ]);
  expect(formatEdits("a", "a")).toEqual([]);
  expect(formatEdits("", "a b")).toEqual([{ from: 0, to: 0, text: "a b" }]);
  expect(formatEdits("x a", "")).toEqual([{ from: 0, to: 3, text: "" }]);
});

test("edits make the one text of the other, sorted and apart", () => {
  const text = array(constantFrom("a", "bc", " ", "\n", "(", "é", "😀", "\ud83d"), { maxLength: 30 }).map((parts) => parts.join(""));
  assert(
    property(text, text, (old, changed) => {
      const edits = formatEdits(old, changed);
      expect(applied(old, edits)).toBe(changed);
      for (const [i, { from }] of edits.entries()) expect(from).toBeGreaterThan(edits[i - 1]?.to ?? -1);
    }),
    { seed: 5, numRuns: 500 },
  );
});

test("texts too long to be compared word by word are still right", () => {
  const [old, changed] = ["a b ".repeat(800), "b\ta\t".repeat(800)];
  expect(applied(old, formatEdits(old, changed))).toBe(changed);
});
