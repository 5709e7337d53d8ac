import * as vscode from "vscode";
import type { Basis } from "../../core/basis";
import { notebookType } from "../../core/notebook/cell-languages";
import { placeOf } from "./workspace-files";

/** Files that sessions and exports mostly are; others that a notebook names are watched one by one. */
const usualFiles = "**/*.{session.yaml,csv,tsv,txt}";
const isUsual = /(?:\.session\.yaml|\.csv|\.tsv|\.txt)$/u;

/** Pause between two looks at the time and size of what notebooks read: on shared and synchronised folders no watcher is told of changes. */
const lookMilliseconds = 1000;

/** Watches what notebooks read. */
export interface InputWatcher extends vscode.Disposable {
  /** Says what the results of a notebook rest on: only changes of such files are told, once that is known. */
  readonly name: (notebook: vscode.NotebookDocument, bases: readonly Basis[]) => void;
  readonly onFile: vscode.Event<vscode.NotebookDocument>;
}

/** What is known of one notebook. */
interface Named {
  /** URIs of its session files and exports. */
  readonly files: ReadonlySet<string>;
  /** For the files that no watcher of the workspace sees. */
  readonly watchers: ReadonlyMap<string, vscode.Disposable>;
}

/**
 * Returns what tells of changes of the session files and exports that open notebooks name, and of session files that were made or
 * deleted, since a notebook may take all those of a folder. A notebook that has not been run is told of nothing.
 */
export function watchInputs(): InputWatcher {
  const named = new Map<string, Named>();
  const files = new vscode.EventEmitter<vscode.NotebookDocument>();
  const stamps = new Map<string, string>();
  let timer: ReturnType<typeof setTimeout> | undefined;
  let isDisposed = false;

  function tell(uri: vscode.Uri, isWhole: boolean): void {
    const key = uri.toString();
    const mayBeTaken = isWhole && uri.path.endsWith(".session.yaml");
    for (const notebook of vscode.workspace.notebookDocuments) {
      const known = named.get(notebook.uri.toString());
      if (notebook.notebookType === notebookType && known !== undefined && (mayBeTaken || known.files.has(key))) files.fire(notebook);
    }
  }

  /** Time and size of a file; empty where it is not there. */
  const stampOf = (uri: vscode.Uri): Promise<string> =>
    Promise.resolve(vscode.workspace.fs.stat(uri)).then(
      ({ mtime, size }) => `${mtime} ${size}`,
      () => "",
    );

  async function lookAtFiles(): Promise<void> {
    const all = new Set([...named.values()].flatMap((known) => [...known.files]));
    for (const key of stamps.keys()) if (!all.has(key)) stamps.delete(key);
    for (const key of all) {
      const uri = vscode.Uri.parse(key, true);
      const [before, now] = [stamps.get(key), await stampOf(uri)];
      stamps.set(key, now);
      if (before !== undefined && before !== now) tell(uri, false);
    }
  }

  function lookAgain(): void {
    timer = setTimeout(() => void lookAtFiles().catch(() => undefined).then(() => (isDisposed ? undefined : lookAgain())), lookMilliseconds);
  }

  function listen(watcher: vscode.FileSystemWatcher): vscode.Disposable {
    return vscode.Disposable.from(
      watcher,
      watcher.onDidChange((uri) => tell(uri, false)),
      watcher.onDidCreate((uri) => tell(uri, true)),
      watcher.onDidDelete((uri) => tell(uri, true)),
    );
  }

  function forget(notebook: vscode.NotebookDocument): void {
    const key = notebook.uri.toString();
    for (const watcher of named.get(key)?.watchers.values() ?? []) void watcher.dispose();
    named.delete(key);
  }

  function name(notebook: vscode.NotebookDocument, bases: readonly Basis[]): void {
    if (notebook.isClosed) return;
    const { root } = placeOf(notebook.uri);
    const isInWorkspace = vscode.workspace.getWorkspaceFolder(notebook.uri) !== undefined;
    // What a result rests on beside files has a name in words, which no file below the root is called by.
    const paths = new Set(bases.flatMap((basis) => Object.keys(basis)));
    const key = notebook.uri.toString();
    const before = named.get(key);
    const alone = [...paths].filter((path) => path.includes(".") && !(isInWorkspace && isUsual.test(path)));
    const watchers = new Map(alone.map((path) => [path, before?.watchers.get(path) ?? listen(vscode.workspace.createFileSystemWatcher(new vscode.RelativePattern(root, path)))]));
    for (const [path, watcher] of before?.watchers ?? []) if (!watchers.has(path)) void watcher.dispose();
    named.set(key, { files: new Set([...paths].filter((path) => path.includes(".")).map((path) => vscode.Uri.joinPath(root, path).toString())), watchers });
  }

  const owned = vscode.Disposable.from(files, listen(vscode.workspace.createFileSystemWatcher(usualFiles)), vscode.workspace.onDidCloseNotebookDocument(forget));
  lookAgain();
  return {
    name,
    onFile: files.event,
    dispose: () => {
      isDisposed = true;
      clearTimeout(timer);
      void owned.dispose();
      for (const { watchers } of named.values()) for (const watcher of watchers.values()) void watcher.dispose();
      named.clear();
    },
  };
}
