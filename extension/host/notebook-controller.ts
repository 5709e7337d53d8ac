import * as vscode from "vscode";
import type { Basis } from "../../core/basis";
import { languageOfKind, notebookType } from "../../core/notebook/cell-languages";
import { createCellExecutions, type CellExecutions } from "./cell-executions";
import { createKernelProcess, type KernelProcess } from "./kernel-process";
import { faultOutput, outputsOf } from "./outputs";
import { documentOf } from "./serializer";
import { placeOf, type NotebookPlace } from "./workspace-files";

/** Languages of the cells that run. */
const languages: readonly string[] = [languageOfKind.query, languageOfKind.chart];

/** What belongs to one open notebook. */
interface Running {
  readonly place: NotebookPlace;
  readonly kernel: KernelProcess;
  readonly executions: CellExecutions;
  /** Runs go one after another; the end of the last one that was asked for. */
  last: Promise<void>;
  /** How many runs were asked for, and the number of the last that was interrupted. */
  asked: number;
  interrupted: number;
}

/** What runs cells, and a way to end a notebook's kernel. */
export interface Controller extends vscode.Disposable {
  readonly endKernel: (notebook: vscode.NotebookDocument) => Promise<void>;
  /** Told whenever a cell shows a new result, with what that was computed from. */
  readonly onResult: vscode.Event<{ readonly cell: vscode.NotebookCell; readonly basis: Basis }>;
  /** What each cell of a notebook would be computed from now; `null` where nothing was run or it cannot be told. */
  readonly look: (notebook: vscode.NotebookDocument) => Promise<readonly Basis[] | null>;
}

/**
 * Returns what runs cells: one kernel a notebook, started with its first run and ended when the notebook closes.
 *
 * A run takes in every cell that the ones asked for need and that is out of date. In a workspace that is not trusted
 * nothing runs, whoever asks.
 */
export function createController(kernelScript: string): Controller {
  const open = new Map<string, Running>();
  const results = new vscode.EventEmitter<{ readonly cell: vscode.NotebookCell; readonly basis: Basis }>();
  const controller = vscode.notebooks.createNotebookController("fairstrike-kernel", notebookType, "Fairstrike");
  controller.supportedLanguages = [...languages];
  controller.supportsExecutionOrder = true;
  controller.description = "runs on this machine, offline";
  let order = 0;

  function runningOf(notebook: vscode.NotebookDocument): Running {
    const key = notebook.uri.toString();
    const known = open.get(key);
    if (known !== undefined) return known;
    const place = placeOf(notebook.uri);
    const made: Running = {
      place,
      kernel: createKernelProcess(kernelScript, place.files),
      executions: createCellExecutions((cell) => controller.createNotebookCellExecution(cell), () => ++order),
      last: Promise.resolve(),
      asked: 0,
      interrupted: 0,
    };
    open.set(key, made);
    return made;
  }

  function refuse({ executions }: Running, cells: readonly vscode.NotebookCell[]): Promise<void> {
    const why = "Cells run only in a trusted workspace. Trust it to run them; looking needs no trust.";
    for (const cell of cells) executions.finish(cell, false, [faultOutput("Restricted Mode", why)]);
    return executions.settled();
  }

  async function execute(asked: readonly vscode.NotebookCell[], notebook: vscode.NotebookDocument): Promise<void> {
    const running = runningOf(notebook);
    const wanted = asked.filter((cell) => languages.includes(cell.document.languageId));
    if (!vscode.workspace.isTrusted) return refuse(running, wanted);
    for (const cell of wanted) running.executions.wait(cell);
    const number = ++running.asked;
    // A run that fails has said so in its cells; the next one goes on all the same.
    const run = running.last.then(() => runCells(running, wanted, notebook, number));
    running.last = run.catch(() => undefined);
    return run;
  }

  async function runCells(running: Running, wanted: readonly vscode.NotebookCell[], notebook: vscode.NotebookDocument, number: number): Promise<void> {
    const { executions, kernel, place } = running;
    const stop = (cell: vscode.NotebookCell): void => {
      const hadBegun = executions.hasStarted(cell);
      executions.finish(cell, undefined, hadBegun ? [faultOutput("Stopped", "The cell was stopped before it gave a result.")] : null);
    };
    const present = wanted.filter((cell) => cell.index >= 0);
    if (number <= running.interrupted || present.length === 0) {
      for (const cell of wanted) stop(cell);
      return executions.settled();
    }
    const cells = notebook.getCells();
    const versions = cells.map((cell) => cell.document.version);
    const end = await kernel.run(place.path, documentOf(notebook), present.map((cell) => cell.index), {
      onStart: (index) => {
        const cell = cells[index];
        if (cell !== undefined) executions.begin(cell);
      },
      onCell: (message) => {
        const cell = cells[message.index];
        // A cell that nobody asked for and whose result still holds keeps what it shows.
        if (cell === undefined || (message.kept && !executions.isOpen(cell))) return;
        // The text has moved on while the cell ran: its result would be shown below text that did not give it.
        if (cell.document.version !== versions[message.index]) executions.finish(cell, undefined, []);
        else {
          executions.finish(cell, message.status === "ok", outputsOf(message));
          results.fire({ cell, basis: message.basis });
        }
      },
    });
    for (const cell of new Set([...wanted, ...cells])) {
      if (!executions.isOpen(cell) || (!wanted.includes(cell) && !executions.hasStarted(cell))) continue;
      if (end.fault !== null) executions.finish(cell, false, [faultOutput("Kernel", end.fault)]);
      else if (end.cancelled) stop(cell);
      else executions.finish(cell, undefined, null);
    }
    return executions.settled();
  }

  async function interrupt(notebook: vscode.NotebookDocument): Promise<void> {
    const running = open.get(notebook.uri.toString());
    if (running === undefined) return;
    running.interrupted = running.asked;
    await running.kernel.cancel();
  }

  function close(notebook: vscode.NotebookDocument): void {
    const key = notebook.uri.toString();
    void open.get(key)?.kernel.end();
    open.delete(key);
  }

  controller.executeHandler = (cells, notebook) => execute(cells, notebook);
  controller.interruptHandler = interrupt;

  const closed = vscode.workspace.onDidCloseNotebookDocument(close);
  // The root of a notebook's data may be another now.
  const moved = vscode.workspace.onDidChangeWorkspaceFolders(() => vscode.workspace.notebookDocuments.forEach(close));

  return {
    onResult: results.event,
    look: async (notebook) => {
      const running = open.get(notebook.uri.toString());
      return running === undefined ? null : running.kernel.look(running.place.path, documentOf(notebook));
    },
    endKernel: async (notebook) => open.get(notebook.uri.toString())?.kernel.end(),
    dispose: () => {
      closed.dispose();
      moved.dispose();
      controller.dispose();
      results.dispose();
      for (const { kernel } of open.values()) void kernel.end();
      open.clear();
    },
  };
}
