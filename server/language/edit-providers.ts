import { LSPErrorCodes, ResponseError, type Connection, type Range, type TextEdit, type WorkspaceEdit } from "vscode-languageserver";
import { formatCell, formatEdits } from "./format";
import { renamableAt, renameAt } from "./rename";
import { cancelled, createRequestPlaces, type Documents, type RequestPlaces } from "./request-places";
import { changedMeanwhile, createEditWriter } from "./workspace-edits";

/**
 * Answers requests for edits: renaming and formatting. None is made for a document that changed meanwhile, and no name is
 * changed before all columns are known.
 */
export function answerEditRequests(connection: Connection, { store, checked, abilities }: Documents, { placedOf }: RequestPlaces): void {
  const { at } = createRequestPlaces(store, checked, { waits: true });
  connection.onPrepareRename((params, token) =>
    at<Range | null | ResponseError>(
      params,
      token,
      null,
      ({ placed, cell, offset, rangeOf }) => {
        const found = renamableAt(placed.view, cell, offset);
        return "because" in found ? new ResponseError(LSPErrorCodes.RequestFailed, found.because) : rangeOf(found);
      },
      () => new ResponseError(LSPErrorCodes.RequestFailed, "names of a session file are changed where they stand"),
    ),
  );

  connection.onRenameRequest((params, token) => {
    const { textDocument: { uri }, newName } = params;
    const versions = store.versions();
    return at<WorkspaceEdit | null | ResponseError>(
      params,
      token,
      null,
      ({ placed, cell, offset }) => {
        const answer = renameAt(placed.view, cell, offset, newName);
        if (!answer.ok) return new ResponseError(LSPErrorCodes.RequestFailed, answer.because);
        const edits = new Map<string, TextEdit[]>();
        for (const { text, ...place } of answer.edits) {
          const where = placed.placeOf(place.cell, place);
          const own = edits.get(where.uri) ?? [];
          own.push({ range: where.range, newText: text });
          edits.set(where.uri, own);
        }
        // A cell that changed may use the name by now, though nothing is edited there.
        const cells = store.notebookOf(uri)?.notebook.cells.map((each) => each.uri) ?? [uri];
        return changedMeanwhile([...cells, ...edits.keys()], versions, store.versions()) ?? createEditWriter(abilities(), versions).write(edits);
      },
      () => null,
    );
  });

  connection.onDocumentFormatting(async ({ textDocument: { uri } }, token) => {
    const versions = store.versions();
    const placed = await placedOf(uri);
    if (token.isCancellationRequested) return cancelled();
    if (placed === null) return [];
    const edits: TextEdit[] = [];
    for (const cell of placed.cellsOf(uri)) {
      const { kind, text } = placed.view.cells[cell]!;
      if (kind === "prose" || kind === "conflict") continue;
      const formatted = await formatCell(kind, text);
      if (token.isCancellationRequested) return cancelled();
      if (formatted === null) continue;
      for (const { from, to, text: newText } of formatEdits(text, formatted)) edits.push({ range: placed.placeOf(cell, { from, to }).range, newText });
    }
    return changedMeanwhile([uri], versions, store.versions()) ?? edits;
  });
}
