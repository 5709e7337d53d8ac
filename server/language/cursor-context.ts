import type { Span } from "../../core/query/syntax";
import { isCloser, isConst, piecesFrom, type Piece } from "./query-pieces";

/** Brackets that are open at the cursor. */
export interface Frame {
  readonly open: "(" | "[" | "{" | "${";
  /** Numbers of pieces: the bracket, and the first piece after it or after the last comma. */
  readonly at: number;
  readonly part: number;
  /** Commas since the bracket. */
  readonly commas: number;
}

/** Where the cursor is in a query's body. */
export interface CursorContext {
  /** `none` in comments, numbers and the plain part of a text. */
  readonly where: "word" | "string" | "none";
  /** What a suggestion replaces: the word at the cursor, or all that stands between the quotes. */
  readonly replace: Span;
  /** The quote that the string began with, and whether one ends it. */
  readonly quote: string;
  readonly closed: boolean;
  /** Pieces before the word or string at the cursor, comments left out. */
  readonly before: readonly Piece[];
  /** Brackets open there, the innermost last. */
  readonly frames: readonly Frame[];
  /** Pieces behind the word or string, comments left out. */
  readonly after: readonly Piece[];
  /** What follows the word or string, comments left out; "" at the end. */
  readonly next: string;
}

/** Where the offset `cursor` is in a query's text whose body begins at `start`. */
export function cursorContext(text: string, start: number, cursor: number): CursorContext {
  const all = piecesFrom(text, start);
  const none: CursorContext = { where: "none", replace: { from: cursor, to: cursor }, quote: "", closed: true, before: [], frames: [], after: [], next: "" };
  if (all.some(({ kind, from, to }) => kind === "plain" && from <= cursor && cursor <= to)) return none;
  const touched = all.find((piece) => piece.from < cursor && (cursor < piece.to || (cursor === piece.to && continuesAt(piece))));
  if (touched !== undefined && touched.kind !== "name" && touched.kind !== "string" && touched.kind !== "sign") return none;
  const here = touched?.kind === "name" || touched?.kind === "string" ? touched : all.find((piece) => piece.kind === "name" && piece.from === cursor);
  const first = here === undefined ? all.findIndex((piece) => piece.to > cursor || (piece.to === cursor && piece.from === cursor)) : all.indexOf(here);
  const isCode = (piece: Piece): boolean => piece.kind !== "comment" && piece.kind !== "plain";
  const before = all.slice(0, first < 0 ? all.length : first).filter(isCode).filter((piece) => piece.to <= cursor);
  const rest = all.slice(here === undefined ? (first < 0 ? all.length : first) : first + 1).filter(isCode);
  const shared = { before, frames: framesOf(before), after: rest, next: rest[0]?.text ?? "" };
  if (here === undefined) return { where: "word", replace: { from: cursor, to: cursor }, quote: "", closed: true, ...shared };
  if (here.kind === "name") return { where: "word", replace: { from: here.from, to: here.to }, quote: "", closed: true, ...shared };
  const inside = here.from + 1;
  const closed = here.closed && !tookQuoteOfAnother(all, here, text);
  // An open string has run into what follows it: only what may belong to the word is replaced.
  const to = closed ? here.to - 1 : Math.max(cursor, inside + wordOfOpenString.exec(text.slice(inside, here.to))![0].trimEnd().length);
  return { where: "string", replace: { from: inside, to }, quote: here.text[0]!, closed, ...shared };
}

const wordOfOpenString = /^(?:(?!&&|\|\||=>)[^"'`()[\]{},;])*/u;

/**
 * True for a string that ends with the quote that another one should begin with: the last string of its line is open,
 * though this is the one that is being written.
 */
function tookQuoteOfAnother(all: readonly Piece[], here: Piece, text: string): boolean {
  if (!/[()[\]{},;]|&&|\|\||=>/u.test(here.text)) return false;
  const end = text.indexOf("\n", here.to);
  const last = all.findLast(({ kind, from }) => kind === "string" && from > here.from && (end < 0 || from < end));
  return last !== undefined && !last.closed;
}

/** True for a piece that goes on when something is typed at its end. */
function continuesAt({ kind, closed, text }: Piece): boolean {
  return kind === "name" || kind === "number" || (kind === "string" && !closed) || (kind === "comment" && (!closed || text.startsWith("//")));
}

const closers: Readonly<Record<string, string>> = { ")": "(", "]": "[" };

function framesOf(pieces: readonly Piece[]): readonly Frame[] {
  const frames: { open: Frame["open"]; at: number; part: number; commas: number }[] = [];
  for (const [at, { kind, text }] of pieces.entries()) {
    // Nothing goes on across a new constant: what is still open there was left unfinished.
    if (isConst(pieces, at)) frames.length = 0;
    if (kind !== "sign") continue;
    if (text === "(" || text === "[" || text === "{" || text === "${") frames.push({ open: text, at, part: at + 1, commas: 0 });
    else if (isCloser(text)) {
      // A bracket that is never closed ends with the one around it.
      const opener = frames.findLastIndex(({ open }) => (text === "}" ? open === "{" || open === "${" : open === closers[text]));
      if (opener >= 0) frames.length = opener;
    } else if (text === "," && frames.length > 0) {
      const frame = frames.at(-1)!;
      frame.part = at + 1;
      frame.commas++;
    }
  }
  return frames;
}
