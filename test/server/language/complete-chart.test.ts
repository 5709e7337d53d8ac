import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import * as fc from "fast-check";
import { expect, test } from "vitest";
import type { Suggestion } from "../../../server/language/answers";
import { completeChart } from "../../../server/language/complete-chart";
import { notebookView } from "../../support/notebook-view";
import { smallExport, smallFiles, smallSession } from "../../support/small-session";
import { accepted, chartLine, chartView, problemsOf } from "./chart-view";

async function suggestionsAt(body: string): Promise<{ text: string; suggestions: readonly Suggestion[] }> {
  const { view, cell, text, offset } = await chartView(chartLine + body);
  return { text, suggestions: completeChart(view, cell, offset) };
}

async function labelsAt(body: string): Promise<readonly string[]> {
  return (await suggestionsAt(body)).suggestions.map(({ label }) => label);
}

/** The body after the suggestion `label` was taken at the mark. */
async function taken(body: string, label: string): Promise<string> {
  const { text, suggestions } = await suggestionsAt(body);
  const found = suggestions.find((each) => each.label === label);
  expect(suggestions.map((each) => each.label)).toContain(label);
  return accepted(text, found!).slice(chartLine.length);
}

/** The body after taking a suggestion, which must leave nothing wrong with the cell. */
async function checkTaken(body: string, label: string, expected: string): Promise<void> {
  const after = await taken(body, label);
  expect(after).toBe(expected);
  expect(await problemsOf(chartLine + after)).toEqual([]);
}

const points = (encoding: string): string => `{ "mark": "point", "encoding": { ${encoding} } }`;

test("keys of the specification, without those that are there", async () => {
  const labels = await labelsAt('{ "mark": "point", ¦ }');
  expect(labels).toContain("encoding");
  expect(labels).not.toContain("mark");
  expect(labels).not.toContain("layer");
  expect(labels).not.toContain("data");
});
test("keys where they stand", async () => {
  expect(await labelsAt('{ "encoding": { ¦ } }')).toContain("xOffset");
  expect((await labelsAt(points('"x": { ¦ }'))).slice(0, 3)).toEqual(["field", "aggregate", "bin"]);
  expect(await labelsAt(points('"x": { "field": "carry", "scale": { ¦ } }'))).toContain("domain");
  expect(await labelsAt(points('"x": { "field": "carry", "axis": { ¦ } }'))).toContain("tickCount");
  expect(await labelsAt('{ "transform": [{ ¦ }] }')).toEqual(["filter", "aggregate", "joinaggregate", "bin", "window", "stack", "fold", "density", "regression", "loess", "quantile", "impute"]);
  expect(await labelsAt('{ "transform": [{ "fold": ["carry"], ¦ }] }')).toEqual(["as"]);
  expect(await labelsAt('{ "layer": [{ "mark": { "type": "line", ¦ } }] }')).toContain("strokeDash");
  expect(await labelsAt('{ "nothing": { ¦ } }')).toEqual([]);
});
test("a key comes with quotes, colon and a value that is accepted", async () => {
  await checkTaken('{ ¦ "encoding": { "x": { "field": "carry" } } }', "mark", '{ "mark": "point", "encoding": { "x": { "field": "carry" } } }');
  await checkTaken('{ "mark": "point", ¦ }', "encoding", '{ "mark": "point", "encoding": {  } }');
  await checkTaken('{ "mark": "point" ¦}', "encoding", '{ "mark": "point" , "encoding": {  }}');
  await checkTaken(points('"x": { "field": "offline" }, "¦"'), "y", points('"x": { "field": "offline" }, "y": { "field": "carry" }'));
  await checkTaken(points('"x": { "field": "offline" }, col¦'), "color", points('"x": { "field": "offline" }, "color": { "field": "head" }'));
  await checkTaken(points('"x": { "field": "offline", ¦ }'), "aggregate", points('"x": { "field": "offline", "aggregate": "mean" }'));
  await checkTaken(points('"x": { "field": "head", ¦ }'), "aggregate", points('"x": { "field": "head", "aggregate": "count" }'));
  await checkTaken(points('"x": { "field": "carry", ¦ }'), "bin", points('"x": { "field": "carry", "bin": true }'));
  await checkTaken(points('"x": { "field": "carry", "scale": { ¦ } }'), "type", points('"x": { "field": "carry", "scale": { "type": "linear" } }'));
});
test("what a key comes with is what is usual", async () => {
  await checkTaken('{ "mark": "point", ¦ "encoding": { "x": { "field": "carry" } } }', "width", '{ "mark": "point", "width": 400, "encoding": { "x": { "field": "carry" } } }');
  await checkTaken('{ "mark": { "type": "bar", ¦ } }', "width", '{ "mark": { "type": "bar", "width": 12 } }');
  await checkTaken('{ "mark": { "type": "point", ¦ } }', "opacity", '{ "mark": { "type": "point", "opacity": 0.7 } }');
  await checkTaken(points('"x": { "field": "carry", ¦ }'), "type", points('"x": { "field": "carry", "type": "quantitative" }'));
  await checkTaken(points('"y": { "aggregate": "count", ¦ }'), "type", points('"y": { "aggregate": "count", "type": "quantitative" }'));
  await checkTaken(points('"x": { "field": "head", ¦ }'), "type", points('"x": { "field": "head", "type": "nominal" }'));
  await checkTaken(points('"color": { "field": "stint", ¦ }'), "type", points('"color": { "field": "stint", "type": "nominal" }'));
  await checkTaken(points("¦"), "x", points('"x": { "field": "carry" }'));
  await checkTaken(points('"y": { "field": "carry" }, ¦'), "x", points('"y": { "field": "carry" }, "x": { "field": "offline" }'));
});
test("every key of a plain chart and of its channels can be taken", async () => {
  for (const body of ['{ "mark": "point", ¦ "encoding": { "x": { "field": "carry" } } }', points('¦ "x": { "field": "carry" }'), points('"x": { "field": "carry", ¦ }')]) {
    const { text, suggestions } = await suggestionsAt(body);
    for (const each of suggestions) {
      // What a panel consists of is for the person to say.
      if (["layer", "concat", "hconcat", "vconcat", "spec"].includes(each.label)) continue;
      const after = accepted(text, each);
      expect(await problemsOf(after), after).toEqual([]);
    }
  }
});
test("L-08 nothing is doubled: quotes, colons and commas that are there stay", async () => {
  await checkTaken('{ "ma¦": "point" }', "mark", '{ "mark": "point" }');
  await checkTaken('{ "mark": "po¦" }', "point", '{ "mark": "point" }');
  await checkTaken('{ "mark": "¦" }', "point", '{ "mark": "point" }');
  await checkTaken('{ "mark": ¦ }', "point", '{ "mark": "point" }');
  await checkTaken('{ "mark":¦}', "point", '{ "mark": "point"}');
  await checkTaken('{ "mark": po¦ }', "point", '{ "mark": "point" }');
  await checkTaken('{ "mark": "po¦ }', "point", '{ "mark": "point" }');
  await checkTaken('{ "mark": "ti¦ck" }', "point", '{ "mark": "point" }');
  await checkTaken('{ "mark": ¦\n  "encoding": {} }', "point", '{ "mark": "point",\n  "encoding": {} }');
  await checkTaken(points('"x": { "field": "ca¦ }, "y": { "field": "carry" }'), "offline", points('"x": { "field": "offline" }, "y": { "field": "carry" }'));
});
test("what typing is matched against begins with the quote that is there", async () => {
  const filterAt = async (body: string): Promise<string | undefined> => (await suggestionsAt(body)).suggestions.find(({ label }) => label === "mark" || label === "point")?.filter;
  expect(await filterAt('{ "ma¦" }')).toBe('"mark');
  expect(await filterAt("{ ma¦ }")).toBe("mark");
  expect(await filterAt('{ "mark": "po¦" }')).toBe('"point');
});
test("values: marks, types, operations and truths", async () => {
  expect(await labelsAt('{ "mark": "¦" }')).toContain("boxplot");
  expect(await labelsAt('{ "mark": "¦" }')).not.toContain("image");
  expect(await labelsAt(points('"x": { "field": "carry", "type": "¦" }'))).toEqual(["quantitative", "ordinal", "nominal"]);
  expect(await labelsAt(points('"x": { "field": "head", "type": "¦" }'))).toEqual(["ordinal", "nominal"]);
  expect(await labelsAt(points('"x": { "field": "head", "aggregate": "¦" }'))).toEqual(["count", "valid", "missing", "distinct"]);
  expect((await labelsAt(points('"x": { "field": "carry", "bin": ¦ }'))).slice(0, 2)).toEqual(["true", "false"]);
  expect(await labelsAt(points('"color": { "value": "¦" }'))).toEqual([]);
  expect(await labelsAt(points('"color": { "scale": { "scheme": "¦" } }'))).toContain("viridis");
});
test("columns with their unit, the likeliest first, and only those that fit", async () => {
  const { suggestions } = await suggestionsAt(points('"x": { "field": "¦" }'));
  const carry = suggestions.find(({ label }) => label === "carry")!;
  expect(carry).toMatchObject({ kind: "column", detail: "numbers in yd" });
  expect(carry.documentation).toContain("Distance to where the ball first lands");
  expect((await labelsAt(points('"color": { "field": "¦" }')))[0]).toBe("head");
  expect(await labelsAt(points('"x": { "field": "¦", "aggregate": "mean" }'))).not.toContain("head");
  expect(await labelsAt(points('"x": { "bin": true, "field": "¦" }'))).not.toContain("head");
  expect(await labelsAt(points('"x": { "field": "¦", "aggregate": "count" }'))).toContain("head");
  expect(await labelsAt('{ "transform": [{ "density": "¦" }], "mark": "line" }')).not.toContain("head");
  expect(await labelsAt('{ "transform": [{ "fold": ["carry", "¦"] }], "mark": "line" }')).not.toContain("carry");
});
test("columns that a transform makes, from there on", async () => {
  const made = '"transform": [{ "aggregate": [{ "op": "mean", "field": "carry", "as": "mean_carry" }], "groupby": ["head"] }]';
  expect(await labelsAt(`{ ${made}, "mark": "bar", "encoding": { "x": { "field": "¦" } } }`)).toEqual(["mean_carry", "head"]);
  expect(await labelsAt(`{ "layer": [{ ${made}, "mark": "bar", "encoding": { "x": { "field": "¦" } } }] }`)).toEqual(["mean_carry", "head"]);
  expect(await labelsAt('{ "transform": [{ "density": "carry", "as": ["v", "p"] }, { "filter": { "field": "¦" } }], "mark": "line" }')).toEqual(["v", "p"]);
  expect(await labelsAt('{ "transform": [{ "filter": { "field": "¦" } }, { "density": "carry", "as": ["v", "p"] }], "mark": "line" }')).toContain("carry");
  const { suggestions } = await suggestionsAt(`{ ${made}, "mark": "bar", "encoding": { "x": { "field": "¦" } } }`);
  expect(suggestions[0]!.detail).toBe("numbers in yd, made by a transform");
});
test("values of the column that something is compared with", async () => {
  expect(await labelsAt('{ "transform": [{ "filter": { "field": "head", "equal": "¦" } }], "mark": "tick" }')).toEqual(["Heron", "Wren"]);
  expect(await labelsAt('{ "transform": [{ "filter": { "field": "head", "oneOf": ["Wren", "¦"] } }], "mark": "tick" }')).toEqual(["Heron", "Wren"]);
  expect(await labelsAt(points('"color": { "field": "head", "scale": { "domain": ["¦"] } }'))).toContain("Heron");
});
test("the table of the first line decides; of one that is not known nothing is offered", async () => {
  const { view, cell, offset } = await chartView(`chart=c table=nothing\n${points('"x": { "field": "¦" }')}`);
  expect(completeChart(view, cell, offset)).toEqual([]);
});
test("a description is offered from what is drawn", async () => {
  expect(await labelsAt('{ "description": "¦", "mark": "point", "encoding": { "y": { "field": "carry" } } }')).toEqual(["Points of carry (yd)."]);
});
test("nothing in a comment, behind a value or in a number", async () => {
  expect(await labelsAt('{ // ¦\n "mark": "point" }')).toEqual([]);
  expect(await labelsAt('{ "mark": "point"¦ }')).toEqual([]);
  expect(await labelsAt('{ "mark": "point", "width": 3¦ }')).toEqual([]);
});

const strikeFiles = {
  ...smallFiles,
  "s/one.session.yaml": smallSession("one").replace("heads:", "  strike_x: { from: X, unit: mm, positive: toe }\n  strike_y: { from: Y, unit: mm, positive: high }\nheads:"),
  "s/small.csv": smallExport.replaceAll(/^(\d.*)$/gmu, "$1,2.0,-8.0").replace("Side", "Side,X,Y"),
};

test("whole charts for an empty cell check clean, with a first line of any kind", async () => {
  for (const header of [chartLine, "chart=c table=shots\n", ""]) {
    const view = await notebookView([["front", "shots: s/one.session.yaml"], ["chart", header]], strikeFiles);
    const charts = completeChart(view, 1, header.length);
    expect(charts.map(({ label }) => label)).toEqual([
      "where did the shots land, by head?",
      "where on the face were the shots struck?",
      "how are the values of a column spread?",
      "how did a column go from shot to shot?",
    ]);
    for (const each of charts) {
      const after = await notebookView([["front", "shots: s/one.session.yaml"], ["chart", accepted(header, each)]], strikeFiles);
      expect(after.cells[1]!.checked.problems, each.label).toEqual([]);
    }
  }
});
test("whole charts check clean on the shots of every sample session", async () => {
  const folder = path.resolve(import.meta.dirname, "../../../sample-notebooks/sessions");
  const files = Object.fromEntries(readdirSync(folder).map((name) => [`sessions/${name}`, readFileSync(path.join(folder, name), "utf8")]));
  const sessions = Object.keys(files).filter((name) => name.endsWith(".session.yaml"));
  expect(sessions.length).toBeGreaterThan(1);
  for (const session of sessions) {
    const front = ["front", `shots: ${session}`] as const;
    const charts = completeChart(await notebookView([front, ["chart", chartLine]], files), 1, chartLine.length);
    expect(charts.length, session).toBeGreaterThan(2);
    const after = await notebookView([front, ...charts.map((each, i) => ["chart", accepted(chartLine, each).replace("chart=c", `chart=c${i}`)] as const)], files);
    expect(after.cells.slice(1).flatMap(({ checked }) => checked.problems), session).toEqual([]);
  }
});
test("whole charts are offered where the table has their columns, and only in an empty body", async () => {
  expect(await labelsAt("¦")).not.toContain("where on the face were the shots struck?");
  expect(await labelsAt("whe¦")).toContain("where did the shots land, by head?");
  expect(await labelsAt("{¦}")).not.toContain("where did the shots land, by head?");
});
test("L-11 names that hold Markdown, quotes and what snippets read are written as they are", async () => {
  const odd = 'a$1}"`[x](command:y)';
  const files = { ...smallFiles, "s/small.csv": smallExport.replaceAll(/^(\d.*)$/gmu, "$1,1.5").replace("Side", () => `Side,"${odd.replace('"', '""')}"`) };
  const view = await notebookView([["front", "shots: s/one.session.yaml"], ["query", "query=q\nshots"], ["chart", 'chart=c table=shots\n{ "mark": "point", "encoding": { "x": {  } } }']], files);
  expect(view.surroundingsOf(2).tables.get("shots")!.columns.map(({ name }) => name)).toContain(odd);
  const { text } = view.cells[2]!;
  for (const each of completeChart(view, 2, text.indexOf("{  }") + 2)) expect(() => JSON.parse(accepted(text, each).split("\n")[1]!)).not.toThrow();
  const fields = completeChart({ ...view, cells: view.cells.with(2, { ...view.cells[2]!, text: text.replace("{  }", '{ "field": "" }') }) }, 2, text.indexOf("{  }") + 12);
  const found = fields.find(({ label }) => label === odd)!;
  expect(JSON.parse(found.insert)).toBe(odd);
  expect(found.documentation).toContain("``a$1}\"`[x](command:y)``");
});
test("anything can be cut off anywhere: no throw, and what is replaced holds the cursor on one line", async () => {
  const body = `${chartLine}{\n  "transform": [{ "filter": { "field": "head", "oneOf": ["Wren"] } }],\n  "mark": { "type": "point", "filled": true },\n  "encoding": {\n    "x": { "field": "carry", "scale": { "zero": false } },\n    "y": { "aggregate": "count" }\n  }\n}`;
  const { view, cell } = await chartView(`${body}¦`);
  const own = view.cells[cell]!;
  fc.assert(
    fc.property(fc.nat({ max: body.length }), fc.nat({ max: body.length }), fc.nat(), (from, length, at) => {
      const text = body.slice(0, from) + body.slice(from + length);
      const offset = at % (text.length + 1);
      const cells = view.cells.map((each) => (each === own ? { ...own, text } : each));
      for (const { replace } of completeChart({ ...view, cells }, cell, offset)) {
        expect(replace.from <= offset && offset <= replace.to).toBe(true);
        expect(text.slice(replace.from, replace.to)).not.toContain("\n");
      }
    }),
    { seed: 5, numRuns: 400 },
  );
});
