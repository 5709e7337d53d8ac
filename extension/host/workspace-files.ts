import path from "node:path";
import * as vscode from "vscode";
import type { FilePort } from "../../core/file-port";
import { defaultLimits } from "../../core/limits";
import { nodeFiles } from "../../server/node-files";

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
 * A document that is not a file on this machine (untitled, virtual) has a place without files: real paths cannot be
 * checked there, so nothing is read.
 */
export function placeOf(document: vscode.Uri): NotebookPlace {
  const folder = vscode.workspace.getWorkspaceFolder(document);
  const root = folder?.uri ?? vscode.Uri.joinPath(document, "..");
  const relative = path.posix.relative(root.path, document.path);
  return { root, path: relative, files: filesAt(document, root) };
}

function filesAt(document: vscode.Uri, root: vscode.Uri): FilePort {
  if (document.scheme === "file") return nodeFiles(root.fsPath, defaultLimits.fileBytes);
  const reason = document.scheme === "untitled" ? "unsaved" : "unreadable";
  return { read: () => Promise.resolve({ ok: false, reason }), list: () => Promise.resolve(null) };
}
