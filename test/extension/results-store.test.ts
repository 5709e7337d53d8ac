import { expect, test } from "vitest";
import { defaultLimits } from "../../core/limits";
import { parseNotebook } from "../../core/notebook/parse-notebook";
import type { ResultPayload } from "../../core/present/payload";
import { createKernelProcess } from "../../extension/host/kernel-process";
import { createResultsStore, type ResultsStore } from "../../extension/host/results-store";
import { nodeKernelWorkers, nodeResultsWorkers } from "../../extension/node/kernel-worker";
import { bundle } from "../support/bundle";
import { memoryFiles } from "../support/memory-files";
import { notebookText, smallFiles } from "../support/small-session";

const many = `shots${".concat(shots)".repeat(defaultLimits.rowsShown)}`;

/** A store, and the output of a cell of the notebook "mine" whose kernel has ended. */
async function runCell(text: string): Promise<{ readonly store: ResultsStore; readonly result: ResultPayload }> {
  const program = await bundle("server/node-main.ts", "cjs");
  const store = createResultsStore(nodeResultsWorkers(program));
  const kernel = createKernelProcess(store.fedBy(nodeKernelWorkers(program), "mine"), memoryFiles(smallFiles));
  const results: ResultPayload[] = [];
  const document = parseNotebook(notebookText("shots: s/one.session.yaml", `query=many\n${text}`)).value;
  const end = await kernel.run("n.shots.md", document, [1], { onStart: () => undefined, onCell: (cell) => results.push(...cell.results) });
  expect(end).toMatchObject({ fault: null, cancelled: false });
  await kernel.end();
  return { store, result: results[0]! };
}

test("rows of a finished table can be paged through when its kernel is gone, in its own notebook, until that closes", async () => {
  const { store, result: table } = await runCell(many);
  if (table.type !== "table") throw new Error("no table");
  const handle = table.handle!;
  const last = { kind: "page", order: null, from: table.row_count - 1, count: 100 } as const;
  expect(await store.ask("mine", handle, last)).toMatchObject({ kind: "rows", rows: { length: 1 } });
  expect(await store.ask("mine", handle, { ...last, from: 0 })).toEqual({ kind: "rows", rows: table.rows.slice(0, 100) });
  expect(await store.ask("other", handle, last)).toEqual({ kind: "expired" });
  const csv = await store.ask("mine", handle, { ...last, kind: "csv" });
  expect(csv.kind === "said" ? csv.text.split("\r\n") : []).toHaveLength(2);
  store.drop("mine");
  expect(await store.ask("mine", handle, last)).toEqual({ kind: "expired" });
  store.dispose();
});

test("the table that a chart draws can be paged through too", async () => {
  const { store, result: chart } = await runCell(`chart.order(${many}, { of: "carry" })`);
  if (chart.type !== "chart") throw new Error("no chart");
  const { table } = chart;
  expect(table.rows.length).toBeLessThan(table.row_count);
  expect(await store.ask("mine", table.handle!, { kind: "page", order: null, from: table.row_count - 1, count: 100 })).toMatchObject({ kind: "rows", rows: { length: 1 } });
  store.dispose();
});
