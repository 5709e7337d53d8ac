import type { Span } from "../../core/query/syntax";

/** One piece of a query's text as far as it can be told in a text that is being written. */
export interface Piece extends Span {
  readonly kind: "name" | "number" | "string" | "sign" | "comment" | "plain";
  readonly text: string;
  /** Of a string and of a comment: false when it ends with its line, or the text, and not where it should. */
  readonly closed: boolean;
}

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

const piecePattern =
  /(\/\*[^]*?(?:\*\/|$)|\/\/[^\n]*)|([\p{ID_Start}_$][\p{ID_Continue}$]*)|("(?:[^"\\\n]|\\.)*"?|'(?:[^'\\\n]|\\.)*'?)|(\d[\w.]*|\.\d[\w.]*)|(===|!==|=>|<=|>=|&&|\|\||\S)/gu;

/**
 * The pieces of a query's body from `start` on. Any text can be read: a string that is not closed ends with its line,
 * a comment and the plain part of a text with the text.
 */
export function piecesFrom(text: string, start: number): readonly Piece[] {
  const pieces: Piece[] = [];
  // Brackets open inside each hole of a text with holes.
  const holes: number[] = [];
  let at = start;

  function plain(): void {
    const pattern = /(?:[^`\\$]|\\[^]|\\$|\$(?!\{))*/guy;
    pattern.lastIndex = at;
    const from = at;
    at += pattern.exec(text)?.[0].length ?? 0;
    const closed = at < text.length;
    pieces.push({ kind: "plain", text: text.slice(from, at), from, to: at, closed });
    if (text.startsWith("${", at)) {
      holes.push(0);
      pieces.push({ kind: "sign", text: "${", from: at, to: at + 2, closed: true });
      at += 2;
    } else if (closed) {
      pieces.push({ kind: "sign", text: "`", from: at, to: at + 1, closed: true });
      at++;
    }
  }

  while (at < text.length) {
    piecePattern.lastIndex = at;
    const match = piecePattern.exec(text);
    if (match === null) break;
    const [whole, comment, name, string, number] = match;
    const from = match.index;
    at = from + whole.length;
    if (comment !== undefined) pieces.push({ kind: "comment", text: whole, from, to: at, closed: whole.startsWith("/*") && whole.length > 3 && whole.endsWith("*/") });
    else if (name !== undefined) pieces.push({ kind: "name", text: whole, from, to: at, closed: true });
    else if (string !== undefined) pieces.push({ kind: "string", text: whole, from, to: at, closed: whole.length > 1 && whole.endsWith(whole[0]!) && !endsEscaped(whole) });
    else if (number !== undefined) pieces.push({ kind: "number", text: whole, from, to: at, closed: true });
    else {
      pieces.push({ kind: "sign", text: whole, from, to: at, closed: true });
      const inHole = holes.at(-1);
      if (whole === "`") plain();
      else if (whole === "}" && inHole === 0) {
        holes.pop();
        plain();
      } else if (inHole !== undefined && (whole === "{" || whole === "}")) holes[holes.length - 1] = inHole + (whole === "{" ? 1 : -1);
    }
  }
  return pieces;
}

/** True when the last quote of a string is escaped, and so does not end it. */
function endsEscaped(string: string): boolean {
  return (/\\*(?=.$)/u.exec(string)?.[0].length ?? 0) % 2 === 1;
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

/** The text that a string stands for, its quotes left out and escaped signs read. */
export function textOfString({ text, closed }: Piece): string {
  return text.slice(1, closed ? -1 : undefined).replace(/\\(.)/gu, "$1");
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

/** The number of the first piece of the chain of members, calls and brackets that ends with piece `last`; `null` when none ends there. */
export function chainStart(pieces: readonly Piece[], last: number): number | null {
  let at = last;
  for (;;) {
    while (pieces[at]?.text === ")" || pieces[at]?.text === "]") {
      const opener = openerOf(pieces, at);
      if (opener === null) return null;
      at = opener - 1;
    }
    if (pieces[at]?.kind !== "name") return null;
    if (pieces[at - 1]?.text !== ".") return at;
    at -= 2;
  }
}

function openerOf(pieces: readonly Piece[], closer: number): number | null {
  let depth = 0;
  for (let at = closer; at >= 0; at--) {
    const { kind, text } = pieces[at]!;
    if (kind !== "sign") continue;
    if (isCloser(text)) depth++;
    else if (isOpener(text) && --depth === 0) return at;
  }
  return null;
}

/** True for the word that begins a constant. */
export function isConst(pieces: readonly Piece[], at: number): boolean {
  const isWord = pieces[at]?.kind === "name" && pieces[at].text === "const";
  return isWord && (pieces[at - 1]?.text !== "." || pieces[at + 1]?.kind === "name");
}

/** The number of the piece that begins the statement which the pieces end in. */
export function statementStart(pieces: readonly Piece[]): number {
  let depth = 0;
  let start = 0;
  for (const [at, piece] of pieces.entries()) {
    const before = pieces[at - 1];
    if (isConst(pieces, at)) [depth, start] = [0, at];
    else if (depth === 0 && before !== undefined && (before.text === ";" || (piece.kind === "name" && endsValue(before) && before.text !== "const"))) start = at;
    if (piece.kind !== "sign") continue;
    if (isOpener(piece.text)) depth++;
    else if (isCloser(piece.text)) depth = Math.max(0, depth - 1);
  }
  return pieces.at(-1)?.text === ";" ? pieces.length : start;
}

/** True for a bracket that opens, that of a hole in a text among them. */
export function isOpener(sign: string): boolean {
  return sign === "(" || sign === "[" || sign === "{" || sign === "${";
}

/** True for a bracket that closes. */
export function isCloser(sign: string): boolean {
  return sign === ")" || sign === "]" || sign === "}";
}

/** True for what can be the end of a value, so that a name right after it begins something new. */
export function endsValue({ kind, text }: Piece): boolean {
  return kind === "name" || kind === "number" || kind === "string" || text === ")" || text === "]" || text === "}" || text === "`";
}
