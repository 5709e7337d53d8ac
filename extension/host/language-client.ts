import * as vscode from "vscode";
import { CloseAction, ErrorAction, RevealOutputChannelOn, type BaseLanguageClient } from "vscode-languageclient";
import {
  currentRequest,
  listRequest,
  placeRequest,
  readAnswer,
  readRequest,
  wholeRequest,
  type CurrentAnswer,
  type CurrentParams,
  type FileParams,
  type ListAnswer,
  type PlaceAnswer,
  type PlaceParams,
  type ReadAnswer,
  type ReadParams,
  type WholeAnswer,
  type WholeParams,
} from "../../server/language/requests";
import { documentSelector } from "./document-selector";
import type { LaunchedServer, Platform } from "./platform";
import { mostCrashes } from "./restart-policy";
import { createSupervisor } from "./supervisor";
import { wholeDocument } from "./whole-documents";
import { placeOf } from "./workspace-files";

/** A client, and what is to be disposed of with it. */
export interface Client extends vscode.Disposable {
  /** Starts the server, anew where it runs. Never rejected: a server that does not come up is tried again. */
  readonly start: () => Promise<void>;
  readonly stop: () => Promise<void>;
  /** Asks the server that runs; rejected when none does. */
  readonly ask: <T>(method: string, params: object) => Promise<T>;
}

/** The command that starts the server, anew where it runs; its name stands in `package.json`. */
const restartCommand = "fairstrike.restartLanguageServer";

const startAgain = "Start the language server again";

/**
 * Returns the client of a language server, which runs beside the extension. Not started yet.
 *
 * A server that crashes is started again, more and more slowly, and after a number of crashes not until a person asks for
 * it. Notebooks can be edited and run all the while.
 */
export function createLanguageClient(platform: Platform): Client {
  const watcher = vscode.workspace.createFileSystemWatcher("**/*.{session.yaml,csv,tsv,txt}");
  const log = vscode.window.createOutputChannel("Fairstrike", { log: true });
  let running: BaseLanguageClient | undefined;
  const supervisor = createSupervisor({
    launch: (onLost) => {
      const { client, stop } = launchServer(platform, watcher, log, onLost);
      running = client;
      return { ready: client.start(), stop };
    },
    onGivenUp: () => void sayGivenUp().then((again) => (again ? supervisor.start() : undefined)),
    onFault: (fault) => log.error(fault instanceof Error ? fault : String(fault)),
    now: () => performance.now(),
    later: (milliseconds, action) => {
      const timer = setTimeout(action, milliseconds);
      return () => clearTimeout(timer);
    },
  });
  const command = vscode.commands.registerCommand(restartCommand, () => supervisor.start());
  const owned = vscode.Disposable.from(watcher, log, command);
  const ask = async <T>(method: string, params: object): Promise<T> => {
    if (running === undefined) throw new Error("the language server does not run");
    return running.sendRequest<T>(method, params);
  };
  return { start: supervisor.start, stop: supervisor.stop, ask, dispose: () => void owned.dispose() };
}

/** True when the person wants the server started again. */
async function sayGivenUp(): Promise<boolean> {
  const words = `Fairstrike's language server has ended ${mostCrashes} times within three minutes and is not started again by itself. Notebooks can be edited and run as before; problems, completion and help are missing.`;
  return (await vscode.window.showErrorMessage(words, startAgain)) === startAgain;
}

/** One client for one life of the server: what a crash leaves behind in it is not used again. */
function launchServer(platform: Platform, watcher: vscode.FileSystemWatcher, log: vscode.LogOutputChannel, onLost: () => void): LaunchedServer {
  const launched = platform.launchServer(
    {
      documentSelector: [...documentSelector],
      synchronize: { fileEvents: watcher, configurationSection: "fairstrike" },
      outputChannel: log,
      revealOutputChannelOn: RevealOutputChannelOn.Never,
      initializationFailedHandler: () => false,
      errorHandler: {
        error: () => ({ action: ErrorAction.Continue, handled: true }),
        closed: () => {
          onLost();
          return { action: CloseAction.DoNotRestart, handled: true, message: "The language server has ended." };
        },
      },
    },
    onLost,
  );
  // What fails is written to the log alone: each crash would make several messages.
  const { client } = launched;
  const error = client.error.bind(client);
  client.error = (message, data) => error(message, data, false);
  answerRequests(client);
  return launched;
}

/** Answers what the server asks: it has no access to files of its own. */
function answerRequests(client: BaseLanguageClient): void {
  client.onRequest(placeRequest, ({ document }: PlaceParams): PlaceAnswer => {
    const place = placeOf(vscode.Uri.parse(document, true));
    return { root: place.root.toString().replace(/\/$/u, ""), path: place.path };
  });
  client.onRequest<ReadAnswer, unknown>(readRequest, async ({ document, path, most }: ReadParams) =>
    readAnswer(await placeOf(vscode.Uri.parse(document, true)).files.read(path, most)),
  );
  client.onRequest(listRequest, async ({ document, path }: FileParams): Promise<ListAnswer> => ({
    names: await placeOf(vscode.Uri.parse(document, true)).files.list(path),
  }));
  client.onRequest(currentRequest, async ({ document, path, digest }: CurrentParams): Promise<CurrentAnswer> => ({
    isCurrent: (await placeOf(vscode.Uri.parse(document, true)).files.isCurrent?.(path, digest)) ?? false,
  }));
  client.onRequest<WholeAnswer, unknown>(wholeRequest, (params: WholeParams) => wholeDocument(params));
}
