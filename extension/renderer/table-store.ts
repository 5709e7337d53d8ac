import type { RendererContext } from "vscode-notebook-renderer";
import { readTableAnswer, type TableQuestion, type TableReply, type TableWish } from "../../core/present/table-messages";

/** Asks the extension for what a table has beside the rows that it came with. */
export type AskTable = (handle: string, wish: TableWish) => Promise<TableReply>;

/** Milliseconds after which nobody is taken to answer; a dialog for a file takes as long as the person does. */
const patience = 60_000;

/** Questions are numbered through the page, whose renderers may be started again. */
let nextQuestion = 1;

/** Returns the way to the extension; `null` where it cannot be reached. */
export function askTables(context: RendererContext<unknown>): AskTable | null {
  if (context.postMessage === undefined || context.onDidReceiveMessage === undefined) return null;
  const waiting = new Map<number, (reply: TableReply) => void>();
  context.onDidReceiveMessage((value: unknown) => {
    const answer = readTableAnswer(value);
    if (answer === null) return;
    waiting.get(answer.question)?.(answer.reply);
    waiting.delete(answer.question);
  });
  return (handle, wish) =>
    new Promise((resolve) => {
      const question = nextQuestion++;
      waiting.set(question, resolve);
      if (wish.kind !== "save") setTimeout(() => waiting.delete(question) && resolve({ kind: "expired" }), patience);
      context.postMessage?.({ type: "table", question, handle, wish } satisfies TableQuestion);
    });
}
