import * as vscode from "vscode";
import { languageOfKind, notebookType } from "../../core/notebook/cell-languages";
import type { WholeAnswer, WholeParams, WholeText } from "../../server/language/requests";

/** A document as it is in its editor, for a server whose copy of it is out of step; `null` when it is not open. */
export function wholeDocument({ uri, kind }: WholeParams): WholeAnswer {
  if (kind === "text") {
    const document = vscode.workspace.textDocuments.find((each) => each.uri.toString() === uri);
    return document === undefined ? null : { kind, ...textOf(document) };
  }
  const notebook = vscode.workspace.notebookDocuments.find((each) => each.notebookType === notebookType && each.uri.toString() === uri);
  if (notebook === undefined) return null;
  const cells = notebook.getCells().filter((cell) => cell.document.languageId !== languageOfKind.prose);
  return { kind, version: notebook.version, cells: cells.map((cell) => textOf(cell.document)) };
}

function textOf(document: vscode.TextDocument): WholeText {
  return { uri: document.uri.toString(), language: document.languageId, version: document.version, text: document.getText() };
}
