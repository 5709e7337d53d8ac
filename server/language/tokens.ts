import { bodyOffset } from "../../core/notebook/read-header";
import { splitHeader } from "../../core/notebook/header-text";
import type { Span } from "../../core/query/syntax";
import type { TokenAnswer, TokenKind } from "./answers";
import type { NotebookView } from "./notebook-view";
import { occurrencesOf, type Role } from "./occurrences";
import { piecesFrom } from "./query-pieces";

const kindOf: Readonly<Record<Role, TokenKind>> = {
  cell: "variable",
  constant: "variable",
  row: "parameter",
  column: "property",
  verb: "method",
  function: "function",
  aggregate: "function",
  "chart kind": "function",
  source: "namespace",
  option: "property",
  choice: "enumMember",
  "named choice": "enumMember",
  value: "enumMember",
  path: "string",
};

/** What the names in a query or chart cell are, for colouring; words, numbers and signs of the language are the grammar's. */
export function tokensOf(view: NotebookView, cell: number): readonly TokenAnswer[] {
  const { kind, text } = view.cells[cell]!;
  if (kind !== "query" && kind !== "chart") return [];
  const names = occurrencesOf(view, cell).map(({ from, to, role, isDeclaration }): TokenAnswer => ({ from, to, type: kindOf[role], isDeclaration }));
  const body = Math.min(bodyOffset(text), text.length);
  const header = headerTokens(text.slice(0, body).replace(/\n$/u, ""));
  return apart([...names, ...header, ...(kind === "query" ? placeTokens(text, body) : [])], text);
}

/** The attributes of a header line. */
function headerTokens(line: string): readonly TokenAnswer[] {
  return splitHeader(line).flatMap(({ name, from, to, valueFrom }): TokenAnswer[] => {
    if (name === null) return [];
    const key: TokenAnswer = { from, to: from + name.length, type: "keyword", isDeclaration: false };
    const isString = name === "description";
    return isString && valueFrom < to ? [key, { from: valueFrom, to, type: "string", isDeclaration: false }] : [key];
  });
}

/** `op`, `chart` and `chosen` before a dot: the places where functions, charts and the words of choices are. */
function placeTokens(text: string, body: number): readonly TokenAnswer[] {
  const pieces = piecesFrom(text, body).filter(({ kind }) => kind !== "comment");
  return pieces.flatMap(({ kind, text: word, from, to }, i): TokenAnswer[] => {
    const isPlace = kind === "name" && ["op", "chart", "chosen"].includes(word) && pieces[i + 1]?.text === "." && pieces[i - 1]?.text !== ".";
    return isPlace ? [{ from, to, type: "namespace", isDeclaration: false }] : [];
  });
}

/** The tokens in the order of the text, those left out that reach over a line's end or into one before. */
function apart(tokens: readonly TokenAnswer[], text: string): readonly TokenAnswer[] {
  const isOnOneLine = ({ from, to }: Span): boolean => from < to && to <= text.length && !text.slice(from, to).includes("\n");
  let end = 0;
  // The sort is stable: of two at one place the name comes first.
  return tokens
    .filter(isOnOneLine)
    .sort((a, b) => a.from - b.from)
    .filter(({ from, to }) => {
      if (from < end) return false;
      end = to;
      return true;
    });
}
