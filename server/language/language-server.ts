import { CodeActionKind, CodeActionRequest, TextDocumentSyncKind, type Connection, type InitializeParams, type InitializeResult } from "vscode-languageserver";
import { kindOfCell, languageOfKind, notebookType } from "../../core/notebook/cell-languages";
import { withLf } from "../../core/notebook/lines";
import { hasError, type Problem } from "../../core/problem";
import { answerActions } from "./answer-actions";
import { tokenLegend } from "./answer-protocol";
import { createCheckedDocuments, isOutdated } from "./checked-documents";
import { fixAllKind, fixNotebookKind, type ProblemsAround } from "./code-actions";
import { createDiagnoser, type FilesAround, type ProblemsByFile } from "./diagnoser";
import { createDocumentStore, type DocumentStore, type OutOfStep, type Touched } from "./document-store";
import { earlyNotebookProblems, earlySessionProblems, sessionTextProblems, type FoundInSession } from "./early-problems";
import type { NotebookView } from "./notebook-view";
import { answerRequests } from "./providers";
import type { ProfileSession } from "./profile-session";
import { createPublisher, textOwner } from "./publisher";
import {
  currentRequest,
  listRequest,
  placeRequest,
  readOf,
  readRequest,
  wholeRequest,
  workedOnSchemes,
  type CurrentAnswer,
  type CurrentParams,
  type FileParams,
  type ListAnswer,
  type PlaceAnswer,
  type PlaceParams,
  type ReadAnswer,
  type ReadParams,
  type WholeAnswer,
  type WholeParams,
} from "./requests";
import { syntaxProblems } from "./syntax-problems";
import { isNotebookText, isSession, isWorkedOn } from "./worked-on";
import { editAbilities, type EditAbilities } from "./workspace-edits";

/** Time after the last change before a document is checked again. */
const pauseMilliseconds = 150;

/** When a document is checked. */
interface CheckTimes {
  /** Milliseconds to wait first. */
  readonly pause?: number | undefined;
  /** Says what can be said after the pause without waiting for anything. */
  readonly sayFirst?: () => void;
}

/**
 * Wires a connection. Notebooks, open as such or as text, and session files are checked whenever they, or the files they
 * name, change, and their problems are pushed; every other request is answered from what was checked. It runs nothing
 * and needs no kernel.
 *
 * @param profile where sessions are read: on this thread when absent.
 */
export function serveLanguage(connection: Connection, profile?: ProfileSession): void {
  const store = createDocumentStore();
  const files = filesOf(connection, store);
  const checked = createCheckedDocuments(store, createDiagnoser(files, profile));
  const publisher = createPublisher(
    (uri, diagnostics, version) => {
      connection.sendDiagnostics(version === undefined ? { uri, diagnostics } : { uri, diagnostics, version }).catch((error: unknown) => report(connection, error));
    },
    (uri) => store.versionOf(uri),
  );
  const timers = new Map<string, NodeJS.Timeout>();
  /** How the problems of each document that is worked on are found. */
  const finders = new Map<string, () => Promise<ProblemsByFile | null>>();
  /** What was last checked of each notebook that is open as text. */
  const lastViews = new Map<string, NotebookView>();
  /** What was last found in each session file that is open. */
  const lastSessions = new Map<string, FoundInSession>();
  /** The change after which each document is checked; changes are counted through all documents. */
  const versions = new Map<string, number>();
  let changes = 0;

  /** Checks a document after a pause; a newer change makes an answer that is under way worthless. */
  function checkSoon(owner: string, find: () => Promise<ProblemsByFile | null>, { pause = pauseMilliseconds, sayFirst }: CheckTimes = {}): void {
    const version = ++changes;
    const run = async (): Promise<void> => {
      timers.delete(owner);
      sayFirst?.();
      const found = await find();
      if (versions.get(owner) === version) publisher.replace(owner, found ?? new Map());
    };
    versions.set(owner, version);
    finders.set(owner, find);
    clearTimeout(timers.get(owner));
    timers.set(owner, setTimeout(() => void run().catch((error: unknown) => (isOutdated(error) ? undefined : report(connection, error))), pause));
  }

  function checkNotebookSoon(uri: string, pause?: number): void {
    if (isWorkedOn(uri)) checkSoon(`notebook ${uri}`, async () => (await checked.notebook(uri))?.problems ?? null, { pause });
  }

  function checkTextSoon(uri: string, pause?: number): void {
    // A notebook that is open both ways says what is wrong in its cells.
    const isBoth = store.notebook(uri) !== null;
    if (isSession(uri)) checkSoon(textOwner(uri), () => findInSession(uri), { pause, sayFirst: () => saySessionText(uri) });
    else if (isNotebookText(uri)) checkSoon(textOwner(uri), isBoth ? () => Promise.resolve(null) : () => findInText(uri), { pause });
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

  /** Takes back all that was said of a document and of the files that it alone names. */
  function forget(owner: string): void {
    versions.delete(owner);
    finders.delete(owner);
    clearTimeout(timers.get(owner));
    timers.delete(owner);
    publisher.replace(owner, new Map());
  }

  /** Says at once what is wrong with a text as text, be it a cell's or a whole file's; the rest is found later. */
  function saySyntax({ uri, kind, cells }: Touched): void {
    if (kind === "text") return sayFileSyntax(uri);
    const owner = `notebook ${uri}`;
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

  /** What follows from a change, or from one that does not fit: then the whole document is asked for. */
  function follow(change: Touched | OutOfStep | null, pause?: number): void {
    if (change === null) return;
    if ("outOfStep" in change) {
      askForWhole(change).catch((error: unknown) => report(connection, error));
      return;
    }
    const { uri, kind } = change;
    saySyntax(change);
    if (kind === "notebook") {
      checkNotebookSoon(uri, pause);
      if (store.text(uri) !== null) checkTextSoon(uri);
    } else if (isSession(uri)) {
      checkTextSoon(uri, pause);
      checkNamingSoon(uri);
    } else checkTextSoon(uri, pause);
  }

  async function askForWhole({ outOfStep: uri, kind }: OutOfStep): Promise<void> {
    const whole = await connection.sendRequest<WholeAnswer>(wholeRequest, { uri, kind } satisfies WholeParams);
    if (whole === null) return;
    const items = (whole.kind === "text" ? [whole] : whole.cells).map((each) => ({ uri: each.uri, languageId: each.language, version: each.version, text: each.text }));
    if (whole.kind === "text") follow(store.openText(items[0]!));
    else {
      const cells = items.map((item) => ({ kind: 2 as const, document: item.uri }));
      follow(store.openNotebook({ notebookDocument: { uri, notebookType, version: whole.version, cells }, cellTextDocuments: items }));
    }
  }

  /**
   * The problems of a document as it is now, and of all cells of its notebook; of a file that is not open, those that the
   * documents that name it find now.
   */
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
    const found = await Promise.all(publisher.ownersOf(uri).flatMap((owner) => finders.get(owner)?.() ?? []));
    return [...new Map(found.flatMap((problems) => problems?.get(uri) ?? []).map((each) => [JSON.stringify(each), each])).values()];
  }

  const sync = connection.notebooks.synchronization;
  sync.onDidOpenNotebookDocument((params) => follow(store.openNotebook(params), 0));
  sync.onDidChangeNotebookDocument((params) => follow(store.changeNotebook(params)));
  sync.onDidCloseNotebookDocument(({ notebookDocument: { uri } }) => {
    if (store.closeNotebook(uri) === null) return;
    checked.forget(uri);
    forget(`notebook ${uri}`);
    if (store.text(uri) !== null) checkTextSoon(uri);
  });
  connection.onDidOpenTextDocument(({ textDocument }) => follow(store.openText(textDocument), 0));
  connection.onDidChangeTextDocument((params) => follow(store.changeText(params)));
  connection.onDidCloseTextDocument(({ textDocument: { uri } }) => {
    if (store.closeText(uri) === null) return;
    lastViews.delete(uri);
    lastSessions.delete(uri);
    checked.forget(uri);
    forget(textOwner(uri));
    if (isSession(uri)) checkNamingSoon(uri);
  });
  connection.onDidChangeWatchedFiles(() => {
    checked.filesChanged();
    checkAllSoon();
  });
  let abilities: EditAbilities = { versions: false, newFiles: false };
  connection.onCodeAction((params, token) => answerActions(params, token, { store, files, problemsNow, abilities }));
  let showsHints = false;
  answerRequests(connection, { store, checked, showsHints: () => showsHints, abilities: () => abilities });
  connection.onDidChangeConfiguration(({ settings }: { readonly settings?: { readonly fairstrike?: { readonly columnHints?: unknown } } }) => {
    showsHints = settings?.fairstrike?.columnHints === true;
    connection.languages.inlayHint.refresh().catch((error: unknown) => report(connection, error));
  });

  let registersLater = false;
  connection.onInitialize((params: InitializeParams): InitializeResult => {
    registersLater = params.capabilities.textDocument?.codeAction?.dynamicRegistration === true;
    abilities = editAbilities(params);
    return { capabilities, serverInfo: { name: "fairstrike" } };
  });
  connection.onInitialized(() => {
    if (!registersLater) return;
    // Exports are not sent here as documents, and their problems have fixes all the same.
    const exports = { documentSelector: workedOnSchemes.map((scheme) => ({ scheme, pattern: "**/*.{csv,tsv,txt}" })), ...capabilities.codeActionProvider };
    connection.client.register(CodeActionRequest.type, exports).catch((error: unknown) => report(connection, error));
  });
  connection.listen();
}

const capabilities = {
  codeActionProvider: { codeActionKinds: [CodeActionKind.QuickFix, fixAllKind, fixNotebookKind] },
  completionProvider: { triggerCharacters: [".", '"', "'", "=", "{", "(", ",", ":", "/", "[", "$"] },
  hoverProvider: true,
  signatureHelpProvider: { triggerCharacters: ["(", ",", "{"] },
  definitionProvider: true,
  referencesProvider: true,
  renameProvider: { prepareProvider: true },
  documentHighlightProvider: true,
  documentSymbolProvider: true,
  foldingRangeProvider: true,
  documentLinkProvider: {},
  documentFormattingProvider: true,
  inlayHintProvider: true,
  semanticTokensProvider: { legend: tokenLegend, full: true },
  textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental },
  notebookDocumentSync: {
    notebookSelector: [
      {
        notebook: { notebookType },
        cells: Object.values(languageOfKind)
          .filter((language) => language !== languageOfKind.prose)
          .map((language) => ({ language })),
      },
    ],
  },
} satisfies InitializeResult["capabilities"];

/** Files as the client reads them, and texts as they are open here. */
function filesOf(connection: Connection, store: DocumentStore): FilesAround {
  return {
    place: (document) => connection.sendRequest<PlaceAnswer>(placeRequest, { document } satisfies PlaceParams),
    read: async (document, path, most) => {
      const params: ReadParams = most === undefined ? { document, path } : { document, path, most };
      return readOf(await connection.sendRequest<ReadAnswer>(readRequest, params));
    },
    list: async (document, folder) =>
      (await connection.sendRequest<ListAnswer>(listRequest, { document, path: folder } satisfies FileParams)).names,
    isCurrent: async (document, path, digest) =>
      (await connection.sendRequest<CurrentAnswer>(currentRequest, { document, path, digest } satisfies CurrentParams)).isCurrent,
    openText: (uri) => store.text(uri)?.getText() ?? null,
  };
}

function report(connection: Connection, error: unknown): void {
  connection.console.error(error instanceof Error ? (error.stack ?? error.message) : String(error));
}
