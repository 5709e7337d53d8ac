import { CodeActionKind, TextDocumentSyncKind, type Connection, type InitializeResult, type NotebookDocuments, type TextDocuments } from "vscode-languageserver";
import type { TextDocument } from "vscode-languageserver-textdocument";
import { languageOfKind, notebookType } from "../../core/notebook/cell-languages";
import type { Problem } from "../../core/problem";
import { codeActionsFor } from "./code-actions";
import { createDiagnoser, type FilesAround, type ProblemsByFile } from "./diagnoser";
import { createPublisher } from "./publisher";
import {
  currentRequest,
  listRequest,
  placeRequest,
  readRequest,
  type CurrentAnswer,
  type CurrentParams,
  type FileParams,
  type ListAnswer,
  type PlaceAnswer,
  type PlaceParams,
  type ReadAnswer,
} from "./requests";

/** Documents of both sorts, as the protocol library keeps them. */
export interface OpenDocuments {
  readonly notebooks: NotebookDocuments<TextDocument>;
  readonly texts: TextDocuments<TextDocument>;
}

/** Time after the last change before a document is checked again. */
const pauseMilliseconds = 150;

/**
 * Wires a connection: notebooks and session files are checked whenever they, or the files they name, change, and
 * their problems are pushed. It runs nothing and needs no kernel.
 */
export function serveLanguage(connection: Connection, open: OpenDocuments): void {
  const { notebooks, texts } = open;
  const diagnoser = createDiagnoser(filesOf(connection, texts));
  const publisher = createPublisher((uri, diagnostics) => {
    connection.sendDiagnostics({ uri, diagnostics }).catch((error: unknown) => report(connection, error));
  });
  const openNotebooks = new Set<string>();
  const timers = new Map<string, NodeJS.Timeout>();
  /** The change after which each document is checked; changes are counted through all documents. */
  const versions = new Map<string, number>();
  let changes = 0;

  /** Checks `owner` after a pause; a newer change makes an answer that is under way worthless. */
  function schedule(owner: string, pause: number, check: (isCurrent: () => boolean) => Promise<void>): void {
    const version = ++changes;
    const run = (): void => {
      timers.delete(owner);
      check(() => versions.get(owner) === version).catch((error: unknown) => report(connection, error));
    };
    versions.set(owner, version);
    clearTimeout(timers.get(owner));
    timers.set(owner, setTimeout(run, pause));
  }

  function checkNotebookSoon(uri: string, pause = pauseMilliseconds): void {
    schedule(uri, pause, async (isCurrent) => {
      const cells = (notebooks.getNotebookDocument(uri)?.cells ?? []).map((cell) => {
        const document = notebooks.getCellTextDocument(cell);
        return { uri: cell.document, language: document?.languageId ?? languageOfKind.prose, text: document?.getText() ?? "" };
      });
      const found = await diagnoser.notebook(uri, cells);
      if (!isCurrent()) return;
      publisher.replace(uri, withCells(found.files, cells, found.cells));
    });
  }

  function checkSessionSoon(uri: string): void {
    if (!isSessionFile(uri)) return;
    schedule(uri, pauseMilliseconds, async (isCurrent) => {
      const found = await diagnoser.session(uri);
      if (isCurrent()) publisher.replace(uri, found);
    });
  }

  function checkAllSoon(): void {
    for (const document of texts.all()) checkSessionSoon(document.uri);
    for (const uri of openNotebooks) checkNotebookSoon(uri);
  }

  /** Takes back all that was said of a document and of the files that it alone names. */
  function forget(uri: string): void {
    versions.delete(uri);
    clearTimeout(timers.get(uri));
    timers.delete(uri);
    publisher.replace(uri, new Map());
  }

  notebooks.onDidOpen((notebook) => {
    if (!isWorkedOn(notebook.uri)) return;
    openNotebooks.add(notebook.uri);
    checkNotebookSoon(notebook.uri, 0);
  });
  notebooks.onDidChange(({ notebookDocument: { uri } }) => {
    if (openNotebooks.has(uri)) checkNotebookSoon(uri);
  });
  notebooks.onDidClose((notebook) => {
    openNotebooks.delete(notebook.uri);
    forget(notebook.uri);
  });
  // A text that was just opened counts as changed.
  texts.onDidChangeContent(({ document }) => {
    if (isSessionFile(document.uri)) checkAllSoon();
  });
  texts.onDidClose(({ document }) => {
    forget(document.uri);
    checkAllSoon();
  });
  connection.onDidChangeWatchedFiles(() => checkAllSoon());
  connection.onCodeAction(({ textDocument: { uri }, range }) => codeActionsFor(uri, publisher.problemsOf(uri), range));
  connection.onInitialize((): InitializeResult => ({ capabilities, serverInfo: { name: "fairstrike" } }));
  notebooks.listen(connection);
  texts.listen(connection);
  connection.listen();
}

const capabilities: InitializeResult["capabilities"] = {
  codeActionProvider: { codeActionKinds: [CodeActionKind.QuickFix] },
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
};

/** Files as the client reads them, and texts as they are open here. */
function filesOf(connection: Connection, texts: TextDocuments<TextDocument>): FilesAround {
  return {
    place: (document) => connection.sendRequest<PlaceAnswer>(placeRequest, { document } satisfies PlaceParams),
    read: async (document, path) => {
      const answer = await connection.sendRequest<ReadAnswer>(readRequest, { document, path } satisfies FileParams);
      return answer.ok ? { ok: true, bytes: Buffer.from(answer.base64, "base64"), digest: answer.digest } : answer;
    },
    list: async (document, folder) =>
      (await connection.sendRequest<ListAnswer>(listRequest, { document, path: folder } satisfies FileParams)).names,
    isCurrent: async (document, path, digest) =>
      (await connection.sendRequest<CurrentAnswer>(currentRequest, { document, path, digest } satisfies CurrentParams)).isCurrent,
    openText: (uri) => texts.get(uri)?.getText() ?? null,
  };
}

/** The problems of a notebook by document: those in its cells beside those in the files that it names. */
function withCells(
  files: ProblemsByFile,
  cells: readonly { readonly uri: string }[],
  problems: readonly (readonly Problem[])[],
): ProblemsByFile {
  return new Map([...files, ...cells.map(({ uri }, index) => [uri, problems[index] ?? []] as const)]);
}

/** True for a document that somebody works on, and not an older version that a comparison shows beside it. */
function isWorkedOn(uri: string): boolean {
  return /^(?:file|untitled|vscode-vfs):/u.test(uri);
}

function isSessionFile(uri: string): boolean {
  return isWorkedOn(uri) && uri.endsWith(".session.yaml");
}

function report(connection: Connection, error: unknown): void {
  connection.console.error(error instanceof Error ? (error.stack ?? error.message) : String(error));
}
