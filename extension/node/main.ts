import * as vscode from "vscode";
import { LanguageClient, TransportKind } from "vscode-languageclient/node";
import { defaultLimits } from "../../core/limits";
import { nodeFiles } from "../../server/node-files";
import { activateOn, deactivate } from "../host/activate";
import { clientName, type Platform } from "../host/platform";
import { readLocalFilesBy } from "../host/workspace-files";
import { nodeKernelWorkers, nodeResultsWorkers } from "./kernel-worker";

export { deactivate };

/** Starts the extension in an editor on a machine: the language server is a process, kernels are threads. */
export function activate(context: vscode.ExtensionContext): void {
  const script = vscode.Uri.joinPath(context.extensionUri, "dist", "server.js").fsPath;
  const run = { module: script, transport: TransportKind.ipc };
  const platform: Platform = {
    startKernelWorker: nodeKernelWorkers(script),
    startResultsWorker: nodeResultsWorkers(script),
    launchServer: (options) => {
      const client = new LanguageClient(clientName.id, clientName.title, { run, debug: { ...run, options: { execArgv: ["--nolazy", "--inspect=6009"] } } }, options);
      return { client, stop: () => client.stop() };
    },
    runsWhere: "runs on this machine, offline",
  };
  // Of files on this machine the real places can be looked at, which the editor's own access does not tell.
  readLocalFilesBy((root) => nodeFiles(root.fsPath, defaultLimits.fileBytes));
  activateOn(context, platform);
}
