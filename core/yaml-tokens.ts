import type { CST } from "yaml";

/** A bracket or a quote that is never closed, and the signs that close it and what it stands in on its own line, if they would. */
export interface NeverClosed {
  readonly offset: number;
  readonly sign: string;
  readonly close: string;
  readonly fix: { readonly offset: number; readonly text: string } | null;
}

/** Brackets and quotes that are open where they end, one in another. */
interface OpenSigns {
  readonly signs: { readonly offset: number; readonly sign: string; readonly isLeftOpen: boolean }[];
  /** The offset of the last thing in them. */
  last: number;
}

const closing: Readonly<Record<string, string>> = { "{": "}", "[": "]", '"': '"', "'": "'" };

/**
 * The brackets and quotes of a text that are never closed: of several in one another, the innermost.
 *
 * @param tokens of the text `source`, no deeper than can be read.
 */
export function neverClosed(tokens: readonly CST.Token[], source: string): readonly NeverClosed[] {
  const found: OpenSigns[] = [];
  const open: { readonly token: CST.Token; readonly around: OpenSigns | null }[] = tokens.map((token) => ({ token, around: null }));
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    const { token } = next;
    let { around } = next;
    const sign = openSign(token);
    if (sign !== null) {
      if (around === null) found.push((around = { signs: [], last: token.offset }));
      around.signs.push({ offset: token.offset, ...sign });
    }
    if (around !== null && !["space", "newline", "comment"].includes(token.type)) around.last = Math.max(around.last, token.offset);
    for (const child of childrenOf(token)) open.push({ token: child, around });
  }
  return found.map((each) => innermost(each, source)).sort((a, b) => a.offset - b.offset);
}

/** The sign that a token begins with and does not end with; `isLeftOpen` where no other sign closes it instead. */
function openSign(token: CST.Token): { readonly sign: string; readonly isLeftOpen: boolean } | null {
  if (token.type === "flow-collection") {
    const sign = token.start.source;
    const end = token.end.find(({ type }) => type === "flow-map-end" || type === "flow-seq-end");
    return end?.source === closing[sign] ? null : { sign, isLeftOpen: end === undefined };
  }
  if (token.type !== "single-quoted-scalar" && token.type !== "double-quoted-scalar") return null;
  const [sign = ""] = token.source;
  return token.source.length > 1 && token.source.endsWith(sign) ? null : { sign, isLeftOpen: true };
}

function innermost({ signs, last }: OpenSigns, source: string): NeverClosed {
  const inOrder = [...signs].sort((a, b) => a.offset - b.offset);
  const { offset, sign } = inOrder.at(-1)!;
  const from = inOrder[0]!.offset;
  const line = /^[^\r\n]*/u.exec(source.slice(from))![0].trimEnd();
  const isClear = inOrder.every((each) => each.isLeftOpen && (each.sign === "{" || each.sign === "[")) && last < from + line.length && !line.includes(" #");
  const ends = inOrder.map((each) => (each.sign === "{" ? " }" : "]")).reverse().join("");
  return { offset, sign, close: closing[sign]!, fix: isClear ? { offset: from + line.length, text: ends } : null };
}

/** Every token directly inside `token`. Pushed one by one: a list may be longer than a call may have arguments. */
export function childrenOf(token: CST.Token): readonly CST.Token[] {
  const children: CST.Token[] = [];
  const add = (tokens: CST.Token | readonly CST.Token[] | null | undefined): void => {
    if (Array.isArray(tokens)) for (const each of tokens as readonly CST.Token[]) children.push(each);
    else if (tokens) children.push(tokens as CST.Token);
  };
  if ("start" in token) add(token.start);
  if (token.type === "document") add(token.value);
  if (token.type === "block-scalar") add(token.props);
  if ("items" in token) {
    for (const item of token.items) {
      add(item.start);
      add(item.key);
      add(item.sep);
      add(item.value);
    }
  }
  if ("end" in token) add(token.end);
  return children;
}
