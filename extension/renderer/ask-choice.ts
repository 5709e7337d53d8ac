import type { RendererContext } from "vscode-notebook-renderer";
import { readChooseAnswer, type ChooseAnswer, type ChooseMessage } from "../../core/present/choice-message";
import type { Choose } from "./choice-view";

/** Questions are numbered through the page, whose renderers may be started again. */
let nextQuestion = 1;

/** Connects the controls of choices with the extension, which writes the front matter; `null` where it cannot be reached. */
export function askChoices(context: RendererContext<unknown>): Choose | null {
  if (context.postMessage === undefined || context.onDidReceiveMessage === undefined) return null;
  const waiting = new Map<number, (answer: ChooseAnswer) => void>();
  context.onDidReceiveMessage((value: unknown) => {
    const answer = readChooseAnswer(value);
    if (answer === null) return;
    waiting.get(answer.question)?.(answer);
    waiting.delete(answer.question);
  });
  return (name, wanted) =>
    new Promise((resolve) => {
      const question = nextQuestion++;
      waiting.set(question, resolve);
      context.postMessage?.({ type: "choose", question, name, wanted } satisfies ChooseMessage);
    });
}
