import { NotebookDocuments, type Connection, type InitializeResult, type TextDocuments } from "vscode-languageserver";
import { TextDocumentSyncKind, type Diagnostic } from "vscode-languageserver";
import type { TextDocument } from "vscode-languageserver-textdocument";
import { languageOfKind } from "../../core/notebook/cell-languages";
import { createDiagnoser, type FilesAround } from "./diagnoser";
import { toDiagnostic } from "./to-protocol";
import { listRequest, placeRequest, readRequest, type FileParams, type ListAnswer, type PlaceAnswer, type ReadAnswer } from "./requests";
import type { Problem } from "../../core/problem";

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
export function serveLanguage(connection: Connection, open: OpenDocuments, digest: (bytes: Uint8Array) => string): void {
  const { notebooks, texts } = open;
  const files: FilesAround = {
    place: (document) => connection.sendRequest<PlaceAnswer>(placeRequest, { document }),
    read: async (document, path) => {
      const answer = await connection.sendRequest<ReadAnswer>(readRequest, { document, path } satisfies FileParams);
      return answer.ok ? { ok: true, bytes: Buffer.from(answer.base64, "base64"), digest: answer.digest } : answer;
    },
    list: async (document, folder) =>
      (await connection.sendRequest<ListAnswer>(listRequest, { document, path: folder } satisfies FileParams)).names,
    openText: (uri) => texts.get(uri)?.getText() ?? null,
    digest,
  };
  const diagnoser = createDiagnoser(files);
  const timers = new Map<string, NodeJS.Timeout>();
  const versions = new Map<string, number>();
  /** Problems in files, by the document that was checked and then by file. */
  const byOwner = new Map<string, ReadonlyMap<string, readonly Problem[]>>();
  const published = new Set<string>();

  function publishFiles(touched: Iterable<string>): void {
    for (const uri of new Set(touched)) {
      const seen = new Map<string, Diagnostic>();
      for (const owned of byOwner.values())
        for (const found of owned.get(uri) ?? []) {
          const diagnostic = toDiagnostic(found);
          seen.set(JSON.stringify([diagnostic.code, diagnostic.range, diagnostic.message]), diagnostic);
        }
      if (seen.size === 0 && !published.has(uri)) continue;
      if (seen.size === 0) published.delete(uri);
      else published.add(uri);
      void connection.sendDiagnostics({ uri, diagnostics: [...seen.values()] });
    }
  }

  function setOwned(owner: string, problems: ReadonlyMap<string, readonly Problem[]>): void {
    const touched = [...(byOwner.get(owner)?.keys() ?? []), ...problems.keys()];
    if (problems.size === 0) byOwner.delete(owner);
    else byOwner.set(owner, problems);
    publishFiles(touched);
  }

  /** Checks `owner` after a pause; a newer change makes an answer that is under way worthless. */
  function schedule(owner: string, check: (isCurrent: () => boolean) => Promise<void>, pause = pauseMilliseconds): void {
    const version = (versions.get(owner) ?? 0) + 1;
    versions.set(owner, version);
    clearTimeout(timers.get(owner));
    timers.set(
      owner,
      setTimeout(() => {
        timers.delete(owner);
        check(() => versions.get(owner) === version).catch((error: unknown) =>
          connection.console.error(error instanceof Error ? (error.stack ?? error.message) : String(error)),
        );
      }, pause),
    );
  }

  function checkNotebookSoon(uri: string, pause?: number): void {
    schedule(
      uri,
      async (isCurrent) => {
        const notebook = notebooks.getNotebookDocument(uri);
        if (notebook === undefined) return;
        const cells = notebook.cells.map((cell) => {
          const document = notebooks.getCellTextDocument(cell);
          return { uri: cell.document, language: document?.languageId ?? "markdown", text: document?.getText() ?? "" };
        });
        const found = await diagnoser.notebook(uri, cells);
        if (!isCurrent()) return;
        for (const [index, cell] of cells.entries()) {
          if (cell.language !== "markdown")
            void connection.sendDiagnostics({ uri: cell.uri, diagnostics: found.cells[index]!.map(toDiagnostic) });
        }
        setOwned(uri, found.files);
      },
      pause,
    );
  }

  function checkSessionSoon(uri: string, pause?: number): void {
    schedule(
      uri,
      async (isCurrent) => {
        const found = await diagnoser.session(uri);
        if (isCurrent() && texts.get(uri) !== undefined) setOwned(uri, found);
      },
      pause,
    );
  }

  function checkAllSoon(): void {
    for (const document of texts.all()) checkSessionSoon(document.uri);
    for (const uri of openNotebooks) checkNotebookSoon(uri);
  }

  function forget(uri: string): void {
    versions.set(uri, (versions.get(uri) ?? 0) + 1);
    clearTimeout(timers.get(uri));
    setOwned(uri, new Map());
  }

  const openNotebooks = new Set<string>();
  notebooks.onDidOpen((notebook) => {
    openNotebooks.add(notebook.uri);
    checkNotebookSoon(notebook.uri, 0);
  });
  notebooks.onDidChange((change) => checkNotebookSoon(change.notebookDocument.uri));
  notebooks.onDidClose((notebook) => {
    openNotebooks.delete(notebook.uri);
    for (const cell of notebook.cells) void connection.sendDiagnostics({ uri: cell.document, diagnostics: [] });
    forget(notebook.uri);
  });
  texts.onDidOpen(({ document }) => checkSessionSoon(document.uri, 0));
  texts.onDidChangeContent(() => checkAllSoon());
  texts.onDidClose(({ document }) => {
    forget(document.uri);
    checkAllSoon();
  });
  connection.onDidChangeWatchedFiles(() => checkAllSoon());

  connection.onInitialize((): InitializeResult => ({
    capabilities: {
      textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental },
      notebookDocumentSync: {
        notebookSelector: [
          {
            notebook: { notebookType: "fairstrike-notebook" },
            cells: Object.values(languageOfKind)
              .filter((language) => language !== "markdown")
              .map((language) => ({ language })),
          },
        ],
      },
    },
    serverInfo: { name: "fairstrike" },
  }));
  notebooks.listen(connection);
  texts.listen(connection);
  connection.listen();
}
