import type { JsonEntry, JsonNode, Span } from "./json-tree";

/** One step from a value to a part of it: a key of an object, or a number in a list. */
export type JsonStep = string | number;

/** Where a cursor stands in JSON that is being written. */
export interface JsonPlace {
  /** What is written there: a key of an object, or a value. */
  readonly kind: "key" | "value";
  /** The steps to the value, or to the object whose key it is. */
  readonly path: readonly JsonStep[];
  /** What is at the cursor: nothing yet, a text in quotes that may want its second one, or a word without quotes. */
  readonly token: "none" | "quoted" | "bare";
  /** The text at the cursor, without quotes; "" for nothing. */
  readonly written: string;
  /** The key or value with its quotes; empty at the cursor where there is nothing. */
  readonly replace: Span;
  /** For a key: whether a colon follows. */
  readonly hasColon: boolean;
  /** Whether a comma is missing before and after what would be written. */
  readonly comma: { readonly before: boolean; readonly after: boolean };
}

/** JSON read as far as it goes. */
export interface LooseJson {
  /** A value that is not there yet is `null`, of no length. `null` for an empty text. */
  readonly root: JsonNode | null;
  /** `null` where neither a key nor a value can be written: in a comment, behind a value, between a key and its colon. */
  readonly place: JsonPlace | null;
}

interface Token extends Span {
  readonly text: string;
  readonly quoted: boolean;
  readonly closed: boolean;
}

type Growing = (JsonNode & { kind: "object" | "list" }) & { to: number };

const wordPattern = /[^\s{}[\]:,"']+/uy;
const numberPattern = /^-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][-+]?\d+)?$/u;

/**
 * Reads JSON with mistakes in it, and finds what is being written at `offset`: brackets that are never closed, commas
 * that are missing or too many, keys without value, words without quotes, comments.
 *
 * A text ends with its line, or before the next bracket, comma or colon where what follows its quote shows that the
 * quote opens the next text. Linear in the text, for any text.
 *
 * @param start where the value begins in `text`; nothing before it is looked at.
 * @param depth how deep objects and lists may stand in one another; what is deeper is passed over.
 */
export function readLooseJson(text: string, start: number, offset: number, depth: number): LooseJson {
  let at = start;
  const found: { place: JsonPlace | null; inComment: boolean } = { place: null, inComment: false };
  const path: JsonStep[] = [];
  const open: ("{" | "[")[] = [];

  function skip(): void {
    for (;;) {
      while (/\s/u.test(text[at] ?? "x")) at++;
      const isLine = text.startsWith("//", at);
      if (!isLine && !text.startsWith("/*", at)) return;
      const end = isLine ? text.indexOf("\n", at) : text.indexOf("*/", at + 2);
      const to = end < 0 ? text.length : isLine ? end : end + 2;
      if (offset > at && (offset < to || (offset === to && (isLine || end < 0)))) found.inComment = true;
      at = to;
    }
  }

  const isTokenAt = (index: number): boolean => text[index] !== undefined && !/[\s{}[\]:,]/u.test(text[index]);
  const opensValue = (c: string | undefined): boolean => c === "{" || c === "[";

  function readToken(): Token {
    const from = at;
    const quote = text[at]!;
    if (!isQuote(quote)) {
      wordPattern.lastIndex = at;
      at += wordPattern.exec(text)?.[0].length ?? 1;
      return { from, to: at, text: text.slice(from, at), quoted: false, closed: true };
    }
    let end = at + 1;
    while (end < text.length && text[end] !== quote && text[end] !== "\n") end += text[end] === "\\" && text[end + 1] !== "\n" ? 2 : 1;
    const isClosed = text[end] === quote && /^[ \t]*(?:$|[,:}\]"'\n/])/u.test(text.slice(end + 1, end + 80));
    if (isClosed) {
      at = end + 1;
      return { from, to: at, text: unescaped(text.slice(from + 1, end)), quoted: true, closed: true };
    }
    const stop = /[,:{}[\]\n]/u.exec(text.slice(from + 1, Math.min(end + 1, text.length)));
    const most = stop === null ? Math.min(end, text.length) : from + 1 + stop.index;
    const trimmed = from + 1 + text.slice(from + 1, most).trimEnd().length;
    at = offset > trimmed && offset <= most ? offset : trimmed;
    return { from, to: at, text: unescaped(text.slice(from + 1, at)), quoted: true, closed: false };
  }

  /** Notes a place where nothing is written yet, from `from` on up to where reading is, or up to `to`. */
  function gap(kind: JsonPlace["kind"], from: number, before: boolean, to = at): void {
    if (offset < from || offset > to || found.place !== null) return;
    const after = isTokenAt(at) || opensValue(text[at]);
    found.place = { kind, path: [...path], token: "none", written: "", replace: { from: offset, to: offset }, hasColon: false, comma: { before, after } };
  }

  /** Notes a key or value that the cursor is in. */
  function within(kind: JsonPlace["kind"], token: Token, before: boolean): void {
    const { from, to, quoted, closed } = token;
    // Right before a key in quotes another key is written; right before a value this one.
    const begins = offset > from || (offset === from && (!quoted || kind === "value"));
    const ends = offset < to || (offset === to && (!quoted || !closed));
    if (!begins || !ends || found.place !== null) return;
    const next = /\S/u.exec(text.slice(to, to + 400))?.[0];
    const follows = next !== undefined && !/[,:}\]]/u.test(next);
    found.place = {
      kind,
      path: [...path],
      token: quoted ? "quoted" : "bare",
      written: token.text,
      replace: { from, to },
      hasColon: next === ":",
      comma: { before, after: follows },
    };
  }

  function nodeOf(token: Token): JsonNode {
    const { from, to, text: word } = token;
    if (!token.quoted && (word === "true" || word === "false")) return { kind: "truth", value: word === "true", from, to };
    if (!token.quoted && word === "null") return { kind: "null", from, to };
    if (!token.quoted && numberPattern.test(word)) return { kind: "number", value: Number(word), from, to };
    return { kind: "text", value: word, from, to };
  }

  /** Reads the value that may stand from here on; an empty one where there is none. `before`: a comma is missing before it. */
  function readValue(before: boolean): JsonNode {
    const from = at;
    skip();
    const c = text[at];
    if (opensValue(c)) {
      if (open.length >= depth) {
        at++;
        return { kind: "null", from: at, to: at };
      }
      return c === "{" ? readObject() : readList();
    }
    if (isTokenAt(at)) {
      const first = at;
      const token = readToken();
      const isKey = path.length > 0 && typeof path.at(-1) === "string" && /^\s*:/u.test(text.slice(token.to, token.to + 80));
      if (!isKey) {
        within("value", token, before);
        return nodeOf(token);
      }
      // The value is not written yet, and the next key stands where it would be.
      at = first;
    }
    gap("value", from, before);
    return { kind: "null", from: at, to: at };
  }

  /** True at the end of what is open: its bracket, that of something around it, or the end of the text. */
  function isAtEnd(own: "{" | "["): boolean {
    const c = text[at];
    if (c === undefined) return true;
    if (c === (own === "{" ? "}" : "]")) return true;
    return (c === "}" && open.includes("{")) || (c === "]" && open.includes("["));
  }

  function close(node: Growing, own: "{" | "["): JsonNode {
    open.pop();
    if (text[at] === (own === "{" ? "}" : "]")) at++;
    node.to = at;
    return node;
  }

  function readObject(): JsonNode {
    const entries: JsonEntry[] = [];
    const node: Growing = { kind: "object", entries, from: at, to: at };
    open.push("{");
    at++;
    let since = at;
    let before = false;
    for (;;) {
      skip();
      if (isAtEnd("{")) {
        // Right behind a value nothing more is written without a space.
        gap("key", before ? since + 1 : since, before);
        return close(node, "{");
      }
      const c = text[at]!;
      if (c === ",") {
        if (!before) gap("key", since, before);
        since = ++at;
        before = false;
        continue;
      }
      if (!isTokenAt(at)) {
        // A value or a colon without a key.
        if (c === ":") at++;
        else if (opensValue(c)) readStray();
        else at++;
        since = at;
        before = false;
        continue;
      }
      // Right before a word without quotes this one is written.
      gap("key", before ? since + 1 : since, before, isQuote(text[at]) ? at : at - 1);
      const token = readToken();
      within("key", token, before);
      const entry = readEntryValue(token);
      entries.push(entry);
      since = at;
      before = true;
    }
  }

  /** Passes over a value that has no key. */
  function readStray(): void {
    path.push("");
    readValue(false);
    path.pop();
  }

  function readEntryValue(key: Token): JsonEntry {
    const behind = at;
    skip();
    const keySpan = { from: key.from, to: key.to };
    if (text[at] !== ":") {
      at = behind;
      return { key: key.text, keySpan, value: { kind: "null", from: at, to: at } };
    }
    at++;
    path.push(key.text);
    const value = readValue(false);
    path.pop();
    return { key: key.text, keySpan, value };
  }

  function readList(): JsonNode {
    const items: JsonNode[] = [];
    const node: Growing = { kind: "list", items, from: at, to: at };
    open.push("[");
    at++;
    let since = at;
    let before = false;
    for (;;) {
      path.push(items.length);
      skip();
      if (isAtEnd("[")) {
        gap("value", before ? since + 1 : since, before);
        path.pop();
        return close(node, "[");
      }
      const c = text[at]!;
      if (c === "," || c === ":" || c === "}" || c === "]") {
        if (c === "," && !before) gap("value", since, before);
        since = ++at;
        before = false;
      } else {
        gap("value", before ? since + 1 : since, before, at - 1);
        items.push(readValue(before));
        since = at;
        before = true;
      }
      path.pop();
    }
  }

  const from = at;
  skip();
  const root = at < text.length && !/[,:}\]]/u.test(text[at]!) ? readValue(false) : null;
  if (root === null) gap("value", from, false);
  return { root, place: found.inComment ? null : found.place };
}

function isQuote(c: string | undefined): boolean {
  return c === '"' || c === "'";
}

function unescaped(text: string): string {
  return text.replace(/\\(?:u([0-9a-fA-F]{4})|(.))/gsu, (_, code: string | undefined, c: string | undefined) => {
    if (code !== undefined) return String.fromCharCode(Number.parseInt(code, 16));
    return { b: "\b", f: "\f", n: "\n", r: "\r", t: "\t" }[c!] ?? c!;
  });
}
