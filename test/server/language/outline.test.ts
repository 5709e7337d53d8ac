import { assert, integer, property } from "fast-check";
import { expect, test } from "vitest";
import type { CellKind } from "../../../core/notebook/document";
import type { SymbolAnswer } from "../../../server/language/answers";
import { foldsOf, linksOf, symbolsOf } from "../../../server/language/outline";
import { notebookView, smallFront } from "../../support/notebook-view";

async function checkSymbols(kind: CellKind, text: string, ...expected: readonly string[]): Promise<void> {
  const view = await notebookView([smallFront, [kind, text]]);
  const inWords = (symbol: SymbolAnswer, depth = 0): readonly string[] => {
    const { name, kind: of, detail, nameSpan, children } = symbol;
    const line = `${"  ".repeat(depth)}${of} ${name}${detail === "" ? "" : ` (${detail})`} at ${text.slice(nameSpan.from, nameSpan.to).replaceAll("\n", "\\n")}`;
    return [line, ...children.flatMap((child) => inWords(child, depth + 1))];
  };
  expect(symbolsOf(view, 1).flatMap((symbol) => inWords(symbol))).toEqual(expected);
}

test("a cell with what it gives", () => checkSymbols("query", 'query=a\nshots.select("head")', "cell a (1 column, 12 rows) at a"));
test("constants and new columns are its children", () =>
  checkSymbols(
    "query",
    'query=a\nconst limit = 150\nconst w = shots.groupby("head").count()\nw.derive({ more: d => d.count - limit }).rename({ count: "n" })',
    "cell a (3 columns) at a",
    "  constant limit (150) at limit",
    "  constant w (2 columns) at w",
    "  column more (numbers) at more",
    "  column n (numbers) at n",
  ));
test("a chart in a query", () => checkSymbols("query", "query=a\nchart.landing(shots)", "chart a (landing chart) at a"));
test("a text", () => checkSymbols("query", "query=a\ntext`b`", "cell a (text) at a"));
test("a chart cell", () => checkSymbols("chart", "chart=c table=shots\n{}", "chart c (chart of shots) at c"));
test("a cell that does not parse", () => checkSymbols("query", "query=a\nconst w = shots.filter(", "cell a at a", "  constant w at w"));
test("a cell without a header line is called by its place", () => checkSymbols("query", "shots.count()", "cell cell 2 (1 column) at shots.count()"));
test("an empty cell is none", () => checkSymbols("query", " \n"));
test("headings", () =>
  checkSymbols("prose", "a\n\n# One *b*\n\ntext\n\n## Two ##\n\n```\n# no\n```\n\nThree\n-----\n> # quoted", "section One *b* at # One *b*", "section Two at ## Two ##", "section Three at Three\\n-----"));
test("a heading at the end of its cell", () => checkSymbols("prose", "# One", "section One at # One"));
test("keys of the front matter", async () => {
  const view = await notebookView([["front", "title: T\nshots:\n  - s/one.session.yaml\nmargin: { carry: 3 yd }"]]);
  expect(symbolsOf(view, 0).map(({ name, detail, kind }) => `${kind} ${name} ${detail}`)).toEqual(["key title T", "key shots ", "key margin "]);
});

async function checkFolds(kind: CellKind, text: string, ...expected: readonly string[]): Promise<void> {
  const view = await notebookView([smallFront, [kind, text]]);
  expect(foldsOf(view, 1).map(({ from, to }) => text.slice(from, to))).toEqual(expected);
}

test("brackets fold down to the line before they close", () => checkFolds("query", "query=a\nshots.compare({\n  of: 1,\n  by: 2,\n})", "({\n  of: 1,\n  by: 2,"));
test("brackets within brackets", () => checkFolds("query", "query=a\nf(\n[\n1,\n2\n])", "(\n[\n1,\n2", "[\n1,\n2"));
test("brackets on one line, or around nothing, do not fold", () => checkFolds("query", "query=a\nf({ a: [1] })\nf(\n)"));
test("brackets in texts and comments are none", () => checkFolds("query", 'query=a\nf("(",\n// (\n")")', "(\"(\",\n// ("));
test("a bracket that is never closed does not hinder another", () => checkFolds("query", "query=a\nf([\n1\n)", "([\n1"));
test("comments", () => checkFolds("query", "query=a\n// a\n// b\nshots // c\n// d\n/* e\nf */", "// a\n// b", "/* e\nf */"));
test("a chart's braces", () => checkFolds("chart", 'chart=c table=shots\n{\n  "mark": "point"\n}', '{\n  "mark": "point"'));
test("values of the front matter", async () => {
  const text = "title: T\nshots:\n  - s/one.session.yaml\n  - s/two.session.yaml\nseed: 1";
  const view = await notebookView([["front", text]]);
  expect(foldsOf(view, 0).map(({ from, to }) => text.slice(from, to))).toEqual(["shots:\n  - s/one.session.yaml\n  - s/two.session.yaml"]);
});

async function checkLinks(kind: CellKind, text: string, ...expected: readonly string[]): Promise<void> {
  const view = await notebookView([[kind, text]]);
  expect(linksOf({ ...view, path: "notes/n.shots.md" }, 0).map(({ from, to, path }) => `${text.slice(from, to)} -> ${path}`)).toEqual(expected);
}

test("a session's path leads to its file", () => checkLinks("query", 'query=a\nsession("../s/one.session.yaml")', "../s/one.session.yaml -> s/one.session.yaml"));
test("the path in a cell that does not parse", () => checkLinks("query", 'query=a\nsession("s/one.session.yaml").filter(', "s/one.session.yaml -> notes/s/one.session.yaml"));
test("a folder's sessions and a path that leads outside have no link", () => checkLinks("query", 'query=a\nsessions("s/*.session.yaml").concat(session("../../x.session.yaml"))'));
test("the front matter's sessions", () =>
  checkLinks("front", "shots:\n  - s/one.session.yaml\n  - t/*.session.yaml\n  - u/two.session.yaml", "s/one.session.yaml -> notes/s/one.session.yaml", "u/two.session.yaml -> notes/u/two.session.yaml"));
test("prose has no links of ours", () => checkLinks("prose", "s/one.session.yaml"));

const samples: readonly (readonly [CellKind, string])[] = [
  ["query", 'query=a\nconst w = session("s/one.session.yaml").derive({\n "a b": d => (d.carry /* x\n */),\n})\nw'],
  ["chart", 'chart=c table=shots\n{ "mark": [\n"point"], "encoding": {\n"x": { "field": "carry" } } }'],
  ["prose", "# a\n\nb\n===\n\n```\n# c\n"],
  ["front", "title: T\nshots:\n  - s/one.session.yaml\nmargin: {\n carry: 3 yd }"],
];

test("any cut of a cell gives stretches within it, names within their symbols", async () => {
  const cuts = await Promise.all(samples.flatMap(([kind, text]) => Array.from({ length: 12 }, (_, i) => notebookView([[kind, text.slice(0, Math.ceil((text.length * (i + 1)) / 12))]]))));
  assert(
    property(integer({ min: 0, max: cuts.length - 1 }), (which) => {
      const view = cuts[which]!;
      const { length } = view.cells[0]!.text;
      const isWithin = (inner: { from: number; to: number }, outer: { from: number; to: number }): boolean => outer.from <= inner.from && inner.from <= inner.to && inner.to <= outer.to;
      const check = (symbol: SymbolAnswer, around: { from: number; to: number }): void => {
        expect(isWithin(symbol, around) && isWithin(symbol.nameSpan, symbol)).toBe(true);
        symbol.children.forEach((child) => check(child, symbol));
      };
      symbolsOf(view, 0).forEach((symbol) => check(symbol, { from: 0, to: length }));
      for (const span of [...foldsOf(view, 0), ...linksOf(view, 0)]) expect(isWithin(span, { from: 0, to: length }) && span.from < span.to).toBe(true);
    }),
    { seed: 8, numRuns: 150 },
  );
});
