import * as vscode from "vscode";
import { notebookType } from "../../core/notebook/cell-languages";
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
import { placeOf } from "./workspace-files";

/** A client, and what is to be disposed of with it. */
export interface Client extends vscode.Disposable {
  readonly start: () => Promise<void>;
  readonly stop: () => Promise<void>;
}

/** Returns the client of the language server `script`, which runs as a process of its own. Not started yet. */
export function createLanguageClient(script: string): Client {
  const watcher = vscode.workspace.createFileSystemWatcher("**/*.{session.yaml,csv,tsv,txt}");
  const run = { module: script, transport: TransportKind.ipc };
  const client = new LanguageClient(
    "fairstrike",
    "Fairstrike",
    { run, debug: { ...run, options: { execArgv: ["--nolazy", "--inspect=6009"] } } },
    {
      documentSelector: [{ notebook: notebookType, language: "*" }, { pattern: "**/*.session.yaml" }],
      synchronize: { fileEvents: watcher },
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
  return { start: () => client.start(), stop: () => client.stop(), dispose: () => watcher.dispose() };
}
