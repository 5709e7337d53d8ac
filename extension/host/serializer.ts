import * as vscode from "vscode";
import { parseNotebook } from "../../core/notebook/parse-notebook";
import { printNotebook } from "../../core/notebook/print-notebook";
import { fromEditorCells, toEditorCells, type EditorCell } from "./notebook-cells";

/**
 * Turns a notebook file into cells and back. Pure: it keeps nothing between calls.
 *
 * A file that is not UTF-8 or of a newer format is refused when opened, so that it opens as text and is never written
 * over; saving never throws, since backups come this way too.
 */
export const notebookSerializer: vscode.NotebookSerializer = {
  deserializeNotebook(bytes) {
    let text: string;
    try {
      text = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
    } catch {
      throw new Error("This file is not UTF-8. Open it as text, and save it as UTF-8 to use it as a notebook.");
    }
    const { value, problems } = parseNotebook(text);
    const refused = problems.find((found) => found.code === "nb.newer-format" || found.code === "nb.too-large");
    if (refused !== undefined) throw new Error(`${refused.message}: ${refused.hint}`);
    const notebook = toEditorCells(value);
    const data = new vscode.NotebookData(notebook.cells.map(toCellData));
    data.metadata = { ...notebook.metadata };
    return data;
  },
  serializeNotebook(data) {
    const document = fromEditorCells({ cells: data.cells.map(fromCellData), metadata: data.metadata ?? {} });
    return new TextEncoder().encode(printNotebook(document));
  },
};

/** The notebook document that an open editor shows at this moment. */
export function documentOf(notebook: vscode.NotebookDocument): ReturnType<typeof fromEditorCells> {
  return fromEditorCells({
    cells: notebook.getCells().map((cell) => ({
      kind: cell.kind === vscode.NotebookCellKind.Code ? ("code" as const) : ("markup" as const),
      language: cell.document.languageId,
      value: cell.document.getText(),
      metadata: cell.metadata,
    })),
    metadata: notebook.metadata,
  });
}

function toCellData(cell: EditorCell): vscode.NotebookCellData {
  const kind = cell.kind === "code" ? vscode.NotebookCellKind.Code : vscode.NotebookCellKind.Markup;
  const data = new vscode.NotebookCellData(kind, cell.value, cell.language);
  data.metadata = { ...cell.metadata };
  return data;
}

function fromCellData(data: vscode.NotebookCellData): EditorCell {
  return {
    kind: data.kind === vscode.NotebookCellKind.Code ? "code" : "markup",
    language: data.languageId,
    value: data.value,
    metadata: data.metadata ?? {},
  };
}
