import type { Position } from "vscode-languageserver/node";
import { lineTable } from "../../core/text-position";
import type { LargeCell } from "./large-notebook";
import type { StdioClient } from "./stdio-client";

/** A cell as it is open: its text changes with each edit. */
export interface OpenCell {
  readonly uri: string;
  readonly text: () => string;
}

/** A notebook that is open in a client. */
export interface OpenNotebook {
  readonly cells: readonly OpenCell[];
  /** Edits made so far. */
  readonly edits: () => number;
  /** Puts `insert` in the place of `from` to `to` of a cell and tells the server; `performance.now()` of just before. */
  readonly edit: (cell: number, from: number, to: number, insert: string) => number;
  /** The protocol's place of an offset of a cell. */
  readonly at: (cell: number, offset: number) => { readonly textDocument: { readonly uri: string }; readonly position: Position };
}

/** Opens a notebook `n.shots.md` of these cells. */
export async function openNotebook({ connection, uriOf }: StdioClient, cells: readonly LargeCell[]): Promise<OpenNotebook> {
  const notebook = uriOf("n.shots.md");
  const texts = cells.map((cell) => cell.text);
  const versions = cells.map(() => 1);
  const uris = cells.map((_, index) => `vscode-notebook-cell:${notebook.slice("file:".length)}#${index}`);
  let edits = 0;
  const placeOf = (cell: number, offset: number): Position => {
    const { line, column } = lineTable(texts[cell]!).positionAt(offset);
    return { line: line - 1, character: column - 1 };
  };
  await connection.sendNotification("notebookDocument/didOpen", {
    notebookDocument: { uri: notebook, notebookType: "fairstrike-notebook", version: 1, cells: uris.map((document) => ({ kind: 2, document })) },
    cellTextDocuments: cells.map(({ language, text }, index) => ({ uri: uris[index]!, languageId: language, version: 1, text })),
  });
  return {
    cells: uris.map((uri, index) => ({ uri, text: () => texts[index]! })),
    edits: () => edits,
    edit: (cell, from, to, insert) => {
      const range = { start: placeOf(cell, from), end: placeOf(cell, to) };
      texts[cell] = texts[cell]!.slice(0, from) + insert + texts[cell]!.slice(to);
      versions[cell]! += 1;
      edits++;
      const at = performance.now();
      void connection.sendNotification("notebookDocument/didChange", {
        notebookDocument: { uri: notebook, version: edits + 1 },
        change: { cells: { textContent: [{ document: { uri: uris[cell]!, version: versions[cell]! }, changes: [{ range, text: insert }] }] } },
      });
      return at;
    },
    at: (cell, offset) => ({ textDocument: { uri: uris[cell]! }, position: placeOf(cell, offset) }),
  };
}
