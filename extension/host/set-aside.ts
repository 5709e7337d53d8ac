import * as vscode from "vscode";
import { readSetAsideMessage, type SetAsideAnswer, type SetAsideMessage } from "../../core/present/set-aside-message";
import type { TextRange } from "../../core/text-position";
import { setAsideEdits } from "../../core/session/set-aside-edit";
import { placeOf } from "./workspace-files";

/**
 * Writes what a person sets aside in a table into the session files, by one edit that can be undone.
 *
 * A session file without unsaved changes is saved again, so that the next run sees it; one that has some is left for the
 * person to save. Nothing is written when anything of it cannot be.
 */
export function listenToSetAside(): vscode.Disposable {
  const messaging = vscode.notebooks.createRendererMessaging("fairstrike-renderer");
  return messaging.onDidReceiveMessage(async ({ editor, message }) => {
    const asked = readSetAsideMessage(message);
    if (asked === null) return;
    const answer = await setAside(editor.notebook.uri, asked).catch(() => failed("the session file could not be changed"));
    const reply: SetAsideAnswer = { type: "set-aside-answer", question: asked.question, ...answer };
    await messaging.postMessage(reply, editor);
  });
}

type Outcome = Pick<SetAsideAnswer, "done" | "text">;

function failed(reason: string): Outcome {
  return { done: false, text: `Nothing was set aside: ${reason}.` };
}

async function setAside(notebook: vscode.Uri, { files }: SetAsideMessage): Promise<Outcome> {
  const place = placeOf(notebook);
  const edit = new vscode.WorkspaceEdit();
  const toSave: vscode.TextDocument[] = [];
  const changed: vscode.TextDocument[] = [];
  for (const { file, requests } of files) {
    // Read through the same port as a run reads: nothing outside of the root, and through no link out of it.
    if (!(await place.files.read(file)).ok) return failed(`${file} cannot be read`);
    const document = await vscode.workspace.openTextDocument(vscode.Uri.joinPath(place.root, file));
    const { value, problems } = setAsideEdits(document.getText(), requests);
    const wrong = problems.find((found) => found.severity === "error");
    if (value === null || wrong !== undefined) return failed(wrong === undefined ? `${file} cannot be edited` : `${wrong.message} (${file}, line ${wrong.range.start.line})`);
    if (value.length === 0) continue;
    for (const { range, text } of value) edit.replace(document.uri, toRange(range), text);
    changed.push(document);
    if (!document.isDirty) toSave.push(document);
  }
  if (changed.length === 0) return { done: true, text: "These values are set aside already." };
  if (!(await vscode.workspace.applyEdit(edit))) return failed("the editor did not take the change");
  for (const document of toSave) await document.save();
  void offerToShow(changed);
  const names = files.map(({ file }) => file).join(", ");
  const unsaved = changed.filter((document) => document.isDirty).length;
  return { done: true, text: `Written into ${names}${unsaved > 0 ? ", which has unsaved changes: save it" : ""}. Run the cells that are out of date.` };
}

/** Shows the change on request, where Undo takes it back. */
async function offerToShow(changed: readonly vscode.TextDocument[]): Promise<void> {
  const show = "Show the change";
  const names = changed.map((document) => vscode.workspace.asRelativePath(document.uri)).join(", ");
  if ((await vscode.window.showInformationMessage(`Values were set aside in ${names}. Undo in that file takes it back.`, show)) !== show) return;
  for (const document of changed) {
    const at = document.getText().search(/^set_aside:/mu);
    const position = document.positionAt(Math.max(0, at));
    await vscode.window.showTextDocument(document, { viewColumn: vscode.ViewColumn.Beside, preview: false, selection: new vscode.Range(position, position) });
  }
}

function toRange({ start, end }: TextRange): vscode.Range {
  return new vscode.Range(start.line - 1, start.column - 1, end.line - 1, end.column - 1);
}
