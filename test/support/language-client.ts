import { spawn } from "node:child_process";
import { pathToFileURL } from "node:url";
import { expect, onTestFinished } from "vitest";
import { createProtocolConnection, StreamMessageReader, StreamMessageWriter, type Diagnostic, type ProtocolConnection } from "vscode-languageserver/node";
import { currentRequest, listRequest, placeRequest, readRequest, type CurrentParams, type FileParams, type PlaceParams, type ReadAnswer } from "../../server/language/requests";
import { nodeFiles } from "../../server/node-files";
import { bundle } from "./bundle";
import { repository } from "./command-line";

const script = await bundle("server/node-main.ts", "cjs");

/** A client of the language server, as far as tests need one. */
export interface LanguageClient {
  readonly folder: string;
  readonly uriOf: (path: string) => string;
  readonly connection: ProtocolConnection;
  /** Every set of diagnostics that was sent, in order, as `document: lines`. */
  readonly sent: string[];
  /** Waits until the diagnostics of a document last sent are these: `line:from-to code`, places from 0. */
  readonly expectAt: (uri: string, expected: readonly string[]) => Promise<void>;
  readonly openNotebook: (cells: readonly (readonly [language: string, text: string])[]) => Promise<string[]>;
  readonly changeCell: (cell: string, version: number, text: string) => Promise<void>;
  readonly openText: (uri: string, text: string) => Promise<void>;
}

/** Starts a language server on a folder of its own with the files of the small session, and gives a client of it. */
export async function startClient(files: Readonly<Record<string, string>> = {}): Promise<LanguageClient> {
  const folder = repository(files);
  const root = pathToFileURL(folder).href;
  const server = spawn(process.execPath, [script, "--stdio"], { stdio: ["pipe", "pipe", "inherit"] });
  const connection = createProtocolConnection(new StreamMessageReader(server.stdout), new StreamMessageWriter(server.stdin));
  const last = new Map<string, string>();
  const sent: string[] = [];
  const waiting: (() => void)[] = [];
  const port = nodeFiles(folder, 1e6);
  const pathOf = (uri: string): string => decodeURIComponent(uri.slice(root.length + 1));

  connection.onRequest(placeRequest, ({ document }: PlaceParams) => ({ root, path: pathOf(document) }));
  connection.onRequest<ReadAnswer, unknown>(readRequest, async ({ path: name }: FileParams): Promise<ReadAnswer> => {
    const read = await port.read(name);
    return read.ok ? { ok: true, base64: Buffer.from(read.bytes).toString("base64"), digest: read.digest } : read;
  });
  connection.onRequest(listRequest, async ({ path: name }: FileParams) => ({ names: await port.list(name) }));
  connection.onRequest(currentRequest, async ({ path: name, digest }: CurrentParams) => ({ isCurrent: await port.isCurrent!(name, digest) }));
  connection.onNotification("textDocument/publishDiagnostics", ({ uri, diagnostics }: { uri: string; diagnostics: Diagnostic[] }) => {
    const lines = diagnostics.map(({ range: { start, end }, code }) => `${start.line}:${start.character}-${end.character} ${code}`).join(", ");
    last.set(uri, lines);
    sent.push(`${uri}: ${lines}`);
    for (const look of waiting) look();
  });
  connection.listen();
  const { capabilities } = await connection.sendRequest<{ capabilities: Record<string, unknown> }>("initialize", { processId: process.pid, rootUri: root, capabilities: {} });
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
    uriOf: (name) => `${root}/${name}`,
    expectAt: (uri, expected) =>
      new Promise((resolve) => {
        const look = (): void => {
          if ((last.get(uri) ?? "") === expected.join(", ")) resolve();
        };
        waiting.push(look);
        look();
      }),
    openNotebook: async (cells) => {
      const uris = cells.map((_, index) => `vscode-notebook-cell:${notebook.slice("file:".length)}#${index}`);
      await connection.sendNotification("notebookDocument/didOpen", {
        notebookDocument: { uri: notebook, notebookType: "fairstrike-notebook", version: 1, cells: uris.map((document) => ({ kind: 2, document })) },
        cellTextDocuments: cells.map(([languageId, text], index) => ({ uri: uris[index]!, languageId, version: 1, text })),
      });
      return uris;
    },
    changeCell: (uri, version, text) =>
      connection.sendNotification("notebookDocument/didChange", {
        notebookDocument: { uri: notebook, version },
        change: { cells: { textContent: [{ document: { uri, version }, changes: [{ text }] }] } },
      }),
    openText: (uri, text) => connection.sendNotification("textDocument/didOpen", { textDocument: { uri, languageId: "yaml", version: 1, text } }),
  };
}
