import * as vscode from "vscode";
import type { FileFault, FilePort, FileRead } from "../../core/file-port";
import { dropUnused, putLast } from "../../core/kept-entries";

/** Milliseconds after which a file that was not touched is trusted to be the same as long as its time is. */
const settledMilliseconds = 2_000;

/** So many files are remembered, those that were read last. */
const mostRemembered = 1_000;

/** What is known of files that were read, by URI, so that an unchanged one need not be read for its digest. */
const remembered = new Map<string, { readonly stamp: string; readonly digest: string }>();

type Place = { readonly ok: true; readonly uri: vscode.Uri; readonly stat: vscode.FileStat } | { readonly ok: false; readonly reason: FileFault };

/**
 * A file port on the folder `root` of whatever file system the editor has: one in a browser, or on another machine.
 *
 * Links are refused, wherever on the way they are: where they lead is not told. A file that changes while it is read is read
 * again, once. Files are read whole, whatever part is wanted.
 */
export function editorFiles(root: vscode.Uri, mostBytes: number): FilePort {
  async function placeOf(relative: string): Promise<Place> {
    const segments = relative.split("/").filter((segment) => segment !== "");
    let uri = root;
    let stat = await vscode.workspace.fs.stat(root);
    for (const segment of segments) {
      // Some file systems find a name in other capitals too; the folder tells how it is spelled.
      const entries = await vscode.workspace.fs.readDirectory(uri);
      const names = entries.map(([name]) => name);
      if (!names.includes(segment) && !names.some((name) => name.normalize() === segment.normalize())) {
        return { ok: false, reason: names.some((name) => plainName(name) === plainName(segment)) ? "other case" : "missing" };
      }
      uri = vscode.Uri.joinPath(uri, segment);
      stat = await vscode.workspace.fs.stat(uri);
      if ((stat.type & vscode.FileType.SymbolicLink) !== 0) return { ok: false, reason: "outside" };
    }
    return { ok: true, uri, stat };
  }

  async function readOnce(relative: string): Promise<FileRead> {
    const place = await placeOf(relative);
    if (!place.ok) return place;
    const { uri, stat } = place;
    if (stat.type !== vscode.FileType.File) return { ok: false, reason: "not a file" };
    if (stat.size > mostBytes) return { ok: false, reason: "too large" };
    // Bytes of our own: what the editor gives may be a part of what it uses elsewhere.
    const bytes = Uint8Array.from(await vscode.workspace.fs.readFile(uri));
    if (bytes.length > mostBytes) return { ok: false, reason: "too large" };
    const after = await vscode.workspace.fs.stat(uri);
    if (stampOf(after) !== stampOf(stat)) return { ok: false, reason: "changing" };
    const digest = Array.from(new Uint8Array(await crypto.subtle.digest("SHA-256", bytes)), (byte) => byte.toString(16).padStart(2, "0")).join("");
    remember(uri, stat, digest);
    return { ok: true, bytes, digest };
  }

  return {
    read: async (relative) => {
      try {
        const first = await readOnce(relative);
        return !first.ok && first.reason === "changing" ? await readOnce(relative) : first;
      } catch (error) {
        return { ok: false, reason: faultOf(error) };
      }
    },
    list: async (folder) => {
      try {
        const place = await placeOf(folder === "." ? "" : folder);
        if (!place.ok) return null;
        const entries = await vscode.workspace.fs.readDirectory(place.uri);
        return entries
          .filter(([, type]) => type === vscode.FileType.File)
          .map(([name]) => name)
          .sort();
      } catch {
        // A folder that cannot be listed is reported by the caller, at the path that named it.
        return null;
      }
    },
    isCurrent: async (relative, digest) => {
      try {
        const uri = vscode.Uri.joinPath(root, relative);
        const known = remembered.get(uri.toString());
        return known?.digest === digest && known.stamp === stampOf(await vscode.workspace.fs.stat(uri));
      } catch {
        // Whatever is wrong with it is found when it is read.
        return false;
      }
    },
  };
}

/** Equal for a file that was not replaced, written to or changed in size. */
function stampOf({ type, ctime, mtime, size }: vscode.FileStat): string {
  return [type, ctime, mtime, size].join(" ");
}

function remember(uri: vscode.Uri, stat: vscode.FileStat, digest: string): void {
  if (Date.now() - stat.mtime <= settledMilliseconds) return;
  putLast(remembered, uri.toString(), { stamp: stampOf(stat), digest });
  dropUnused(remembered, () => false, mostRemembered);
}

/** A name without what some file systems do not tell apart: case, and how an accent is written. */
function plainName(name: string): string {
  return name.normalize().toLowerCase();
}

function faultOf(error: unknown): FileFault {
  return error instanceof vscode.FileSystemError && (error.code === "FileNotFound" || error.code === "FileNotADirectory") ? "missing" : "unreadable";
}
