import { expect, test } from "vitest";
import type { TablePayload } from "../../core/present/payload";
import { defaultLimits } from "../../core/limits";
import { parseNotebook } from "../../core/notebook/parse-notebook";
import { createKernelProcess } from "../../extension/host/kernel-process";
import { createResultsStore } from "../../extension/host/results-store";
import { nodeKernelWorkers, nodeResultsWorkers } from "../../extension/node/kernel-worker";
import { bundle } from "../support/bundle";
import { memoryFiles } from "../support/memory-files";
import { notebookText, smallFiles } from "../support/small-session";

const many = "query=many\nshots" + ".concat(shots)".repeat(defaultLimits.rowsShown);

test("rows of a finished table can be paged through when its kernel is gone, in its own notebook, until that closes", async () => {
  const program = await bundle("server/node-main.ts", "cjs");
  const store = createResultsStore(nodeResultsWorkers(program));
  const kernel = createKernelProcess(store.fedBy(nodeKernelWorkers(program), "mine"), memoryFiles(smallFiles));
  const tables: TablePayload[] = [];
  const document = parseNotebook(notebookText("shots: s/one.session.yaml", many)).value;
  const end = await kernel.run("n.shots.md", document, [1], { onStart: () => undefined, onCell: (cell) => tables.push(...cell.results.filter((result) => result.type === "table")) });
  expect(end).toMatchObject({ fault: null, cancelled: false });
  await kernel.end();
  const [table] = tables;
  const handle = table!.handle!;
  const last = { kind: "page", order: null, from: table!.row_count - 1, count: 100 } as const;
  expect(await store.ask("mine", handle, last)).toMatchObject({ kind: "rows", rows: { length: 1 } });
  expect(await store.ask("mine", handle, { ...last, from: 0 })).toEqual({ kind: "rows", rows: table!.rows.slice(0, 100) });
  expect(await store.ask("other", handle, last)).toEqual({ kind: "expired" });
  const csv = await store.ask("mine", handle, { ...last, kind: "csv" });
  expect(csv.kind === "said" ? csv.text.split("\r\n") : []).toHaveLength(2);
  store.drop("mine");
  expect(await store.ask("mine", handle, last)).toEqual({ kind: "expired" });
  store.dispose();
});
