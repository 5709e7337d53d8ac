import { LSPErrorCodes, ResponseError, type InitializeParams, type TextDocumentEdit, type TextEdit, type WorkspaceEdit } from "vscode-languageserver";

/** What a client understands of edits. */
export interface EditAbilities {
  /** True when it takes the version of a document with its edits. */
  readonly versions: boolean;
  /** True when an edit may make a file. */
  readonly newFiles: boolean;
}

/** What the client that says hello understands of edits. */
export function editAbilities({ capabilities: { workspace } }: Pick<InitializeParams, "capabilities">): EditAbilities {
  const { documentChanges = false, resourceOperations = [] } = workspace?.workspaceEdit ?? {};
  return { versions: documentChanges, newFiles: documentChanges && resourceOperations.includes("create") };
}

/** Edits by the URI of the document that they change. */
export type EditsByDocument = ReadonlyMap<string, readonly TextEdit[]>;

/** Writes edits of documents as the client understands them. */
export interface EditWriter {
  readonly write: (edits: EditsByDocument) => WorkspaceEdit;
  /** The same with a file that is made first and holds `text`; `null` for a client that makes no files. */
  readonly writeWithFile: (uri: string, text: string, edits: EditsByDocument) => WorkspaceEdit | null;
}

/**
 * Returns what writes edits that were made for these versions: a document that is another by then is not to be changed.
 *
 * @param versions of the documents that are open; any other is edited as it is in its file.
 */
export function createEditWriter({ versions: hasVersions, newFiles }: EditAbilities, versions: ReadonlyMap<string, number>): EditWriter {
  const changesOf = (edits: EditsByDocument): TextDocumentEdit[] =>
    [...edits].map(([uri, own]) => ({ textDocument: { uri, version: versions.get(uri) ?? null }, edits: [...own] }));
  return {
    write: (edits) => (hasVersions ? { documentChanges: changesOf(edits) } : { changes: Object.fromEntries([...edits].map(([uri, own]) => [uri, [...own]])) }),
    writeWithFile: (uri, text, edits) => {
      if (!newFiles) return null;
      const start = { line: 0, character: 0 };
      return {
        documentChanges: [
          { kind: "create", uri, options: { overwrite: false, ignoreIfExists: false } },
          { textDocument: { uri, version: null }, edits: [{ range: { start, end: start }, newText: text }] },
          ...changesOf(edits),
        ],
      };
    },
  };
}

/** The documents whose text an edit changes. */
export function urisOf({ changes = {}, documentChanges = [] }: WorkspaceEdit): readonly string[] {
  return [...Object.keys(changes), ...documentChanges.flatMap((change) => ("textDocument" in change ? [change.textDocument.uri] : []))];
}

/** The answer to who asked for edits of documents that have changed since; `null` where all are as they were. */
export function changedMeanwhile(uris: Iterable<string>, before: ReadonlyMap<string, number>, now: ReadonlyMap<string, number>): ResponseError | null {
  for (const uri of uris) if (before.get(uri) !== now.get(uri)) return new ResponseError(LSPErrorCodes.ContentModified, "the document has changed since");
  return null;
}
