import { expect, test } from "vitest";
import type { Wanted } from "../../../core/query/narrow-edits";
import { narrowedRequest, narrowingRequest, type NarrowedAnswer, type NarrowingAnswer } from "../../../server/language/requests";
import { startClient, type LanguageClient } from "../../support/language-client";

const front = ["fairstrike-front", "shots: s/one.session.yaml"] as const;
const stock = ["fairstrike-query", 'query=stock\nshots.filter(d => d.head === "Wren")'] as const;
const drawn = ["fairstrike-chart", 'chart=drawn table=stock description="Carry"\n{ "mark": "point" }'] as const;
const shotsDrawn = ["fairstrike-chart", 'chart=all table=shots description="Carry"\n{ "mark": "point" }'] as const;
const compared = ["fairstrike-query", 'query=gap\nstock.compare({ of: "carry", by: "head" })'] as const;
const late = ["fairstrike-query", "query=late\ngap.filter(d => d.n > 1)"] as const;

const at = (uri: string): { textDocument: { uri: string }; position: { line: number; character: number } } => ({ textDocument: { uri }, position: { line: 1, character: 0 } });

async function asked(client: LanguageClient, uri: string): Promise<Extract<NarrowingAnswer, { ok: true }>> {
  const answer = await client.connection.sendRequest<NarrowingAnswer>(narrowingRequest, at(uri));
  if (!answer.ok) throw new Error(answer.because);
  return answer;
}

const both: Wanted = { kind: "choice", column: "head", values: ["Heron"], missing: false };
const far: Wanted = { kind: "range", column: "carry", low: { value: 157 }, high: null, missing: false };

test("what a cell can be narrowed to is answered with counts, and what is wanted with edits and the rows that are left", async () => {
  const client = await startClient();
  const [, cell, chart] = await client.openNotebook([front, stock, drawn]);
  const found = await asked(client, cell!);
  expect(found).toMatchObject({ uri: cell, version: 1, name: "stock", isNewCell: false, rows: { all: 12, kept: 6 } });
  expect(found.facets[0]).toEqual({ kind: "choice", column: "head", values: [{ value: "Heron", count: 6, isTicked: false }, { value: "Wren", count: 6, isTicked: true }], missing: null });
  expect(found.facets.find(({ column }) => column === "carry")).toMatchObject({ kind: "range", unit: "yd", found: { low: 149, high: 161 } });
  // The chart draws that cell.
  expect((await asked(client, chart!)).uri).toBe(cell);
  const params = { ...at(chart!), version: 1, wanted: [both, far] };
  const narrowed = await client.connection.sendRequest<NarrowedAnswer>(narrowedRequest, params);
  expect(narrowed).toMatchObject({ ok: true, kept: 5, text: 'shots.filter(d => d.head === "Heron" && d.carry >= 157)', newCell: null });
  await client.changeCell(cell!, 2, "query=stock\nshots");
  await expect(client.connection.sendRequest(narrowedRequest, params)).rejects.toThrow(/changed/u);
});

test("a chart of the shots themselves is given a query cell of its own", async () => {
  const client = await startClient();
  const [, chart] = await client.openNotebook([front, shotsDrawn]);
  expect(await asked(client, chart!)).toMatchObject({ uri: chart, name: "narrowed", isNewCell: true, rows: { all: 12, kept: 12 } });
  const answer = await client.connection.sendRequest<NarrowedAnswer>(narrowedRequest, { ...at(chart!), version: 1, wanted: [both] });
  expect(answer).toMatchObject({ kept: 6, edits: [], newCell: { text: 'query=narrowed\nshots.filter(d => d.head === "Heron")', chart: shotsDrawn[1].replace("shots", "narrowed") } });
});

test("rows behind a verb that compares are not counted, and nothing ticked is refused", async () => {
  const client = await startClient();
  const [, cell, , behind] = await client.openNotebook([front, stock, compared, late]);
  expect((await asked(client, behind!)).rows).toBeNull();
  const answer = await client.connection.sendRequest<NarrowedAnswer>(narrowedRequest, { ...at(cell!), version: 1, wanted: [{ ...both, values: [] }] });
  expect(answer).toMatchObject({ ok: false, because: expect.stringContaining("tick one") as string });
});
