import type { ActivationFunction, OutputItem, RendererContext } from "vscode-notebook-renderer";
import { readPayload } from "../../core/present/read-payload";
import type { SetAsideAnswer, SetAsideMessage } from "../../core/present/set-aside-message";
import { readSetAsideAnswer } from "../../core/present/set-aside-message";
import { inert } from "../../core/present/show-value";
import { chartInOutput } from "../../core/present/vega-lite-output";
import { makeChartView } from "./chart-view";
import { makeElement } from "./make-element";
import type { SetAside } from "./set-aside-form";
import { styleSheet } from "./styles";
import { makeTableView } from "./table-view";

/**
 * The renderer of tables and charts, as the editor starts it in the page of a notebook's outputs.
 *
 * It follows no links, and sends nothing but what a person sets aside; an output that it did not expect is named and not guessed at.
 */
export const activate: ActivationFunction = (context) => {
  const setAside = askHost(context);
  const disposers = new Map<string, () => void>();
  const dispose = (id: string): void => {
    disposers.get(id)?.();
    disposers.delete(id);
  };
  return {
    renderOutputItem(item, element) {
      dispose(item.id);
      const { content, end } = contentOf(item, setAside);
      const root = makeElement("div", "fairstrike", { on: { keydown: keepKey } }, makeElement("style", "", {}, styleSheet), content);
      element.replaceChildren(root);
      disposers.set(item.id, end);
    },
    disposeOutputItem(id) {
      for (const each of id === undefined ? [...disposers.keys()] : [id]) dispose(each);
    },
  };
};

function contentOf(item: OutputItem, setAside: SetAside | null): { readonly content: HTMLElement; readonly end: () => void } {
  const read = readPayload(chartInOutput(valueOf(item)));
  if ("fault" in read) {
    const text = `This output cannot be shown: ${inert(read.fault)}. Run the cell again.`;
    return { content: makeElement("p", "fairstrike-notice", {}, text), end: () => {} };
  }
  if (read.payload.type === "table") return { content: makeTableView(read.payload, setAside), end: () => {} };
  const chart = makeChartView(read.payload, setAside);
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
