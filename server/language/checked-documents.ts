import { LSPErrorCodes, ResponseError } from "vscode-languageserver";
import type { TextDocument } from "vscode-languageserver-textdocument";
import { parseNotebook } from "../../core/notebook/parse-notebook";
import type { Problem } from "../../core/problem";
import { documentOf, uriOf, type Diagnoser, type KnownSession, type ProblemsByFile } from "./diagnoser";
import type { DocumentStore } from "./document-store";
import type { NotebookView } from "./notebook-view";
import { placedCells, placedText, type PlacedNotebook } from "./placed-notebook";

/** A notebook that was checked, whether open as one or as text, with all that is to be said of it. */
export interface CheckedDocument {
  readonly placed: PlacedNotebook;
  /** By document: the cells or the text, the session files and the exports. */
  readonly problems: ProblemsByFile;
}

/**
 * Documents as they are now, checked: each version once, whoever asks.
 *
 * An answer is that of the version at the time of asking: its places are places of that text. Where the text changed
 * before it was looked at, the answer is rejected with the protocol's `ContentModified` (see `isOutdated`).
 */
export interface CheckedDocuments {
  readonly notebook: (uri: string) => Promise<CheckedDocument | null>;
  /** A `.shots.md` that is open as text. */
  readonly notebookText: (uri: string) => Promise<CheckedDocument | null>;
  /** A notebook with what is known of its sessions without waiting for their exports: what requests are answered from. */
  readonly notebookNow: (uri: string) => Promise<PlacedNotebook | null>;
  /** The same of a `.shots.md` that is open as text. */
  readonly notebookTextNow: (uri: string) => Promise<PlacedNotebook | null>;
  /** A session file, open or not, with what was last found in its exports. */
  readonly session: (uri: string) => Promise<KnownSession>;
  /** By file: problems of a session file that is open, and of its exports as they are now. */
  readonly sessionProblems: (uri: string) => Promise<ProblemsByFile>;
  /** Says that files changed: what was checked before does not hold. */
  readonly filesChanged: () => void;
  /** Says that the text of a session file is another: only notebooks that may name it are checked again. */
  readonly sessionChanged: (session: string) => void;
  /** True for a notebook that was checked, or is being checked, since whatever it is known to name was changed. */
  readonly isKnown: (uri: string) => boolean;
  /** Lets go of what was made of a document that is closed; of one that is open both ways, and still is in one of them, only that. */
  readonly forget: (uri: string) => void;
}

/** An answer, and what it is an answer for. */
interface Known {
  /** The documents that it was made of; one that changes is another. */
  readonly documents: readonly TextDocument[];
  readonly files: number;
  readonly answer: Promise<unknown>;
  /** The files that it hangs on; `null` until they are known. */
  names: ReadonlySet<string> | null;
}

/** Tells the files that an answer hangs on. */
type Tell = (names: ReadonlySet<string>) => void;

/** Gives `T` of what checking some documents gives, which is done with what looks at a notebook. */
type Ask<T> = (owner: string, documents: readonly TextDocument[], check: (tell: Tell, look: Diagnoser["notebook"]) => Promise<CheckedDocument>) => Promise<T>;

/** Returns the checked documents of a store; nothing is checked before it is asked for. */
export function createCheckedDocuments(store: DocumentStore, diagnoser: Diagnoser): CheckedDocuments {
  const known = new Map<string, Known>();
  /** What is being made at this moment, one version a document. */
  const running = new Map<string, Promise<unknown>>();
  let files = 0;

  /**
   * What was made for these documents, or what `make` gives. Two versions of one document are never made at the same
   * time; one that was superseded while it waited is not made at all.
   *
   * @param make is to tell the files that its answer hangs on.
   */
  function once<T>(owner: string, documents: readonly TextDocument[], make: (tell: Tell) => Promise<T>): Promise<T> {
    const before = known.get(owner);
    if (before !== undefined && before.files === files && isSame(before.documents, documents)) return before.answer as Promise<T>;
    const answer = Promise.resolve().then(async (): Promise<T> => {
      while (running.has(owner)) await running.get(owner)!.then(ignore, ignore);
      const latest = known.get(owner);
      if (latest !== undefined && latest !== mine) {
        if (!isSame(latest.documents, documents)) throw outdated();
        return latest.answer as Promise<T>;
      }
      const making = make((names) => void (mine.names = names));
      running.set(owner, making);
      try {
        return await making;
      } finally {
        running.delete(owner);
      }
    });
    const mine: Known = { documents, files, answer, names: null };
    known.set(owner, mine);
    answer.catch(() => {
      if (known.get(owner) === mine) known.delete(owner);
    });
    return answer;
  }

  function notebook<T>(uri: string, ask: Ask<T>): Promise<T | null> {
    const cells = store.notebook(uri)?.cells;
    if (cells === undefined) return Promise.resolve(null);
    return ask(`notebook ${uri}`, cells, async (tell, look) => {
      const { root, view, files: found } = await look(uri, documentOf(cells.map((cell) => ({ language: cell.languageId, text: cell.getText() }))));
      tell(filesOf(root, view));
      const uris = cells.map((cell) => cell.uri);
      const own = uris.map((cell, index): readonly [string, readonly Problem[]] => [cell, view.checked.cells[index]!.problems]);
      return { placed: placedCells(view, root, uris), problems: new Map([...found, ...own]) };
    });
  }

  function notebookText<T>(uri: string, ask: Ask<T>): Promise<T | null> {
    const opened = store.text(uri);
    if (opened === null) return Promise.resolve(null);
    return ask(`text ${uri}`, [opened], async (tell, look) => {
      const text = opened.getText();
      const { value: document, problems: whole } = parseNotebook(text);
      const { root, view, files: found } = await look(uri, document);
      tell(filesOf(root, view));
      const placed = placedText(view, root, uri, text, document);
      const inCells = view.checked.cells.flatMap(({ index, problems }) => problems.map((each) => placed.problemAt(index, each)));
      return { placed, problems: new Map([...found, [uri, [...whole, ...inCells]] as const]) };
    });
  }

  const checkWhole: Ask<CheckedDocument> = (owner, documents, check) => once(owner, documents, (tell) => check(tell, diagnoser.notebook));

  /** What was checked of these documents if it was, and else what can be known at once. */
  const placeNow: Ask<PlacedNotebook> = async (owner, documents, check) => {
    const whole = known.get(owner);
    const isWhole = whole !== undefined && whole.names !== null && whole.files === files && isSame(whole.documents, documents);
    const found = isWhole ? (whole.answer as Promise<CheckedDocument>) : once(`now ${owner}`, documents, (tell) => check(tell, diagnoser.notebookNow));
    return (await found).placed;
  };

  return {
    notebook: (uri) => notebook(uri, checkWhole),
    notebookText: (uri) => notebookText(uri, checkWhole),
    notebookNow: (uri) => notebook(uri, placeNow),
    notebookTextNow: (uri) => notebookText(uri, placeNow),
    session: (uri) => diagnoser.session(uri, store.text(uri)?.getText() ?? null),
    sessionProblems: (uri) => {
      const opened = store.text(uri);
      if (opened === null) return Promise.resolve(new Map());
      return once(`session ${uri}`, [opened], async (tell) => {
        tell(new Set([uri]));
        const found = await diagnoser.sessionProblems(uri);
        // Its text is read when its turn has come.
        if (store.text(uri) !== opened) throw outdated();
        return found;
      });
    },
    filesChanged: () => void files++,
    sessionChanged: (session) => {
      for (const [owner, { names }] of known) if (names === null || names.has(session)) known.delete(owner);
    },
    isKnown: (uri) => known.get(`notebook ${uri}`)?.files === files || known.get(`text ${uri}`)?.files === files,
    forget: (uri) => {
      const [isNotebook, isText] = [store.notebook(uri) !== null, store.text(uri) !== null];
      const closed = [...(isNotebook ? [] : ["notebook", "now notebook"]), ...(isText ? [] : ["text", "now text", "session"])];
      for (const kind of closed) known.delete(`${kind} ${uri}`);
      if (!isNotebook && !isText) diagnoser.forget(uri);
    },
  };
}

/** True for the fault of an answer that is not wanted any more: the document has changed. */
export function isOutdated(fault: unknown): boolean {
  return fault instanceof ResponseError && fault.code === LSPErrorCodes.ContentModified;
}

function outdated(): ResponseError {
  return new ResponseError(LSPErrorCodes.ContentModified, "the document has changed meanwhile");
}

/** A change makes a new document of each that it touches. */
function isSame(some: readonly TextDocument[], others: readonly TextDocument[]): boolean {
  return some.length === others.length && some.every((document, index) => document === others[index]);
}

/** The session files and exports that a notebook names, by URI. */
function filesOf(root: string, view: NotebookView): ReadonlySet<string> {
  return new Set(view.sources.inputs.map(({ path }) => uriOf(root, path)));
}

function ignore(): void {
  // What went wrong with an older version was said to whoever asked for it.
}
