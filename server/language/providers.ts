import {
  DocumentHighlightKind,
  LSPErrorCodes,
  ResponseError,
  type CancellationToken,
  type Connection,
  type DocumentHighlight,
  type DocumentSymbol,
  type Location,
  type Position,
  type Range,
  type TextEdit,
  type WorkspaceEdit,
} from "vscode-languageserver";
import { lineTable } from "../../core/text-position";
import type { Span } from "../../core/query/syntax";
import {
  toCompletionItems,
  toDocumentSymbol,
  toFold,
  toHover,
  toInlayHint,
  toSemanticTokens,
  toSignatureHelp,
  type RangeOf,
} from "./answer-protocol";
import type { Place } from "./answers";
import type { CheckedDocuments } from "./checked-documents";
import { completeSession } from "./complete-session";
import { definitionsAt } from "./definitions";
import { uriOf, type KnownSession } from "./diagnoser";
import type { DocumentStore } from "./document-store";
import { completeNotebook, hoverNotebook, signatureInNotebook } from "./features";
import { formatCell, formatEdits } from "./format";
import { hoverSession } from "./hover-session";
import { hintsOf } from "./inlay-hints";
import { foldsOf, linksOf, symbolsOf } from "./outline";
import type { PlacedNotebook } from "./placed-notebook";
import { highlightsAt, referencesAt } from "./references";
import { renamableAt, renameAt } from "./rename";
import { sessionDefinitions, sessionFolds, sessionLinks, sessionSymbols } from "./session-outline";
import { fromPosition, toWholeRange } from "./to-protocol";
import { tokensOf } from "./tokens";
import { isNotebookText, isSession } from "./worked-on";
import { changedMeanwhile, createEditWriter, type EditAbilities } from "./workspace-edits";

/** What documents are, to those who answer requests about them. */
export interface Documents {
  readonly store: DocumentStore;
  readonly checked: CheckedDocuments;
  /** True when columns are to be told behind each verb. */
  readonly showsHints: () => boolean;
  /** What the client understands of edits. */
  readonly abilities: () => EditAbilities;
}

/** A place in a cell of a checked notebook. */
interface InNotebook {
  readonly placed: PlacedNotebook;
  readonly cell: number;
  readonly offset: number;
  readonly rangeOf: RangeOf;
}

/** A place in a session file. */
interface InSession {
  readonly session: KnownSession;
  readonly offset: number;
  readonly rangeOf: RangeOf;
}

/** Answers every request about a place or a document. A request that was cancelled meanwhile is answered so. */
export function answerRequests(connection: Connection, { store, checked, showsHints, abilities }: Documents): void {
  async function placedOf(uri: string): Promise<PlacedNotebook | null> {
    const cell = store.notebookOf(uri);
    const document = cell === null ? (isNotebookText(uri) ? await checked.notebookText(uri) : null) : await checked.notebook(cell.notebook.uri);
    return document?.placed ?? null;
  }

  async function sessionOf(uri: string): Promise<{ readonly session: KnownSession; readonly rangeOf: RangeOf; readonly offsetAt: (at: Position) => number } | null> {
    if (!isSession(uri) || store.text(uri) === null) return null;
    const session = await checked.session(uri);
    const lines = lineTable(session.view.text);
    return {
      session,
      rangeOf: ({ from, to }) => toWholeRange(lines.rangeAt(from, to)),
      offsetAt: (position) => lines.offsetAt(fromPosition(position)),
    };
  }

  /** What either of two says of a place; `none` where the place is in neither. */
  async function at<T>(
    uri: string,
    position: Position,
    token: CancellationToken,
    none: T,
    inNotebook: (place: InNotebook) => T | Promise<T>,
    inSession: (place: InSession) => T | Promise<T>,
  ): Promise<T | ResponseError> {
    const session = await sessionOf(uri);
    if (token.isCancellationRequested) return cancelled();
    if (session !== null) return inSession({ ...session, offset: session.offsetAt(position) });
    const placed = await placedOf(uri);
    if (token.isCancellationRequested) return cancelled();
    const found = placed?.cellAt(uri, position) ?? null;
    if (placed === null || found === null) return none;
    return inNotebook({ placed, ...found, rangeOf: (span) => placed.placeOf(found.cell, span).range });
  }

  /** The same for a whole document: each cell of a notebook that it shows, or a session. */
  async function all<T>(
    uri: string,
    token: CancellationToken,
    inCell: (placed: PlacedNotebook, cell: number, rangeOf: RangeOf) => readonly T[],
    inSession: (session: KnownSession, rangeOf: RangeOf) => readonly T[],
  ): Promise<T[] | ResponseError> {
    const session = await sessionOf(uri);
    if (token.isCancellationRequested) return cancelled();
    if (session !== null) return [...inSession(session.session, session.rangeOf)];
    const placed = await placedOf(uri);
    if (token.isCancellationRequested) return cancelled();
    if (placed === null) return [];
    return placed.cellsOf(uri).flatMap((cell) => inCell(placed, cell, (span) => placed.placeOf(cell, span).range));
  }

  function locationsOf(placed: PlacedNotebook, places: readonly Place[]): Location[] {
    return places.map((place) => ("cell" in place ? placed.placeOf(place.cell, place) : { uri: uriOf(placed.root, place.path), range: toWholeRange(place.range) }));
  }

  connection.onCompletion(({ textDocument: { uri }, position }, token) =>
    at(
      uri,
      position,
      token,
      [],
      async ({ placed, cell, offset, rangeOf }) => toCompletionItems(await completeNotebook(placed.view, cell, offset), rangeOf),
      async ({ session, offset, rangeOf }) => toCompletionItems(await completeSession(session.view, offset), rangeOf),
    ),
  );

  connection.onHover(({ textDocument: { uri }, position }, token) =>
    at(
      uri,
      position,
      token,
      null,
      ({ placed, cell, offset, rangeOf }) => nullOr(hoverNotebook(placed.view, cell, offset), (answer) => toHover(answer, rangeOf)),
      ({ session, offset, rangeOf }) => nullOr(hoverSession(session.view, offset), (answer) => toHover(answer, rangeOf)),
    ),
  );

  connection.onSignatureHelp(({ textDocument: { uri }, position }, token) =>
    at(uri, position, token, null, ({ placed, cell, offset }) => nullOr(signatureInNotebook(placed.view, cell, offset), toSignatureHelp), () => null),
  );

  connection.onDefinition(({ textDocument: { uri }, position }, token) =>
    at(
      uri,
      position,
      token,
      [],
      async ({ placed, cell, offset }) =>
        locationsOf(placed, await definitionsAt(placed.view, cell, offset, async (path) => (await checked.session(uriOf(placed.root, path))).view)),
      ({ session, offset }) => sessionDefinitions(session.view, offset).map(({ path, range }) => ({ uri: uriOf(session.root, path), range: toWholeRange(range) })),
    ),
  );

  connection.onReferences(({ textDocument: { uri }, position, context }, token) =>
    at(uri, position, token, [], ({ placed, cell, offset }) => locationsOf(placed, referencesAt(placed.view, cell, offset, context.includeDeclaration)), () => []),
  );

  connection.onDocumentHighlight(({ textDocument: { uri }, position }, token) =>
    at<DocumentHighlight[]>(
      uri,
      position,
      token,
      [],
      ({ placed, cell, offset }) =>
        highlightsAt(placed.view, cell, offset).flatMap((place) => {
          const { uri: where, range } = placed.placeOf(place.cell, place);
          return where === uri ? [{ range, kind: place.isWrite ? DocumentHighlightKind.Write : DocumentHighlightKind.Read }] : [];
        }),
      () => [],
    ),
  );

  connection.onPrepareRename(({ textDocument: { uri }, position }, token) =>
    at<Range | null | ResponseError>(
      uri,
      position,
      token,
      null,
      ({ placed, cell, offset, rangeOf }) => {
        const found = renamableAt(placed.view, cell, offset);
        return "because" in found ? new ResponseError(LSPErrorCodes.RequestFailed, found.because) : rangeOf(found);
      },
      () => new ResponseError(LSPErrorCodes.RequestFailed, "names of a session file are changed where they stand"),
    ),
  );

  connection.onRenameRequest(({ textDocument: { uri }, position, newName }, token) => {
    const versions = store.versions();
    return at<WorkspaceEdit | null | ResponseError>(
      uri,
      position,
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

  connection.onDocumentSymbol(({ textDocument: { uri } }, token) =>
    all<DocumentSymbol>(
      uri,
      token,
      (placed, cell, rangeOf) => symbolsOf(placed.view, cell).map((symbol) => toDocumentSymbol(symbol, rangeOf)),
      (session, rangeOf) => sessionSymbols(session.view).map((symbol) => toDocumentSymbol(symbol, rangeOf)),
    ),
  );

  connection.onFoldingRanges(({ textDocument: { uri } }, token) => {
    const folds = (spans: readonly Span[], rangeOf: RangeOf) => spans.flatMap((span) => toFold(span, rangeOf) ?? []);
    return all(uri, token, (placed, cell, rangeOf) => folds(foldsOf(placed.view, cell), rangeOf), (session, rangeOf) => folds(sessionFolds(session.view), rangeOf));
  });

  connection.onDocumentLinks(({ textDocument: { uri } }, token) =>
    all(
      uri,
      token,
      (placed, cell, rangeOf) => linksOf(placed.view, cell).map((link) => ({ range: rangeOf(link), target: uriOf(placed.root, link.path) })),
      (session, rangeOf) => sessionLinks(session.view).map((link) => ({ range: rangeOf(link), target: uriOf(session.root, link.path) })),
    ),
  );

  connection.languages.inlayHint.on(({ textDocument: { uri }, range }, token) =>
    all(
      uri,
      token,
      (placed, cell, rangeOf) =>
        (showsHints() ? hintsOf(placed.view, cell) : []).map((hint) => toInlayHint(hint, rangeOf)).filter(({ position: { line } }) => line >= range.start.line && line <= range.end.line),
      () => [],
    ),
  );

  connection.languages.semanticTokens.on(async ({ textDocument: { uri } }, token) => {
    const tokens = await all(
      uri,
      token,
      (placed, cell, rangeOf) => tokensOf(placed.view, cell).map((each) => ({ token: each, range: rangeOf(each) })),
      () => [],
    );
    return tokens instanceof ResponseError ? tokens : toSemanticTokens(tokens);
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

function cancelled(): ResponseError {
  return new ResponseError(LSPErrorCodes.RequestCancelled, "cancelled");
}

function nullOr<T, U>(value: T | null, make: (value: T) => U): U | null {
  return value === null ? null : make(value);
}
