import { kindOfCell } from "../../core/notebook/cell-languages";
import { withLf } from "../../core/notebook/lines";
import { hasError, type Problem } from "../../core/problem";
import { createCheckSchedule } from "./check-schedule";
import type { CheckedDocuments } from "./checked-documents";
import type { ProblemsAround } from "./code-actions";
import type { ProblemsByFile } from "./diagnoser";
import type { DocumentStore, Touched } from "./document-store";
import { earlyNotebookProblems, earlySessionProblems, sessionTextProblems, type FoundInSession } from "./early-problems";
import type { NotebookView } from "./notebook-view";
import { textOwner, type Publisher } from "./publisher";
import { syntaxProblems } from "./syntax-problems";
import { isNotebookText, isSession, isWorkedOn } from "./worked-on";

/** What is checked and said when, as documents open, change and close. */
export interface DocumentChecks {
  /** Says what is wrong with a text as text at once, and checks it and what names it after `pause` milliseconds. */
  readonly changed: (change: Touched, pause?: number) => void;
  /** Takes back what was said of a notebook that was closed, and of the files that it alone names. */
  readonly notebookClosed: (uri: string) => void;
  /** The same for a text. */
  readonly textClosed: (uri: string) => void;
  /** Checks everything again, since files are others now. */
  readonly filesChanged: () => void;
  /**
   * The problems of a document as it is now, and of all cells of its notebook; of a file that is not open, those that the
   * documents that name it find now.
   */
  readonly problemsNow: (uri: string) => Promise<ProblemsAround>;
}

/**
 * Returns the checks of the documents of a store.
 *
 * @param onFault what to do with an error that is no problem of a document.
 */
export function createDocumentChecks(store: DocumentStore, checked: CheckedDocuments, publisher: Publisher, onFault: (error: unknown) => void): DocumentChecks {
  const schedule = createCheckSchedule(publisher, onFault);
  /** What was last checked of each notebook that is open as text. */
  const lastViews = new Map<string, NotebookView>();
  /** What was last found in each session file that is open. */
  const lastSessions = new Map<string, FoundInSession>();

  function checkNotebookSoon(uri: string, pause?: number): void {
    if (isWorkedOn(uri)) schedule.checkSoon(notebookOwner(uri), async () => (await checked.notebook(uri))?.problems ?? null, { pause });
  }

  function checkTextSoon(uri: string, pause?: number): void {
    // A notebook that is open both ways says what is wrong in its cells.
    const isBoth = store.notebook(uri) !== null;
    if (isSession(uri)) schedule.checkSoon(textOwner(uri), () => findInSession(uri), { pause, sayFirst: () => saySessionText(uri) });
    else if (isNotebookText(uri)) schedule.checkSoon(textOwner(uri), isBoth ? () => Promise.resolve(null) : () => findInText(uri), { pause });
  }

  /** Says what is wrong with the text of a session file before its exports are read again. */
  function saySessionText(uri: string): void {
    const text = store.text(uri)?.getText();
    if (text !== undefined) publisher.replaceIn(textOwner(uri), uri, sessionTextProblems(text, lastSessions.get(uri) ?? null));
  }

  async function findInSession(uri: string): Promise<ProblemsByFile> {
    const text = store.text(uri)?.getText() ?? "";
    const found = await checked.sessionProblems(uri);
    const own = found.get(uri) ?? [];
    if (store.text(uri) !== null) lastSessions.set(uri, { text, problems: own });
    return new Map([...found, [uri, own]]);
  }

  async function findInText(uri: string): Promise<ProblemsByFile | null> {
    const found = await checked.notebookText(uri);
    if (found !== null && store.text(uri) !== null) lastViews.set(uri, found.placed.view);
    return found?.problems ?? null;
  }

  function checkAllSoon(): void {
    for (const { uri } of store.texts()) checkTextSoon(uri);
    for (const { uri } of store.notebooks()) checkNotebookSoon(uri);
  }

  /** Checks again the notebooks that may name a session file whose text is another now. */
  function checkNamingSoon(session: string): void {
    checked.sessionChanged(session);
    for (const { uri } of store.texts()) if (isNotebookText(uri) && !checked.isKnown(uri)) checkTextSoon(uri);
    for (const { uri } of store.notebooks()) if (!checked.isKnown(uri)) checkNotebookSoon(uri);
  }

  /** Says at once what is wrong with a text as text, be it a cell's or a whole file's; the rest is found later. */
  function saySyntax({ uri, kind, cells }: Touched): void {
    if (kind === "text") return sayFileSyntax(uri);
    const owner = notebookOwner(uri);
    if (!isWorkedOn(uri)) return;
    for (const cell of store.notebook(uri)?.cells ?? []) {
      if (!cells.includes(cell.uri)) continue;
      const text = withLf(cell.getText());
      const found: readonly Problem[] = syntaxProblems(kindOfCell(cell.languageId, text), text);
      if (hasError(found)) publisher.replaceIn(owner, cell.uri, found);
    }
  }

  function sayFileSyntax(uri: string): void {
    const text = store.text(uri)?.getText() ?? "";
    // A notebook that is open both ways says what is wrong in its cells.
    const isNotebook = isNotebookText(uri) && store.notebook(uri) === null;
    const found = isSession(uri) ? earlySessionProblems(text) : isNotebook ? earlyNotebookProblems(text, lastViews.get(uri) ?? null) : null;
    if (found !== null) publisher.replaceIn(textOwner(uri), uri, found);
  }

  async function problemsNow(uri: string): Promise<ProblemsAround> {
    const notebook = store.notebookOf(uri)?.notebook;
    if (notebook !== undefined) {
      const found = await checked.notebook(notebook.uri);
      return new Map(notebook.cells.map((cell) => [cell.uri, found?.problems.get(cell.uri) ?? []]));
    }
    return new Map([[uri, await problemsInFile(uri)]]);
  }

  async function problemsInFile(uri: string): Promise<readonly Problem[]> {
    if (store.text(uri) !== null) return (isSession(uri) ? await checked.sessionProblems(uri) : (await checked.notebookText(uri))?.problems)?.get(uri) ?? [];
    const found = await Promise.all(publisher.ownersOf(uri).map((owner) => schedule.findNow(owner)));
    return [...new Map(found.flatMap((problems) => problems?.get(uri) ?? []).map((each) => [JSON.stringify(each), each])).values()];
  }

  return {
    changed: (change, pause) => {
      const { uri, kind } = change;
      saySyntax(change);
      if (kind === "notebook") {
        checkNotebookSoon(uri, pause);
        if (store.text(uri) !== null) checkTextSoon(uri);
      } else {
        checkTextSoon(uri, pause);
        if (isSession(uri)) checkNamingSoon(uri);
      }
    },
    notebookClosed: (uri) => {
      checked.forget(uri);
      schedule.forget(notebookOwner(uri));
      if (store.text(uri) !== null) checkTextSoon(uri);
    },
    textClosed: (uri) => {
      lastViews.delete(uri);
      lastSessions.delete(uri);
      checked.forget(uri);
      schedule.forget(textOwner(uri));
      if (isSession(uri)) checkNamingSoon(uri);
    },
    filesChanged: () => {
      checked.filesChanged();
      checkAllSoon();
    },
    problemsNow,
  };
}

/** The owner of what is found by checking a notebook that is open as such. */
function notebookOwner(uri: string): string {
  return `notebook ${uri}`;
}
