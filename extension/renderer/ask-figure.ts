import type { RendererContext } from "vscode-notebook-renderer";
import { readFigureAnswer, readFigureRequest, type FigureMessage } from "../../core/present/figure-message";
import type { SaveFigure } from "./figure-form";

/** How charts of this page are saved. */
export interface Figures {
  /** Saves what is drawn of the chart in an output. */
  readonly saver: (output: string) => SaveFigure;
  /** Calls `open` when saving that chart is asked for by command, until the returned function is called. */
  readonly whenAsked: (output: string, open: () => void) => () => void;
}

/** Questions are numbered through the page, whose renderers may be started again. */
let nextQuestion = 1;

/** Connects charts with the extension, which writes figures; `null` where it cannot be reached. */
export function askFigures(context: RendererContext<unknown>): Figures | null {
  if (context.postMessage === undefined || context.onDidReceiveMessage === undefined) return null;
  const waiting = new Map<number, (text: string) => void>();
  const openers = new Map<string, () => void>();
  context.onDidReceiveMessage((value: unknown) => {
    const request = readFigureRequest(value);
    if (request !== null) openers.get(request.output)?.();
    const answer = readFigureAnswer(value);
    if (answer === null) return;
    waiting.get(answer.question)?.(answer.text);
    waiting.delete(answer.question);
  });
  return {
    saver: (output) => (figure) =>
      new Promise((resolve) => {
        const question = nextQuestion++;
        waiting.set(question, resolve);
        context.postMessage?.({ type: "save-figure", question, output, ...figure } satisfies FigureMessage);
      }),
    whenAsked: (output, open) => {
      if (output === "") return () => undefined;
      openers.set(output, open);
      return () => {
        if (openers.get(output) === open) openers.delete(output);
      };
    },
  };
}
