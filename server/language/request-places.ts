import { LSPErrorCodes, ResponseError, type CancellationToken, type Position, type TextDocumentPositionParams } from "vscode-languageserver";
import { lineTable } from "../../core/text-position";
import type { RangeOf } from "./answer-protocol";
import type { CheckedDocuments } from "./checked-documents";
import type { KnownSession } from "./diagnoser";
import type { DocumentStore } from "./document-store";
import type { PlacedNotebook } from "./placed-notebook";
import { fromPosition, toWholeRange } from "./to-protocol";
import { isNotebookText, isSession } from "./worked-on";
import type { EditAbilities } from "./workspace-edits";

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
export interface InNotebook {
  readonly placed: PlacedNotebook;
  readonly cell: number;
  readonly offset: number;
  readonly rangeOf: RangeOf;
}

/** A place in a session file. */
export interface InSession {
  readonly session: KnownSession;
  readonly offset: number;
  readonly rangeOf: RangeOf;
}

/** Finds what a request is about. A request that was cancelled meanwhile is answered so. */
export interface RequestPlaces {
  /** The notebook that a cell or a text is of; `null` for every other document. */
  readonly placedOf: (uri: string) => Promise<PlacedNotebook | null>;
  /** What either of two says of a place; `none` where the place is in neither. */
  readonly at: <T>(
    params: TextDocumentPositionParams,
    token: CancellationToken,
    none: T,
    inNotebook: (place: InNotebook) => T | Promise<T>,
    inSession: (place: InSession) => T | Promise<T>,
  ) => Promise<T | ResponseError>;
  /** The same for a whole document: each cell of a notebook that it shows, or a session. */
  readonly all: <T>(
    uri: string,
    token: CancellationToken,
    inCell: (placed: PlacedNotebook, cell: number, rangeOf: RangeOf) => readonly T[],
    inSession: (session: KnownSession, rangeOf: RangeOf) => readonly T[],
  ) => Promise<T[] | ResponseError>;
}

/**
 * Makes what finds the places of requests in the checked documents.
 *
 * @param waits true where an answer is worth nothing before all exports were read.
 */
export function createRequestPlaces(store: DocumentStore, checked: CheckedDocuments, { waits }: { readonly waits: boolean } = { waits: false }): RequestPlaces {
  async function placedOf(uri: string): Promise<PlacedNotebook | null> {
    const cell = store.notebookOf(uri);
    if (cell !== null) return waits ? ((await checked.notebook(cell.notebook.uri))?.placed ?? null) : checked.notebookNow(cell.notebook.uri);
    if (!isNotebookText(uri)) return null;
    return waits ? ((await checked.notebookText(uri))?.placed ?? null) : checked.notebookTextNow(uri);
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

  const at: RequestPlaces["at"] = async ({ textDocument: { uri }, position }, token, none, inNotebook, inSession) => {
    const session = await sessionOf(uri);
    if (token.isCancellationRequested) return cancelled();
    if (session !== null) return inSession({ ...session, offset: session.offsetAt(position) });
    const placed = await placedOf(uri);
    if (token.isCancellationRequested) return cancelled();
    const found = placed?.cellAt(uri, position) ?? null;
    if (placed === null || found === null) return none;
    return inNotebook({ placed, ...found, rangeOf: (span) => placed.placeOf(found.cell, span).range });
  };

  const all: RequestPlaces["all"] = async (uri, token, inCell, inSession) => {
    const session = await sessionOf(uri);
    if (token.isCancellationRequested) return cancelled();
    if (session !== null) return [...inSession(session.session, session.rangeOf)];
    const placed = await placedOf(uri);
    if (token.isCancellationRequested) return cancelled();
    if (placed === null) return [];
    return placed.cellsOf(uri).flatMap((cell) => inCell(placed, cell, (span) => placed.placeOf(cell, span).range));
  };

  return { placedOf, at, all };
}

/** The answer to a request that nobody waits for any more. */
export function cancelled(): ResponseError {
  return new ResponseError(LSPErrorCodes.RequestCancelled, "cancelled");
}
