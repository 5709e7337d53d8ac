import { spawn } from "node:child_process";
import { pathToFileURL } from "node:url";
import { createProtocolConnection, StreamMessageReader, StreamMessageWriter, type Diagnostic, type ProtocolConnection } from "vscode-languageserver/node";
import {
  currentRequest,
  listRequest,
  placeRequest,
  readAnswer,
  readRequest,
  wholeRequest,
  type CurrentParams,
  type FileParams,
  type PlaceParams,
  type ReadAnswer,
  type ReadParams,
  type WholeAnswer,
  type WholeParams,
} from "../../server/language/requests";
import { nodeFiles } from "../../server/node-files";

/** Diagnostics as they came: of which document, which, and when (`performance.now()`). */
export interface Published {
  readonly uri: string;
  readonly diagnostics: readonly Diagnostic[];
  readonly at: number;
}

/** A language server in a process of its own, and a client that stands in for an editor. */
export interface StdioClient {
  readonly connection: ProtocolConnection;
  readonly process: number;
  readonly capabilities: Readonly<Record<string, unknown>>;
  /** The URI of a file in the folder. */
  readonly uriOf: (path: string) => string;
  /** Everything that was published, in order. */
  readonly published: readonly Published[];
  /** The diagnostics of a document as they are now. */
  readonly diagnosticsOf: (uri: string) => readonly Diagnostic[];
  /** Every document that has diagnostics now. */
  readonly withDiagnostics: () => readonly string[];
  /** Settles with the first set of diagnostics that `wanted` holds of and that comes from now on. */
  readonly nextPublished: (wanted: (published: Published) => boolean) => Promise<Published>;
  /** What the server said went wrong: its log's errors and its standard error. */
  readonly faults: readonly string[];
  /** Shuts the server down; its exit code, `null` when it was ended by a signal. */
  readonly stop: () => Promise<number | null>;
}

/** How a client answers what a server asks. */
export interface ClientOptions {
  /** The folder that everything is in. */
  readonly folder: string;
  /** Documents as they are open here. */
  readonly whole?: (params: WholeParams) => WholeAnswer;
}

/** Starts the server `script` and says hello; rejected when it ends instead. */
export async function startStdioClient(script: string, { folder, whole = () => null }: ClientOptions): Promise<StdioClient> {
  const root = pathToFileURL(folder).href;
  const server = spawn(process.execPath, [script, "--stdio"], { stdio: ["pipe", "pipe", "pipe"] });
  const exited = new Promise<number | null>((resolve) => server.on("exit", resolve));
  const connection = createProtocolConnection(new StreamMessageReader(server.stdout), new StreamMessageWriter(server.stdin));
  const last = new Map<string, readonly Diagnostic[]>();
  const published: Published[] = [];
  const faults: string[] = [];
  let waiting: { readonly wanted: (each: Published) => boolean; readonly resolve: (each: Published) => void }[] = [];
  const port = nodeFiles(folder, 500e6);

  server.stderr.setEncoding("utf8").on("data", (text: string) => void faults.push(text));
  connection.onError(([error]) => void faults.push(error.message));
  connection.onRequest(placeRequest, ({ document }: PlaceParams) => ({ root, path: decodeURIComponent(document.slice(root.length + 1)) }));
  connection.onRequest<ReadAnswer, unknown>(readRequest, async ({ path, most }: ReadParams) => readAnswer(await port.read(path, most)));
  connection.onRequest(listRequest, async ({ path }: FileParams) => ({ names: await port.list(path) }));
  connection.onRequest(currentRequest, async ({ path, digest }: CurrentParams) => ({ isCurrent: await port.isCurrent!(path, digest) }));
  connection.onRequest<WholeAnswer, unknown>(wholeRequest, (params: WholeParams) => whole(params));
  connection.onRequest("workspace/inlayHint/refresh", () => null);
  connection.onNotification("textDocument/publishDiagnostics", ({ uri, diagnostics }: { readonly uri: string; readonly diagnostics: readonly Diagnostic[] }) => {
    const each = { uri, diagnostics, at: performance.now() };
    if (diagnostics.length === 0) last.delete(uri);
    else last.set(uri, diagnostics);
    published.push(each);
    const served = waiting.filter(({ wanted }) => wanted(each));
    waiting = waiting.filter((one) => !served.includes(one));
    for (const { resolve } of served) resolve(each);
  });
  connection.onNotification("window/logMessage", ({ type, message }: { readonly type: number; readonly message: string }) => {
    // 1 is an error.
    if (type === 1) faults.push(message);
  });
  connection.listen();
  const hello = connection.sendRequest<{ capabilities: Record<string, unknown> }>("initialize", { processId: process.pid, rootUri: root, capabilities: {} });
  const { capabilities } = await Promise.race([
    hello,
    exited.then(() => Promise.reject(new Error(`the language server ended at once: ${faults.join("")}`))),
  ]);
  await connection.sendNotification("initialized", {});
  return {
    connection,
    process: server.pid!,
    capabilities,
    uriOf: (path) => `${root}/${path}`,
    published,
    diagnosticsOf: (uri) => last.get(uri) ?? [],
    withDiagnostics: () => [...last.keys()],
    nextPublished: (wanted) => new Promise((resolve) => waiting.push({ wanted, resolve })),
    faults,
    stop: async () => {
      await Promise.race([connection.sendRequest("shutdown").then(() => connection.sendNotification("exit")), exited]);
      const code = await exited;
      connection.dispose();
      return code;
    },
  };
}
