import * as vscode from "vscode";
import { notebookType } from "../../core/notebook/cell-languages";
import type { ReportForm } from "../../core/report/write-report";
import { encodeUtf8 } from "../../core/table/utf8";
import type { Controller } from "./notebook-controller";

/** What a person chooses a report by. */
interface FormItem extends vscode.QuickPickItem {
  readonly form: ReportForm;
  /** The ending that the file gets, and those that it may have. */
  readonly ending: string;
  readonly endings: readonly string[];
}

const forms: readonly FormItem[] = [
  { form: "html", ending: "html", endings: ["html", "htm"], label: "HTML", detail: "One file with charts, to read in a browser, to print or to send" },
  { form: "markdown", ending: "md", endings: ["md"], label: "Markdown", detail: "Text and tables, for a repository; charts as their words and numbers" },
];

/** Registers the command that writes the active notebook and its results as a report. */
export function registerExportReport(controller: Controller): vscode.Disposable {
  return vscode.commands.registerCommand("fairstrike.exportReport", async () => {
    const notebook = vscode.window.activeNotebookEditor?.notebook;
    if (notebook?.notebookType === notebookType) await exportReport(controller, notebook);
  });
}

async function exportReport(controller: Controller, notebook: vscode.NotebookDocument): Promise<void> {
  const chosen = await vscode.window.showQuickPick(forms, { title: "Export Report", placeHolder: "The form of the report" });
  if (chosen === undefined) return;
  const target = await askPlace(notebook, chosen);
  if (target === undefined) return;
  const refusal = refusalOf(target, chosen);
  if (refusal !== null) return void vscode.window.showErrorMessage(refusal);
  const made = await vscode.window.withProgress({ location: vscode.ProgressLocation.Notification, title: "Exporting the report", cancellable: true }, (progress, token) => {
    progress.report({ message: "running what is out of date" });
    return controller.report(notebook, chosen.form, token, () => progress.report({ message: "drawing charts and writing" }));
  });
  if (made === null) return;
  if ("fault" in made) return void vscode.window.showErrorMessage(`No report was written: ${made.fault}`);
  if (made.inputs.some((input) => input.toString() === target.toString())) return void vscode.window.showErrorMessage(`No report was written: ${nameOf(target)} is what it was made from.`);
  try {
    await vscode.workspace.fs.writeFile(target, encodeUtf8(made.text));
  } catch (error) {
    const reason = error instanceof vscode.FileSystemError ? error.code : "it failed";
    return void vscode.window.showErrorMessage(`${nameOf(target)} could not be written: ${reason}.`);
  }
  await tellWritten(target, made.withoutResult);
}

/** Where the report goes; the dialog asks before it replaces a file. */
function askPlace(notebook: vscode.NotebookDocument, { label, ending, endings }: FormItem): Thenable<vscode.Uri | undefined> {
  const name = `${nameOf(notebook.uri).replace(/\.shots\.md$/u, "")}.${ending}`;
  const folder = notebook.isUntitled ? vscode.workspace.workspaceFolders?.[0]?.uri : vscode.Uri.joinPath(notebook.uri, "..");
  return vscode.window.showSaveDialog({ ...(folder === undefined ? {} : { defaultUri: vscode.Uri.joinPath(folder, name) }), filters: { [label]: [...endings] }, saveLabel: "Export", title: "Export Report" });
}

/** Why a report must not go to a file; `null` where it may. */
function refusalOf(target: vscode.Uri, { ending, endings }: FormItem): string | null {
  const name = nameOf(target).toLowerCase();
  if (name.endsWith(".shots.md")) return `${nameOf(target)} is a notebook; name another file for the report.`;
  return endings.some((each) => name.endsWith(`.${each}`)) ? null : `${nameOf(target)} does not end in .${ending}; name a .${ending} file for the report.`;
}

async function tellWritten(target: vscode.Uri, withoutResult: number): Promise<void> {
  const lost = withoutResult === 0 ? "" : ` ${withoutResult} ${withoutResult === 1 ? "cell has" : "cells have"} no result, which it says.`;
  const open = "Open";
  const show = withoutResult === 0 ? vscode.window.showInformationMessage : vscode.window.showWarningMessage;
  if ((await show(`${nameOf(target)} was written.${lost}`, open)) !== open) return;
  if (target.path.endsWith(".md")) await vscode.commands.executeCommand("vscode.open", target);
  else await vscode.env.openExternal(target);
}

function nameOf(uri: vscode.Uri): string {
  return uri.path.slice(uri.path.lastIndexOf("/") + 1);
}
