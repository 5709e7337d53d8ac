import * as vscode from "vscode";
import { notebookType } from "../../core/notebook/cell-languages";
import type { Controller } from "./notebook-controller";
import type { OutOfDate } from "./out-of-date";

/** The key that is true while something in the notebook at hand is out of date, for menus. */
const contextKey = "fairstrike.outOfDate";

/** Registers the command that runs what was run and no longer holds, with what that needs, and nothing else. */
export function registerRunOutOfDate(controller: Controller, outOfDate: OutOfDate): vscode.Disposable {
  const tell = (): void => {
    const notebook = vscode.window.activeNotebookEditor?.notebook;
    const isStale = notebook?.notebookType === notebookType && outOfDate.cells(notebook).length > 0;
    void vscode.commands.executeCommand("setContext", contextKey, isStale);
  };
  return vscode.Disposable.from(
    outOfDate.onDidChange(tell),
    vscode.window.onDidChangeActiveNotebookEditor(tell),
    vscode.commands.registerCommand("fairstrike.runOutOfDate", async () => {
      const notebook = vscode.window.activeNotebookEditor?.notebook;
      if (notebook?.notebookType !== notebookType) return;
      await outOfDate.look(notebook);
      const cells = outOfDate.cells(notebook);
      if (cells.length === 0) return void vscode.window.setStatusBarMessage("Nothing that was run is out of date.", 5000);
      await controller.run(cells, notebook);
    }),
  );
}
