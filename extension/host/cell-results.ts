import * as vscode from "vscode";
import type { PresentedCell } from "../../core/present/present-outcome";
import type { Controller } from "./notebook-controller";

/** The result that a cell shows, without what is shown of it, and how long it took. */
export interface CellResult extends Omit<PresentedCell, "results"> {
  /** By the clock of this machine; `null` where it was not computed but kept. */
  readonly milliseconds: number | null;
}

/** What open notebooks show. */
export interface CellResults extends vscode.Disposable {
  readonly of: (cell: vscode.NotebookCell) => CellResult | undefined;
  /** The cell of a notebook whose result has this name; the front matter's for `shots`. */
  readonly named: (notebook: vscode.NotebookDocument, name: string) => vscode.NotebookCell | undefined;
  readonly onDidChange: vscode.Event<vscode.NotebookDocument>;
}

/** Keeps what is to be told of each cell's last result. */
export function keepResults(controller: Controller): CellResults {
  const known = new WeakMap<vscode.TextDocument, CellResult>();
  const changes = new vscode.EventEmitter<vscode.NotebookDocument>();
  const owned = vscode.Disposable.from(
    changes,
    controller.onResult(({ cell, result: { results: _shown, ...result }, milliseconds }) => {
      // A result that still holds took what it took when it was computed.
      const before = known.get(cell.document);
      known.set(cell.document, { ...result, milliseconds: result.kept ? (before?.milliseconds ?? null) : milliseconds });
      changes.fire(cell.notebook);
    }),
  );
  return {
    of: (cell) => known.get(cell.document),
    named: (notebook, name) => notebook.getCells().find((cell) => (name === "shots" ? cell.document.languageId === "fairstrike-front" : known.get(cell.document)?.name === name)),
    onDidChange: changes.event,
    dispose: () => void owned.dispose(),
  };
}
