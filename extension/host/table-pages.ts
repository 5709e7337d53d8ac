import * as vscode from "vscode";
import { mostPageRows, readTableQuestion, type TableAnswer, type TableReply, type TableWish } from "../../core/present/table-messages";
import type { RowOrder } from "../../core/present/sort-rows";
import type { CellResults } from "./cell-results";
import { openExportLine } from "./open-export-line";
import { placeOf } from "./workspace-files";
import { ownerOf, type ResultsStore } from "./results-store";

/** Answers shown tables that ask for rows. A page of outputs is answered about tables of its own notebook, and no others. */
export function answerTables(store: ResultsStore, results: Pick<CellResults, "of">): vscode.Disposable {
  const messaging = vscode.notebooks.createRendererMessaging("fairstrike-renderer");
  return messaging.onDidReceiveMessage(async ({ editor, message }) => {
    const asked = readTableQuestion(message);
    if (asked === null) return;
    const reply = await replyTo({ store, results, notebook: editor.notebook }, asked.handle, asked.wish);
    await messaging.postMessage({ type: "table-answer", question: asked.question, reply } satisfies TableAnswer, editor);
  });
}

interface Asked {
  readonly store: ResultsStore;
  readonly results: Pick<CellResults, "of">;
  readonly notebook: vscode.NotebookDocument;
}

async function replyTo({ store, results, notebook }: Asked, handle: string, wish: TableWish): Promise<TableReply> {
  if (wish.kind === "line") {
    const bases = notebook.getCells().flatMap((cell) => {
      const result = results.of(cell);
      return result === undefined ? [] : [result.basis];
    });
    const text = await openExportLine(notebook.uri, wish, bases).catch(() => "Nothing was opened: the editor does not show that export as text.");
    return { kind: "said", text };
  }
  if (wish.kind !== "save") return store.ask(ownerOf(notebook), handle, wish);
  return save(store, notebook, handle, wish.order).catch(() => ({ kind: "said", text: "The file could not be written." }));
}

/** Writes all rows as CSV into a file that the person chooses. */
async function save(store: ResultsStore, notebook: vscode.NotebookDocument, handle: string, order: RowOrder): Promise<TableReply> {
  const target = await vscode.window.showSaveDialog({
    defaultUri: vscode.Uri.joinPath(placeOf(notebook.uri).root, "table.csv"),
    filters: { CSV: ["csv"] },
    title: "Save All Rows as CSV",
  });
  if (target === undefined) return { kind: "said", text: "Nothing was saved." };
  const parts: Uint8Array[] = [];
  for (let from = 0; ; from += mostPageRows) {
    const reply = await store.ask(ownerOf(notebook), handle, { kind: "csv", order, from, count: mostPageRows });
    if (reply.kind !== "said") return reply;
    if (reply.text === "") break;
    parts.push(new TextEncoder().encode(reply.text));
  }
  await vscode.workspace.fs.writeFile(target, joined(parts));
  return { kind: "said", text: `Saved as ${vscode.workspace.asRelativePath(target)}.` };
}

function joined(parts: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
