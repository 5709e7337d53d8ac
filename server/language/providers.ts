import {
  DocumentHighlightKind,
  ResponseError,
  type CompletionItem,
  type CompletionList,
  type Connection,
  type DocumentHighlight,
  type DocumentSymbol,
  type Location,
  type TextDocumentPositionParams,
} from "vscode-languageserver";
import { withLf } from "../../core/notebook/lines";
import type { Span } from "../../core/query/syntax";
import { lineTable } from "../../core/text-position";
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
import { awaitsExports, completeSession } from "./complete-session";
import { completeText } from "./complete-text";
import { definitionsAt } from "./definitions";
import { uriOf } from "./diagnoser";
import { answerEditRequests } from "./edit-providers";
import { completeNotebook, hoverNotebook, signatureInNotebook } from "./features";
import { hoverSession } from "./hover-session";
import { hintsOf } from "./inlay-hints";
import { foldsOf, linksOf, symbolsOf } from "./outline";
import type { PlacedNotebook } from "./placed-notebook";
import { highlightsAt, referencesAt } from "./references";
import { createRequestPlaces, type Documents } from "./request-places";
import { sessionNamesAt } from "./session-names";
import { sessionDefinitions, sessionFolds, sessionLinks, sessionSymbols } from "./session-outline";
import { fromPosition, toWholeRange } from "./to-protocol";
import { tokensOf } from "./tokens";

/** Answers every request about a place or a document. A request that was cancelled meanwhile is answered so. */
export function answerRequests(connection: Connection, documents: Documents): void {
  const { store, checked, showsHints } = documents;
  const places = createRequestPlaces(store, checked);
  const { at, all } = places;
  answerEditRequests(connection, documents, places);

  function locationsOf(placed: PlacedNotebook, found: readonly Place[]): Location[] {
    return found.map((place) => ("cell" in place ? placed.placeOf(place.cell, place) : { uri: uriOf(placed.root, place.path), range: toWholeRange(place.range) }));
  }

  connection.onCompletion(async (params, token) => {
    const found = await at<CompletionItem[] | CompletionList | null>(
      params,
      token,
      null,
      async ({ placed, cell, offset, rangeOf }) => toCompletionItems(await completeNotebook(placed.view, cell, offset), rangeOf),
      async ({ session: { view }, offset, rangeOf }) => {
        const items = toCompletionItems(await completeSession(view, offset), rangeOf);
        // The client asks again with each letter, and does not keep to what was known at the first.
        return awaitsExports(view) ? { isIncomplete: true, items } : items;
      },
    );
    return found ?? (await outsideCells(params));
  });

  /** What can stand in a notebook that is open as text where no cell is. */
  async function outsideCells({ textDocument: { uri }, position }: TextDocumentPositionParams): Promise<CompletionItem[]> {
    const opened = store.text(uri);
    const placed = await places.placedOf(uri);
    if (opened === null || placed === null) return [];
    const text = withLf(opened.getText());
    const lines = lineTable(text);
    const found = await completeText(placed.view, text, lines.offsetAt(fromPosition(position)));
    return toCompletionItems(found, ({ from, to }) => toWholeRange(lines.rangeAt(from, to)));
  }

  connection.onHover((params, token) =>
    at(
      params,
      token,
      null,
      ({ placed, cell, offset, rangeOf }) => nullOr(hoverNotebook(placed.view, cell, offset), (answer) => toHover(answer, rangeOf)),
      ({ session, offset, rangeOf }) => nullOr(hoverSession(session.view, offset), (answer) => toHover(answer, rangeOf)),
    ),
  );

  connection.onSignatureHelp((params, token) =>
    at(params, token, null, ({ placed, cell, offset }) => nullOr(signatureInNotebook(placed.view, cell, offset), toSignatureHelp), () => null),
  );

  connection.onDefinition((params, token) =>
    at(
      params,
      token,
      [],
      async ({ placed, cell, offset }) =>
        locationsOf(placed, await definitionsAt(placed.view, cell, offset, async (path) => (await checked.session(uriOf(placed.root, path))).view)),
      ({ session, offset }) => sessionDefinitions(session.view, offset).map(({ path, range }) => ({ uri: uriOf(session.root, path), range: toWholeRange(range) })),
    ),
  );

  connection.onReferences((params, token) =>
    at(
      params,
      token,
      [],
      ({ placed, cell, offset }) => locationsOf(placed, referencesAt(placed.view, cell, offset, params.context.includeDeclaration)),
      ({ session, offset, rangeOf }) =>
        sessionNamesAt(session.view, offset)
          .filter(({ isDeclaration }) => params.context.includeDeclaration || !isDeclaration)
          .map((name) => ({ uri: params.textDocument.uri, range: rangeOf(name) })),
    ),
  );

  connection.onDocumentHighlight((params, token) =>
    at<DocumentHighlight[]>(
      params,
      token,
      [],
      ({ placed, cell, offset }) =>
        highlightsAt(placed.view, cell, offset).flatMap((place) => {
          const { uri: where, range } = placed.placeOf(place.cell, place);
          return where === params.textDocument.uri ? [{ range, kind: place.isWrite ? DocumentHighlightKind.Write : DocumentHighlightKind.Read }] : [];
        }),
      ({ session, offset, rangeOf }) => sessionNamesAt(session.view, offset).map((name) => ({ range: rangeOf(name), kind: name.isDeclaration ? DocumentHighlightKind.Write : DocumentHighlightKind.Read })),
    ),
  );

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
}

function nullOr<T, U>(value: T | null, make: (value: T) => U): U | null {
  return value === null ? null : make(value);
}
