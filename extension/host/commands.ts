import * as vscode from "vscode";
import { languageOfKind, notebookType } from "../../core/notebook/cell-languages";
import type { Controller } from "./notebook-controller";

/** Registers the commands; their names stand in `package.json`. */
export function registerCommands(controller: Controller): vscode.Disposable {
  return vscode.Disposable.from(
    vscode.commands.registerCommand("fairstrike.newNotebook", newNotebook),
    vscode.commands.registerCommand("fairstrike.openAsText", openAsText),
    vscode.commands.registerCommand("fairstrike.restartKernel", async () => {
      const notebook = vscode.window.activeNotebookEditor?.notebook;
      if (notebook?.notebookType === notebookType) await controller.endKernel(notebook);
    }),
  );
}

async function newNotebook(): Promise<void> {
  const front = new vscode.NotebookCellData(
    vscode.NotebookCellKind.Code,
    "fairstrike: 1\ntitle: Untitled comparison\nshots: sessions/NAME.session.yaml\nmargin: { carry: 3 yd }",
    languageOfKind.front,
  );
  const prose = new vscode.NotebookCellData(vscode.NotebookCellKind.Markup, "## Which head carries farther?", languageOfKind.prose);
  const query = new vscode.NotebookCellData(
    vscode.NotebookCellKind.Code,
    'query=gap\nshots.compare({ of: "carry", by: "head" })',
    languageOfKind.query,
  );
  const notebook = await vscode.workspace.openNotebookDocument(notebookType, new vscode.NotebookData([front, prose, query]));
  await vscode.window.showNotebookDocument(notebook);
}

async function openAsText(target?: vscode.Uri): Promise<void> {
  const uri = target ?? vscode.window.activeNotebookEditor?.notebook.uri;
  if (uri !== undefined) await vscode.commands.executeCommand("vscode.openWith", uri, "default");
}
