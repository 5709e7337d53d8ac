import * as vscode from "vscode";
import { notebookType } from "../../core/notebook/cell-languages";
import type { Controller } from "./notebook-controller";

/** The key for menus that is true while the notebook at hand has a kernel. */
const kernelKey = "fairstrike.hasKernel";

/** Registers the commands; their names stand in `package.json`. */
export function registerCommands(controller: Controller): vscode.Disposable {
  return vscode.Disposable.from(
    vscode.commands.registerCommand("fairstrike.openAsText", openAsText),
    vscode.commands.registerCommand("fairstrike.openAsNotebook", openAsNotebook),
    tellKernel(controller),
    vscode.commands.registerCommand("fairstrike.restartKernel", async () => {
      const notebook = vscode.window.activeNotebookEditor?.notebook;
      if (notebook?.notebookType === notebookType) await controller.endKernel(notebook);
    }),
  );
}

/** Keeps the key that is true while the notebook at hand has a kernel, so that the command to end it is there only then. */
function tellKernel(controller: Controller): vscode.Disposable {
  const tell = (): void => {
    const notebook = vscode.window.activeNotebookEditor?.notebook;
    void vscode.commands.executeCommand("setContext", kernelKey, notebook?.notebookType === notebookType && controller.hasKernel(notebook));
  };
  return vscode.Disposable.from(controller.onKernel(tell), vscode.window.onDidChangeActiveNotebookEditor(tell));
}

async function openAsNotebook(target?: unknown): Promise<void> {
  const uri = target instanceof vscode.Uri ? target : vscode.window.activeTextEditor?.document.uri;
  if (uri?.path.endsWith(".shots.md") === true) await vscode.commands.executeCommand("vscode.openWith", uri, notebookType);
}

/** @param target what a menu hands over: a file of the explorer, or a toolbar's own idea of the notebook at hand. */
async function openAsText(target?: unknown): Promise<void> {
  const uri = target instanceof vscode.Uri ? target : vscode.window.activeNotebookEditor?.notebook.uri;
  if (uri !== undefined) await vscode.commands.executeCommand("vscode.openWith", uri, "default");
}
