import * as fc from "fast-check";
import { expect, test } from "vitest";
import type { CellKind } from "../../../core/notebook/document";
import type { Suggestion } from "../../../server/language/answers";
import { completeHeader } from "../../../server/language/complete-header";
import { hoverHeader } from "../../../server/language/hover-header";
import { hoverQuery } from "../../../server/language/hover-query";
import { atMark, notebookView, smallFront } from "../../support/notebook-view";
import { accepted } from "./chart-view";

const body = '{ "mark": "point", "encoding": { "y": { "field": "carry" } } }';
const others: readonly (readonly [CellKind, string])[] = [smallFront, ["query", "query=stock\nshots.filter(d => d.carry > 150)"], ["query", "query=gap\nstock.count()"]];

/** The suggestions in a cell of this kind and marked text, the last of a notebook. */
async function suggestionsAt(kind: CellKind, marked: string): Promise<{ text: string; suggestions: readonly Suggestion[] }> {
  const { text, offset } = atMark(marked);
  const view = await notebookView([...others, [kind, text]]);
  return { text, suggestions: completeHeader(view, 3, offset) };
}

async function checkLabels(kind: CellKind, marked: string, ...expected: readonly string[]): Promise<void> {
  expect((await suggestionsAt(kind, marked)).suggestions.map(({ label }) => label)).toEqual(expected);
}

async function checkTaken(kind: CellKind, marked: string, label: string, expected: string): Promise<void> {
  const { text, suggestions } = await suggestionsAt(kind, marked);
  const found = suggestions.find((each) => each.label === label);
  expect(found, suggestions.map((each) => each.label).join(", ")).toBeDefined();
  expect(accepted(text, found!).replace(`\n${body}`, "")).toBe(expected);
}

async function checkHover(kind: CellKind, marked: string, about: string, part: string): Promise<void> {
  const { text, offset } = atMark(marked);
  const view = await notebookView([...others, [kind, text]]);
  const found = hoverHeader(view, 3, offset)!;
  expect(text.slice(found.from, found.to)).toBe(about);
  expect(found.markdown).toContain(part);
}

test("a first line where there is none, with a name that is free", async () => {
  await checkTaken("query", "¦", "query=", "query=cell_1");
  await checkTaken("query", "que¦", "query=", "query=cell_1");
  await checkTaken("chart", "¦", "chart=", 'chart=chart_1 table=shots description=""');
  await checkTaken("query", "¦stock.count()", "query=", "query=cell_1\nstock.count()");
  await checkLabels("query", "sto¦ck.count()");
  await checkLabels("query", "stock ¦");
});
test("attributes that are not there yet", async () => {
  await checkLabels("chart", `chart=c ¦\n${body}`, "table", "description");
  await checkLabels("chart", `chart=c table=shots ¦\n${body}`, "description");
  await checkLabels("chart", `chart=c ta¦ description=""\n${body}`, "table");
  await checkLabels("query", "query=q ¦\nstock");
  await checkTaken("chart", `chart=c ¦\n${body}`, "table", "chart=c table=shots");
  await checkTaken("chart", `chart=c table=shots ¦\n${body}`, "description", 'chart=c table=shots description="Points of carry (yd)."');
  await checkTaken("chart", `chart=c ta¦ble=shots\n${body}`, "table", "chart=c table=shots");
  await checkTaken("chart", `chart=c tab¦=shots\n${body}`, "table", "chart=c table=shots");
  await checkTaken("chart", `chart=c ¦table=shots\n${body}`, "description", 'chart=c description="Points of carry (yd)." table=shots');
  await checkTaken("chart", `chart=c description="x"¦\n${body}`, "table", 'chart=c description="x" table=shots');
});
test("L-08 tables, within quotes as well, without a quote too many or too few", async () => {
  await checkLabels("chart", `chart=c table=¦\n${body}`, "shots", "stock", "gap");
  await checkTaken("chart", `chart=c table=sto¦\n${body}`, "stock", "chart=c table=stock");
  await checkTaken("chart", `chart=c table="sto¦"\n${body}`, "stock", 'chart=c table="stock"');
  await checkTaken("chart", `chart=c table=¦"sto"\n${body}`, "stock", "chart=c table=stock");
  await checkTaken("chart", `chart=c table="sto¦\n${body}`, "stock", 'chart=c table="stock"');
  await checkTaken("chart", `chart=c table="sto¦ description="x"\n${body}`, "stock", 'chart=c table="stock description="x"');
});
test("a table is shown with its rows and columns", async () => {
  const { suggestions } = await suggestionsAt("chart", `chart=c table=¦\n${body}`);
  expect(suggestions[0]).toMatchObject({ detail: expect.stringContaining("12 rows"), documentation: expect.stringContaining("carry") });
});
test("tables of cells that need this one are left out", async () => {
  const view = await notebookView([smallFront, ["chart", "chart=c table=\n{}"], ["query", "query=a\nc.count()"], ["query", "query=b\na.count()"], ["query", "query=free\nshots"]]);
  expect(completeHeader(view, 1, 14).map(({ label }) => label)).toEqual(["shots", "free"]);
});
test("names: those that are wanted elsewhere, and a free one", async () => {
  const view = await notebookView([smallFront, ["query", "query="], ["query", "query=b\nwanted.count()"], ["query", "query=cell_1\nshots"]]);
  expect(completeHeader(view, 1, 6).map(({ label }) => label)).toEqual(["wanted", "cell_2"]);
});
test("a description from what is drawn", async () => {
  await checkTaken("chart", `chart=c table=shots description="¦"\n${body}`, "Points of carry (yd).", 'chart=c table=shots description="Points of carry (yd)."');
  await checkTaken("chart", `chart=c table=shots description=¦\n${body}`, "Points of carry (yd).", 'chart=c table=shots description="Points of carry (yd)."');
  await checkLabels("chart", 'chart=c table=shots description="¦"\n{');
});
test("what an attribute says, and the table that it names", async () => {
  await checkHover("chart", `chart=c ta¦ble=stock\n${body}`, "table", "the name of a query cell");
  await checkHover("chart", `chart=c table="st¦ock"\n${body}`, "stock", "columns");
  await checkHover("chart", `chart=c table=no¦ne\n${body}`, "none", "the name of a query cell");
  await checkHover("query", "query=ne¦w\nstock.count()", "new", "1 column");
});
test("any line, anywhere: no throw, and what is replaced holds the cursor on the line", async () => {
  const piece = fc.constantFrom("chart=c", "query=q", " ", "table=", "sto", '"', "'", "=", "description=", "\t", "é", "\n");
  const view = await notebookView([...others, ["chart", ""]]);
  fc.assert(
    fc.property(fc.array(piece, { maxLength: 10 }), fc.nat(), fc.constantFrom<CellKind>("query", "chart"), (pieces, at, kind) => {
      const text = pieces.join("");
      const offset = at % (text.length + 1);
      const changed = { ...view, cells: view.cells.with(3, { ...view.cells[3]!, text, kind }) };
      hoverHeader(changed, 3, offset);
      for (const { replace } of completeHeader(changed, 3, offset)) {
        expect(replace.from <= offset && offset <= replace.to).toBe(true);
        expect(text.slice(replace.from, replace.to)).not.toContain("\n");
      }
    }),
    { seed: 3, numRuns: 500 },
  );
});

test("a chart's table is told of as in a query: its columns as code, no more than have room, and its sessions", async () => {
  const { text, offset } = atMark(`chart=c table=sho¦ts\n${body}`);
  const wide = `query=stock\nshots.derive({ ${Array.from({ length: 80 }, (_, i) => `column_${i}: d => d.carry`).join(", ")} })`;
  const view = await notebookView([smallFront, ["query", wide], ["chart", text], ["chart", text.replace("shots", "stock")]]);
  const shots = hoverHeader(view, 2, offset)!.markdown;
  expect(shots).toBe(hoverQuery(await notebookView([smallFront, ["query", "query=q\nshots"]]), 1, 9)!.markdown);
  const columns = /^Columns: `(.*)`$/mu.exec(hoverHeader(view, 3, offset)!.markdown)![1]!;
  expect(columns).toMatch(/ …$/u);
  expect(columns.length).toBeLessThan(320);
});
