import * as vscode from "vscode";
import { notebookType } from "../../core/notebook/cell-languages";
import { nameCells } from "../../core/notebook/cell-names";
import { documentOf } from "./serializer";

/** Gives cells without a header line theirs as the notebook is saved: the file would have it, and the editor shows it. */
export function nameCellsOnSave(): vscode.Disposable {
  return vscode.workspace.onWillSaveNotebookDocument((saving) => {
    if (saving.notebook.notebookType === notebookType) saving.waitUntil(Promise.resolve(headerEdits(saving.notebook)));
  });
}

function headerEdits(notebook: vscode.NotebookDocument): vscode.WorkspaceEdit {
  const edits = new vscode.WorkspaceEdit();
  const before = documentOf(notebook);
  for (const [index, cell] of nameCells(before).cells.entries()) {
    const old = before.cells[index]!;
    // A cell that was named has its header in front of what it had.
    if (cell !== old) edits.insert(notebook.cellAt(index).document.uri, new vscode.Position(0, 0), cell.text.slice(0, cell.text.length - old.text.length));
  }
  return edits;
}
