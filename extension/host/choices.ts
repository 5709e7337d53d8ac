import * as vscode from "vscode";
import { languageOfKind, notebookType } from "../../core/notebook/cell-languages";
import { chosenInWords, type NotebookChoice } from "../../core/notebook/choice";
import { bodyOffset } from "../../core/notebook/read-header";
import { referencesOf } from "../../core/query/references";
import { usedChoices } from "../../core/query/used-choices";
import { showChoiceControls } from "./choice-controls";
import { choicesLine } from "./choice-words";
import { choicesOf, chooseFromList, frontOf, say, type ChoiceParts } from "./make-choice";
import type { Ask } from "./narrow";
import type { Controller } from "./notebook-controller";
import type { OutOfDate } from "./out-of-date";

/** The command; its name stands in `package.json`. */
const command = "fairstrike.choose";

/**
 * Registers what shows, at the front matter and at every cell that uses them, what is chosen, and the command that changes
 * it: one edit of the front matter's text, then a run of the cells that were run and are out of date because of it.
 */
export function offerChoices(ask: Ask, controller: Controller, outOfDate: OutOfDate): vscode.Disposable {
  const parts: ChoiceParts = { ask, controller, outOfDate };
  const changes = new vscode.EventEmitter<void>();
  return vscode.Disposable.from(
    changes,
    showChoiceControls(parts),
    vscode.workspace.onDidChangeTextDocument(({ document }) => {
      if (document.languageId === languageOfKind.front || document.languageId === languageOfKind.query) changes.fire();
    }),
    vscode.commands.registerCommand(command, async (given?: unknown) => {
      const notebook = vscode.window.activeNotebookEditor?.notebook;
      if (notebook?.notebookType !== notebookType) return say("open a notebook first");
      const cell = cellOf(notebook, given);
      await change(notebook, cell, parts).catch(() => say("the notebook has changed meanwhile: try again"));
    }),
    vscode.notebooks.registerNotebookCellStatusBarItemProvider(notebookType, {
      onDidChangeCellStatusBarItems: changes.event,
      provideCellStatusBarItems: (cell) => {
        const choices = choicesAt(cell);
        if (choices.length === 0) return [];
        const line = choicesLine(choices);
        const item = new vscode.NotebookCellStatusBarItem(`$(list-selection) ${line}`, vscode.NotebookCellStatusBarAlignment.Left);
        item.tooltip = "Change what is chosen, and run what depends on it";
        item.accessibilityInformation = { label: `${line}. Change`, role: "button" };
        item.command = { title: "Change a Choice…", command, arguments: [cell] };
        return [item];
      },
    }),
  );
}

/** The choices that the front matter has, or that a query cell uses. */
function choicesAt(cell: vscode.NotebookCell): readonly NotebookChoice[] {
  const all = choicesOf(cell.notebook);
  if (cell.document.languageId === languageOfKind.front) return frontOf(cell.notebook) === cell ? all : [];
  if (all.length === 0 || cell.document.languageId !== languageOfKind.query) return [];
  const text = cell.document.getText().replaceAll("\r\n", "\n");
  return usedChoices(referencesOf(text, bodyOffset(text)), all);
}

/** The cell that an item hands over, or the one at the cursor. */
function cellOf(notebook: vscode.NotebookDocument, given: unknown): vscode.NotebookCell | null {
  const document = typeof given === "object" && given !== null && "document" in given ? given.document : null;
  const uri = typeof document === "object" && document !== null && "uri" in document ? String(document.uri) : null;
  const cells = notebook.getCells();
  return cells.find((cell) => cell.document.uri.toString() === uri) ?? cells[vscode.window.activeNotebookEditor?.selection.start ?? -1] ?? null;
}

async function change(notebook: vscode.NotebookDocument, cell: vscode.NotebookCell | null, parts: ChoiceParts): Promise<void> {
  const front = frontOf(notebook);
  const all = choicesOf(notebook);
  if (front === null || all.length === 0) return say("the front matter names no choices: write some under choose:");
  const own = cell === null ? [] : choicesAt(cell);
  const choice = await chooseOne(own.length === 0 ? all : own);
  if (choice === null) return;
  await chooseFromList(front, choice, parts);
}

async function chooseOne(choices: readonly NotebookChoice[]): Promise<NotebookChoice | null> {
  if (choices.length === 1) return choices[0]!;
  const items = choices.map((choice) => ({ label: choice.name, description: chosenInWords(choice), choice }));
  const picked = await vscode.window.showQuickPick(items, { title: "Change a choice", placeHolder: "Which choice" });
  return picked?.choice ?? null;
}
