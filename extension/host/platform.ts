import type { BaseLanguageClient, LanguageClientOptions } from "vscode-languageclient";
import type { StartKernelWorker } from "./kernel-worker";

/** A client of a language server that was launched for it, and a way to be rid of both. */
export interface LaunchedServer {
  readonly client: BaseLanguageClient;
  readonly stop: () => Promise<void>;
}

/** What differs between an editor on a machine and one in a browser: how programs beside the extension are started. */
export interface Platform {
  readonly startKernelWorker: StartKernelWorker;
  /** Starts a worker that keeps finished tables; `cancelUpTo` means nothing to it. */
  readonly startResultsWorker: StartKernelWorker;
  /** @param onLost told when the server has ended by itself, where the client cannot tell. */
  readonly launchServer: (options: LanguageClientOptions, onLost: () => void) => LaunchedServer;
  /** Where cells run, in words for the person. */
  readonly runsWhere: string;
}

/** What the client calls itself. */
export const clientName = { id: "fairstrike", title: "Fairstrike" } as const;
