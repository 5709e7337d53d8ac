import { sourceNames } from "../../core/query/names";
import { isTextEnding } from "../../core/query/text-forms";
import type { QuerySurroundings } from "../../core/query/query-surroundings";
import { withoutQuotes, type WrittenName } from "./written-name";

/** One piece of a query's text: a word, a text in quotes, or a sign. */
interface Piece {
  readonly kind: "word" | "text" | "sign";
  readonly text: string;
  readonly from: number;
  readonly to: number;
}

/**
 * The pieces of a text from `start` on, comments and numbers left out; the plain parts of backquoted texts too.
 *
 * Anything can be read: a text whose quote is missing ends with its line.
 */
export function piecesOf(text: string, start: number): readonly Piece[] {
  const piece = /\/\*[^]*?(?:\*\/|$)|\/\/[^\n]*|([\p{ID_Start}_$][\p{ID_Continue}$]*)|("(?:[^"\\\n]|\\.)*"?|'(?:[^'\\\n]|\\.)*'?)|[\d.]*\d[\w.]*|(=>|[^\s])/gu;
  const plain = /(?:[^`\\$]|\\[^]|\$(?!\{))*(?:`|\$\{|$)/gu;
  const pieces: Piece[] = [];
  // Brackets that are open inside each hole of a backquoted text.
  const holes: number[] = [];
  let at = start;
  const skipPlain = (): void => {
    plain.lastIndex = at;
    const skipped = plain.exec(text)?.[0] ?? "";
    at += skipped.length;
    if (skipped.endsWith("${")) holes.push(0);
  };
  while (at < text.length) {
    piece.lastIndex = at;
    const match = piece.exec(text);
    if (match === null) break;
    at = match.index + match[0].length;
    const [whole, word, quoted, sign] = match;
    const place = { from: match.index, to: at };
    if (word !== undefined) pieces.push({ kind: "word", text: word, ...place });
    else if (quoted !== undefined) pieces.push({ kind: "text", text: quoted, ...place });
    else if (sign === "`") skipPlain();
    else if (sign === "}" && holes.at(-1) === 0) {
      holes.pop();
      skipPlain();
    } else if (sign !== undefined) {
      if (holes.length > 0 && (sign === "{" || sign === "}")) holes[holes.length - 1]! += sign === "{" ? 1 : -1;
      pieces.push({ kind: "sign", text: whole, ...place });
    }
  }
  return pieces;
}

/** The names in a query's body that cannot be parsed, as far as their neighbours tell what they are. */
export function scanNames(text: string, bodyOffset: number, index: number, { vocabulary, cells }: QuerySurroundings): readonly WrittenName[] {
  const pieces = piecesOf(text, bodyOffset);
  const before = (i: number, sign: string): boolean => pieces[i - 1]?.text === sign && pieces[i - 1]!.kind === "sign";
  const after = (i: number, sign: string): boolean => pieces[i + 1]?.text === sign && pieces[i + 1]!.kind === "sign";
  const isDeclared = (i: number): boolean => pieces[i - 1]?.kind === "word" && pieces[i - 1]!.text === "const";
  const isParameter = (i: number): boolean => after(i, "=>") || (before(i, "(") && after(i, ")") && after(i + 1, "=>"));
  const words = pieces.flatMap((piece, i) => (piece.kind === "word" ? [{ name: piece.text, i }] : []));
  const rows = new Set(words.filter(({ i }) => isParameter(i)).map(({ name }) => name));
  const constants = new Set(words.filter(({ i }) => isDeclared(i)).map(({ name }) => name));
  const names: WrittenName[] = [];

  function add(i: number, role: WrittenName["role"], extra: Partial<WrittenName> = {}): void {
    const piece = pieces[i]!;
    const span = piece.kind === "text" ? withoutQuotes(piece) : piece;
    const name = text.slice(span.from, span.to);
    if (name === "") return;
    const form = piece.kind === "text" ? "quoted" : "bare";
    names.push({ from: span.from, to: span.to, role, name, symbol: null, isDeclaration: false, form, whole: { from: piece.from, to: piece.to }, ending: "", files: [], ...extra });
  }

  function member(i: number, name: string): void {
    const owner = pieces[i - 2]?.kind === "word" && !before(i - 2, ".") ? pieces[i - 2]!.text : "";
    if (owner === "op") add(i, vocabulary.rowFunctions.has(name) || !vocabulary.aggregates.has(name) ? "function" : "aggregate");
    else if (owner === "chart") add(i, "chart kind");
    else if (rows.has(owner)) add(i, "column");
    else if (isTextEnding(name)) add(i, "verb");
    else {
      const verb = vocabulary.verbs.get(name);
      if (verb !== undefined) add(i, "verb", { verb });
    }
  }

  for (const [i, { kind, text: name }] of pieces.entries()) {
    if (kind === "text") {
      const opener = pieces[i - 2];
      if (before(i, "[") && opener?.kind === "word" && rows.has(opener.text)) add(i, "column");
      else if (before(i, "(") && (opener?.text === "session" || opener?.text === "sessions")) add(i, "path");
    } else if (kind === "word") {
      if (before(i, ".")) member(i, name);
      else if (isDeclared(i)) add(i, "constant", { isDeclaration: true, symbol: `constant:${index}:${name}` });
      else if (isParameter(i)) add(i, "row", { isDeclaration: true });
      else if (after(i, ":")) continue;
      else if (constants.has(name)) add(i, "constant", { symbol: `constant:${index}:${name}` });
      else if (rows.has(name)) add(i, "row");
      else if (name === "session" || name === "sessions" || sourceNames.includes(name)) add(i, "source");
      else if (cells.has(name)) add(i, "cell", { symbol: `cell:${name}` });
    }
  }
  return names;
}
