import { spawn } from "node:child_process";
import { pathToFileURL } from "node:url";
import { expect, onTestFinished } from "vitest";
import { createProtocolConnection, StreamMessageReader, StreamMessageWriter, type ProtocolConnection, type PublishDiagnosticsParams } from "vscode-languageserver/node";
import { currentRequest, listRequest, placeRequest, readAnswer, readRequest, type CurrentParams, type FileParams, type PlaceParams, type ReadAnswer, type ReadParams } from "../../server/language/requests";
import { nodeFiles } from "../../server/node-files";
import { bundle } from "./bundle";
import { repository } from "./command-line";

const script = await bundle("server/node-main.ts", "cjs");

/** Milliseconds after which a test that waits in vain is told what came instead. */
const patience = 25_000;

/** A client of the language server, as far as tests need one. */
export interface LanguageClient {
  readonly folder: string;
  readonly uriOf: (path: string) => string;
  readonly connection: ProtocolConnection;
  /** Every set of diagnostics that was sent, in order, as `document: lines`. */
  readonly sent: string[];
  /** Files that the server asked for, as `path bytes`, in order. */
  readonly reads: readonly string[];
  /** Waits until the diagnostics sent for the version of a document that is open are these: `line:from-to code`, places from 0. */
  readonly expectAt: (uri: string, expected: readonly string[]) => Promise<void>;
  /** The messages that were last sent for a document. */
  readonly messagesAt: (uri: string) => string;
  readonly openNotebook: (cells: readonly (readonly [language: string, text: string])[]) => Promise<string[]>;
  readonly closeNotebook: (cells: readonly string[]) => Promise<void>;
  readonly changeCell: (cell: string, version: number, text: string) => Promise<void>;
  /** Takes the cell away that is number `start` of the notebook, whose version is then `version`. */
  readonly removeCell: (cell: string, version: number, start: number) => Promise<void>;
  readonly openText: (uri: string, text: string) => Promise<void>;
  readonly changeText: (uri: string, version: number, text: string) => Promise<void>;
  readonly closeText: (uri: string) => Promise<void>;
}

/**
 * Starts a language server on a folder of its own with the files of the small session, and gives a client of it.
 *
 * @param mayRead settles when files are given: at once when it is left out.
 */
export async function startClient(files: Readonly<Record<string, string>> = {}, mayRead: Promise<void> = Promise.resolve()): Promise<LanguageClient> {
  const folder = repository(files);
  const root = pathToFileURL(folder).href;
  const server = spawn(process.execPath, [script, "--stdio"], { stdio: ["pipe", "pipe", "inherit"] });
  const connection = createProtocolConnection(new StreamMessageReader(server.stdout), new StreamMessageWriter(server.stdin));
  const last = new Map<string, string>();
  const sent: string[] = [];
  const waiting: (() => void)[] = [];
  const port = nodeFiles(folder, 100e6);
  /** The version of each document that is open, and that of which diagnostics came last. */
  const open = new Map<string, number>();
  const seen = new Map<string, number>();
  const reads: string[] = [];
  const messages = new Map<string, string>();
  const pathOf = (uri: string): string => decodeURIComponent(uri.slice(root.length + 1));

  connection.onRequest(placeRequest, ({ document }: PlaceParams) => ({ root, path: pathOf(document) }));
  connection.onRequest<ReadAnswer, unknown>(readRequest, async ({ path: name, most }: ReadParams): Promise<ReadAnswer> => {
    reads.push(`${name} ${most ?? "all"}`);
    await mayRead;
    return readAnswer(await port.read(name, most));
  });
  connection.onRequest(listRequest, async ({ path: name }: FileParams) => ({ names: await port.list(name) }));
  connection.onRequest(currentRequest, async ({ path: name, digest }: CurrentParams) => ({ isCurrent: await port.isCurrent!(name, digest) }));
  connection.onNotification("textDocument/publishDiagnostics", ({ uri, diagnostics, version }: PublishDiagnosticsParams) => {
    const lines = diagnostics.map(({ range: { start, end }, code }) => `${start.line}:${start.character}-${end.character} ${code}`).join(", ");
    last.set(uri, lines);
    messages.set(uri, diagnostics.map(({ message }) => (typeof message === "string" ? message : message.value)).join("\n"));
    if (version !== undefined) seen.set(uri, version);
    sent.push(`${uri}: ${lines}`);
    for (const look of waiting) look();
  });
  connection.listen();
  const { capabilities } = await connection.sendRequest<{ capabilities: Record<string, unknown> }>("initialize", { processId: process.pid, rootUri: root, capabilities: { workspace: { workspaceEdit: { documentChanges: true, resourceOperations: ["create"] } } } });
  expect(capabilities["notebookDocumentSync"]).toBeDefined();
  await connection.sendNotification("initialized", {});
  onTestFinished(async () => {
    await connection.sendRequest("shutdown");
    await connection.sendNotification("exit");
    const code = await new Promise((resolve) => server.on("exit", resolve));
    expect(code).toBe(0);
    connection.dispose();
  });

  const notebook = `${root}/n.shots.md`;
  return {
    folder,
    connection,
    sent,
    reads,
    messagesAt: (uri) => messages.get(uri) ?? "",
    uriOf: (name) => `${root}/${name}`,
    expectAt: (uri, expected) =>
      new Promise((resolve, reject) => {
        const says = (): string => `version ${seen.get(uri)}: ${last.get(uri) ?? ""}`;
        const timer = setTimeout(() => reject(new Error(`still ${says()} of ${uri}`)), patience);
        const look = (): void => {
          const isOfNow = !open.has(uri) || seen.get(uri) === open.get(uri);
          if (!isOfNow || (last.get(uri) ?? "") !== expected.join(", ")) return;
          clearTimeout(timer);
          resolve();
        };
        waiting.push(look);
        look();
      }),
    openNotebook: async (cells) => {
      const uris = cells.map((_, index) => `vscode-notebook-cell:${notebook.slice("file:".length)}#${index}`);
      for (const uri of uris) open.set(uri, 1);
      await connection.sendNotification("notebookDocument/didOpen", {
        notebookDocument: { uri: notebook, notebookType: "fairstrike-notebook", version: 1, cells: uris.map((document) => ({ kind: 2, document })) },
        cellTextDocuments: cells.map(([languageId, text], index) => ({ uri: uris[index]!, languageId, version: 1, text })),
      });
      return uris;
    },
    closeNotebook: async (cells) => {
      for (const uri of cells) open.delete(uri);
      await connection.sendNotification("notebookDocument/didClose", { notebookDocument: { uri: notebook }, cellTextDocuments: cells.map((uri) => ({ uri })) });
    },
    changeCell: (uri, version, text) => {
      open.set(uri, version);
      return connection.sendNotification("notebookDocument/didChange", {
        notebookDocument: { uri: notebook, version },
        change: { cells: { textContent: [{ document: { uri, version }, changes: [{ text }] }] } },
      });
    },
    removeCell: (uri, version, start) => {
      open.delete(uri);
      return connection.sendNotification("notebookDocument/didChange", {
        notebookDocument: { uri: notebook, version },
        change: { cells: { structure: { array: { start, deleteCount: 1, cells: [] }, didClose: [{ uri }] } } },
      });
    },
    openText: (uri, text) => {
      open.set(uri, 1);
      return connection.sendNotification("textDocument/didOpen", { textDocument: { uri, languageId: "yaml", version: 1, text } });
    },
    changeText: (uri, version, text) => {
      open.set(uri, version);
      return connection.sendNotification("textDocument/didChange", { textDocument: { uri, version }, contentChanges: [{ text }] });
    },
    closeText: (uri) => {
      open.delete(uri);
      return connection.sendNotification("textDocument/didClose", { textDocument: { uri } });
    },
  };
}
