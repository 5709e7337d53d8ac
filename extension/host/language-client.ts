import * as vscode from "vscode";
import { LanguageClient, TransportKind } from "vscode-languageclient/node";
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
} from "../../server/language/requests";
import { notebookType } from "./serializer";
import { placeOf } from "./workspace-files";

/** Returns the client of the language server `script`, which runs as a process of its own. Not started yet. */
export function createLanguageClient(script: string): LanguageClient {
  const run = { module: script, transport: TransportKind.ipc };
  const client = new LanguageClient(
    "fairstrike",
    "Fairstrike",
    { run, debug: { ...run, options: { execArgv: ["--nolazy", "--inspect=6009"] } } },
    {
      documentSelector: [{ notebook: notebookType, language: "*" }, { pattern: "**/*.session.yaml" }],
      synchronize: { fileEvents: vscode.workspace.createFileSystemWatcher("**/*.{session.yaml,csv,tsv,txt}") },
    },
  );
  client.onRequest(placeRequest, ({ document }: PlaceParams): PlaceAnswer => {
    const place = placeOf(vscode.Uri.parse(document, true));
    return { root: place.root.toString().replace(/\/$/u, ""), path: place.path };
  });
  client.onRequest<ReadAnswer, unknown>(readRequest, async ({ document, path }: FileParams) => {
    const read = await placeOf(vscode.Uri.parse(document, true)).files.read(path);
    return read.ok ? { ok: true, base64: Buffer.from(read.bytes).toString("base64"), digest: read.digest } : read;
  });
  client.onRequest(listRequest, async ({ document, path }: FileParams): Promise<ListAnswer> => ({
    names: await placeOf(vscode.Uri.parse(document, true)).files.list(path),
  }));
  client.onRequest(currentRequest, async ({ document, path, digest }: CurrentParams): Promise<CurrentAnswer> => ({
    isCurrent: (await placeOf(vscode.Uri.parse(document, true)).files.isCurrent?.(path, digest)) ?? false,
  }));
  return client;
}
