import { parseNotebook } from "../../core/notebook/parse-notebook";
import type { Problem } from "../../core/problem";
import type { Diagnoser, DiagnosedSession, ProblemsByFile } from "./diagnoser";
import { documentOf } from "./diagnoser";
import type { DocumentStore, OpenedNotebook } from "./document-store";
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
 * An answer is that of the version at the time of asking, or of a newer one.
 */
export interface CheckedDocuments {
  readonly notebook: (uri: string) => Promise<CheckedDocument | null>;
  /** A `.shots.md` that is open as text. */
  readonly notebookText: (uri: string) => Promise<CheckedDocument | null>;
  /** A session file, open or not. */
  readonly session: (uri: string) => Promise<DiagnosedSession>;
  /** Says that files changed: what was checked before does not hold. */
  readonly filesChanged: () => void;
  /** Lets go of what was made of a document that is closed. */
  readonly forget: (uri: string) => void;
}

/** Returns the checked documents of a store; nothing is checked before it is asked for. */
export function createCheckedDocuments(store: DocumentStore, diagnoser: Diagnoser): CheckedDocuments {
  const known = new Map<string, { readonly key: string; readonly answer: Promise<unknown> }>();
  /** What is being made at this moment, one version a document. */
  const running = new Map<string, Promise<unknown>>();
  let files = 0;

  /**
   * What was made for this version, or what `make` gives. Two versions of one document are never made at the same time;
   * one that was superseded while it waited is not made at all, and who asked for it gets the newer one.
   */
  function once<T>(owner: string, version: string, make: () => Promise<T>): Promise<T> {
    const key = `${files} ${version}`;
    const before = known.get(owner);
    if (before?.key === key) return before.answer as Promise<T>;
    const answer = Promise.resolve().then(async (): Promise<T> => {
      while (running.has(owner)) await running.get(owner)!.then(ignore, ignore);
      const latest = known.get(owner);
      if (latest !== undefined && latest.key !== key) return latest.answer as Promise<T>;
      const making = make();
      running.set(owner, making);
      try {
        return await making;
      } finally {
        running.delete(owner);
      }
    });
    known.set(owner, { key, answer });
    answer.catch(() => {
      if (known.get(owner)?.answer === answer) known.delete(owner);
    });
    return answer;
  }

  return {
    notebook: (uri) => {
      const opened = store.notebook(uri);
      if (opened === null) return Promise.resolve(null);
      return once(`notebook ${uri}`, versionOf(opened), async () => {
        const cells = opened.cells.map((cell) => ({ language: cell.languageId, text: cell.getText() }));
        const { root, view, files: found } = await diagnoser.notebook(uri, documentOf(cells));
        const uris = opened.cells.map((cell) => cell.uri);
        const own = uris.map((cell, index): readonly [string, readonly Problem[]] => [cell, view.checked.cells[index]!.problems]);
        return { placed: placedCells(view, root, uris), problems: new Map([...found, ...own]) };
      });
    },
    notebookText: (uri) => {
      const opened = store.text(uri);
      if (opened === null) return Promise.resolve(null);
      return once(`text ${uri}`, String(opened.version), async () => {
        const text = opened.getText();
        const { value: document, problems: whole } = parseNotebook(text);
        const { root, view, files: found } = await diagnoser.notebook(uri, document);
        const placed = placedText(view, root, uri, text, document);
        const inCells = view.checked.cells.flatMap(({ index, problems }) => problems.map((each) => inFileOf(placed, index, each)));
        return { placed, problems: new Map([...found, [uri, [...whole, ...inCells]] as const]) };
      });
    },
    session: (uri) => once(`session ${uri}`, String(store.text(uri)?.version ?? "file"), () => diagnoser.session(uri)),
    filesChanged: () => void files++,
    forget: (uri) => {
      for (const kind of ["notebook", "text", "session"]) known.delete(`${kind} ${uri}`);
    },
  };
}

/** Cells are named by their URIs, which move with them; their versions count from 1 each. */
function versionOf({ version, cells }: OpenedNotebook): string {
  return `${version} ${cells.map((cell) => `${cell.uri}@${cell.version}`).join(" ")}`;
}

function inFileOf(placed: PlacedNotebook, cell: number, found: Problem): Problem {
  const move = (range: Problem["range"]): Problem["range"] => {
    const { start, end } = placed.placeOfRange(cell, range).range;
    return { start: { line: start.line + 1, column: start.character + 1 }, end: { line: end.line + 1, column: end.character + 1 } };
  };
  const { fix } = found;
  const moved = { ...found, range: move(found.range) };
  return fix === undefined ? moved : { ...moved, fix: { ...fix, edits: fix.edits.map((edit) => ({ ...edit, range: move(edit.range) })) } };
}

function ignore(): void {
  // What went wrong with an older version was said to whoever asked for it.
}
