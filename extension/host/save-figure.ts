import * as vscode from "vscode";
import { notebookType } from "../../core/notebook/cell-languages";
import { readHeader } from "../../core/notebook/read-header";
import { isFigureMessage, readFigureMessage, type CheckedFigure, type FigureAnswer, type FigureRequest } from "../../core/present/figure-message";
import { figureName } from "../../core/report/figure-name";
import { encodeUtf8 } from "../../core/table/utf8";
import { outputMark } from "./outputs";
import { placeOf } from "./workspace-files";

/**
 * Writes figures that the page of a notebook has drawn, each into a file that the person chooses, and registers the command
 * that offers it for the focused cell. A figure that is not what it says is not written.
 */
export function saveFigures(): vscode.Disposable {
  const messaging = vscode.notebooks.createRendererMessaging("fairstrike-renderer");
  const listening = messaging.onDidReceiveMessage(async ({ editor, message }) => {
    if (!isFigureMessage(message)) return;
    const figure = readFigureMessage(message);
    const text = figure === null ? "The figure was not saved: it is too large, or is no figure." : await save(editor.notebook, figure);
    await messaging.postMessage({ type: "figure-answer", question: message.question, text } satisfies FigureAnswer, editor);
  });
  const command = vscode.commands.registerCommand("fairstrike.saveFigure", async (given?: unknown) => {
    const editor = vscode.window.activeNotebookEditor;
    if (editor?.notebook.notebookType !== notebookType) return;
    const index = indexOf(given) ?? editor.selections[0]?.start ?? 0;
    const cell = index < editor.notebook.cellCount ? editor.notebook.cellAt(index) : null;
    const output = cell?.outputs.map((each) => outputMark(each)).find((mark) => mark !== null);
    if (output === undefined || output === null) return void vscode.window.showInformationMessage("This cell shows no chart; run one that does, or choose its cell.");
    await vscode.commands.executeCommand("notebook.cell.focusInOutput");
    await messaging.postMessage({ type: "offer-figure", output } satisfies FigureRequest, editor);
  });
  return vscode.Disposable.from(listening, command);
}

const filters = { svg: { "SVG drawing": ["svg"] }, png: { "PNG picture": ["png"] } };

async function save(notebook: vscode.NotebookDocument, { output, form, content }: CheckedFigure): Promise<string> {
  const name = `${figureName(notebook.uri.path.split("/").at(-1)!, nameOfCell(notebook, output))}.${form}`;
  const folder = notebook.isUntitled ? (vscode.workspace.workspaceFolders?.[0]?.uri ?? placeOf(notebook.uri).root) : vscode.Uri.joinPath(notebook.uri, "..");
  const target = await vscode.window.showSaveDialog({ defaultUri: vscode.Uri.joinPath(folder, name), filters: filters[form], title: "Save Figure" });
  if (target === undefined) return "Nothing was saved.";
  if (!target.path.toLowerCase().endsWith(`.${form}`)) return `Nothing was saved: name a .${form} file.`;
  try {
    await vscode.workspace.fs.writeFile(target, typeof content === "string" ? encodeUtf8(content) : content);
  } catch (error) {
    return `Nothing was saved: ${error instanceof vscode.FileSystemError ? error.code : "the file could not be written"}.`;
  }
  return `Saved as ${vscode.workspace.asRelativePath(target)}.`;
}

/** The place of the cell that a cell's menu hands over. */
function indexOf(given: unknown): number | null {
  return typeof given === "object" && given !== null && "index" in given && typeof given.index === "number" ? given.index : null;
}

/** The name of the cell that shows an output; empty when it has none or is gone. */
function nameOfCell(notebook: vscode.NotebookDocument, output: string): string {
  const cell = notebook.getCells().find(({ outputs }) => outputs.some((each) => outputMark(each) === output));
  return cell === undefined ? "" : (readHeader(cell.document.lineAt(0).text).value?.name ?? "");
}
