import { sourceNames } from "../../core/query/names";
import { isTextEnding } from "../../core/query/text-forms";
import type { QuerySurroundings } from "../../core/query/query-surroundings";
import { symbolOfChoice } from "./named-choices";
import { piecesFrom, textOfString, type Piece } from "./query-pieces";
import { withoutQuotes, type WrittenName } from "./written-name";

/** The names in a query's body that cannot be parsed, as far as their neighbours tell what they are. */
export function scanNames(text: string, bodyOffset: number, index: number, { vocabulary, cells }: QuerySurroundings): readonly WrittenName[] {
  const pieces = namingPieces(text, bodyOffset);
  const before = (i: number, sign: string): boolean => pieces[i - 1]?.text === sign && pieces[i - 1]!.kind === "sign";
  const after = (i: number, sign: string): boolean => pieces[i + 1]?.text === sign && pieces[i + 1]!.kind === "sign";
  const isDeclared = (i: number): boolean => pieces[i - 1]?.kind === "name" && pieces[i - 1]!.text === "const";
  const isParameter = (i: number): boolean => after(i, "=>") || (before(i, "(") && after(i, ")") && after(i + 1, "=>"));
  const words = pieces.flatMap((piece, i) => (piece.kind === "name" ? [{ name: piece.text, i }] : []));
  const rows = new Set(words.filter(({ i }) => isParameter(i)).map(({ name }) => name));
  const constants = new Set(words.filter(({ i }) => isDeclared(i)).map(({ name }) => name));
  const names: WrittenName[] = [];

  function add(i: number, role: WrittenName["role"], extra: Partial<WrittenName> = {}): void {
    const piece = pieces[i]!;
    const span = piece.kind === "string" ? withoutQuotes(piece) : piece;
    const name = text.slice(span.from, span.to);
    if (name === "") return;
    const form = piece.kind === "string" ? "quoted" : "bare";
    names.push({ from: span.from, to: span.to, role, name, symbol: null, isDeclaration: false, form, whole: { from: piece.from, to: piece.to }, ending: "", files: [], ...extra });
  }

  function member(i: number, name: string): void {
    const owner = pieces[i - 2]?.kind === "name" && !before(i - 2, ".") ? pieces[i - 2]!.text : "";
    if (owner === "op") add(i, vocabulary.rowFunctions.has(name) || !vocabulary.aggregates.has(name) ? "function" : "aggregate");
    else if (owner === "chart") add(i, "chart kind");
    else if (owner === "chosen") add(i, "named choice", { symbol: symbolOfChoice(name) });
    else if (rows.has(owner)) add(i, "column");
    else if (isTextEnding(name)) add(i, "verb");
    else {
      const verb = vocabulary.verbs.get(name);
      if (verb !== undefined) add(i, "verb", { verb });
    }
  }

  for (const [i, { kind, text: name }] of pieces.entries()) {
    if (kind === "string") {
      const opener = pieces[i - 2];
      if (before(i, "[") && opener?.kind === "name" && rows.has(opener.text)) add(i, "column");
      else if (before(i, "(") && (opener?.text === "session" || opener?.text === "sessions")) add(i, "path");
      else if (isChoiceOfRows(pieces, i)) add(i, "named choice", { symbol: symbolOfChoice(textOfString(pieces[i]!)) });
    } else if (kind === "name") {
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

/** True for a text among the arguments of `.choose(…)`, which are texts up to it. */
function isChoiceOfRows(pieces: readonly Piece[], at: number): boolean {
  let opener = at - 1;
  while (pieces[opener]?.text === "," && pieces[opener - 1]?.kind === "string") opener -= 2;
  return pieces[opener]?.text === "(" && pieces[opener - 1]?.text === "choose" && pieces[opener - 2]?.text === ".";
}

/** The pieces that tell what a name is: comments, numbers and the plain parts of texts are none. */
function namingPieces(text: string, start: number): readonly Piece[] {
  return piecesFrom(text, start).filter(({ kind }) => kind === "name" || kind === "string" || kind === "sign");
}
