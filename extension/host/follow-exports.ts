import * as vscode from "vscode";
import { notebookType } from "../../core/notebook/cell-languages";
import type { CellResult, CellResults } from "./cell-results";
import type { Followed } from "./cell-status";
import { followedInWords, notAsked } from "./follow-words";
import { waitFor } from "./follow-pace";
import type { Controller } from "./notebook-controller";
import type { OutOfDate } from "./out-of-date";
import { revealCommand } from "./reveal-cell";
import { placeOf } from "./workspace-files";

const followCommand = "fairstrike.followExports";
const stopCommand = "fairstrike.stopFollowing";
const contextKey = "fairstrike.following";

/** A notebook whose exports are followed. */
interface Following {
  changed: number;
  ended: number | null;
  took: number;
  isRunning: boolean;
  timer: ReturnType<typeof setTimeout> | undefined;
  /** How often the question was looked at on other shots, by the key of what the last look rested on. */
  looks: number;
  lastLook: string;
}

/**
 * Registers following: as the exports of a notebook grow, what is out of date is run again after a pause of quiet, and the
 * status bar says how many more shots would settle the first question of the notebook. Nothing is written. It ends when the
 * notebook closes, and never begins in a workspace that is not trusted.
 */
export function registerFollowing(controller: Controller, outOfDate: OutOfDate, results: CellResults): Followed & vscode.Disposable {
  const followed = new Map<string, Following>();
  const changes = new vscode.EventEmitter<vscode.NotebookDocument>();
  const status = vscode.window.createStatusBarItem("fairstrike.following", vscode.StatusBarAlignment.Left, 50);
  status.name = "Followed Exports";
  const of = (notebook: vscode.NotebookDocument): Following | undefined => followed.get(notebook.uri.toString());

  function tell(notebook?: vscode.NotebookDocument): void {
    const active = activeNotebook();
    const isFollowed = active !== undefined && of(active) !== undefined;
    void vscode.commands.executeCommand("setContext", contextKey, isFollowed);
    if (isFollowed) showStatus(active);
    else status.hide();
    if (notebook !== undefined) changes.fire(notebook);
  }

  function showStatus(notebook: vscode.NotebookDocument): void {
    const primary = primaryOf(notebook, results);
    const words = primary === null ? notAsked : wordsOf(primary.cell) ?? notAsked;
    status.text = `$(eye) ${words.short}`;
    status.tooltip = words.long;
    status.accessibilityInformation = { label: `Following the exports. ${words.long}` };
    status.command = primary === null ? { title: "Stop Following", command: stopCommand } : { title: "Show the cell", command: revealCommand, arguments: [primary.cell.document.uri.toString()] };
    status.show();
  }

  function wordsOf(cell: vscode.NotebookCell): ReturnType<Followed["questionOf"]> {
    const following = of(cell.notebook);
    const primary = following === undefined ? null : primaryOf(cell.notebook, results);
    if (following === undefined || primary === null || primary.cell !== cell) return null;
    return followedInWords(primary.name, primary.question, { looks: following.looks, isStale: outOfDate.changed(cell).length > 0 });
  }

  /** Counts a look at the question: one on the shots of the last look is none. */
  function countLook(notebook: vscode.NotebookDocument): void {
    const [following, primary] = [of(notebook), primaryOf(notebook, results)];
    if (following === undefined || primary === null) return;
    const basis = JSON.stringify(primary.basis);
    if (basis === following.lastLook) return;
    following.lastLook = basis;
    following.looks++;
  }

  function runSoon(notebook: vscode.NotebookDocument, isUnfinished = false): void {
    const following = of(notebook);
    if (following === undefined || following.isRunning) return;
    clearTimeout(following.timer);
    following.timer = setTimeout(() => void runNow(notebook, following).catch(() => undefined), waitFor({ ...following, isUnfinished }, Date.now()));
  }

  async function runNow(notebook: vscode.NotebookDocument, following: Following): Promise<void> {
    await outOfDate.look(notebook);
    const cells = outOfDate.cells(notebook);
    if (of(notebook) !== following || following.isRunning || cells.length === 0) return;
    if (waitFor({ ...following, isUnfinished: true }, Date.now()) > 0 && (await hasOpenLine(notebook, cells, outOfDate))) return runSoon(notebook, true);
    const before = following.changed;
    const started = Date.now();
    following.isRunning = true;
    try {
      await controller.run(cells, notebook);
    } finally {
      following.isRunning = false;
      following.ended = Date.now();
      following.took = following.ended - started;
    }
    if (following.changed !== before) runSoon(notebook);
  }

  async function follow(): Promise<void> {
    const notebook = activeNotebook();
    if (notebook === undefined || of(notebook) !== undefined) return;
    if (!vscode.workspace.isTrusted) return void vscode.window.showInformationMessage("Exports are followed only in a trusted workspace, since cells are run.");
    const following: Following = { changed: Date.now(), ended: null, took: 0, isRunning: false, timer: undefined, looks: 0, lastLook: "" };
    followed.set(notebook.uri.toString(), following);
    countLook(notebook);
    tell(notebook);
    // Without results there is nothing that could be out of date.
    if (notebook.getCells().every((cell) => results.of(cell) === undefined)) await vscode.commands.executeCommand("notebook.execute", notebook.uri);
    else runSoon(notebook);
  }

  function stop(notebook: vscode.NotebookDocument | undefined): void {
    const following = notebook === undefined ? undefined : of(notebook);
    if (notebook === undefined || following === undefined) return;
    clearTimeout(following.timer);
    followed.delete(notebook.uri.toString());
    tell(notebook);
  }

  const owned = vscode.Disposable.from(
    changes,
    status,
    vscode.commands.registerCommand(followCommand, follow),
    vscode.commands.registerCommand(stopCommand, () => stop(activeNotebook())),
    outOfDate.onFile((notebook) => {
      const following = of(notebook);
      if (following === undefined) return;
      following.changed = Date.now();
      runSoon(notebook);
    }),
    results.onDidChange((notebook) => {
      if (of(notebook) === undefined) return;
      countLook(notebook);
      tell(notebook);
    }),
    outOfDate.onDidChange((notebook) => (of(notebook) === undefined ? undefined : tell(notebook))),
    vscode.window.onDidChangeActiveNotebookEditor(() => tell()),
    vscode.workspace.onDidCloseNotebookDocument(stop),
  );
  return {
    questionOf: wordsOf,
    onDidChange: changes.event,
    dispose: () => {
      for (const { timer } of followed.values()) clearTimeout(timer);
      followed.clear();
      void owned.dispose();
    },
  };
}

function activeNotebook(): vscode.NotebookDocument | undefined {
  const notebook = vscode.window.activeNotebookEditor?.notebook;
  return notebook?.notebookType === notebookType ? notebook : undefined;
}

type Primary = Pick<CellResult, "name" | "basis"> & { readonly cell: vscode.NotebookCell; readonly question: NonNullable<CellResult["question"]> };

/** The first cell of a notebook that answers a question of the kind that shots settle; `null` where none has. */
function primaryOf(notebook: vscode.NotebookDocument, results: CellResults): Primary | null {
  for (const cell of notebook.getCells()) {
    const result = results.of(cell);
    if (result !== undefined && result.question !== null) return { cell, name: result.name, basis: result.basis, question: result.question };
  }
  return null;
}

/** True where the last line of a file that has changed has no end, or the file is being written at this moment. */
async function hasOpenLine(notebook: vscode.NotebookDocument, cells: readonly vscode.NotebookCell[], outOfDate: OutOfDate): Promise<boolean> {
  const { files } = placeOf(notebook.uri);
  for (const name of new Set(cells.flatMap((cell) => outOfDate.changed(cell)))) {
    if (!name.includes(".") || name.endsWith(".session.yaml")) continue;
    const read = await files.read(name);
    // An export that is replaced is gone for a moment.
    if (!read.ok || (read.bytes.length > 0 && read.bytes.at(-1) !== 10 && read.bytes.at(-1) !== 13)) return true;
  }
  return false;
}
