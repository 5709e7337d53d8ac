import * as vscode from "vscode";
import { CloseAction, ErrorAction, LanguageClient, RevealOutputChannelOn, TransportKind } from "vscode-languageclient/node";
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
import { mostCrashes } from "./restart-policy";
import { createSupervisor } from "./supervisor";
import { wholeDocument } from "./whole-documents";
import { placeOf } from "./workspace-files";

/** A client, and what is to be disposed of with it. */
export interface Client extends vscode.Disposable {
  /** Starts the server, anew where it runs. Never rejected: a server that does not come up is tried again. */
  readonly start: () => Promise<void>;
  readonly stop: () => Promise<void>;
}

/** The command that starts the server, anew where it runs; its name stands in `package.json`. */
const restartCommand = "fairstrike.restartLanguageServer";

const startAgain = "Start the language server again";

/**
 * Returns the client of the language server `script`, which runs as a process of its own. Not started yet.
 *
 * A server that crashes is started again, more and more slowly, and after a number of crashes not until a person asks for
 * it. Notebooks can be edited and run all the while.
 */
export function createLanguageClient(script: string): Client {
  const watcher = vscode.workspace.createFileSystemWatcher("**/*.{session.yaml,csv,tsv,txt}");
  const log = vscode.window.createOutputChannel("Fairstrike", { log: true });
  const supervisor = createSupervisor({
    launch: (onLost) => {
      const client = createClient(script, watcher, log, onLost);
      return { ready: client.start(), stop: () => client.stop() };
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
  return { start: supervisor.start, stop: supervisor.stop, dispose: () => void owned.dispose() };
}

/** True when the person wants the server started again. */
async function sayGivenUp(): Promise<boolean> {
  const words = `Fairstrike's language server has ended ${mostCrashes} times within three minutes and is not started again by itself. Notebooks can be edited and run as before; problems, completion and help are missing.`;
  return (await vscode.window.showErrorMessage(words, startAgain)) === startAgain;
}

/** A client that writes what fails to its log and shows no message of its own, of which each crash would make several. */
class QuietClient extends LanguageClient {
  override error(message: string, data?: unknown): void {
    super.error(message, data, false);
  }
}

/** One client for one life of the server: what a crash leaves behind in it is not used again. */
function createClient(script: string, watcher: vscode.FileSystemWatcher, log: vscode.LogOutputChannel, onLost: () => void): LanguageClient {
  const run = { module: script, transport: TransportKind.ipc };
  const client = new QuietClient(
    "fairstrike",
    "Fairstrike",
    { run, debug: { ...run, options: { execArgv: ["--nolazy", "--inspect=6009"] } } },
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
  );
  answerRequests(client);
  return client;
}

/** Answers what the server asks: it has no access to files of its own. */
function answerRequests(client: LanguageClient): void {
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
