import { expect, test } from "vitest";
import type * as vscode from "vscode";
import { createCellExecutions } from "../../extension/host/cell-executions";

interface FakeCell {
  readonly document: { readonly uri: string };
  index: number;
}

/** An editor that, as the real one, allows a cell one execution at a time, and writes down what happens. */
function editor(options: { readonly outputFails?: boolean } = {}) {
  const said: string[] = [];
  const active = new Set<string>();
  let order = 0;
  const create = (cell: vscode.NotebookCell): vscode.NotebookCellExecution => {
    const name = cell.document.uri.toString();
    if (active.has(name)) throw new Error(`duplicate execution of ${name}`);
    active.add(name);
    said.push(`${name} waits`);
    const execution = {
      executionOrder: undefined,
      start: () => said.push(`${name} starts`),
      replaceOutput: () => (options.outputFails === true ? Promise.reject(new Error("gone")) : Promise.resolve(void said.push(`${name} shows`))),
      end: (success: boolean | undefined) => {
        active.delete(name);
        said.push(`${name} ends ${success}`);
      },
    };
    return execution as unknown as vscode.NotebookCellExecution;
  };
  return { executions: createCellExecutions(create, () => ++order), said, active };
}

const cellOf = (name: string): FakeCell => ({ document: { uri: name }, index: 0 });
const asCell = (cell: FakeCell): vscode.NotebookCell => cell as unknown as vscode.NotebookCell;

test("a cell waits, starts, shows and ends, once each", async () => {
  const { executions, said } = editor();
  const a = asCell(cellOf("a"));
  executions.wait(a);
  executions.begin(a);
  executions.begin(a);
  executions.finish(a, true, []);
  executions.finish(a, true, []);
  await executions.settled();
  expect(said).toEqual(["a waits", "a starts", "a shows", "a ends true"]);
});

test("R-02 two runs that ask for one cell share its execution", async () => {
  const { executions, said } = editor();
  const a = asCell(cellOf("a"));
  executions.wait(a);
  executions.wait(a);
  executions.finish(a, true, null);
  executions.wait(a);
  await executions.settled();
  executions.wait(a);
  expect(said).toEqual(["a waits", "a starts", "a ends true", "a waits"]);
});

test("R-03 the execution of a cell that was deleted ends, and shows nothing", async () => {
  const { executions, said, active } = editor();
  const cell = cellOf("a");
  executions.wait(asCell(cell));
  cell.index = -1;
  executions.finish(asCell(cell), true, []);
  await executions.settled();
  expect([said, active.size]).toEqual([["a waits", "a starts", "a ends true"], 0]);
});

test("a cell that was deleted before it was to run gets no execution", () => {
  const { executions, said } = editor();
  executions.begin(asCell({ ...cellOf("a"), index: -1 }));
  expect(said).toEqual([]);
});

test("an output that cannot be shown still ends its execution", async () => {
  const { executions, said, active } = editor({ outputFails: true });
  const a = asCell(cellOf("a"));
  executions.finish(a, true, []);
  await executions.settled();
  expect([said.at(-1), active.size]).toEqual(["a ends true", 0]);
});
