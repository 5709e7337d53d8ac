import * as vscode from "vscode";

/** Shows the cell whose document has the URI that is given; for status items and lists, and no command of the palette. */
export const revealCommand = "fairstrike.revealCell";

/** Registers what shows a cell. */
export function registerReveal(): vscode.Disposable {
  return vscode.commands.registerCommand(revealCommand, async (uri: unknown) => {
    for (const notebook of vscode.workspace.notebookDocuments) {
      const cell = notebook.getCells().find((each) => each.document.uri.toString() === uri);
      if (cell === undefined) continue;
      const range = new vscode.NotebookRange(cell.index, cell.index + 1);
      const editor = await vscode.window.showNotebookDocument(notebook, { selections: [range] });
      editor.revealRange(range, vscode.NotebookEditorRevealType.InCenterIfOutsideViewport);
    }
  });
}
