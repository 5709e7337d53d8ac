import * as vscode from "vscode";
import type { Basis } from "../../core/basis";
import { findShotLine } from "../../core/find-shot-line";
import { placeOf } from "./workspace-files";

/**
 * Opens the export beside the notebook at the line of a shot, and says what was done, or why nothing was.
 *
 * @param file the session file as a page named it: it is looked up among what the notebook's results were computed from.
 * @param bases what the results that the notebook shows were computed from.
 */
export async function openExportLine(notebook: vscode.Uri, { file, shot }: { readonly file: string; readonly shot: number }, bases: readonly Basis[]): Promise<string> {
  const known = bases.filter((basis) => Object.hasOwn(basis, file));
  if (known.length === 0) return "Nothing was opened: no result here is known to come from that session. Run the cell again.";
  const place = placeOf(notebook);
  const found = await findShotLine(place.files, file, shot);
  if (found === null) return `Nothing was opened: shot ${shot} is not to be found in the exports of ${file} as they are now.`;
  const changed = found.inputs.find(({ path, digest }) => known.some((basis) => basis[path] !== digest));
  if (changed !== undefined) return `Nothing was opened: ${changed.path} has changed since the run. Run what is out of date.`;
  const document = await vscode.workspace.openTextDocument(vscode.Uri.joinPath(place.root, found.path));
  if (document.isDirty) return `Nothing was opened: ${found.path} has unsaved changes.`;
  const line = document.lineAt(found.line - 1).range;
  await vscode.window.showTextDocument(document, { viewColumn: vscode.ViewColumn.Beside, preview: true, selection: line });
  return `Opened ${found.path} at line ${found.line}.`;
}
