import { resolvePath } from "../../core/path";
import type { NotebookView } from "./notebook-view";

/**
 * Session files that a notebook can name, as it would name them: those beside it, in `sessions`, in the folders of the
 * sessions that it names already and in the one that `typed` begins with; for each folder with several also the pattern
 * for all of them.
 */
export async function sessionPaths(view: NotebookView, typed = ""): Promise<{ readonly files: readonly string[]; readonly patterns: readonly string[] }> {
  const folderOf = (path: string): string => (path.includes("/") ? path.slice(0, path.lastIndexOf("/")) : ".");
  const folders = new Set([".", "sessions", ...view.notebook.front.shots.map(({ path }) => folderOf(path)), folderOf(typed)]);
  const files: string[] = [];
  const patterns: string[] = [];
  for (const folder of folders) {
    const from = resolvePath(folderOf(view.path) === "." ? "" : folderOf(view.path), folder).value;
    if (from === null) continue;
    const names = (await view.listFolder(from)).filter((name) => name.endsWith(".session.yaml"));
    const start = folder === "." ? "" : `${folder}/`;
    files.push(...names.map((name) => start + name));
    if (names.length > 0) patterns.push(`${start}*.session.yaml`);
  }
  return { files, patterns };
}
