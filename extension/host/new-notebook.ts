import * as vscode from "vscode";
import { languageOfKind, notebookType } from "../../core/notebook/cell-languages";
import { newFrontMatter } from "./first-steps-words";
import { openSample } from "./sample-notebooks";

/** Session files that are looked for at most. */
const mostSessions = 200;

/** The command; its name stands in `package.json`. */
const command = "fairstrike.newNotebook";

/**
 * Registers the command for a new notebook. It takes the session file that the explorer names, else the one of the workspace;
 * of several it asks for one. Where there is none, it leads to bringing in an export.
 */
export function offerNewNotebook(extension: vscode.Uri): vscode.Disposable {
  return vscode.commands.registerCommand(command, async (given?: unknown) => {
    if (given instanceof vscode.Uri && isSession(given)) return openNew(given);
    const sessions = await vscode.workspace.findFiles("**/*.session.yaml", "**/node_modules/**", mostSessions);
    const [first] = sessions;
    if (first === undefined) return withoutSession(extension);
    const session = sessions.length === 1 ? first : await askSession(sessions);
    if (session !== null) await openNew(session);
  });
}

function isSession({ path }: vscode.Uri): boolean {
  return path.endsWith(".session.yaml");
}

async function askSession(sessions: readonly vscode.Uri[]): Promise<vscode.Uri | null> {
  const items = sessions
    .map((session) => ({ label: vscode.workspace.asRelativePath(session), session }))
    .sort((one, other) => (one.label < other.label ? -1 : 1));
  const chosen = await vscode.window.showQuickPick(items, { title: "New Shot Notebook", placeHolder: "The session whose shots it begins with" });
  return chosen?.session ?? null;
}

async function withoutSession(extension: vscode.Uri): Promise<void> {
  const items = [
    { label: "$(table) Bring in an export", detail: "Makes a session file and a notebook from a file of your launch monitor", act: () => vscode.commands.executeCommand("fairstrike.newSession") },
    { label: "$(beaker) Open the sample notebook", detail: "Synthetic shots of three heads, to try things on", act: () => openSample(extension) },
    { label: "$(new-file) An empty notebook", detail: "Its shots come later", act: () => openNew(null) },
  ];
  const chosen = await vscode.window.showQuickPick(items, { title: "New Shot Notebook", placeHolder: "There is no session file here yet. A notebook takes its shots from one" });
  await chosen?.act();
}

async function openNew(session: vscode.Uri | null): Promise<void> {
  const { Code, Markup } = vscode.NotebookCellKind;
  const path = session === null ? null : vscode.workspace.asRelativePath(session, false);
  const cells = [
    new vscode.NotebookCellData(Code, newFrontMatter(path), languageOfKind.front),
    new vscode.NotebookCellData(Markup, "## Which head carries farther?", languageOfKind.prose),
    new vscode.NotebookCellData(Code, 'query=gap\nshots.compare({ of: "carry", by: "head" })', languageOfKind.query),
  ];
  const notebook = await vscode.workspace.openNotebookDocument(notebookType, new vscode.NotebookData(cells));
  await vscode.window.showNotebookDocument(notebook);
}
