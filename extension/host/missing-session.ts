import * as vscode from "vscode";
import { languageOfKind, notebookType } from "../../core/notebook/cell-languages";
import { readFrontMatter } from "../../core/notebook/read-front-matter";
import { folderOf, resolvePath } from "../../core/path";
import { missingInWords } from "./first-steps-words";
import { placeOf } from "./workspace-files";

/** Registers what shows, below the front matter of a saved notebook, that a session file it names is not there, with the way to make one. */
export function showMissingSessions(): vscode.Disposable {
  const changes = new vscode.EventEmitter<void>();
  const watcher = vscode.workspace.createFileSystemWatcher("**/*.session.yaml", false, true, false);
  const fire = (): void => changes.fire();
  return vscode.Disposable.from(
    changes,
    watcher,
    watcher.onDidCreate(fire),
    watcher.onDidDelete(fire),
    vscode.workspace.onDidSaveNotebookDocument(fire),
    vscode.workspace.onDidChangeTextDocument(({ document }) => (document.languageId === languageOfKind.front ? fire() : undefined)),
    vscode.notebooks.registerNotebookCellStatusBarItemProvider(notebookType, {
      onDidChangeCellStatusBarItems: changes.event,
      provideCellStatusBarItems: async (cell) => {
        const missing = cell.document.languageId === languageOfKind.front ? await missingOf(cell) : [];
        if (missing.length === 0) return [];
        const { short, long } = missingInWords(missing);
        const item = new vscode.NotebookCellStatusBarItem(`$(warning) ${short}`, vscode.NotebookCellStatusBarAlignment.Left);
        item.tooltip = long;
        item.accessibilityInformation = { label: long, role: "button" };
        item.command = { title: "Bring In an Export…", command: "fairstrike.newSession" };
        return [item];
      },
    }),
  );
}

/** The session files that the front matter names, as it names them, and that are not there; none of a notebook that was never saved. */
async function missingOf({ document, notebook }: vscode.NotebookCell): Promise<readonly string[]> {
  if (notebook.isUntitled) return [];
  const { root, path } = placeOf(notebook.uri);
  const named = readFrontMatter(document.getText().replaceAll("\r\n", "\n")).value.shots.map((each) => each.path);
  const missing = await Promise.all(
    named.map(async (name) => {
      const found = name.includes("*") ? null : resolvePath(folderOf(path), name).value;
      return found !== null && (await isMissing(vscode.Uri.joinPath(root, found))) ? [name] : [];
    }),
  );
  return missing.flat();
}

function isMissing(uri: vscode.Uri): Thenable<boolean> {
  return vscode.workspace.fs.stat(uri).then(
    () => false,
    (error: unknown) => error instanceof vscode.FileSystemError && error.code === "FileNotFound",
  );
}
