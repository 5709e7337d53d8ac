import * as vscode from "vscode";
import type { FileFault } from "../../core/file-port";
import { checkPath, folderOf, resolvePath } from "../../core/path";
import type { FormValues, OpenItem } from "../../core/present/form-message";
import { relativePath } from "../../core/report/relative-path";
import { encodeUtf8 } from "../../core/table/utf8";
import { pathFields } from "./new-session-form";
import { placeOf } from "./workspace-files";

/** Exports that were read, and where they are. */
export interface NewFiles {
  readonly ok: true;
  readonly root: vscode.Uri;
  /** Paths relative to the root. */
  readonly paths: readonly string[];
  /** `file` is relative to the folder of the first export. */
  readonly exports: readonly { readonly file: string; readonly bytes: Uint8Array }[];
}

const faults: Record<FileFault, string> = {
  missing: "is not there any more",
  "other case": "is there in other capital letters only",
  outside: "leads outside the workspace",
  "not a file": "is not a file",
  "too large": "is too large",
  changing: "is being written to; try again",
  unsaved: "was never saved",
  unreadable: "cannot be read",
};

/** Reads exports, or says which one cannot be read and why. */
export async function readExports(uris: readonly vscode.Uri[]): Promise<NewFiles | { readonly ok: false; readonly reason: string }> {
  const places = uris.map((uri) => placeOf(uri));
  const first = places[0];
  if (first === undefined) return { ok: false, reason: "No export was chosen." };
  const exports: { file: string; bytes: Uint8Array }[] = [];
  for (const { path, files } of places) {
    const read = await files.read(path);
    if (!read.ok) return { ok: false, reason: `${path} ${faults[read.reason]}.` };
    exports.push({ file: relativePath(folderOf(first.path), path), bytes: read.bytes });
  }
  return { ok: true, root: first.root, paths: places.map(({ path }) => path), exports };
}

/** The texts of the files. */
export interface NewTexts {
  readonly session: string;
  readonly notebook: string;
}

/** Paths at which nothing is yet: the session beside the first export, the notebook above a folder of sessions, else beside it. */
export async function freePaths({ root, paths }: NewFiles): Promise<FormValues> {
  const [first = ""] = paths;
  const folder = folderOf(first);
  const stem = first.slice(folder === "" ? 0 : folder.length + 1).replace(/\.[^.]+$/u, "");
  const above = /(?:^|\/)(?:sessions|exports|data)$/iu.test(folder) ? folderOf(folder) : folder;
  return {
    [pathFields.session]: await freePath(root, joined(folder, stem), ".session.yaml"),
    [pathFields.notebook]: await freePath(root, joined(above, stem), ".shots.md"),
  };
}

function joined(folder: string, name: string): string {
  return folder === "" ? name : `${folder}/${name}`;
}

async function freePath(root: vscode.Uri, stem: string, ending: string): Promise<string> {
  for (let number = 1; ; number++) {
    const path = `${stem}${number === 1 ? "" : `-${number}`}${ending}`;
    if (!(await isThere(vscode.Uri.joinPath(root, path)))) return path;
  }
}

async function isThere(uri: vscode.Uri): Promise<boolean> {
  return vscode.workspace.fs.stat(uri).then(
    () => true,
    (error: unknown) => !(error instanceof vscode.FileSystemError && error.code === "FileNotFound"),
  );
}

/** What is wrong with the paths that the form has. */
export async function openPaths({ root, paths }: NewFiles, values: FormValues): Promise<readonly OpenItem[]> {
  const session = values[pathFields.session] ?? "";
  const notebook = values[pathFields.notebook] ?? "";
  const beside = folderOf(paths[0] ?? "");
  // The session file names the exports from its own folder.
  const elsewhere = folderOf(session) === beside ? null : `The session file has to be beside the export, in ${beside === "" ? "the workspace folder itself" : beside}.`;
  const found = [
    { text: (await pathError(root, session, ".session.yaml")) ?? elsewhere, field: pathFields.session },
    { text: await pathError(root, notebook, ".shots.md"), field: pathFields.notebook },
  ];
  return found.flatMap(({ text, field }) => (text === null ? [] : [{ text, field }]));
}

async function pathError(root: vscode.Uri, path: string, ending: string): Promise<string | null> {
  if (!path.endsWith(ending) || path.slice(path.lastIndexOf("/") + 1) === ending) return `The name has to end in ${ending}.`;
  const { value, problems } = checkPath(path);
  if (value === null || resolvePath("", path).value === null) return problems[0]?.message ?? "The path has to lead to a file in the workspace.";
  if (!(await isThere(vscode.Uri.joinPath(root, path)))) return null;
  return `${path} is there already and is not written over. Free: ${await freePath(root, path.slice(0, -ending.length), ending)}`;
}

/**
 * Writes both files by one edit and opens the notebook. Nothing is written where either file is there already.
 *
 * @returns why nothing was written; `null` when both were.
 */
export async function writeBoth({ root }: NewFiles, values: FormValues, texts: NewTexts): Promise<string | null> {
  const session = vscode.Uri.joinPath(root, values[pathFields.session] ?? "");
  const notebook = vscode.Uri.joinPath(root, values[pathFields.notebook] ?? "");
  const edit = new vscode.WorkspaceEdit();
  edit.createFile(session, { overwrite: false, ignoreIfExists: false, contents: encodeUtf8(texts.session) });
  edit.createFile(notebook, { overwrite: false, ignoreIfExists: false, contents: encodeUtf8(texts.notebook) });
  if (!(await vscode.workspace.applyEdit(edit))) return "Nothing was written: the editor refused to make the files. Is the folder read-only?";
  await vscode.commands.executeCommand("vscode.open", notebook);
  return null;
}
