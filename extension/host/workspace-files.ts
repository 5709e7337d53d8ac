import * as vscode from "vscode";
import type { FilePort } from "../../core/file-port";
import { defaultLimits } from "../../core/limits";
import { editorFiles } from "./editor-files";

/** A notebook's place: the root its data may come from, and its own path below that root. */
export interface NotebookPlace {
  readonly root: vscode.Uri;
  /** Relative to the root, POSIX. */
  readonly path: string;
  readonly files: FilePort;
}

/**
 * The place of a notebook or session file: below its workspace folder, or in its own folder when there is none.
 *
 * One that was never saved has a place without files.
 */
export function placeOf(document: vscode.Uri): NotebookPlace {
  const folder = vscode.workspace.getWorkspaceFolder(document);
  const root = folder?.uri ?? vscode.Uri.joinPath(document, "..");
  const relative = document.path.slice(root.path.length).replace(/^\/+/u, "");
  return { root, path: relative, files: filesAt(document, root) };
}

let localFiles: ((root: vscode.Uri) => FilePort) | null = null;

/** Has files on this machine read by a port that looks at their real places; without one the editor's own access reads them. */
export function readLocalFilesBy(make: (root: vscode.Uri) => FilePort): void {
  localFiles = make;
}

function filesAt(document: vscode.Uri, root: vscode.Uri): FilePort {
  if (document.scheme === "untitled") return { read: () => Promise.resolve({ ok: false, reason: "unsaved" }), list: () => Promise.resolve(null) };
  return document.scheme === "file" && localFiles !== null ? localFiles(root) : editorFiles(root, defaultLimits.fileBytes);
}
