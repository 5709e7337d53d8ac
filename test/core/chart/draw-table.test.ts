import { expect, test } from "vitest";
import { checkChart } from "../../../core/chart/check-chart";
import { chartSvg } from "../../../core/chart/draw-chart";
import { drawTable } from "../../../core/chart/draw-table";
import { inWords } from "../../../core/chart/field-name";
import { lightTheme } from "../../../core/chart/themes";
import { defaultLimits } from "../../../core/limits";
import { presentChart } from "../../../core/present/present-result";
import { schemaOf } from "../../../core/table/schema";
import type { Column, Table } from "../../../core/table/table";
import { numberColumn, textColumn } from "../../../core/table/table";
import { textStart } from "../../../core/text-position";
import { sampleSession, sampleTable } from "../present/sample-tables";
import { countMarks, cutTexts, readSvg } from "./read-svg";
import { sampleShots } from "./sample-shots";

function draw(body: string, table: Table, { description = "Shots.", limits = defaultLimits }: { description?: string | null; limits?: typeof defaultLimits } = {}) {
  const checked = checkChart(`x\n${body}`, 2, schemaOf(table), limits);
  if (checked.value === null) throw new Error(checked.problems.map((found) => found.message).join("; "));
  return drawTable(checked.value, table, description, limits, textStart);
}

async function svgOf(body: string, table: Table) {
  const { value } = draw(body, table);
  const svg = await chartSvg(presentChart(value!, defaultLimits).spec, lightTheme, 500);
  return { svg, elements: readSvg(svg), texts: readSvg(svg).map((element) => element.text) };
}

function points(encoding: string, more = ""): string {
  return `{ "mark": "point", "encoding": { ${encoding} }${more} }`;
}

const shots = sampleShots({ perHead: 8 });
const carryByOffline = points('"x": { "field": "offline" }, "y": { "field": "carry" }, "color": { "field": "head" }');

test("a chart cell draws its table, with units in the titles", async () => {
  const { elements, texts } = await svgOf(carryByOffline, shots);
  expect(countMarks(elements, "role-mark marks")).toBe(23);
  expect(texts).toEqual(expect.arrayContaining(["offline (yd)", "carry (yd)", "Heron", "Plover", "Wren"]));
  expect(cutTexts(elements)).toEqual([]);
});

test("a description of the first line that is empty is none", () => {
  const described = (description: string): unknown => presentChart(draw(carryByOffline, shots, { description }).value!, defaultLimits).description;
  expect(described(" ")).toEqual(described("Points of carry (yd) against offline (yd), by head."));
});

test("only the columns that are drawn travel with the chart", () => {
  const { table } = presentChart(draw(carryByOffline, shots).value!, defaultLimits);
  expect(table.columns.map((column) => column.name)).toEqual(["offline", "carry", "head"]);
});

test("K-08 columns with odd names are plotted on finite axes under their own names", async () => {
  for (const name of ["a.b", "[x]", "a'b", 'a"b', "a\\b", "__proto__", "", "constructor", "datum.x", "é–東"]) {
    const table = sampleTable([numberColumn(name, [1, 2, 5]), numberColumn("y", [1, 2, 3])]);
    const { elements, svg, texts } = await svgOf(points(`"x": { "field": ${JSON.stringify(name).replace("a\\\\b", "a\\\\\\\\b")} }, "y": { "field": "y" }`), table);
    expect([name, countMarks(elements, "role-mark marks")]).toEqual([name, 3]);
    expect(svg).not.toContain("NaN");
    expect(texts).toEqual(expect.arrayContaining(["1.0", "5.0", inWords(name).trim()]));
  }
});

test("K-11 nothing to draw is said in the picture", async () => {
  const empty = (columns: readonly Column[]): Promise<{ texts: string[] }> => svgOf(points('"x": { "field": "a" }'), sampleTable(columns));
  expect((await empty([numberColumn("a", [])])).texts).toContain("The table has no rows.");
  expect((await empty([numberColumn("a", [null, Number.NaN])])).texts).toContain("None of 2 rows can be drawn: no a.");
  expect((await svgOf(points('"x": { "field": "a" }'), sampleTable([numberColumn("a", [3])]))).svg).not.toContain("NaN");
});

test("K-11 rows that are missing or below a logarithmic scale are counted", () => {
  const table = sampleTable([numberColumn("a", [1, null, 3, -1, 0])]);
  const { value, problems } = draw(points('"x": { "field": "a", "scale": { "type": "log" } }'), table);
  expect(problems.map((found) => found.message)).toEqual([
    "1 of 5 rows are not drawn: no a",
    "2 of 5 rows are not drawn: a logarithmic scale shows nothing at 0 or below",
  ]);
  expect(value?.description).toContain("2 of 5 rows are not drawn");
});

test("K-11 a logarithmic scale with faulty values still has finite axes", async () => {
  const table = sampleTable([numberColumn("a", [1, 10, 100, -1, 0])]);
  const { elements, svg } = await svgOf(points('"x": { "field": "a", "scale": { "type": "log" } }'), table);
  expect(countMarks(elements, "role-mark marks")).toBe(3);
  expect(svg).not.toMatch(/NaN|Infinity/);
});

test("K-10 what only the data can tell is refused before it is drawn", () => {
  const codesOf = (body: string, table: Table, limits = defaultLimits): string[] => draw(body, table, { limits }).problems.map((found) => found.code);
  expect(codesOf(carryByOffline, shots, { ...defaultLimits, marks: 20 })).toContain("chart.too-many-marks");
  const many = sampleTable([numberColumn("a", Array.from({ length: 300 }, (_, i) => i)), textColumn("t", Array.from({ length: 300 }, (_, i) => `v${i}`))]);
  expect(codesOf(points('"x": { "field": "a" }, "row": { "field": "t" }'), many)).toContain("chart.too-many-panels");
  expect(codesOf('{ "mark": "bar", "encoding": { "x": { "field": "a", "bin": { "step": 0.001 } }, "y": { "aggregate": "count" } } }', many)).toContain("chart.beyond-limit");
});

test("K-10 rows that transforms would multiply without bound are refused before they are drawn", () => {
  const wide = sampleTable([
    ...Array.from({ length: 100 }, (_, i) => numberColumn(`n${i}`, [1, 2, 3])),
    textColumn("t", ["a", "b", "c"]),
  ]);
  const long = sampleTable([
    numberColumn("key", Array.from({ length: 2000 }, (_, i) => i)),
    textColumn("few", Array.from({ length: 2000 }, (_, i) => `v${i % 5}`)),
    textColumn("many", Array.from({ length: 2000 }, (_, i) => `v${i}`)),
  ]);
  const marksOf = (table: Table, transform: readonly object[], encoding = '"x": { "field": "key" }'): number | undefined => {
    const found = draw(points(encoding, `, "transform": ${JSON.stringify(transform)}`), table).problems.find((each) => each.code === "chart.too-many-marks");
    return found?.code === "chart.too-many-marks" ? found.facts.count : undefined;
  };
  const fold = { fold: Array.from({ length: 100 }, (_, i) => `n${i}`) };
  expect(marksOf(wide, [fold])).toBeUndefined();
  expect(marksOf(wide, [fold, fold, fold, fold])).toBe(3e8);
  expect(marksOf(wide, [fold, { aggregate: [{ op: "mean", field: "value", as: "m" }], groupby: ["t"] }], '"x": { "field": "m" }')).toBeUndefined();
  const impute = (by: string) => ({ impute: "key", key: "key", value: 0, groupby: [by] });
  expect(marksOf(long, [impute("few")])).toBeUndefined();
  expect(marksOf(long, [impute("many")])).toBe(2000 + 2000 * 2000);
  expect(marksOf(long, [impute("few"), impute("few"), impute("key")])).toBeGreaterThan(1e6);
  expect(marksOf(long, [], '"x": { "field": "key" }, "y": { "field": "key", "impute": { "value": 0 } }, "color": { "field": "few" }')).toBeUndefined();
  expect(marksOf(long, [], '"x": { "field": "key" }, "y": { "field": "key", "impute": { "value": 0 } }, "color": { "field": "many" }')).toBe(2000 + 2000 * 2000);
  const density = (by: string) => ({ density: "key", groupby: [by], steps: 1000 });
  expect(marksOf(long, [density("few")], '"x": { "field": "value" }')).toBeUndefined();
  expect(marksOf(long, [density("many")], '"x": { "field": "value" }')).toBe(2000 * 1000);
  expect(marksOf(long, [{ quantile: "key", step: 0.001, groupby: ["many"] }], '"x": { "field": "value" }')).toBe(2000 * 1000);
});

test("K-10 a legend of thousands is cut", async () => {
  const many = sampleTable([numberColumn("a", Array.from({ length: 5000 }, (_, i) => i)), textColumn("t", Array.from({ length: 5000 }, (_, i) => `v${i}`))]);
  const { texts } = await svgOf(points('"x": { "field": "a" }, "color": { "field": "t" }'), many);
  expect(texts.filter((text) => /^v\d+$/.test(text)).length).toBeLessThan(40);
});

test("K-12 hostile titles, categories and descriptions stay text", async () => {
  const table = sampleTable([textColumn("h", ['"><script>alert(1)</script>', "]]>", "&#x3c;"]), numberColumn("v", [1, 2, 3])]);
  const { elements } = await svgOf('{ "title": "<img src=x onerror=alert(1)>", "mark": "bar", "encoding": { "x": { "field": "h" }, "y": { "field": "v" }, "color": { "field": "h" } } }', table);
  expect(elements.map((element) => element.name).filter((name) => !/^(svg|g|path|text|tspan|defs|clipPath|rect|line)$/.test(name))).toEqual([]);
  expect(elements.flatMap((element) => Object.keys(element.attributes)).filter((name) => /^on|href|^src$/.test(name))).toEqual([]);
});

test("K-12 values that mean something to a program are values like any other", async () => {
  const table = sampleTable([textColumn("h", ["__proto__", "constructor", "toString", "__proto__"]), numberColumn("v", [1, 2, 3, 4])]);
  const rows = await svgOf(points('"x": { "field": "v", "title": "valueOf" }, "row": { "field": "h" }, "color": { "field": "h" }'), table);
  expect(rows.elements.filter((element) => element.attributes["aria-roledescription"] === "point")).toHaveLength(4);
});

test("K-18 a summary of hardly any rows is remarked on", () => {
  const table = sampleTable([textColumn("h", ["a", "a", "a", "a", "a", "b"]), numberColumn("v", [1, 2, 3, 4, 5, 6])]);
  const { problems } = draw('{ "mark": "bar", "encoding": { "x": { "field": "h" }, "y": { "field": "v", "aggregate": "mean" } } }', table);
  expect(problems.map((found) => found.message)).toEqual(['"b" has only 1 row: a summary hides how few']);
});

test("the description is the first line's, else the specification's, else one that is made", () => {
  const body = carryByOffline.replace("{", '{ "description": "Mine.",');
  expect(draw(body, shots, { description: "The cell's." }).value?.description).toMatch(/^The cell's\. /);
  expect(draw(body, shots, { description: null }).value?.description).toMatch(/^Mine\. /);
  expect(draw(carryByOffline, shots, { description: null }).value?.description).toMatch(/^Points of carry \(yd\) against offline \(yd\), by head\. /);
});

test("synthetic shots are labelled, with and without a title", async () => {
  const note = "Synthetic data: no shot behind these numbers was hit.";
  expect((await svgOf(carryByOffline, shots)).texts).toContain(note);
  expect((await svgOf(carryByOffline.replace("{", '{ "title": "Landings",'), shots)).texts).toEqual(expect.arrayContaining(["Landings", note]));
  expect((await svgOf(carryByOffline, { ...shots, sessions: [sampleSession()] })).texts).not.toContain(note);
});

test("every kind of mark and transform that is taken can be drawn", async () => {
  const table = sampleShots({ perHead: 12 });
  const x = '"x": { "field": "offline" }';
  const y = '"y": { "field": "carry" }';
  for (const body of [
    ...["area", "bar", "circle", "line", "point", "rect", "rule", "square", "tick", "trail"].map((mark) => `{ "mark": "${mark}", "encoding": { ${x}, ${y} } }`),
    '{ "mark": "boxplot", "encoding": { "x": { "field": "head" }, "y": { "field": "carry" } } }',
    '{ "mark": { "type": "errorbar", "extent": "stdev" }, "encoding": { "x": { "field": "head" }, "y": { "field": "carry" } } }',
    '{ "mark": { "type": "errorband", "extent": "iqr" }, "encoding": { "x": { "field": "stint" }, "y": { "field": "carry" } } }',
    '{ "mark": "arc", "encoding": { "theta": { "aggregate": "count" }, "color": { "field": "head" } } }',
    '{ "mark": "text", "encoding": { "x": { "field": "offline" }, "y": { "field": "carry" }, "text": { "field": "head" } } }',
    '{ "mark": "bar", "encoding": { "x": { "field": "carry", "bin": { "step": 5 } }, "y": { "aggregate": "count" }, "row": { "field": "head" } } }',
    '{ "mark": "rect", "encoding": { "x": { "field": "offline", "bin": true }, "y": { "field": "carry", "bin": true }, "color": { "aggregate": "count" } } }',
    `{ "facet": { "field": "head" }, "columns": 2, "spec": { "mark": "point", "encoding": { ${x}, ${y} } } }`,
    `{ "layer": [{ "mark": "point", "encoding": { ${x}, ${y} } }, { "transform": [{ "loess": "carry", "on": "offline" }], "mark": "line", "encoding": { ${x}, ${y} } }] }`,
    '{ "transform": [{ "density": "carry", "groupby": ["head"] }], "mark": "area", "encoding": { "x": { "field": "value" }, "y": { "field": "density" }, "color": { "field": "head" } } }',
    '{ "transform": [{ "fold": ["carry", "offline"] }], "mark": "tick", "encoding": { "x": { "field": "value" }, "y": { "field": "key" } } }',
    '{ "transform": [{ "filter": { "or": [{ "field": "head", "equal": "Wren" }, { "field": "carry", "range": [150, null] }] } }, { "aggregate": [{ "op": "mean", "field": "carry", "as": "m" }], "groupby": ["head"] }], "mark": "bar", "encoding": { "x": { "field": "head" }, "y": { "field": "m" } } }',
    '{ "mark": "point", "encoding": { "x": { "field": "shot" }, "y": { "field": "carry" }, "color": { "condition": { "test": { "field": "carry", "lt": 155 }, "value": "crimson" }, "value": "teal" } } }',
  ]) {
    const { svg } = await svgOf(body, table);
    expect([body, /NaN|Infinity/.test(svg), svg.includes("role-mark")]).toEqual([body, false, true]);
  }
});
