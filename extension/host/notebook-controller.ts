import * as vscode from "vscode";
import type { Basis } from "../../core/basis";
import { languageOfKind, notebookType } from "../../core/notebook/cell-languages";
import type { PresentedCell } from "../../core/present/present-outcome";
import type { ReportForm } from "../../core/report/write-report";
import { createCellExecutions, type CellExecutions } from "./cell-executions";
import { controllerId, trackChosen, type ChosenNotebooks } from "./chosen-notebooks";
import { createKernelProcess, type KernelProcess } from "./kernel-process";
import { faultOutput, outputsOf } from "./outputs";
import type { Platform } from "./platform";
import { documentOf } from "./serializer";
import { ownerOf, type ResultsStore } from "./results-store";
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

/** A result that a cell shows now. */
export interface ShownResult {
  readonly cell: vscode.NotebookCell;
  readonly result: PresentedCell;
  /** How long it took to compute, by the clock of this machine; `null` where it was kept. */
  readonly milliseconds: number | null;
}

/** What runs cells, and a way to end a notebook's kernel. */
export interface Controller extends vscode.Disposable {
  readonly endKernel: (notebook: vscode.NotebookDocument) => Promise<void>;
  readonly hasKernel: (notebook: vscode.NotebookDocument) => boolean;
  /** Told when a notebook may have a kernel that it had not, or has none any more. */
  readonly onKernel: vscode.Event<void>;
  /** Runs cells of a notebook with what they need, as their own buttons do; ends when they have. */
  readonly run: (cells: readonly vscode.NotebookCell[], notebook: vscode.NotebookDocument) => Promise<void>;
  /** The notebooks whose cells this controller runs. */
  readonly chosen: ChosenNotebooks;
  /** Told whenever a cell shows a new result. */
  readonly onResult: vscode.Event<ShownResult>;
  /** What each cell of a notebook would be computed from now; `null` where nothing was run or it cannot be told. */
  readonly look: (notebook: vscode.NotebookDocument) => Promise<readonly Basis[] | null>;
  /**
   * Runs a notebook, so that its cells show what the report says, and makes the report; `null` when it was stopped.
   *
   * @param onRan called when the cells have run and the report is being written.
   */
  readonly report: (notebook: vscode.NotebookDocument, form: ReportForm, token: vscode.CancellationToken, onRan: () => void) => Promise<NotebookReport | null>;
}

/** A report of a notebook, or why there is none. */
export type NotebookReport =
  | { readonly text: string; readonly inputs: readonly vscode.Uri[]; readonly withoutResult: number }
  | { readonly fault: string };

/**
 * Returns what runs cells: one kernel a notebook, started with its first run and ended when the notebook closes.
 *
 * A run takes in every cell that the ones asked for need and that is out of date. In a workspace that is not trusted
 * nothing runs, whoever asks.
 */
export function createController({ startKernelWorker, runsWhere }: Platform, store: ResultsStore): Controller {
  const open = new Map<string, Running>();
  const results = new vscode.EventEmitter<ShownResult>();
  const kernels = new vscode.EventEmitter<void>();
  const controller = vscode.notebooks.createNotebookController(controllerId, notebookType, "Fairstrike");
  controller.supportedLanguages = [...languages];
  controller.supportsExecutionOrder = true;
  controller.description = runsWhere;
  const chosen = trackChosen(controller);
  let order = 0;

  function runningOf(notebook: vscode.NotebookDocument): Running {
    const key = notebook.uri.toString();
    const known = open.get(key);
    if (known !== undefined) return known;
    const place = placeOf(notebook.uri);
    const made: Running = {
      place,
      kernel: createKernelProcess(store.fedBy(startKernelWorker, ownerOf(notebook)), place.files),
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
    chosen.add(notebook);
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
    const started = new Map<number, number>();
    const ended = kernel.run(place.path, documentOf(notebook), present.map((cell) => cell.index), {
      onStart: (index) => {
        started.set(index, Date.now());
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
          results.fire({ cell, result: message, milliseconds: started.has(message.index) ? Date.now() - started.get(message.index)! : null });
        }
      },
    });
    kernels.fire();
    const end = await ended;
    kernels.fire();
    for (const cell of new Set([...wanted, ...cells])) {
      if (!executions.isOpen(cell) || (!wanted.includes(cell) && !executions.hasStarted(cell))) continue;
      if (end.fault !== null) executions.finish(cell, false, [faultOutput("Kernel", end.fault)]);
      else if (end.cancelled) stop(cell);
      else executions.finish(cell, undefined, null);
    }
    return executions.settled();
  }

  async function makeReport(notebook: vscode.NotebookDocument, form: ReportForm, token: vscode.CancellationToken, onRan: () => void): Promise<NotebookReport | null> {
    if (!vscode.workspace.isTrusted) return { fault: "cells run only in a trusted workspace." };
    const running = runningOf(notebook);
    const stopping = token.onCancellationRequested(() => void interrupt(notebook));
    try {
      // By the editor's own command: before a first run no controller is chosen, and cells cannot be run past it.
      await vscode.commands.executeCommand("notebook.execute", notebook.uri);
      const isStopped = (): boolean => token.isCancellationRequested || running.interrupted >= running.asked;
      if (isStopped()) return null;
      onRan();
      const number = ++running.asked;
      const nothing = (): void => undefined;
      const end = running.last.then(() =>
        number <= running.interrupted ? null : running.kernel.run(running.place.path, documentOf(notebook), [], { onStart: nothing, onCell: nothing }, form),
      );
      running.last = end.then(nothing, nothing);
      const { fault, report } = (await end) ?? { fault: null };
      if (fault !== null) return { fault };
      return report === undefined ? null : { ...report, inputs: [notebook.uri, ...report.inputs.map((input) => vscode.Uri.joinPath(running.place.root, input))] };
    } finally {
      stopping.dispose();
    }
  }

  async function interrupt(notebook: vscode.NotebookDocument): Promise<void> {
    const running = open.get(notebook.uri.toString());
    if (running === undefined) return;
    running.interrupted = running.asked;
    await running.kernel.cancel();
    kernels.fire();
  }

  function close(notebook: vscode.NotebookDocument): void {
    const key = notebook.uri.toString();
    void open.get(key)?.kernel.end();
    open.delete(key);
    store.drop(ownerOf(notebook));
  }

  controller.executeHandler = (cells, notebook) => execute(cells, notebook);
  controller.interruptHandler = interrupt;

  const closed = vscode.workspace.onDidCloseNotebookDocument(close);
  // The root of a notebook's data may be another now.
  const moved = vscode.workspace.onDidChangeWorkspaceFolders(() => vscode.workspace.notebookDocuments.forEach(close));

  return {
    run: execute,
    chosen,
    onResult: results.event,
    report: makeReport,
    look: async (notebook) => {
      const running = open.get(notebook.uri.toString());
      return running === undefined ? null : running.kernel.look(running.place.path, documentOf(notebook));
    },
    endKernel: async (notebook) => {
      await open.get(notebook.uri.toString())?.kernel.end();
      kernels.fire();
    },
    hasKernel: (notebook) => open.get(notebook.uri.toString())?.kernel.isStarted() === true,
    onKernel: kernels.event,
    dispose: () => {
      closed.dispose();
      chosen.dispose();
      moved.dispose();
      controller.dispose();
      results.dispose();
      kernels.dispose();
      for (const { kernel } of open.values()) void kernel.end();
      open.clear();
    },
  };
}
