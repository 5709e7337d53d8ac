import * as vscode from "vscode";

/** The folder of the extension that holds the samples. */
const folder = "sample-notebooks";

/** The notebook that is opened first. */
const firstNotebook = "three-irons.shots.md";

/** What is copied. A list, since an editor in a browser cannot tell what a folder of an extension holds. */
export const sampleFiles: readonly string[] = [
  firstNotebook,
  "gallery.shots.md",
  "two-sessions.shots.md",
  "what-was-measured.shots.md",
  "sessions/autumn-range-1-heron.csv",
  "sessions/autumn-range-1-plover.csv",
  "sessions/autumn-range-1.session.yaml",
  "sessions/spring-bay-1.csv",
  "sessions/spring-bay-1.session.yaml",
  "sessions/summer-net-1.session.yaml",
  "sessions/summer-net-1.tsv",
  "sessions/winter-bay-1.csv",
  "sessions/winter-bay-1.session.yaml",
];

/**
 * Copies the samples into a new folder, below one that the person chooses, and opens the first notebook there. A folder of
 * the workspace that holds a copy already is not copied to again: its notebook is opened.
 *
 * @param extension the folder of the extension, in which nothing is written.
 * @returns the notebook; `null` when no folder was chosen, or none could be written.
 */
export async function openSample(extension: vscode.Uri): Promise<vscode.NotebookDocument | null> {
  const [known] = await vscode.workspace.findFiles(`**/${firstNotebook}`, "**/node_modules/**", 1);
  const uri = known ?? (await copySamples(extension));
  if (uri === null) return null;
  const notebook = await vscode.workspace.openNotebookDocument(uri);
  await vscode.window.showNotebookDocument(notebook);
  return notebook;
}

/** The first notebook of a fresh copy; `null` when no folder was chosen or it could not be written, which is said. */
async function copySamples(extension: vscode.Uri): Promise<vscode.Uri | null> {
  const proposed = vscode.workspace.workspaceFolders?.[0]?.uri;
  const [chosen] =
    (await vscode.window.showOpenDialog({
      canSelectFiles: false,
      canSelectFolders: true,
      ...(proposed === undefined ? {} : { defaultUri: proposed }),
      openLabel: "Copy the Samples Here",
      title: "Where to Copy the Sample Notebooks",
    })) ?? [];
  if (chosen === undefined) return null;
  try {
    const target = await freeFolder(chosen);
    for (const file of sampleFiles) {
      const bytes = await vscode.workspace.fs.readFile(vscode.Uri.joinPath(extension, folder, file));
      await vscode.workspace.fs.writeFile(vscode.Uri.joinPath(target, file), bytes);
    }
    return vscode.Uri.joinPath(target, firstNotebook);
  } catch (error) {
    const reason = error instanceof vscode.FileSystemError ? error.code : "it failed";
    await vscode.window.showErrorMessage(`The samples could not be copied into ${vscode.workspace.asRelativePath(chosen)}: ${reason}. Choose a folder that you may write in.`);
    return null;
  }
}

/** A folder below `parent` that is not there yet. */
async function freeFolder(parent: vscode.Uri): Promise<vscode.Uri> {
  const taken = new Set((await vscode.workspace.fs.readDirectory(parent)).map(([name]) => name.toLowerCase()));
  for (let number = 1; ; number++) {
    const name = `shot-notebooks${number === 1 ? "" : `-${number}`}`;
    if (!taken.has(name)) return vscode.Uri.joinPath(parent, name);
  }
}
