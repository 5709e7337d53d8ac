import { headerKind, splitHeader, type HeaderPiece } from "../../core/notebook/header-text";
import type { Span } from "../../core/query/syntax";

/** The first line of a cell, and what a cursor in it is at. */
export interface HeaderPlace {
  readonly line: string;
  /** `null` for a line that is no header. */
  readonly kind: "query" | "chart" | null;
  readonly pieces: readonly HeaderPiece[];
  /** The attribute or word at the cursor; `null` between them. */
  readonly piece: HeaderPiece | null;
  /** What is written at the cursor. */
  readonly at: "name" | "value" | "gap";
  /** The name, or the value without its quotes, or nothing at the cursor. */
  readonly span: Span;
  /** The quote that the value stands in; "" for none. */
  readonly quote: "" | '"' | "'";
}

/** What `offset` is at in the first line of a cell's text; `null` beyond it. */
export function headerPlace(text: string, offset: number): HeaderPlace | null {
  const end = text.indexOf("\n");
  const line = end < 0 ? text : text.slice(0, end);
  if (offset > line.length) return null;
  const pieces = splitHeader(line);
  const kind = headerKind(line);
  const gap = { line, kind, pieces, piece: null, at: "gap", span: { from: offset, to: offset }, quote: "" } as const;
  const piece = pieces.find(({ from, to }) => from <= offset && offset <= to);
  if (piece === undefined) return gap;
  const nameTo = piece.name === null ? piece.to : piece.from + piece.name.length;
  if (offset <= nameTo) return { ...gap, piece, at: "name", span: { from: piece.from, to: nameTo } };
  const sign = line[piece.valueFrom];
  const quote = sign === '"' || sign === "'" ? sign : "";
  const span = { from: piece.valueFrom + quote.length, to: quote !== "" && piece.closed ? piece.to - 1 : piece.to };
  if (offset < span.from) return { ...gap, piece, at: "value", span: { from: piece.valueFrom, to: piece.to }, quote: "" };
  return offset > span.to ? gap : { ...gap, piece, at: "value", span, quote };
}
