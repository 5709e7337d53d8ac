import { readFileSync, readdirSync } from "node:fs";
import path from "node:path";
import * as fc from "fast-check";
import { expect, test } from "vitest";
import type { CellKind } from "../../../core/notebook/document";
import { parseNotebook } from "../../../core/notebook/parse-notebook";
import { lineTable } from "../../../core/text-position";
import type { NotebookView } from "../../../server/language/notebook-view";
import { occurrencesOf, type Occurrence } from "../../../server/language/occurrences";
import { notebookView, smallFront } from "../../support/notebook-view";

const samples = path.resolve(import.meta.dirname, "../../../sample-notebooks");

type Cells = readonly (readonly [CellKind, string])[];

/** Each occurrence as `role name`, `!` before a declaration, in the last of the cells. */
async function inLast(cells: Cells): Promise<readonly Occurrence[]> {
  const view = await notebookView([smallFront, ...cells]);
  return occurrencesOf(view, cells.length);
}

async function checkNames(text: string, expected: readonly string[]): Promise<void> {
  const found = await inLast([["query", `query=it\n${text}`]]);
  expect(found.slice(1).map((each) => `${each.isDeclaration ? "!" : ""}${each.role} ${each.name}`)).toEqual(expected);
}

/** The symbols of the occurrences of columns called `name` in the last cell. */
async function checkSymbols(cells: Cells, name: string, expected: readonly (string | null)[]): Promise<void> {
  const found = await inLast(cells);
  expect(found.filter((each) => each.role === "column" && each.name === name).map((each) => each.symbol)).toEqual(expected);
}

test("names of a row function", () =>
  checkNames('shots.filter(d => op.abs(d.carry) > 1 && d["head"] === "Wren")', [
    "cell shots", "verb filter", "!row d", "function abs", "row d", "column carry", "row d", "column head", "value Wren",
  ]));

test("names of options, choices and values", () =>
  checkNames('shots.compare({ of: "carry", by: "head", strikes: "as struck", against: "Wren" })', [
    "cell shots", "verb compare", "option of", "column carry", "option by", "column head", "option strikes", "choice as struck", "option against", "value Wren",
  ]));

test("names of aggregates and ordering", () =>
  checkNames('shots.groupby("head").rollup({ typical: op.median("carry") }).orderby(op.desc("typical"))', [
    "cell shots", "verb groupby", "column head", "verb rollup", "!column typical", "aggregate median", "column carry", "verb orderby", "function desc", "column typical",
  ]));

test("names of constants, sources and charts", () =>
  checkNames('const far = 150; const s = session("s/one.session.yaml"); chart.landing(s.filter(x => x.carry > far), { by: "head" })', [
    "!constant far", "!constant s", "source session", "path s/one.session.yaml", "chart kind landing", "constant s", "verb filter", "!row x", "row x", "column carry",
    "constant far", "option by", "column head",
  ]));

test("names in the holes of a text", () =>
  checkNames('text`It was ${shots.rollup({ far: op.max("carry") }).one("far")} and ${shots.describe({ of: "carry" }).sentences()}.`', [
    "cell shots", "verb rollup", "!column far", "aggregate max", "column carry", "verb one", "column far", "cell shots", "verb describe", "option of", "column carry", "verb sentences",
  ]));

test("a constant that holds a column's name or a value is an occurrence of it", () =>
  checkNames('const by = "head"; const who = "Wren"; shots.groupby(by).count().filter(d => d.head === who)', [
    "!constant by", "column head", "!constant who", "value Wren", "cell shots", "verb groupby", "constant by", "verb count", "verb filter", "!row d", "row d", "column head", "constant who",
  ]));

test("constants that name one another end", () =>
  checkNames('const a = b; const b = a; shots.groupby(b)', ["!constant a", "cell b", "!constant b", "constant a", "cell shots", "verb groupby", "constant b"]));

test("names of a cell that cannot be parsed", () =>
  checkNames('const far = 150; shots.filter(d => d.carry > far && d["head"] === ).select(', [
    "!constant far", "cell shots", "verb filter", "!row d", "row d", "column carry", "constant far", "row d", "column head", "verb select",
  ]));

test("names of a cell whose verb is not known", () =>
  checkNames('shots.derive({ long: d => d.carry > 150 }).filtr(d => d.long)', ["cell shots", "verb derive", "!column long", "!row d", "row d", "column carry", "verb filtr", "!row d", "row d", "column long"]));

const derived = ["query", "query=a\nshots.derive({ curve: d => d.offline })"] as const;

test("a shot column is the same thing in every cell", () => checkSymbols([derived, ["query", "query=b\na.filter(d => d.carry > 1)"]], "carry", ["shot column:carry"]));
test("a derived column is declared at its entry, across cells", () =>
  checkSymbols([derived, ["query", 'query=b\na.filter(d => d.curve > 1).select("curve")']], "curve", ["column:1:23", "column:1:23"]));
test("rename declares its new name", () =>
  checkSymbols([derived, ["query", 'query=b\na.rename({ curve: "bend" }).filter(d => d.bend > 1)']], "bend", ["column:2:27", "column:2:27"]));
test("derive sees the table as it was before", () =>
  checkSymbols([["query", "query=b\nshots.derive({ carry: d => d.carry * 2 }).filter(d => d.carry > 1)"]], "carry", ["column:1:23", "shot column:carry", "column:1:23"]));
test("grouped columns pass through rollup, others do not", () =>
  checkSymbols([["query", 'query=b\nshots.groupby("head").rollup({ carry: op.mean("carry") }).filter(d => d.head === "Wren" && d.carry > 1)']], "head", [
    "shot column:head",
    "shot column:head",
  ]));
test("join puts _1 and _2 behind names that both tables have", () =>
  checkSymbols([derived, ["query", 'query=b\na.join(a, "shot").filter(d => d.curve_1 > d.curve_2)']], "curve_1", ["column:1:23"]));
test("a verb's own column has no name to declare", () =>
  checkSymbols([["query", 'query=b\nshots.compare({ of: "carry", by: "head" }).select("head", "difference")']], "difference", ["made:1:14:difference"]));
test("a verb of the trade passes on what it groups by", () =>
  checkSymbols(
    [["query", 'query=b\nshots.derive({ who: d => d.head }).describe({ of: "carry", by: "who" }).filter(d => d.who === "Wren")']],
    "who",
    ["column:1:23", "column:1:23", "column:1:23"],
  ));
test("a verb whose rows stay shots passes on their columns", () =>
  checkSymbols([derived, ["query", "query=b\na.putBack().filter(d => d.curve > 1)"]], "curve", ["column:1:23"]));

test("a chart's fields are columns of its table", () =>
  checkSymbols([derived, ["chart", 'chart=c table=a description="d"\n{ "mark": "point", "encoding": { "x": { "field": "curve" } } }']], "curve", ["column:1:23"]));
test("a chart with a mistake in it has fields all the same", () =>
  checkSymbols([derived, ["chart", 'chart=c table=a\n{ "mark": "dot", "encoding": { "x": { "field": "curve" } } }']], "curve", ["column:1:23"]));
test("a chart that is no JSON has fields all the same", () =>
  checkSymbols([derived, ["chart", 'chart=c table=a\n{ "mark": "point", "encoding": { "x": { "field": "curve" ']], "curve", ["column:1:23"]));

/** The cells of a sample notebook, with the files that it names. */
async function sampleView(name: string): Promise<NotebookView> {
  const document = parseNotebook(readFileSync(path.join(samples, name), "utf8")).value;
  const files = Object.fromEntries(
    readdirSync(path.join(samples, "sessions")).map((file) => [`sessions/${file}`, readFileSync(path.join(samples, "sessions", file), "utf8")]),
  );
  return notebookView(document.cells.map(({ kind, text }) => [kind, text] as const), files);
}

test.each(readdirSync(samples).filter((name) => name.endsWith(".shots.md")))("every name that the check of %s reports as used is an occurrence", async (name) => {
  const view = await sampleView(name);
  for (const { index, text, checked } of view.cells) {
    const lines = lineTable(text);
    const found = new Set(occurrencesOf(view, index).filter((each) => each.role === "cell").map(({ from, to, name: cell }) => `${from} ${to} ${cell}`));
    for (const { range, name: cell } of checked.references) expect(found).toContain(`${lines.offsetAt(range.start)} ${lines.offsetAt(range.end)} ${cell}`);
  }
});

test.each(readdirSync(samples).filter((name) => name.endsWith(".shots.md")))("every column that %s names has a declaration or is a verb's own", async (name) => {
  const view = await sampleView(name);
  const unknown = view.cells.flatMap(({ index }) => occurrencesOf(view, index).filter((each) => each.role === "column" && each.symbol === null).map((each) => `${index} ${each.name}`));
  expect(unknown).toEqual([]);
});

test("any beginning of a cell has occurrences in order, on their names and apart", async () => {
  const cells = [
    'query=it\nconst by = "head";\nshots.derive({ "odd name": d => d["carry"] / 2 }).groupby(by).rollup({ far: op.max("odd name") })',
    'query=it\ntext`far ${shots.rollup({ far: op.max("carry") }).one("far", 1)} out`',
    'chart=it table=shots description="x"\n{ "mark": "point", "encoding": { "x": { "field": "carry" } } }',
  ];
  await fc.assert(
    fc.asyncProperty(fc.constantFrom(...cells), fc.nat(120), fc.nat(10), async (text, keep, skip) => {
      const cut = text.slice(0, keep) + text.slice(keep + skip);
      const view = await notebookView([smallFront, [text.startsWith("chart") ? "chart" : "query", cut]]);
      let end = 0;
      for (const { from, to } of occurrencesOf(view, 1)) {
        expect(from).toBeGreaterThanOrEqual(end);
        expect(to).toBeGreaterThan(from);
        end = to;
      }
      expect(end).toBeLessThanOrEqual(cut.length);
    }),
    { seed: 5, numRuns: 60 },
  );
});
