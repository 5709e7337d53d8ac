import { LSPErrorCodes, ResponseError, type CancellationToken, type CodeAction, type CodeActionParams } from "vscode-languageserver";
import { codeActionsFor, type AskedActions, type ProblemsAround } from "./code-actions";
import { copyActionsFor } from "./copy-actions";
import type { FilesAround } from "./diagnoser";
import type { DocumentStore } from "./document-store";
import { changedMeanwhile, createEditWriter, urisOf, type EditAbilities } from "./workspace-edits";

/** What actions are made from. */
export interface ActionSources {
  readonly store: DocumentStore;
  readonly files: FilesAround;
  /** The problems of a document and of the other cells of its notebook as they are now: no fix is made for an older text. */
  readonly problemsNow: (uri: string) => Promise<ProblemsAround>;
  readonly abilities: EditAbilities;
}

/** What can be done about the problems at a place. Who asks about a document that changes meanwhile has to ask again. */
export async function answerActions(
  { textDocument: { uri }, range, context: { only } }: CodeActionParams,
  token: CancellationToken,
  { store, files, problemsNow, abilities }: ActionSources,
): Promise<CodeAction[] | ResponseError> {
  const versions = store.versions();
  const around = await problemsNow(uri);
  const asked: AskedActions = { uri, around, isCell: store.notebookOf(uri) !== null, range, only, writer: createEditWriter(abilities, versions) };
  const copies = await copyActionsFor(asked, { read: (path, most) => files.read(uri, path, most), list: (folder) => files.list(uri, folder) });
  if (token.isCancellationRequested) return new ResponseError(LSPErrorCodes.RequestCancelled, "cancelled");
  const actions = [...copies, ...codeActionsFor(asked)];
  return changedMeanwhile([uri, ...actions.flatMap(({ edit }) => urisOf(edit!))], versions, store.versions()) ?? actions;
}
