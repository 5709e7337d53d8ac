import { expect, test } from "vitest";
import { checkChart } from "../../../core/chart/check-chart";
import { defaultLimits } from "../../../core/limits";
import type { Problem } from "../../../core/problem";
import type { Schema } from "../../../core/table/schema";
import { lineTable } from "../../../core/text-position";

const header = 'chart=c table=stock description="Shots."\n';
const schema: Schema = {
  columns: [
    { name: "head", kind: "text", unit: null, origin: "stated", values: ["Heron", "Wren"] },
    { name: "carry", kind: "number", unit: "yd", origin: "measured" },
    { name: "offline", kind: "number", unit: "yd", origin: "measured" },
    { name: "ball_speed", kind: "number", unit: "mph", origin: "measured" },
    { name: "launch_angle", kind: "number", unit: "deg", origin: "measured" },
    { name: "mishit", kind: "truth", unit: null, origin: "computed" },
    { name: "a.b", kind: "number", unit: null, origin: "measured" },
    { name: "x['y']", kind: "number", unit: null, origin: "measured" },
    { name: "__proto__", kind: "number", unit: null, origin: "measured" },
    { name: "many", kind: "text", unit: null, origin: "stated", values: Array.from({ length: 150 }, (_, i) => `v${i}`) },
  ],
  open: false,
  groupedBy: [],
  fromShots: true,
};

function check(body: string, first = header) {
  return checkChart(first + body, first.length, schema, defaultLimits);
}

/** The text that a problem points at. */
function marked(text: string, found: Problem): string {
  const lines = lineTable(text);
  return text.slice(lines.offsetAt(found.range.start), lines.offsetAt(found.range.end));
}

function fixed(text: string, found: Problem): string {
  const lines = lineTable(text);
  return (found.fix?.edits ?? []).reduce(
    (before, edit) => before.slice(0, lines.offsetAt(edit.range.start)) + edit.text + before.slice(lines.offsetAt(edit.range.end)),
    text,
  );
}

function checkProblem(body: string, code: string, at: string): Problem {
  const { value, problems } = check(body);
  const found = problems.find((each) => each.code === code);
  expect(problems.map((each) => each.code)).toContain(code);
  expect(marked(header + body, found!)).toBe(at);
  expect(value === null).toBe(problems.some((each) => each.severity === "error"));
  return found!;
}

/** The body in short form: a point chart with the given parts. */
function points(encoding: string, more = ""): string {
  return `{ "mark": "point", "encoding": { ${encoding} }${more} }`;
}

function checkRefused(body: string, what: string): void {
  const { value, problems } = check(body);
  expect(value).toBeNull();
  expect(problems.map((each) => [each.code, String(each.facts && "what" in each.facts ? each.facts.what : "")])).toContainEqual(["chart.refused", what]);
}

/** A channel as it goes into the chart. */
function channel(name: string, body: string): Record<string, unknown> {
  const spec = check(body).value!.spec as { encoding: Record<string, Record<string, unknown>> };
  return spec.encoding[name]!;
}

const good = points('"x": { "field": "offline" }, "y": { "field": "carry" }, "color": { "field": "head" }');

test("a plain chart is completed: types, titles with units, tooltips", () => {
  const { value, problems } = check(good);
  expect(problems).toEqual([]);
  expect(value?.spec).toEqual({
    mark: { type: "point", tooltip: true },
    encoding: {
      x: { field: "offline", type: "quantitative", title: "offline (yd)" },
      y: { field: "carry", type: "quantitative", title: "carry (yd)" },
      color: { field: "head", type: "nominal", title: "head" },
    },
  });
  expect(value?.columns).toEqual(["offline", "carry", "head"]);
  expect(value?.generated).toBe("Points of carry (yd) against offline (yd), by head.");
});

test("titles of aggregates name the aggregate and keep the unit only where it holds", () => {
  const titleOf = (y: string): unknown => channel("y", points(`"y": ${y}`))["title"];
  expect(titleOf('{ "field": "ball_speed", "aggregate": "mean" }')).toBe("mean ball speed (mph)");
  expect(titleOf('{ "field": "launch_angle", "aggregate": "stdev" }')).toBe("SD of launch angle (°)");
  expect(titleOf('{ "field": "carry", "aggregate": "variance" }')).toBe("variance of carry");
  expect(titleOf('{ "aggregate": "count" }')).toBe("count");
  expect(titleOf('{ "field": "carry", "title": "how far" }')).toBe("how far");
  expect(titleOf('{ "field": "carry", "axis": { "title": "how far" } }')).toBeUndefined();
});

test("layers, facets and plots side by side are checked all through", () => {
  const unit = points('"x": { "field": "carry" }');
  for (const body of [`{ "layer": [${unit}, ${unit}] }`, `{ "hconcat": [${unit}] }`, `{ "vconcat": [${unit}] }`, `{ "concat": [${unit}], "columns": 2 }`, `{ "facet": { "field": "head" }, "spec": ${unit} }`, `{ "facet": { "row": { "field": "head" } }, "spec": ${unit} }`]) {
    expect(check(body).problems).toEqual([]);
    checkProblem(body.replaceAll('"carry"', '"cary"'), "chart.unknown-column", '"cary"');
  }
});

test("an encoding around layers is inherited", () => {
  const { value } = check('{ "encoding": { "x": { "field": "carry" } }, "layer": [{ "mark": "tick" }, { "mark": "bar", "encoding": { "y": { "aggregate": "count" } } }] }');
  expect(value?.units.map((unit) => [unit.mark, unit.channels.map((each) => each.channel)])).toEqual([["tick", ["x"]], ["bar", ["x", "y"]]]);
});

test("K-01 Vega itself is refused", () => {
  checkProblem('{ "marks": [], "signals": [] }', "chart.not-vega-lite", '"marks"');
  checkProblem('{ "$schema": "https://vega.github.io/schema/vega/v6.json" }', "chart.not-vega-lite", '"https://vega.github.io/schema/vega/v6.json"');
  expect(check(`{ "$schema": "https://vega.github.io/schema/vega-lite/v6.json", ${good.slice(1)}`).problems).toEqual([]);
});

test("K-02 K-03 text that would be run is refused wherever it stands", () => {
  checkRefused(points('"x": { "field": "carry" }', ', "transform": [{ "calculate": "1", "as": "z" }]'), "calculate");
  checkRefused(points('"x": { "field": "carry" }', ', "transform": [{ "filter": "datum.carry > 1" }]'), "datum.carry > 1");
  checkRefused(points('"color": { "condition": { "test": "datum.carry > 1", "value": "red" }, "value": "blue" }'), "datum.carry > 1");
  checkRefused(points('"x": { "field": "carry", "axis": { "labelExpr": "1" } }'), "labelExpr");
  checkRefused(points('"x": { "field": "carry", "axis": { "tickCount": { "expr": "1" } } }'), "expr");
  checkRefused(points('"x": { "field": "carry", "scale": { "domain": { "signal": "1" } } }'), "signal");
  checkRefused(points('"x": { "field": "carry" }', ', "params": [{ "name": "p", "select": "interval" }]'), "params");
  checkRefused(points('"x": { "field": "carry", "timeUnit": "year" }'), "timeUnit");
  checkRefused(points('"opacity": { "condition": { "param": "p", "value": 1 }, "value": 0 }'), "param");
  checkRefused('{ "mark": { "type": "point", "opacity": { "expr": "1" } } }', "expr");
});

test("K-04 data of any other origin are refused", () => {
  for (const data of ['{ "url": "https://example.org/a.csv" }', '{ "url": "../../secret" }', '{ "values": [1] }', '{ "sequence": { "start": 0, "stop": 1e9 } }'])
    checkRefused(points('"x": { "field": "carry" }', `, "data": ${data}`), "data");
  checkRefused(points('"x": { "field": "carry" }', ', "datasets": {}'), "datasets");
  checkRefused(points('"x": { "field": "carry" }', ', "transform": [{ "lookup": "head", "from": { "data": { "url": "/etc/passwd" } } }]'), "lookup");
});

test("K-05 images and links are refused", () => {
  checkRefused('{ "mark": "image" }', "image");
  checkRefused('{ "mark": { "type": "image" } }', "image");
  checkRefused(points('"href": { "field": "head" }'), "href");
  checkRefused(points('"url": { "field": "head" }'), "url");
  checkRefused('{ "mark": { "type": "point", "href": "javascript:alert(1)" } }', "href");
  checkProblem(points('"color": { "value": "url(https://example.org#a)" }'), "chart.wrong-value", '"url(https://example.org#a)"');
  checkProblem(points('"color": { "field": "head", "scale": { "range": ["url(#a)"] } }'), "chart.wrong-value", '"url(#a)"');
});

test("K-06 settings for other programs have no effect and are said to", () => {
  const { value, problems } = check(points('"x": { "field": "carry" }', ', "usermeta": { "embedOptions": { "loader": 1 } }, "config": { "view": {} }'));
  expect(problems.map((each) => [each.code, each.severity])).toEqual([["chart.ignored", "warning"], ["chart.ignored", "warning"]]);
  expect(Object.keys(value!.spec)).toEqual(["mark", "encoding"]);
});

test("K-07 misspelled keys, marks, types and columns get the near word and a fix", () => {
  const cases: readonly (readonly [string, string, string])[] = [
    ['{ "mark": "point", "encodng": { "x": { "field": "carry" } } }', "encodng", "encoding"],
    ['{ "mark": "piont" }', "piont", "point"],
    ['{ "mrk": "point" }', "mrk", "mark"],
    [points('"x": { "field": "carry", "type": "quantitativ" }'), "quantitativ", "quantitative"],
    [points('"x": { "field": "carri" }'), "carri", "carry"],
    [points('"colour": { "field": "head" }'), "colour", "color"],
    [points('"x": { "field": "carry", "agregate": "mean" }'), "agregate", "aggregate"],
    [points('"x": { "field": "carry", "aggregate": "men" }'), "men", "mean"],
    [points('"x": { "field": "carry", "scale": { "zeroo": false } }'), "zeroo", "zero"],
    [points('"x": { "field": "carry" }', ', "transform": [{ "fliter": { "field": "carry", "gt": 1 } }]'), "fliter", "filter"],
  ];
  for (const [body, wrong, right] of cases) {
    const { problems } = check(body);
    const found = problems.find((each) => each.fix !== undefined)!;
    expect(marked(header + body, found)).toBe(`"${wrong}"`);
    expect(found.hint).toContain(right);
    expect(fixed(header + body, found)).toBe(header + body.replace(`"${wrong}"`, `"${right}"`));
    expect(check(fixed(header + body, found).slice(header.length)).problems.some((each) => each.severity === "error")).toBe(false);
  }
});

test("K-07 a missing mark, an empty object and no object at all are said plainly", () => {
  checkProblem('{ "encoding": {} }', "chart.no-mark", "{");
  checkProblem("{}", "chart.no-mark", "{");
  checkProblem("[]", "chart.not-vega-lite", "[]");
  checkProblem('{ "mark": { "filled": true } }', "chart.no-mark", '{ "filled": true }');
  checkProblem("", "chart.not-json", "");
  checkProblem('{ "mark": "point", }', "chart.not-json", ",");
  checkProblem('{ "mark": "point", "mark": "bar" }', "chart.repeated-key", '"mark"');
});

test.each([
  ['{ "mark": "point", "encoding": { "x": { "field": "carry" } }', '{ "mark": "point", "encoding": { "x": { "field": "carry" } } }'],
  ['{ "mark": "point", "encoding": { "x": { "field": "carry"\n', '{ "mark": "point", "encoding": { "x": { "field": "carry" } } }\n'],
  ['{\n  "mark": "tick",\n  "encoding": {\n    "x": { "field": "carry" }', '{\n  "mark": "tick",\n  "encoding": {\n    "x": { "field": "carry" }\n  }\n}'],
  ['{ "layer": [{ "mark": "point" }', '{ "layer": [{ "mark": "point" }] }'],
  ['{ "mark": "point", "title": "a { \\" ["', '{ "mark": "point", "title": "a { \\" [" }'],
])("brackets that are missing at the end are written by the fix: %s", (body, after) => {
  const { problems } = check(body);
  expect(problems.map(({ code }) => code)).toEqual(["chart.not-json"]);
  expect(fixed(header + body, problems[0]!)).toBe(header + after);
  expect(check(after).problems).toEqual([]);
});
test.each(['{ "mark": "point", ', '{ "mark": ', '{ "mark"', '{ "mark": "poi', '{ "mark": "point" ]', ""])("more is missing than brackets, or something else is: %s", (body) => {
  expect(check(body).problems.map(({ code, fix }) => [code, fix?.title.includes("at the end") ?? false])).toEqual([["chart.not-json", false]]);
});

test("K-08 an unknown column is a problem; odd names are columns like any other", () => {
  checkProblem(points('"x": { "field": "distance" }'), "chart.unknown-column", '"distance"');
  const field = (name: string): unknown => channel("x", points(`"x": { "field": ${JSON.stringify(name)} }`));
  expect(field("a.b")).toMatchObject({ field: "x_61_2e_62", title: "a.b" });
  expect(field("a\\.b")).toMatchObject({ field: "x_61_2e_62", title: "a.b" });
  expect(field("x['y']")).toMatchObject({ title: "x['y']" });
  expect(field("__proto__")).toMatchObject({ title: expect.stringContaining("proto") as string });
});

test("K-08 a column of text is not quantitative, averaged or put into bins", () => {
  checkProblem(points('"x": { "field": "head", "type": "quantitative" }'), "chart.wrong-type", '"quantitative"');
  checkProblem(points('"x": { "field": "head", "aggregate": "mean" }'), "chart.wrong-type", '"mean"');
  checkProblem(points('"x": { "field": "mishit", "bin": true }'), "chart.wrong-type", "true");
  expect(check(points('"x": { "field": "head", "aggregate": "distinct" }')).problems).toEqual([]);
});

test("K-09 sizes beyond the limits are refused", () => {
  for (const wrong of ["1e9", "1e999", "-1", '"container"', '{ "step": 1e6 }']) expect(check(points('"x": { "field": "carry" }', `, "width": ${wrong}`)).value).toBeNull();
  checkProblem(points('"x": { "field": "carry" }', ', "height": 4001'), "chart.wrong-value", "4001");
  expect(check(points('"x": { "field": "carry" }', ', "width": 400, "height": { "step": 20 }')).problems).toEqual([]);
});

test("K-10 what would make too much is refused before it is drawn", () => {
  checkProblem(points('"facet": { "field": "many" }'), "chart.too-many-panels", '"encoding"');
  checkProblem(`{ "facet": { "field": "many" }, "spec": ${good} }`, "chart.too-many-panels", '"facet"');
  checkRefused(`{ "repeat": ["carry"], "spec": ${good} }`, "repeat");
  checkProblem(points('"x": { "field": "carry", "bin": { "maxbins": 1e9 } }'), "chart.wrong-value", "1e9");
  checkProblem(points('"x": { "field": "carry", "axis": { "tickCount": 1e9 } }'), "chart.wrong-value", "1e9");
  checkProblem(points('"x": { "field": "carry", "axis": { "format": ".999999f" } }'), "chart.wrong-value", '".999999f"');
  checkProblem(`{ "hconcat": [${Array.from({ length: 65 }, () => good).join()}] }`, "chart.beyond-limit", `[${Array.from({ length: 65 }, () => good).join()}]`);
});

test("K-13 paths and fonts of one's own are not taken", () => {
  checkProblem(points('"shape": { "value": "M0,0L1,1" }'), "chart.wrong-value", '"M0,0L1,1"');
  expect(check(points('"x": { "field": "carry", "axis": { "labelFont": "a\\"b" } }')).problems[0]?.code).toBe("chart.unknown-property");
});

test("K-15 a missing description is an info with a fix that describes", () => {
  const bare = "chart=c table=stock\n";
  const { problems } = check(good, bare);
  expect(problems.map((each) => [each.code, each.severity])).toEqual([["chart.no-description", "info"]]);
  expect(fixed(bare + good, problems[0]!)).toBe(`chart=c table=stock description="Points of carry (yd) against offline (yd), by head."\n${good}`);
  const without = check(good, "");
  expect(check(fixed(good, without.problems[0]!), "").problems).toEqual([]);
  expect(check(good.replace("{", '{ "description": "Shots.",'), bare).value?.description).toBe("Shots.");
});

test.each(['description=""', "description=''", "description=", 'description="  "'])("K-15 a description that is empty is missing: %s", (empty) => {
  const bare = `chart=c ${empty} table=stock\n`;
  const { problems } = check(good, bare);
  expect(problems.map((each) => [each.code, marked(bare + good, each)])).toEqual([["chart.no-description", empty]]);
  expect(fixed(bare + good, problems[0]!)).toBe(`chart=c description="Points of carry (yd) against offline (yd), by head." table=stock\n${good}`);
});
test("K-15 a description is offered only where every field is known to be in the table", () => {
  const bare = "chart=c table=stock\n";
  const offered = (body: string): unknown => checkChart(bare + body, bare.length, { ...schema, open: true }, defaultLimits).problems.map(({ code, fix }) => [code, fix !== undefined]);
  expect(offered(good)).toEqual([["chart.no-description", true]]);
  expect(offered(good.replace("offline", "ofline"))).toEqual([["chart.no-description", false]]);
});
test("a description under a name with a slip is not asked for a second time", () => {
  for (const first of ['chart=c table=stock desc="my words"\n', 'chart=c table=stock descripton="my words"\n']) expect(check(good, first).problems.map(({ code }) => code)).toEqual([]);
});

test("K-17 a specification that is too long or too deep is refused at once", () => {
  expect(check(`{ "title": "${"x".repeat(300_000)}" }`).problems.map((each) => each.code)).toEqual(["chart.too-long"]);
  expect(check('{ "layer": ['.repeat(10_000)).problems.map((each) => each.code)).toEqual(["chart.too-deep"]);
});

test("K-18 a cut bar axis and two scales are remarked on", () => {
  const bars = (scale: string): string => `{ "mark": "bar", "encoding": { "x": { "field": "head" }, "y": { "field": "carry", "aggregate": "mean", "scale": ${scale} } } }`;
  expect(check(bars('{ "zero": false }')).problems.map((each) => each.code)).toEqual(["chart.cut-axis"]);
  expect(check(bars('{ "domain": [140, 170] }')).problems.map((each) => each.code)).toEqual(["chart.cut-axis"]);
  expect(check(bars("{}")).problems).toEqual([]);
  expect(check(`{ "layer": [${good}, ${good}], "resolve": { "scale": { "y": "independent" } } }`).problems.map((each) => each.code)).toEqual(["chart.two-scales"]);
});

test("transforms without text to run are taken, and what they make can be named", () => {
  const x = '"x": { "field": "z" }';
  for (const transform of [
    '{ "aggregate": [{ "op": "mean", "field": "carry", "as": "z" }], "groupby": ["head"] }',
    '{ "joinaggregate": [{ "op": "mean", "field": "carry", "as": "z" }], "groupby": ["head"] }',
    '{ "window": [{ "op": "rank", "as": "z" }], "sort": [{ "field": "carry" }] }',
    '{ "bin": true, "field": "carry", "as": "z" }',
    '{ "fold": ["carry", "offline"], "as": ["z", "v"] }',
    '{ "density": "carry", "as": ["z", "d"] }',
    '{ "regression": "carry", "on": "offline", "as": ["z", "c"] }',
    '{ "loess": "carry", "on": "offline", "as": ["z", "c"] }',
    '{ "quantile": "carry", "as": ["p", "z"] }',
    '{ "stack": "carry", "groupby": ["head"], "as": "z" }',
  ])
    expect([transform, check(points(x, `, "transform": [${transform}]`)).problems]).toEqual([transform, []]);
  expect(check(points('"x": { "field": "carry" }', ', "transform": [{ "filter": { "and": [{ "field": "carry", "gt": 150 }, { "not": { "field": "head", "oneOf": ["Wren"] } }] } }]')).problems).toEqual([]);
  checkProblem(points('"x": { "field": "offline" }', ', "transform": [{ "aggregate": [{ "op": "mean", "field": "carry", "as": "z" }] }]'), "chart.unknown-column", '"offline"');
  checkRefused(points('"x": { "field": "carry" }', ', "transform": [{ "sample": 10 }]'), "sample");
  checkRefused('{ "mark": { "type": "errorbar", "extent": "ci" } }', "ci");
});

test("K-10 transforms are few, and fold no column twice", () => {
  const folded = (columns: readonly string[]): string => points('"x": { "field": "value" }', `, "transform": [{ "fold": ${JSON.stringify(columns)} }]`);
  checkProblem(folded(["carry", "offline", "carry"]), "chart.repeated-column", '"carry"');
  checkProblem(folded(["a.b", "a\\.b"]), "chart.repeated-column", '"a\\\\.b"');
  const filters = (count: number): string => `[${Array.from({ length: count }, () => '{ "filter": { "field": "carry", "gt": 1 } }').join(", ")}]`;
  expect(check(points('"x": { "field": "carry" }', `, "transform": ${filters(20)}`)).problems).toEqual([]);
  checkProblem(points('"x": { "field": "carry" }', `, "transform": ${filters(21)}`), "chart.beyond-limit", filters(21));
});

test("refused and ignored properties come with a fix that removes them and nothing else", () => {
  const body = '{ "mark": "point", "data": { "url": "a" }, "encoding": {} }';
  expect(fixed(header + body, checkProblem(body, "chart.refused", '"data"'))).toBe(`${header}{ "mark": "point", "encoding": {} }`);
  const last = '{ "mark": "point", "params": [] }';
  expect(fixed(header + last, checkProblem(last, "chart.refused", '"params"'))).toBe(`${header}{ "mark": "point" }`);
});

test("columns that are not known yet are accepted in an open table", () => {
  const open = { ...schema, open: true };
  const found = checkChart(header + points('"x": { "field": "Wren" }'), header.length, open, defaultLimits);
  expect(found.problems).toEqual([]);
});

test("no text makes the check throw", () => {
  for (const body of ["null", "1", '"x"', '{"mark":null}', '{"layer":{}}', '{"layer":[1,null]}', '{"mark":"point","encoding":[]}', '{"mark":"point","encoding":{"x":[],"color":null}}', '{"transform":{},"mark":"point"}', '{"transform":[1,null,{}],"mark":"point"}', '{"facet":[],"spec":1}', '{"mark":{"type":{}}}', '{"__proto__":1,"constructor":2,"mark":"bar"}'])
    expect(() => check(body)).not.toThrow();
});
test("a problem is on one line, however long what is wrong is", () => {
  for (const body of ['{ "mark": {\n "type": {\n "a": 1 } } }', '{ "mark": [\n1\n] }', '[\n1\n]', '{ "mark": "point" } and\nmore', '{ "mark": "point" } /* why\nso */', '{ "mark": {\n"filled": true } }']) {
    const { problems } = check(body);
    expect(problems.length, body).toBeGreaterThan(0);
    for (const { range } of problems) expect(range.end.line, body).toBe(range.start.line);
  }
});
