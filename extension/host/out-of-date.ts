import * as vscode from "vscode";
import { changedSince, type Basis } from "../../core/basis";
import { notebookType } from "../../core/notebook/cell-languages";
import type { Controller } from "./notebook-controller";

/** Time after the last change before a notebook is looked at again. */
const pauseMilliseconds = 250;

/**
 * Says at every cell whose result no longer holds that it is out of date, and what has changed since: its own text, that
 * of a cell it needs, a session file, an export. A click runs the cell.
 */
export function markOutOfDate(controller: Controller): vscode.Disposable {
  /** What the result that each cell shows was computed from, by the cell's document. */
  const shown = new WeakMap<vscode.TextDocument, Basis>();
  /** What has changed since, for cells whose result no longer holds. */
  const changed = new WeakMap<vscode.TextDocument, readonly string[]>();
  const timers = new Map<string, NodeJS.Timeout>();
  const marks = new vscode.EventEmitter<void>();

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
    marks.fire();
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

  const lookAtAll = (): void => vscode.workspace.notebookDocuments.forEach(lookSoon);
  const watcher = vscode.workspace.createFileSystemWatcher("**/*.{session.yaml,csv,tsv,txt}");
  return vscode.Disposable.from(
    watcher,
    marks,
    watcher.onDidChange(lookAtAll),
    watcher.onDidCreate(lookAtAll),
    watcher.onDidDelete(lookAtAll),
    controller.onResult(({ cell, basis }) => {
      shown.set(cell.document, basis);
      changed.delete(cell.document);
      marks.fire();
      // What it was computed from may have changed while it ran.
      lookSoon(cell.notebook);
    }),
    vscode.workspace.onDidChangeNotebookDocument(({ notebook }) => lookSoon(notebook)),
    vscode.workspace.onDidChangeTextDocument(({ document }) => {
      const notebook = vscode.workspace.notebookDocuments.find((each) => each.getCells().some((cell) => cell.document === document));
      if (notebook !== undefined) lookSoon(notebook);
    }),
    vscode.notebooks.registerNotebookCellStatusBarItemProvider(notebookType, {
      onDidChangeCellStatusBarItems: marks.event,
      provideCellStatusBarItems: (cell) => {
        const since = changed.get(cell.document);
        if (since === undefined || cell.outputs.length === 0) return [];
        const item = new vscode.NotebookCellStatusBarItem(`$(history) Out of date: ${since.join(", ")} changed`, vscode.NotebookCellStatusBarAlignment.Left);
        item.tooltip = "What is shown below was computed from something else. Run the cell again.";
        item.command = {
          title: "Run the cell",
          command: "notebook.cell.execute",
          arguments: [{ ranges: [{ start: cell.index, end: cell.index + 1 }], document: cell.notebook.uri }],
        };
        return [item];
      },
    }),
    { dispose: () => timers.forEach((timer) => clearTimeout(timer)) },
  );
}
