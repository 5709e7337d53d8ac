import * as vscode from "vscode";
import { notebookType } from "../../core/notebook/cell-languages";
import { openSample } from "./sample-notebooks";

/** The walkthrough in `package.json`. */
const walkthrough = "firstSteps";

/** The key that is true while the workspace holds neither notebook nor session file, for what an empty view offers. */
const emptyKey = "fairstrike.folderIsEmpty";

/** What a folder holds that is of this extension. */
const ownFiles = "**/*.{session.yaml,shots.md}";

/**
 * What a step of the walkthrough does with a notebook, by the last part of its command's name. The walkthrough covers the
 * notebook, so that it has to be shown first.
 */
const steps: Readonly<Record<string, (notebook: vscode.NotebookDocument) => Thenable<unknown>>> = {
  run: ({ uri }) => vscode.commands.executeCommand("notebook.execute", uri),
  narrow: () => vscode.commands.executeCommand("fairstrike.narrow"),
  saveFigure: () => vscode.commands.executeCommand("fairstrike.saveFigure"),
  exportReport: () => vscode.commands.executeCommand("fairstrike.exportReport"),
  openAsText: ({ uri }) => vscode.commands.executeCommand("fairstrike.openAsText", uri),
};

/** Registers the walkthrough's commands, the one that opens it, and the one that opens the samples. */
export function offerFirstSteps({ extension, subscriptions }: vscode.ExtensionContext): void {
  const watcher = vscode.workspace.createFileSystemWatcher(ownFiles, false, true, false);
  const tell = (): void => void tellEmpty().catch(() => undefined);
  subscriptions.push(
    watcher,
    watcher.onDidCreate(tell),
    watcher.onDidDelete(tell),
    vscode.workspace.onDidChangeWorkspaceFolders(tell),
    vscode.commands.registerCommand("fairstrike.firstSteps", () => vscode.commands.executeCommand("workbench.action.openWalkthrough", `${extension.id}#${walkthrough}`, false)),
    vscode.commands.registerCommand("fairstrike.openSample", () => openSample(extension.extensionUri)),
    ...Object.entries(steps).map(([name, act]) =>
      vscode.commands.registerCommand(`fairstrike.step.${name}`, async () => {
        const notebook = await showNotebook(extension.extensionUri);
        if (notebook !== null) await act(notebook);
      }),
    ),
  );
  tell();
}

async function tellEmpty(): Promise<void> {
  const found = await vscode.workspace.findFiles(ownFiles, "**/node_modules/**", 1);
  await vscode.commands.executeCommand("setContext", emptyKey, found.length === 0);
}

/** Shows the notebook that a step is about: one that is open, else one of the workspace, else the sample; `null` when none was chosen. */
async function showNotebook(extension: vscode.Uri): Promise<vscode.NotebookDocument | null> {
  const open = vscode.window.visibleNotebookEditors.map(({ notebook }) => notebook).concat(vscode.workspace.notebookDocuments);
  const known = open.find((notebook) => notebook.notebookType === notebookType && !notebook.isClosed);
  const notebook = known ?? (await openOne(extension));
  if (notebook !== null) await vscode.window.showNotebookDocument(notebook);
  return notebook;
}

async function openOne(extension: vscode.Uri): Promise<vscode.NotebookDocument | null> {
  const found = await vscode.workspace.findFiles("**/*.shots.md", "**/node_modules/**", 50);
  if (found.length === 0) return openSample(extension);
  const items = found.map((uri) => ({ label: vscode.workspace.asRelativePath(uri), uri })).sort((one, other) => (one.label < other.label ? -1 : 1));
  const chosen = await vscode.window.showQuickPick(items, { title: "First Steps", placeHolder: "The notebook to do this with" });
  return chosen === undefined ? null : vscode.workspace.openNotebookDocument(chosen.uri);
}
