import { spawn } from "node:child_process";
import { writeFileSync } from "node:fs";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { expect, onTestFinished, test } from "vitest";
import { createProtocolConnection, StreamMessageReader, StreamMessageWriter, type Diagnostic, type ProtocolConnection } from "vscode-languageserver/node";
import { currentRequest, listRequest, placeRequest, readRequest, type CurrentParams, type FileParams, type PlaceParams, type ReadAnswer } from "../../../server/language/requests";
import { nodeFiles } from "../../../server/node-files";
import { bundle } from "../../support/bundle";
import { repository } from "../../support/command-line";
import { smallExport, smallSession } from "../../support/small-session";

const script = await bundle("server/language/node-main.ts", "cjs");

/** A client of the language server, as far as these tests need one. */
interface Client {
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

async function startClient(files: Readonly<Record<string, string>> = {}): Promise<Client> {
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

const front = ["fairstrike-front", "shots: s/one.session.yaml"] as const;

test("a misspelt column is underlined where it stands, and no longer when it is mended", async () => {
  const { openNotebook, changeCell, expectAt } = await startClient();
  const [, a, b] = await openNotebook([front, ["fairstrike-query", "query=a\nshots.filter(d => d.cary > 1)"], ["fairstrike-query", "query=b\na.count()"]]);
  await expectAt(a!, ["1:20-24 query.unknown-column"]);
  await expectAt(b!, ["1:0-1 run.blocked"]);
  await changeCell(a!, 2, "query=a\nshots.filter(d => d.carry > 1)");
  await expectAt(a!, []);
  await expectAt(b!, []);
});

test("L-01 of many changes in a row only what the last one left is ever said", async () => {
  const { openNotebook, changeCell, expectAt, sent } = await startClient();
  const [, a] = await openNotebook([front, ["fairstrike-query", "query=a\nshots.first()"]]);
  await expectAt(a!, ["1:6-11 query.unknown-verb"]);
  sent.length = 0;
  const texts = Array.from({ length: 199 }, (_, i) => (i === 198 ? "query=a\nshots.filter(d => d.cary > 1)" : `query=a\nshots.verb${i}()`));
  await Promise.all(texts.map((text, i) => changeCell(a!, i + 2, text)));
  await expectAt(a!, ["1:20-24 query.unknown-column"]);
  expect(sent).toEqual([`${a!}: 1:20-24 query.unknown-column`]);
});

test("a session's text counts as it is open, unsaved, for itself and for the notebooks that name it", async () => {
  const { openNotebook, openText, connection, expectAt, uriOf } = await startClient();
  const session = uriOf("s/one.session.yaml");
  const [top, a] = await openNotebook([front, ["fairstrike-query", 'query=a\nshots.filter(d => d.head === "Wren")']]);
  await openText(session, smallSession("one").replace("  Wren: { kind: iron", "  Wren: { kind: spoon"));
  await expectAt(session, ["11:16-21 session.wrong-choice"]);
  await connection.sendNotification("textDocument/didChange", { textDocument: { uri: session, version: 2 }, contentChanges: [{ text: smallSession("one", "gone.csv") }] });
  await expectAt(session, ["2:18-26 run.file"]);
  await expectAt(top!, ["0:7-25 run.no-shots"]);
  await expectAt(a!, ["1:0-5 run.blocked"]);
  await connection.sendNotification("textDocument/didClose", { textDocument: { uri: session } });
  await expectAt(session, []);
  await expectAt(top!, []);
  await expectAt(a!, []);
});

test("a value that cannot be read is underlined in the export, until the file is changed", async () => {
  const { openText, connection, expectAt, uriOf, folder } = await startClient({ "s/small.csv": smallExport.replace("150.0", "far") });
  await openText(uriOf("s/one.session.yaml"), smallSession("one"));
  await expectAt(uriOf("s/small.csv"), ["1:13-16 value.not-a-number"]);
  writeFileSync(path.join(folder, "s/small.csv"), smallExport);
  await connection.sendNotification("workspace/didChangeWatchedFiles", { changes: [{ uri: uriOf("s/small.csv"), type: 2 }] });
  await expectAt(uriOf("s/small.csv"), []);
});

test("L-02 what was said of a cell is taken back with the cell, and of a notebook when it is closed", async () => {
  const { openNotebook, connection, expectAt, uriOf } = await startClient({ "s/small.csv": smallExport.replace("150.0", "far") });
  const [top, a, b] = await openNotebook([front, ["fairstrike-query", "query=a\nnothing"], ["fairstrike-query", "query=b\nnothing"]]);
  await expectAt(a!, ["1:0-7 query.unknown-table"]);
  await expectAt(b!, ["1:0-7 query.unknown-table"]);
  await connection.sendNotification("notebookDocument/didChange", {
    notebookDocument: { uri: uriOf("n.shots.md"), version: 2 },
    change: { cells: { structure: { array: { start: 1, deleteCount: 1, cells: [] }, didClose: [{ uri: a! }] } } },
  });
  await expectAt(a!, []);
  await expectAt(uriOf("s/small.csv"), ["1:13-16 value.not-a-number"]);
  await connection.sendNotification("notebookDocument/didClose", { notebookDocument: { uri: uriOf("n.shots.md") }, cellTextDocuments: [{ uri: top! }, { uri: b! }] });
  await expectAt(b!, []);
  await expectAt(uriOf("s/small.csv"), []);
});

test("other documents, and older versions that a comparison shows, are not checked", async () => {
  const { openText, expectAt, sent, uriOf } = await startClient();
  await openText(uriOf("n.shots.md"), "session: none of this");
  await openText(`git:${uriOf("s/one.session.yaml").slice("file:".length)}?ref`, "not: a session");
  await openText(uriOf("s/one.session.yaml"), smallSession("one").replace("  Wren: { kind: iron", "  Wren: { kind: spoon"));
  await expectAt(uriOf("s/one.session.yaml"), ["11:16-21 session.wrong-choice"]);
  expect(sent).toHaveLength(1);
});
