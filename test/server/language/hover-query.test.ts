import { assert, constantFrom, integer, property } from "fast-check";
import { expect, test } from "vitest";
import { hoverQuery } from "../../../server/language/hover-query";
import { atMark, notebookView, smallFront } from "../../support/notebook-view";
import { hostileNames, tagsIn } from "../../support/rendered-markdown";
import { smallExport, smallFiles, smallSession } from "../../support/small-session";

/** Cells above the one that is looked at. */
const others = [
  smallFront,
  ["query", 'query=stock\nshots.filter(d => d.head !== "Robin")'],
  ["query", 'query=gap\nstock.compare({ of: "carry", by: "head" })'],
  ["chart", 'chart=landing table=stock description="Where they land"\n{}'],
] as const;

async function hover(marked: string, files: Readonly<Record<string, string>> = smallFiles) {
  const { text, offset } = atMark(`query=x\n${marked}`);
  const view = await notebookView([...others, ["query", text]], files);
  const found = hoverQuery(view, others.length, offset);
  return found === null ? null : { about: text.slice(found.from, found.to), markdown: found.markdown };
}

async function checkHover(marked: string, about: string, ...parts: readonly string[]): Promise<void> {
  const found = await hover(marked);
  expect(found?.about).toBe(about);
  for (const part of parts) expect(found!.markdown).toContain(part);
}

test("a column of shots", () => checkHover("shots.filter(d => d.car¦ry > 1)", "carry", "numbers in yd", "Distance to where", "Missing: none of 12.", "Plausible"));
test("a column right behind its name", () => checkHover("shots.filter(d => d.carry¦ > 1)", "carry", "numbers in yd"));
test("a column in quotes", () => checkHover('shots.select("he¦ad")', "head", "Values: `Heron`, `Wren`"));
test("a column that is made here", () => checkHover("shots.derive({ cur¦ve: d => d.offline / 2 })", "curve", "numbers in yd, computed in the notebook"));
test("a column that nobody knows", () => checkHover('shots.select("ca¦rri")', "carri", "nothing is known"));

test("a column that a verb of the trade makes, with its method", () =>
  checkHover('shots.compare({ of: "carry" }).filter(d => d.more_¦shots > 9)', "more_shots", "would settle the question", "Method of `compare`", "Kenward and Roger"));
test("such a column of another cell", () => checkHover("gap.filter(d => d.diff¦erence > 0)", "difference", "numbers in yd", "Head less against"));
test("a column of that name made by hand is none", async () => {
  const found = await hover("shots.derive({ margin: d => d.carry }).select(\"mar¦gin\")");
  expect(found?.markdown).not.toContain("Method");
});

test("a verb of the trade with its method and source", () =>
  checkHover("shots.comp¦are({})", "compare", "compare({ of, by, strikes, margin", "- `of`: Needed.", "**Method.** A model of shots in stints", "1997"));
test("a verb on tables with its example", () => checkHover("shots.fil¦ter(d => d.carry > 1)", "filter", "filter(d => condition)", "```js\nshots.filter("));
test("the same verb in a cell that does not parse", () => checkHover("shots.fil¦ter(d => d.carry >", "filter", "filter(d => condition)"));
test("a function of one row", () => checkHover("shots.derive({ a: d => op.ro¦und(d.carry, 1) })", "round", "op.round("));
test("a function of many rows", () => checkHover('shots.rollup({ a: op.med¦ian("carry") })', "median", 'op.median("column")', "half of the values"));
test("an order", () => checkHover('shots.orderby(op.de¦sc("carry"))', "desc", "greatest first"));
test("an option", () => checkHover('shots.compare({ of: "carry", mar¦gin: "3 yd" })', "margin", "option of `compare`", "does not matter", "number with its unit"));
test("a choice", () => checkHover('shots.compare({ of: "carry", strikes: "as str¦uck" })', "as struck", "choice of an option of `compare`", "wherever the face was hit"));
test("a kind of chart", () => checkHover("chart.land¦ing(shots)", "landing", "chart.landing(table, { by })", "offline, carry"));
test("a table from options", () => checkHover('fli¦ght({ ball_speed: "1 mph" })', "flight", "flight({ ball_speed,"));
test("an opening", () => checkHover('sess¦ion("s/one.session.yaml")', "session", "shots of one session"));
test("a path", () => checkHover('session("s/one¦.session.yaml")', "s/one.session.yaml", "12 rows", "12 shots", "Heads: `Wren`, `Heron`", "synthetic"));
test("a path to nothing", () => checkHover('session("s/no¦.session.yaml")', "s/no.session.yaml", "could not be read"));

test("a head with its build", () => checkHover('shots.filter(d => d.head === "Wr¦en")', "Wren", "a value of `head`", "Iron, loft 34°", "from the monitor's origin"));
test("a head that is not there", () => checkHover('shots.filter(d => d.head === "Rob¦in")', "Robin", "No row of this table holds it.", "No session states"));
test("a session", () => checkHover('shots.filter(d => d.session === "o¦ne")', "one", "12 shots"));

test("the shots", () => checkHover("sho¦ts", "shots", "front matter's sessions", "12 rows", "carry yd"));
test("a cell that gives a table", () => checkHover("sto¦ck", "stock", "query cell", "Columns: ", "```js\nshots.filter"));
test("a cell that gives a chart", () => checkHover("land¦ing", "landing", "chart cell, chart of stock"));
test("a name without a cell", () => checkHover("nob¦ody", "nobody", "no cell has this name"));
test("a constant with a value", () => checkHover("const limit = 150\nshots.filter(d => d.carry > lim¦it)", "limit", "`150`, a constant"));
test("a constant with a table", () => checkHover("const w = shots.groupby(\"head\").count()\nw¦", "w", "a table of this cell, 2 columns"));
test("a row", () => checkHover("shots.filter(d¦ => d.carry > 1)", "d", "one row of the table"));
test("where functions are", () => checkHover("shots.derive({ a: d => o¦p.abs(d.carry) })", "op", "`median`"));
test("a text and its endings", async () => {
  await checkHover("te¦xt`a ${shots.one(\"carry\")}`", "text", "Markdown");
  await checkHover("text`a ${shots.on¦e(\"carry\")}`", "one", 'one("column", decimals)');
});

test("nothing at a number, a sign or in a comment", async () => {
  expect(await hover("shots.slice(1¦2)")).toBeNull();
  expect(await hover("// op¦ \nshots")).toBeNull();
});

test("zones say where on the face they are", async () => {
  const files = {
    "s/one.session.yaml": smallSession("one").replace("heads:", '  strike_x: { from: X, unit: mm, positive: toe }\n  strike_y: { from: Y, unit: mm }\nheads:'),
    "s/small.csv": smallExport.split("\n").map((line, i) => (line === "" ? "" : `${line},${i === 0 ? "X,Y" : "20,0"}`)).join("\n"),
  };
  const found = await hover('shots.filter(d => d.zone === "high t¦oe")', files);
  expect(found?.markdown).toContain("above the centre zone, toward the toe. The centre zone is 14 by 5 mm for irons.");
});

test.each(hostileNames.filter((name) => !/[\r\n]/u.test(name)))("L-11 a column, a head and a value called %j are shown as they are", async (name) => {
  const files = {
    "s/one.session.yaml": smallSession("one").replace("  Wren: {", `  ${JSON.stringify(name)}: { design: ${JSON.stringify(name)}, set: ${JSON.stringify(name)},`),
    "s/small.csv": smallExport.replaceAll("Wren", `"${name.replaceAll('"', '""')}"`).replace("Side", `Side,"${name.replaceAll('"', '""')}"`).replaceAll(/(?<=\d)$/gmu, ",z"),
  };
  const written = JSON.stringify(name);
  for (const marked of [`shots.select(${written.slice(0, 1)}¦${written.slice(1)})`, `shots.filter(d => d.head === ${written.slice(0, 1)}¦${written.slice(1)})`, "shots¦", "stock¦"]) {
    const found = await hover(marked, files);
    expect(tagsIn(found!.markdown).filter((tag) => !["code", "p", "pre", "strong", "br"].includes(tag))).toEqual([]);
  }
});

test("any offset in any cut of a cell: the hover holds the cursor", async () => {
  const text = 'query=x\nconst w = stock.filter(d => d.head === "Wren" && op.abs(d.offline) < 9) // c\nw.compare({ of: "carry", strikes: "same" }).select("verdict")';
  const views = await Promise.all([text, text.slice(0, 90), text.slice(0, 45), `${text.slice(0, 60)}"`].map((each) => notebookView([...others, ["query", each]])));
  assert(
    property(constantFrom(...views.keys()), integer({ min: 8, max: 160 }), (which, at) => {
      const view = views[which]!;
      const offset = Math.min(at, view.cells[others.length]!.text.length);
      const found = hoverQuery(view, others.length, offset);
      expect(found === null || (found.from <= offset && offset <= found.to)).toBe(true);
    }),
    { seed: 7, numRuns: 500 },
  );
});

test("a column that is calculated in one session and measured in another says so for each", async () => {
  const files = {
    "s/one.session.yaml": smallSession("one"),
    "s/two.session.yaml": `${smallSession("two", "two.csv")}calculated: [carry]\n`,
    "s/small.csv": smallExport,
    "s/two.csv": smallExport,
  };
  const { text, offset } = atMark('query=x\nshots.filter(d => d.carry > 1).rename({ carry: "far" }).select("f¦ar", "ball_speed")');
  const view = await notebookView([["front", "shots: s/*.session.yaml"], ["query", text]], files);
  expect(hoverQuery(view, 1, text.indexOf("carry"))?.markdown).toContain("measured by the monitor in `one`; calculated by the monitor from other readings in `two`");
  expect(hoverQuery(view, 1, text.indexOf("ball_speed"))?.markdown).toContain("numbers in mph, measured by the monitor\n");
  expect(hoverQuery(view, 1, offset)?.markdown).toContain("measured by the monitor in `one`;");
});
