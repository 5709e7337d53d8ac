import * as vscode from "vscode";
import { changedSince, type Basis } from "../../core/basis";
import { notebookType } from "../../core/notebook/cell-languages";
import type { Controller } from "./notebook-controller";
import { watchInputs } from "./watch-inputs";

/** Time after the last change before a notebook is looked at again. */
const pauseMilliseconds = 250;

/** Which results no longer hold. */
export interface OutOfDate extends vscode.Disposable {
  /** What has changed since the result of a cell was computed, for a reader; empty while it holds, and for a cell that was not run. */
  readonly changed: (cell: vscode.NotebookCell) => readonly string[];
  /** The cells of a notebook that were run and whose results no longer hold, in the order of the page. */
  readonly cells: (notebook: vscode.NotebookDocument) => readonly vscode.NotebookCell[];
  /** Looks at a notebook now. */
  readonly look: (notebook: vscode.NotebookDocument) => Promise<void>;
  /** Told when a notebook was looked at, or one of its cells run. */
  readonly onDidChange: vscode.Event<vscode.NotebookDocument>;
  /** Told at once when a session file or an export that a notebook names was changed, made or deleted, by whomever. */
  readonly onFile: vscode.Event<vscode.NotebookDocument>;
}

/**
 * Keeps track of what each cell's result was computed from, and of what of that has changed since: its own text, that of a
 * cell it needs, a session file, an export. Files count as they are saved.
 */
export function trackOutOfDate(controller: Controller): OutOfDate {
  /** What the result that each cell shows was computed from, by the cell's document. */
  const shown = new WeakMap<vscode.TextDocument, Basis>();
  const changed = new WeakMap<vscode.TextDocument, readonly string[]>();
  const timers = new Map<string, ReturnType<typeof setTimeout>>();
  const changes = new vscode.EventEmitter<vscode.NotebookDocument>();
  const inputs = watchInputs();

  async function look(notebook: vscode.NotebookDocument): Promise<void> {
    const cells = notebook.getCells();
    if (!cells.some((cell) => shown.has(cell.document))) return;
    const now = await controller.look(notebook);
    if (now === null || now.length !== cells.length) return;
    cells.forEach((cell, index) => {
      const before = shown.get(cell.document);
      const since = before === undefined ? [] : changedSince(before, now[index] ?? {});
      if (since.length > 0) changed.set(cell.document, since);
      else changed.delete(cell.document);
    });
    inputs.name(notebook, [...now, ...cells.map((cell) => shown.get(cell.document) ?? {})]);
    changes.fire(notebook);
  }

  function lookSoon(notebook: vscode.NotebookDocument): void {
    if (notebook.notebookType !== notebookType) return;
    const key = notebook.uri.toString();
    clearTimeout(timers.get(key));
    timers.set(
      key,
      setTimeout(() => {
        timers.delete(key);
        // A notebook that cannot be looked at keeps the marks that it has.
        look(notebook).catch(() => undefined);
      }, pauseMilliseconds),
    );
  }

  const hasResult = (cell: vscode.NotebookCell): boolean => cell.outputs.length > 0 || cell.executionSummary?.timing !== undefined;
  const since = (cell: vscode.NotebookCell): readonly string[] => (hasResult(cell) ? (changed.get(cell.document) ?? []) : []);
  const owned = vscode.Disposable.from(
    inputs,
    changes,
    inputs.onFile(lookSoon),
    controller.onResult(({ cell, result }) => {
      shown.set(cell.document, result.basis);
      changed.delete(cell.document);
      changes.fire(cell.notebook);
      // What it was computed from may have changed while it ran.
      lookSoon(cell.notebook);
    }),
    vscode.workspace.onDidChangeNotebookDocument(({ notebook, contentChanges, cellChanges }) => {
      if (contentChanges.length > 0 || cellChanges.some((change) => change.document !== undefined || change.outputs !== undefined)) lookSoon(notebook);
    }),
    vscode.workspace.onDidChangeTextDocument(({ document }) => {
      const notebook = vscode.workspace.notebookDocuments.find((each) => each.getCells().some((cell) => cell.document === document));
      if (notebook !== undefined) lookSoon(notebook);
    }),
    { dispose: () => timers.forEach((timer) => clearTimeout(timer)) },
  );
  return {
    changed: since,
    cells: (notebook) => notebook.getCells().filter((cell) => since(cell).length > 0),
    look,
    onDidChange: changes.event,
    onFile: inputs.onFile,
    dispose: () => void owned.dispose(),
  };
}
