import { CodeActionKind, CodeActionRequest, TextDocumentSyncKind, type Connection, type InitializeParams, type InitializeResult } from "vscode-languageserver";
import { languageOfKind, notebookType } from "../../core/notebook/cell-languages";
import { answerActions } from "./answer-actions";
import { tokenLegend } from "./answer-protocol";
import { createCheckedDocuments } from "./checked-documents";
import { clientFiles } from "./client-files";
import { fixAllKind, fixNotebookKind } from "./code-actions";
import { createDiagnoser } from "./diagnoser";
import { createDocumentChecks } from "./document-checks";
import { answerTables } from "./tables";
import { answerChoices } from "./choices";
import { answerNarrowing } from "./narrowing";
import { createDocumentStore, type OutOfStep, type Touched } from "./document-store";
import { answerRequests } from "./providers";
import type { ProfileSession } from "./profile-session";
import { createPublisher } from "./publisher";
import { wholeRequest, workedOnSchemes, type WholeAnswer, type WholeParams } from "./requests";
import { editAbilities, type EditAbilities } from "./workspace-edits";

/**
 * Wires a connection. Notebooks, open as such or as text, and session files are checked whenever they, or the files they
 * name, change, and their problems are pushed; every other request is answered from what was checked. It runs nothing
 * and needs no kernel.
 *
 * @param profile where sessions are read: on this thread when absent.
 */
export function serveLanguage(connection: Connection, profile?: ProfileSession): void {
  const store = createDocumentStore();
  const files = clientFiles(connection, store);
  const checked = createCheckedDocuments(store, createDiagnoser(files, profile));
  const onFault = (error: unknown): void => connection.console.error(error instanceof Error ? (error.stack ?? error.message) : String(error));
  const publisher = createPublisher(
    (uri, diagnostics, version) => void connection.sendDiagnostics(version === undefined ? { uri, diagnostics } : { uri, diagnostics, version }).catch(onFault),
    (uri) => store.versionOf(uri),
  );
  const checks = createDocumentChecks(store, checked, publisher, onFault);

  /** What follows from a change, or from one that does not fit: then the whole document is asked for. */
  function follow(change: Touched | OutOfStep | null, pause?: number): void {
    if (change === null) return;
    if ("outOfStep" in change) askForWhole(change).catch(onFault);
    else checks.changed(change, pause);
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

  const sync = connection.notebooks.synchronization;
  sync.onDidOpenNotebookDocument((params) => follow(store.openNotebook(params), 0));
  sync.onDidChangeNotebookDocument((params) => follow(store.changeNotebook(params)));
  sync.onDidCloseNotebookDocument(({ notebookDocument: { uri } }) => {
    if (store.closeNotebook(uri) !== null) checks.notebookClosed(uri);
  });
  connection.onDidOpenTextDocument(({ textDocument }) => follow(store.openText(textDocument), 0));
  connection.onDidChangeTextDocument((params) => follow(store.changeText(params)));
  connection.onDidCloseTextDocument(({ textDocument: { uri } }) => {
    if (store.closeText(uri) !== null) checks.textClosed(uri);
  });
  connection.onDidChangeWatchedFiles(checks.filesChanged);
  let abilities: EditAbilities = { versions: false, newFiles: false };
  connection.onCodeAction((params, token) => answerActions(params, token, { store, files, problemsNow: checks.problemsNow, abilities }));
  let showsHints = false;
  const documents = { store, checked, showsHints: () => showsHints, abilities: () => abilities };
  answerRequests(connection, documents);
  answerNarrowing(connection, documents, files);
  answerChoices(connection, documents);
  answerTables(connection, documents);
  connection.onDidChangeConfiguration(({ settings }: { readonly settings?: { readonly fairstrike?: { readonly columnHints?: unknown } } }) => {
    showsHints = settings?.fairstrike?.columnHints === true;
    connection.languages.inlayHint.refresh().catch(onFault);
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
    connection.client.register(CodeActionRequest.type, exports).catch(onFault);
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
