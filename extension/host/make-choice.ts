import * as vscode from "vscode";
import { languageOfKind } from "../../core/notebook/cell-languages";
import type { NotebookChoice, RangeChoice } from "../../core/notebook/choice";
import { editChoice, type Choosing } from "../../core/notebook/choice-edit";
import { readFrontMatter } from "../../core/notebook/read-front-matter";
import { choicesRequest, type ChoicesAnswer, type FoundChoice } from "../../server/language/requests";
import { areInOrder, boundNow, typedBound, unitNow, upsideDown } from "./choice-words";
import type { Ask } from "./narrow";
import type { Controller } from "./notebook-controller";
import type { OutOfDate } from "./out-of-date";

/** What changing a choice needs of the rest of the extension. */
export interface ChoiceParts {
  readonly ask: Ask;
  readonly controller: Controller;
  readonly outOfDate: OutOfDate;
}

/** The choices that a notebook's front matter has. */
export function choicesOf(notebook: vscode.NotebookDocument): readonly NotebookChoice[] {
  const front = frontOf(notebook);
  return front === null ? [] : readFrontMatter(front.document.getText().replaceAll("\r\n", "\n")).value.choices;
}

/** The cell of the front matter; `null` where there is none. */
export function frontOf(notebook: vscode.NotebookDocument): vscode.NotebookCell | null {
  return notebook.getCells().find(({ document }) => document.languageId === languageOfKind.front) ?? null;
}

/** What the data are known to hold for the choices of a notebook. */
export async function foundIn(front: vscode.NotebookCell, { ask }: ChoiceParts): Promise<readonly FoundChoice[]> {
  const answer = await ask<ChoicesAnswer>(choicesRequest, { uri: front.document.uri.toString() }).catch((): ChoicesAnswer => ({ choices: [] }));
  return answer.choices;
}

/** Asks by lists and fields what is wanted of a choice, writes it, and runs what depends on it; says why where that cannot be. */
export async function chooseFromList(front: vscode.NotebookCell, choice: NotebookChoice, parts: ChoiceParts): Promise<void> {
  const found = (await foundIn(front, parts)).find(({ name }) => name === choice.name) ?? { name: choice.name, values: null, range: null, unit: null };
  const choosing = await askFor(choice, found);
  if (choosing === null) return;
  const fault = await writeChoice(front, choice.name, choosing);
  if (fault !== null) return say(fault);
  await runAfterChoice(front.notebook, choice.name, parts);
}

/** Makes a choice by one edit of the front matter's text, which can be undone; why it could not be made, or `null`. */
export async function writeChoice({ document }: vscode.NotebookCell, name: string, choosing: Choosing): Promise<string | null> {
  const edits = editChoice(document.getText().replaceAll("\r\n", "\n"), name, choosing);
  if (edits === null) return `the choice ${name} is written so that changing it would lose a comment: change it in the text`;
  if (edits.length === 0) return null;
  const edit = new vscode.WorkspaceEdit();
  for (const { range: { start, end }, text } of edits) edit.replace(document.uri, new vscode.Range(start.line - 1, start.column - 1, end.line - 1, end.column - 1), text);
  return (await vscode.workspace.applyEdit(edit)) ? null : "the editor did not take the change";
}

/** Runs again what was run before and is out of date because of a choice. A run that is under way is followed by that run. */
export async function runAfterChoice(notebook: vscode.NotebookDocument, name: string, { controller, outOfDate }: ChoiceParts): Promise<void> {
  if (!vscode.workspace.isTrusted) return;
  await outOfDate.look(notebook);
  const cells = outOfDate.cells(notebook).filter((cell) => outOfDate.changed(cell).includes(`the choice ${name}`));
  if (cells.length > 0) await controller.run(cells, notebook);
}

/** Says why no choice was changed. */
export function say(because: string): void {
  void vscode.window.showInformationMessage(`No choice was changed: ${because}.`);
}

/** What a person wants of a choice; `null` where nothing was changed. */
async function askFor(choice: NotebookChoice, found: FoundChoice): Promise<Choosing | null> {
  switch (choice.kind) {
    case "word": {
      const items = choice.among.map((word) => ({ label: word, ...(word === choice.word ? { description: "chosen now" } : {}) }));
      const picked = await vscode.window.showQuickPick(items, { title: choice.name, placeHolder: "Choose one" });
      return picked === undefined ? null : { kind: "word", word: picked.label };
    }
    case "values": {
      const chosen = choice.values?.map(({ text }) => text) ?? null;
      const known = [...new Set([...(found.values ?? []), ...(chosen ?? [])])];
      if (found.values === null || known.length === 0) {
        say(`the values of ${choice.column} are too many to list, or not known yet: write them in the front matter`);
        return null;
      }
      const items = known.map((label) => ({ label, picked: chosen === null || chosen.includes(label) }));
      const picked = await vscode.window.showQuickPick(items, { title: `${choice.name}: ${choice.column}`, placeHolder: "Tick what is let through; all of them is any", canPickMany: true });
      if (picked === undefined) return null;
      if (picked.length === 0) {
        say("tick at least one value");
        return null;
      }
      return { kind: "values", values: picked.length === known.length ? null : picked.map(({ label }) => label) };
    }
    case "range":
      return askBounds(choice, found);
  }
}

async function askBounds(choice: RangeChoice, { unit: foundUnit, range }: FoundChoice): Promise<Choosing | null> {
  const unit = foundUnit ?? unitNow(choice);
  const there = range === null ? "" : `; found are ${Math.floor(range.low * 10) / 10} to ${Math.ceil(range.high * 10) / 10}${unit === null ? "" : ` ${unit}`}`;
  const bounds: (string | null)[] = [];
  for (const [end, words] of [["from", "at least"], ["to", "at most"]] as const) {
    const typed = await vscode.window.showInputBox({
      title: `${choice.name}: ${choice.column} ${words}`,
      prompt: `Empty for no bound${there}`,
      value: boundNow(choice, end),
      validateInput: (text) => {
        const read = typedBound(text, unit);
        if (!read.ok) return read.because;
        return end === "to" && !areInOrder(bounds[0] ?? null, read.bound) ? upsideDown : null;
      },
    });
    const read = typed === undefined ? null : typedBound(typed, unit);
    if (read === null || !read.ok) return null;
    bounds.push(read.bound);
  }
  return { kind: "range", from: bounds[0]!, to: bounds[1]! };
}
