import type { Span } from "../../core/query/syntax";

/** One piece of a query's text as far as it can be told in a text that is being written. */
export interface Piece extends Span {
  readonly kind: "name" | "number" | "string" | "sign" | "comment" | "plain";
  readonly text: string;
  /** Of a string and of a comment: false when it ends with its line, or the text, and not where it should. */
  readonly closed: boolean;
}

const piecePattern =
  /(\/\*[^]*?(?:\*\/|$)|\/\/[^\n]*)|([\p{ID_Start}_$][\p{ID_Continue}$]*)|("(?:[^"\\\n]|\\.)*"?|'(?:[^'\\\n]|\\.)*'?)|(\d[\w.]*|\.\d[\w.]*)|(===|!==|==|!=|=>|<=|>=|&&|\|\||\S)/gu;

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

/** The text that a string stands for, its quotes left out and escaped signs read. */
export function textOfString({ text, closed }: Piece): string {
  return text.slice(1, closed ? -1 : undefined).replace(/\\(.)/gu, "$1");
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

/** The number of the piece that closes the bracket `opener`, none behind `end`; `null` where none does. */
export function closerOf(pieces: readonly Piece[], opener: number, end = pieces.length - 1): number | null {
  let depth = 0;
  for (let at = opener; at <= end; at++) {
    const { kind, text } = pieces[at]!;
    if (kind !== "sign") continue;
    if (isOpener(text)) depth++;
    else if (isCloser(text) && --depth === 0) return at;
  }
  return null;
}

/** First and last piece of each part that commas make between two brackets; of an empty part the last is before the first. */
export function partsOf(pieces: readonly Piece[], opener: number, closer: number): readonly (readonly [first: number, last: number])[] {
  const parts: (readonly [number, number])[] = [];
  let depth = 0;
  let first = opener + 1;
  for (let at = first; at < closer; at++) {
    const { kind, text } = pieces[at]!;
    if (kind !== "sign") continue;
    if (isOpener(text)) depth++;
    else if (isCloser(text)) depth--;
    else if (text === "," && depth === 0) {
      parts.push([first, at - 1]);
      first = at + 1;
    }
  }
  return [...parts, [first, closer - 1]];
}
