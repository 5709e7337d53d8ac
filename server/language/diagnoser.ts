import { contentKey } from "../../core/content-key";
import type { FilePort, FileRead } from "../../core/file-port";
import { defaultLimits } from "../../core/limits";
import { kindOfCell } from "../../core/notebook/cell-languages";
import type { NotebookDocument } from "../../core/notebook/document";
import { withLf } from "../../core/notebook/lines";
import type { Problem } from "../../core/problem";
import { createProfileLoader } from "../../core/profile-loader";
import { createEngine, type Engine } from "../../core/run-notebook";
import { vocabulary } from "../../core/vocabulary";
import { readSession } from "../../core/session/read-session";
import { decodeText } from "../../core/table/decode-text";
import { readYaml } from "../../core/yaml-text";
import { makeView } from "./make-view";
import type { NotebookView } from "./notebook-view";
import { profileHere, type ProfileSession } from "./profile-session";
import type { PlaceAnswer } from "./requests";
import { createSessionProfiler } from "./session-profiler";
import type { SessionView } from "./session-view";

/** How the diagnoser gets at files: through whoever holds the editor, and through the texts that are open. */
export interface FilesAround {
  readonly place: (document: string) => Promise<PlaceAnswer>;
  /** @param most bytes that are wanted: of a longer file its beginning may be given alone. */
  readonly read: (document: string, path: string, most?: number) => Promise<FileRead>;
  readonly list: (document: string, folder: string) => Promise<readonly string[] | null>;
  /** True when a file surely still has the digest that it was read with. */
  readonly isCurrent: (document: string, path: string, digest: string) => Promise<boolean>;
  /** The text of an open document as it is in its editor; `null` when it is not open. */
  readonly openText: (uri: string) => string | null;
}

/** A cell as the editor has it. */
export interface EditorCellText {
  readonly language: string;
  readonly text: string;
}

/** Problems by the URI of the file they are in. */
export type ProblemsByFile = ReadonlyMap<string, readonly Problem[]>;

/** A notebook that was checked: the problems of each cell are in the view. */
export interface DiagnosedNotebook {
  readonly root: string;
  readonly view: NotebookView;
  /** Problems in the session files and exports that the notebook names. */
  readonly files: ProblemsByFile;
}

/** A session file that was checked. */
export interface DiagnosedSession {
  readonly root: string;
  readonly view: SessionView;
  /** Problems in the session file and its exports. */
  readonly files: ProblemsByFile;
}

/** Finds what is known of notebooks and session files, and what is wrong with them; nothing is run. */
export interface Diagnoser {
  readonly notebook: (uri: string, document: NotebookDocument) => Promise<DiagnosedNotebook>;
  readonly session: (uri: string) => Promise<DiagnosedSession>;
}

/**
 * Returns a diagnoser; it remembers profiles of sessions by root, and no rows.
 *
 * @param profile where sessions are read: on this thread when absent.
 */
export function createDiagnoser(around: FilesAround, profile: ProfileSession = profileHere): Diagnoser {
  const engines = new Map<string, Engine>();

  function engineAt(root: string, document: string): Engine {
    const known = engines.get(root);
    if (known !== undefined) return known;
    const textOf = (path: string): string | null => around.openText(uriOf(root, path));
    const files: FilePort = {
      read: async (path, most) => {
        const text = textOf(path);
        if (text === null) return around.read(document, path, most);
        return { ok: true, bytes: new TextEncoder().encode(text), digest: contentKey(text) };
      },
      list: (folder) => around.list(document, folder),
      isCurrent: async (path, digest) => {
        const text = textOf(path);
        return text === null ? around.isCurrent(document, path, digest) : contentKey(text) === digest;
      },
    };
    // Nothing is run, so no time passes.
    const loader = createProfileLoader(createSessionProfiler(files, profile).load, defaultLimits);
    const made = createEngine({ files, loader, vocabulary, limits: defaultLimits, clock: () => 0 });
    engines.set(root, made);
    return made;
  }

  const listFolder =
    (document: string) =>
    async (folder: string): Promise<readonly string[]> =>
      (await around.list(document, folder)) ?? [];

  /** The text of a session file that is not open; nothing when it cannot be read, which is among its problems. */
  async function closedText(document: string, path: string): Promise<string> {
    const read = await around.read(document, path, defaultLimits.notebookText);
    return read.ok ? (decodeText(read.bytes).value ?? "") : "";
  }

  return {
    notebook: async (uri, document) => {
      const { root, path } = await around.place(uri);
      const looked = await engineAt(root, uri).look(document, path);
      const view = makeView(document, path, looked, { vocabulary, limits: defaultLimits, listFolder: listFolder(uri) });
      return { root, view, files: byUri(root, looked.checked.fileProblems) };
    },
    session: async (uri) => {
      const { root, path } = await around.place(uri);
      const engine = engineAt(root, uri);
      const problems = await engine.checkSession(path);
      const { exports, table } = await engine.session(path);
      const text = withLf(around.openText(uri) ?? (await closedText(uri, path)));
      const view = { path, text, session: readSession(text).value, tree: readYaml(text).value, exports, shots: table, listFolder: listFolder(uri) };
      return { root, view, files: byUri(root, problems) };
    },
  };
}

/** The document that an editor's cells make. */
export function documentOf(cells: readonly EditorCellText[]): NotebookDocument {
  return { cells: cells.map(documentCell), lineEnd: "\n", mark: false };
}

function documentCell(cell: EditorCellText): NotebookDocument["cells"][number] {
  const text = withLf(cell.text);
  return { kind: kindOfCell(cell.language, text), text, form: {} };
}

function byUri(root: string, problems: readonly Problem[]): ProblemsByFile {
  const grouped = new Map<string, Problem[]>();
  for (const found of problems) {
    const uri = uriOf(root, found.file ?? "");
    const others = grouped.get(uri);
    if (others === undefined) grouped.set(uri, [found]);
    else others.push(found);
  }
  return grouped;
}

/** The URI of a path below a root, escaped as the editor escapes it: all but letters, digits and `-._~`. */
export function uriOf(root: string, path: string): string {
  const escaped = (name: string): string => encodeURIComponent(name).replace(/[!'()*]/g, (c) => `%${c.charCodeAt(0).toString(16).toUpperCase()}`);
  return `${root}/${path.split("/").map(escaped).join("/")}`;
}
