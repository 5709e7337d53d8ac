import type { ActivationFunction, OutputItem, RendererContext } from "vscode-notebook-renderer";
import { choicesMime, readChoicesPayload } from "../../core/present/choice-controls";
import { notesMime, readNotesPayload } from "../../core/present/notes";
import { readPayload } from "../../core/present/read-payload";
import type { SetAsideAnswer, SetAsideMessage } from "../../core/present/set-aside-message";
import { readSetAsideAnswer } from "../../core/present/set-aside-message";
import { inert } from "../../core/present/show-value";
import { placeOfOutput } from "../../core/present/output-place";
import { chartInOutput } from "../../core/present/vega-lite-output";
import { askChoices } from "./ask-choice";
import { askFigures, type Figures } from "./ask-figure";
import { makeChartView } from "./chart-view";
import { focusedKey, focusOn, makeChoiceView, type Choose } from "./choice-view";
import { makeElement } from "./make-element";
import { makeNotesView } from "./notes-view";
import type { SetAside } from "./set-aside-form";
import { styleSheet } from "./styles";
import { askTables, type AskTable } from "./table-store";
import { makeTableView } from "./table-view";

/**
 * The renderer of tables and charts, as the editor starts it in the page of a notebook's outputs.
 *
 * It follows no links, and sends nothing but what a person sets aside, chooses, saves as a figure and asks for more of a table; an output that it did not expect is named and not guessed at.
 */
export const activate: ActivationFunction = (context) => {
  const setAside = askHost(context);
  const askTable = askTables(context);
  const figures = askFigures(context);
  const choose = askChoices(context);
  const disposers = new Map<string, () => void>();
  const dispose = (id: string): void => {
    disposers.get(id)?.();
    disposers.delete(id);
  };
  return {
    renderOutputItem(item, element) {
      dispose(item.id);
      const focused = focusedKey(element);
      const { content, end } = contentOf(item, { setAside, askTable, figures, choose });
      const root = makeElement("div", "fairstrike", { on: { keydown: keepKey } }, makeElement("style", "", {}, styleSheet), content);
      element.replaceChildren(root);
      focusOn(element, focused);
      disposers.set(item.id, end);
    },
    disposeOutputItem(id) {
      for (const each of id === undefined ? [...disposers.keys()] : [id]) dispose(each);
    },
  };
};

/** What of this page reaches the extension; `null` where it cannot be reached. */
interface Reached {
  readonly setAside: SetAside | null;
  readonly askTable: AskTable | null;
  readonly figures: Figures | null;
  readonly choose: Choose | null;
}

function contentOf(item: OutputItem, { setAside, askTable, figures, choose }: Reached): { readonly content: HTMLElement; readonly end: () => void } {
  const choices = item.mime === choicesMime ? readChoicesPayload(valueOf(item)) : null;
  if (choices !== null) return { content: makeChoiceView(choices, choose), end: () => {} };
  const notes = item.mime === notesMime ? readNotesPayload(valueOf(item)) : null;
  if (notes !== null) return { content: makeNotesView(notes), end: () => {} };
  const read = readPayload(chartInOutput(valueOf(item)));
  if ("fault" in read) {
    const text = `This output cannot be shown: ${inert(read.fault)}. Run the cell again.`;
    return { content: makeElement("p", "fairstrike-notice", {}, text), end: () => {} };
  }
  if (read.payload.type === "table") return { content: makeTableView(read.payload, setAside, askTable), end: () => {} };
  const chart = makeChartView(read.payload, { setAside, askTable, figures }, placeOfOutput(item.metadata));
  return { content: chart.element, end: chart.dispose };
}

/** Sends what is set aside to the extension and waits for its answer; `null` where it cannot be reached. */
function askHost(context: RendererContext<unknown>): SetAside | null {
  if (context.postMessage === undefined || context.onDidReceiveMessage === undefined) return null;
  const waiting = new Map<number, (answer: SetAsideAnswer) => void>();
  context.onDidReceiveMessage((value: unknown) => {
    const answer = readSetAsideAnswer(value);
    if (answer === null) return;
    waiting.get(answer.question)?.(answer);
    waiting.delete(answer.question);
  });
  return (files) =>
    new Promise((resolve) => {
      const question = nextQuestion++;
      waiting.set(question, resolve);
      context.postMessage?.({ type: "set-aside", question, files } satisfies SetAsideMessage);
    });
}

/** Questions are numbered through the page, whose renderers may be started again. */
let nextQuestion = 1;

/** The output as JSON; `undefined` where it is none, which no reader takes for a table or a chart. */
function valueOf(item: OutputItem): unknown {
  try {
    return item.json() as unknown;
  } catch {
    return undefined;
  }
}

/** Keys that work a table or a chart must not also work the notebook; with a modifier they are the editor's. */
function keepKey(event: Event): void {
  if (!(event instanceof KeyboardEvent) || event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.key.length === 1 || event.key === "Enter" || event.key.startsWith("Arrow")) event.stopPropagation();
}
