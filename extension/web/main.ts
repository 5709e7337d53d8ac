import * as vscode from "vscode";
import { LanguageClient } from "vscode-languageclient/browser";
import { activateOn, deactivate } from "../host/activate";
import { clientName, type Platform } from "../host/platform";
import { webKernelWorkers, webResultsWorkers } from "./kernel-worker";

export { deactivate };

/** Starts the extension in an editor in a browser: language server and kernels are web workers, files the editor's. */
export async function activate(context: vscode.ExtensionContext): Promise<void> {
  const script = await scriptAddress(vscode.Uri.joinPath(context.extensionUri, "dist", "web", "server.js"));
  context.subscriptions.push({ dispose: () => URL.revokeObjectURL(script) });
  const platform: Platform = {
    startKernelWorker: webKernelWorkers(script),
    startResultsWorker: webResultsWorkers(script),
    launchServer: (options, onLost) => {
      const worker = new Worker(script, { name: "Fairstrike language server" });
      worker.addEventListener("error", onLost);
      // Before anything of the protocol, which the client sends.
      worker.postMessage({ role: "language" });
      const client = new LanguageClient(clientName.id, clientName.title, worker, options);
      return {
        client,
        stop: async () => {
          worker.removeEventListener("error", onLost);
          await client.stop().finally(() => worker.terminate());
        },
      };
    },
    runsWhere: "runs in this browser, offline",
  };
  activateOn(context, platform);
}

/** An address from which workers can be started: those of an extension that lies on another machine cannot be used for it. */
async function scriptAddress(file: vscode.Uri): Promise<string> {
  return URL.createObjectURL(new Blob([Uint8Array.from(await vscode.workspace.fs.readFile(file))], { type: "text/javascript" }));
}
