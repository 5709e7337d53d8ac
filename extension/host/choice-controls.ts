import * as vscode from "vscode";
import { languageOfKind, notebookType } from "../../core/notebook/cell-languages";
import { chosenInWords } from "../../core/notebook/choice";
import { choicesMime, choicesText, controlsOf, type ChoicesPayload } from "../../core/present/choice-controls";
import { readChooseMessage, type ChooseAnswer, type ChooseMessage } from "../../core/present/choice-message";
import { choosingOf } from "./choice-words";
import { choicesOf, chooseFromList, foundIn, frontOf, runAfterChoice, writeChoice, type ChoiceParts } from "./make-choice";

/** Time after the last change before the controls are drawn again. */
const pauseMilliseconds = 150;

/** What a notebook shows of its choices. */
interface Shown {
  readonly payload: ChoicesPayload;
  readonly output: vscode.NotebookCellOutput;
}

/**
 * Shows the choices of a notebook as controls below its front matter, above all other outputs, and writes what a person
 * changes there into the front matter. They are drawn again with every change of its text and with new results.
 */
export function showChoiceControls(parts: ChoiceParts): vscode.Disposable {
  const { controller } = parts;
  const shown = new WeakMap<vscode.NotebookDocument, Shown>();
  const timers = new Map<string, ReturnType<typeof setTimeout>>();
  /** Per notebook the end of what is being written or drawn: one after another. */
  const last = new WeakMap<vscode.NotebookDocument, Promise<unknown>>();
  const messaging = vscode.notebooks.createRendererMessaging("fairstrike-renderer");

  function inTurn<T>(notebook: vscode.NotebookDocument, step: () => Promise<T>): Promise<T> {
    const turn = (last.get(notebook) ?? Promise.resolve()).then(step);
    last.set(notebook, turn.catch(() => undefined));
    return turn;
  }

  async function draw(notebook: vscode.NotebookDocument): Promise<void> {
    const front = frontOf(notebook);
    if (notebook.isClosed || front === null || !controller.chosen.has(notebook)) return;
    const choices = choicesOf(notebook);
    const before = shown.get(notebook);
    const isThere = before !== undefined && front.outputs.length > 0;
    if (choices.length === 0) {
      if (isThere) await controller.chosen.showIn(front, (execution) => execution.clearOutput());
      shown.delete(notebook);
      return;
    }
    const payload = controlsOf(choices, await foundIn(front, parts));
    if (isThere && JSON.stringify(payload) === JSON.stringify(before.payload)) return;
    const items = [vscode.NotebookCellOutputItem.json(payload, choicesMime), vscode.NotebookCellOutputItem.text(choicesText(choices))];
    const output = isThere ? before.output : new vscode.NotebookCellOutput(items);
    shown.set(notebook, { payload, output });
    // The same output with other contents is drawn in its place, so that the focus can stay where it is.
    await controller.chosen.showIn(front, (execution) => (isThere ? execution.replaceOutputItems(items, output) : execution.replaceOutput(output)));
  }

  function drawSoon(notebook: vscode.NotebookDocument): void {
    if (notebook.notebookType !== notebookType) return;
    const key = notebook.uri.toString();
    clearTimeout(timers.get(key));
    timers.set(
      key,
      setTimeout(() => {
        timers.delete(key);
        // What cannot be drawn now is drawn with the next change.
        inTurn(notebook, () => draw(notebook)).catch(() => undefined);
      }, pauseMilliseconds),
    );
  }

  /** Takes the one controller that there is, without which a cell can show nothing; only for notebooks that have choices. */
  function open(editor: vscode.NotebookEditor | undefined): void {
    if (editor?.notebook.notebookType !== notebookType || choicesOf(editor.notebook).length === 0) return;
    if (controller.chosen.has(editor.notebook)) drawSoon(editor.notebook);
    else void controller.chosen.choose(editor).then(undefined, () => undefined);
  }

  async function answer(notebook: vscode.NotebookDocument, asked: ChooseMessage): Promise<Omit<ChooseAnswer, "type" | "question">> {
    const front = frontOf(notebook);
    const choice = choicesOf(notebook).find(({ name }) => name === asked.name);
    const control = shown.get(notebook)?.payload.choices.find(({ name }) => name === asked.name);
    const failed = (because: string): Omit<ChooseAnswer, "type" | "question"> => ({ done: false, text: `Not changed: ${because}.` });
    if (front === null || choice === undefined || control === undefined) return failed("the front matter has changed meanwhile");
    if (asked.wanted.kind === "list") {
      await chooseFromList(front, choice, parts);
      return { done: true, text: "" };
    }
    const read = choosingOf(control, asked.wanted);
    if ("because" in read) return failed(read.because);
    const fault = await inTurn(notebook, () => writeChoice(front, asked.name, read.choosing));
    if (fault !== null) return failed(fault);
    void runAfterChoice(notebook, asked.name, parts).catch(() => undefined);
    const now = choicesOf(notebook).find(({ name }) => name === asked.name);
    return { done: true, text: now === undefined ? "" : `${now.name} = ${chosenInWords(now)}` };
  }

  vscode.workspace.notebookDocuments.forEach(drawSoon);
  open(vscode.window.activeNotebookEditor);
  return vscode.Disposable.from(
    vscode.window.onDidChangeActiveNotebookEditor(open),
    controller.chosen.onDidAdd(drawSoon),
    controller.onResult(({ cell }) => drawSoon(cell.notebook)),
    vscode.workspace.onDidChangeTextDocument(({ document }) => {
      if (document.languageId !== languageOfKind.front) return;
      const notebook = vscode.workspace.notebookDocuments.find((each) => frontOf(each)?.document === document);
      if (notebook === undefined) return;
      drawSoon(notebook);
      // Choices that are written first into this notebook.
      if (!controller.chosen.has(notebook)) open(vscode.window.visibleNotebookEditors.find((editor) => editor.notebook === notebook));
    }),
    messaging.onDidReceiveMessage(async ({ editor, message }) => {
      const asked = readChooseMessage(message);
      if (asked === null) return;
      const said = await answer(editor.notebook, asked).catch(() => ({ done: false, text: "Not changed: the notebook has changed meanwhile, try again." }));
      await messaging.postMessage({ type: "choose-answer", question: asked.question, ...said } satisfies ChooseAnswer, editor);
    }),
    { dispose: () => timers.forEach((timer) => clearTimeout(timer)) },
  );
}
