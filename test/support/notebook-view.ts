import { defaultLimits } from "../../core/limits";
import type { CellKind, NotebookDocument } from "../../core/notebook/document";
import { createEngine } from "../../core/run-notebook";
import { vocabulary } from "../../core/vocabulary";
import { makeView } from "../../server/language/make-view";
import type { NotebookView } from "../../server/language/notebook-view";
import { memoryFiles } from "./memory-files";
import { smallFiles } from "./small-session";

/** The front matter that names the small session. */
export const smallFront = ["front", "shots: s/one.session.yaml"] as const;

/** The view of a notebook `n.shots.md` of these cells, on files in memory: those of the small session unless others are given. */
export async function notebookView(
  cells: readonly (readonly [kind: CellKind, text: string])[],
  files: Readonly<Record<string, string>> = smallFiles,
): Promise<NotebookView> {
  const port = memoryFiles(files);
  const document: NotebookDocument = { cells: cells.map(([kind, text]) => ({ kind, text, form: {} })), lineEnd: "\n", mark: false };
  const engine = createEngine({ files: port, vocabulary, limits: defaultLimits, clock: () => 0 });
  const looked = await engine.look(document, "n.shots.md");
  return makeView(document, "n.shots.md", looked, { vocabulary, limits: defaultLimits, listFolder: async (folder) => (await port.list(folder)) ?? [] });
}

/** A text without its mark `¦`, and where it stood. */
export function atMark(text: string): { readonly text: string; readonly offset: number } {
  const offset = text.indexOf("¦");
  if (offset < 0) throw new RangeError(`no mark in ${text}`);
  return { text: text.slice(0, offset) + text.slice(offset + 1), offset };
}
