import * as vscode from "vscode";
import { notebookType } from "../../core/notebook/cell-languages";
import { keepResults } from "./cell-results";
import { showCellStatus } from "./cell-status";
import { offerChoices } from "./choices";
import { registerCommands } from "./commands";
import { registerExportReport } from "./export-report";
import { offerFirstSteps } from "./first-steps";
import { registerFollowing } from "./follow-exports";
import { createLanguageClient, type Client } from "./language-client";
import { showMissingSessions } from "./missing-session";
import { nameCellsOnSave } from "./name-on-save";
import { offerNarrowing } from "./narrow";
import { offerNewNotebook } from "./new-notebook";
import { offerNewSession } from "./new-session";
import { createController } from "./notebook-controller";
import { trackOutOfDate } from "./out-of-date";
import type { Platform } from "./platform";
import { createResultsStore } from "./results-store";
import { registerReveal } from "./reveal-cell";
import { registerRunOutOfDate } from "./run-out-of-date";
import { saveFigures } from "./save-figure";
import { notebookSerializer } from "./serializer";
import { listenToSetAside } from "./set-aside";
import { showTables } from "./table-overview";
import { answerTables } from "./table-pages";

let client: Client | undefined;

/** Registers everything that the extension gives an editor. The language server starts beside it. */
export function activateOn(context: vscode.ExtensionContext, platform: Platform): void {
  const store = createResultsStore(platform.startResultsWorker);
  const controller = createController(platform, store);
  const results = keepResults(controller);
  const outOfDate = trackOutOfDate(controller);
  const following = registerFollowing(controller, outOfDate, results);
  context.subscriptions.push(
    vscode.workspace.registerNotebookSerializer(notebookType, notebookSerializer, { transientOutputs: true }),
    store,
    controller,
    answerTables(store, results),
    nameCellsOnSave(),
    results,
    outOfDate,
    following,
    showCellStatus(results, outOfDate, following),
    registerReveal(),
    registerRunOutOfDate(controller, outOfDate),
    listenToSetAside(),
    registerCommands(controller),
    offerNewSession(context.extensionUri),
    offerNewNotebook(context.extensionUri),
    showMissingSessions(),
    registerExportReport(controller),
    saveFigures(),
  );
  offerFirstSteps(context);
  client = createLanguageClient(platform);
  context.subscriptions.push(client, offerNarrowing(client.ask), offerChoices(client.ask, controller, outOfDate), showTables(client.ask, results, outOfDate));
  // Whatever goes wrong with starting, the client says.
  void client.start();
}

/** Stops the language server; everything else is disposed with the context. */
export async function deactivate(): Promise<void> {
  await client?.stop();
}
