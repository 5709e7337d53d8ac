import { checkNotebook } from "../../core/check-notebook";
import { contentKey } from "../../core/content-key";
import type { FilePort, FileRead } from "../../core/file-port";
import { defaultLimits } from "../../core/limits";
import { kindOfCell } from "../../core/notebook/cell-languages";
import type { NotebookDocument } from "../../core/notebook/document";
import { withLf } from "../../core/notebook/lines";
import { readSources } from "../../core/notebook-sources";
import type { Problem } from "../../core/problem";
import { createSessionLoader, type SessionLoader } from "../../core/session-loader";
import { vocabulary } from "../../core/vocabulary";
import type { PlaceAnswer } from "./requests";

/** How the diagnoser gets at files: through whoever holds the editor, and through the texts that are open. */
export interface FilesAround {
  readonly place: (document: string) => Promise<PlaceAnswer>;
  readonly read: (document: string, path: string) => Promise<FileRead>;
  readonly list: (document: string, folder: string) => Promise<readonly string[] | null>;
  /** The text of an open document as it is in its editor; `null` when it is not open. */
  readonly openText: (uri: string) => string | null;
  readonly digest: (bytes: Uint8Array) => string;
}

/** A cell as the editor has it. */
export interface EditorCellText {
  readonly language: string;
  readonly text: string;
}

/** Finds what is wrong with notebooks and session files; nothing is run. */
export interface Diagnoser {
  /** Problems by cell, in the cells' order, and by the URI of the file they are in. */
  readonly notebook: (
    uri: string,
    cells: readonly EditorCellText[],
  ) => Promise<{ readonly cells: readonly (readonly Problem[])[]; readonly files: ReadonlyMap<string, readonly Problem[]> }>;
  /** Problems of a session file and its exports, by the URI of the file they are in. */
  readonly session: (uri: string) => Promise<ReadonlyMap<string, readonly Problem[]>>;
}

/** Returns a diagnoser; it remembers loaded sessions by root. */
export function createDiagnoser(around: FilesAround): Diagnoser {
  const loaders = new Map<string, { readonly files: FilePort; readonly loader: SessionLoader }>();

  function loaderFor(document: string, root: string): { readonly files: FilePort; readonly loader: SessionLoader } {
    const known = loaders.get(root);
    if (known !== undefined) return known;
    const files: FilePort = {
      read: async (path) => {
        const text = around.openText(uriOf(root, path));
        if (text === null) return around.read(document, path);
        return { ok: true, bytes: new TextEncoder().encode(text), digest: contentKey(text) };
      },
      list: (folder) => around.list(document, folder),
    };
    const made = { files, loader: createSessionLoader(files, defaultLimits) };
    loaders.set(root, made);
    return made;
  }

  return {
    notebook: async (uri, cells) => {
      const place = await around.place(uri);
      const { files, loader } = loaderFor(uri, place.root);
      const document: NotebookDocument = {
        cells: cells.map((cell) => ({ kind: kindOfCell(cell.language, withLf(cell.text)), text: withLf(cell.text), form: {} })),
        lineEnd: "\n",
        mark: false,
      };
      const sources = await readSources(document, place.path, files, loader);
      const checked = checkNotebook(document, sources, vocabulary, defaultLimits);
      return { cells: checked.cells.map((cell) => cell.problems), files: byUri(place.root, checked.fileProblems) };
    },
    session: async (uri) => {
      const place = await around.place(uri);
      const { loader } = loaderFor(uri, place.root);
      const loaded = await loader.load(place.path);
      // A file without problems is named too, so that what was said of it before is taken back.
      return new Map([...loaded.inputs.map((input) => [uriOf(place.root, input.path), []] as const), ...byUri(place.root, loaded.problems)]);
    },
  };
}

function byUri(root: string, problems: readonly Problem[]): ReadonlyMap<string, readonly Problem[]> {
  const grouped = new Map<string, Problem[]>();
  for (const found of problems) {
    const uri = uriOf(root, found.file ?? "");
    grouped.set(uri, [...(grouped.get(uri) ?? []), found]);
  }
  return grouped;
}

/** The URI of a path below a root, escaped as the editor escapes it. */
function uriOf(root: string, path: string): string {
  return `${root}/${path.split("/").map(encodeURIComponent).join("/")}`;
}
