import * as vscode from "vscode";
import { notebookType } from "../../core/notebook/cell-languages";
import { registerCommands } from "./commands";
import { createLanguageClient, type Client } from "./language-client";
import { nameCellsOnSave } from "./name-on-save";
import { createController } from "./notebook-controller";
import { markOutOfDate } from "./out-of-date";
import { notebookSerializer } from "./serializer";
import { listenToSetAside } from "./set-aside";

let client: Client | undefined;

/** Registers everything that the extension gives an editor. The language server starts beside it. */
export function activate(context: vscode.ExtensionContext): void {
  const server = vscode.Uri.joinPath(context.extensionUri, "dist", "server.js").fsPath;
  const controller = createController(server);
  context.subscriptions.push(
    vscode.workspace.registerNotebookSerializer(notebookType, notebookSerializer, { transientOutputs: true }),
    controller,
    nameCellsOnSave(),
    markOutOfDate(controller),
    listenToSetAside(),
    registerCommands(controller),
  );
  client = createLanguageClient(server);
  context.subscriptions.push(client);
  // Whatever goes wrong with starting, the client says.
  void client.start();
}

/** Stops the language server; everything else is disposed with the context. */
export async function deactivate(): Promise<void> {
  await client?.stop();
}
