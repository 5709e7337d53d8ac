import { contentKey } from "../../core/content-key";
import type { FilePort, FileRead } from "../../core/file-port";
import { dropUnused, putLast } from "../../core/kept-entries";
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
import { createSessionProfiler, type SessionProfiler } from "./session-profiler";
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

/** A session file with what is known of it. */
export interface KnownSession {
  readonly root: string;
  readonly view: SessionView;
}

/** Finds what is known of notebooks and session files, and what is wrong with them; nothing is run. */
export interface Diagnoser {
  readonly notebook: (uri: string, document: NotebookDocument) => Promise<DiagnosedNotebook>;
  /** The same with what is known of its sessions without waiting for their exports; its problems may be of no use. */
  readonly notebookNow: (uri: string, document: NotebookDocument) => Promise<DiagnosedNotebook>;
  /**
   * A session file with this text, and with what was last found in its exports: they are not waited for. The text of its
   * file is taken where `text` is `null`.
   */
  readonly session: (uri: string, text: string | null) => Promise<KnownSession>;
  /** Problems in a session file that is open and in its exports. */
  readonly sessionProblems: (uri: string) => Promise<ProblemsByFile>;
  /** Lets go of what was remembered for a document alone: it is closed. */
  readonly forget: (uri: string) => void;
}

/** What is remembered of one root. */
interface Rooted {
  readonly root: string;
  readonly engine: Engine;
  readonly profiler: SessionProfiler;
  /** The document that was asked about last: files are read for it. */
  document: string;
}

/** The last text of a session file that was read, and what it says. */
interface ReadText extends Pick<SessionView, "session" | "tree"> {
  readonly text: string;
}

/** So many roots are remembered of which no document is open. */
const spareRoots = 1;

/**
 * Returns a diagnoser; it remembers profiles of sessions by root for as long as their documents are open, and no rows.
 *
 * @param profile where sessions are read: on this thread when absent.
 */
export function createDiagnoser(around: FilesAround, profile: ProfileSession = profileHere): Diagnoser {
  const roots = new Map<string, Rooted>();
  /** Where each document is that was asked about and not closed since; `null` until that is known. */
  const open = new Map<string, PlaceAnswer | null>();
  const texts = new Map<string, ReadText>();

  function rootAt(root: string, document: string): Rooted {
    const known = roots.get(root) ?? makeRoot(root, document);
    known.document = document;
    putLast(roots, root, known);
    return known;
  }

  function makeRoot(root: string, document: string): Rooted {
    const textOf = (path: string): string | null => around.openText(uriOf(root, path));
    const files: FilePort = {
      read: async (path, most) => {
        const text = textOf(path);
        if (text === null) return around.read(made.document, path, most);
        return { ok: true, bytes: new TextEncoder().encode(text), digest: contentKey(text) };
      },
      list: (folder) => around.list(made.document, folder),
      isCurrent: async (path, digest) => {
        const text = textOf(path);
        return text === null ? around.isCurrent(made.document, path, digest) : contentKey(text) === digest;
      },
    };
    const profiler = createSessionProfiler(files, profile);
    // Nothing is run, so no time passes.
    const engine = createEngine({ files, loader: createProfileLoader(profiler, defaultLimits), vocabulary, limits: defaultLimits, clock: () => 0 });
    const made: Rooted = { root, engine, profiler, document };
    return made;
  }

  /** Finds something out about a document that is open; nothing stays remembered if it is closed meanwhile. */
  async function findOut<T>(uri: string, find: (rooted: Rooted, path: string) => Promise<T>): Promise<T> {
    open.set(uri, open.get(uri) ?? null);
    const place = await around.place(uri);
    if (open.has(uri)) open.set(uri, place);
    try {
      return await find(rootAt(place.root, uri), place.path);
    } finally {
      if (!open.has(uri)) letGo(place);
    }
  }

  function letGo({ root, path }: PlaceAnswer): void {
    roots.get(root)?.engine.forget(path);
    const used = new Set([...open.values()].map((place) => place?.root));
    dropUnused(roots, (each) => used.has(each), spareRoots);
  }

  const listFolder =
    (document: string) =>
    async (folder: string): Promise<readonly string[]> =>
      (await around.list(document, folder)) ?? [];

  async function lookAt(uri: string, document: NotebookDocument, path: string, { root, engine }: Rooted, load?: SessionProfiler["load"]): Promise<DiagnosedNotebook> {
    const looked = await engine.look(document, path, load);
    const view = makeView(document, path, looked, { vocabulary, limits: defaultLimits, listFolder: listFolder(uri) });
    return { root, view, files: byUri(root, looked.checked.fileProblems) };
  }

  /** The text of a session file that is not open; nothing when it cannot be read, which is among its problems. */
  async function closedText(document: string, path: string): Promise<string> {
    const read = await around.read(document, path, defaultLimits.notebookText);
    return read.ok ? (decodeText(read.bytes).value ?? "") : "";
  }

  /** What the text of a session file says; read once while it is open and the same. */
  function readText(uri: string, given: string): ReadText {
    const text = withLf(given);
    const before = texts.get(uri);
    if (before?.text === text) return before;
    const made = { text, session: readSession(text).value, tree: readYaml(text).value };
    if (around.openText(uri) !== null) texts.set(uri, made);
    return made;
  }

  return {
    notebook: (uri, document) => findOut(uri, (rooted, path) => lookAt(uri, document, path, rooted)),
    notebookNow: (uri, document) => findOut(uri, (rooted, path) => lookAt(uri, document, path, rooted, rooted.profiler.now)),
    session: async (uri, text) => {
      const { root, path } = await around.place(uri);
      const read = readText(uri, text ?? (await closedText(uri, path)));
      const found = roots.get(root)?.profiler.lastKnown(path) ?? null;
      return { root, view: { path, ...read, exports: found?.exports ?? [], shots: found?.table ?? null, listFolder: listFolder(uri) } };
    },
    sessionProblems: (uri) => findOut(uri, async ({ root, engine }, path) => byUri(root, await engine.checkSession(path))),
    forget: (uri) => {
      const place = open.get(uri) ?? null;
      open.delete(uri);
      texts.delete(uri);
      if (place !== null) letGo(place);
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
