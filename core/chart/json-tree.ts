import { rememberTexts, syntaxUnits } from "../remember-texts";

/** A stretch of the text, in UTF-16 offsets. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/** One `"key": value` of an object. */
export interface JsonEntry {
  readonly key: string;
  readonly keySpan: Span;
  readonly value: JsonNode;
}

/** A JSON value with its place in the text. */
export type JsonNode = Span &
  (
    | { readonly kind: "object"; readonly entries: readonly JsonEntry[] }
    | { readonly kind: "list"; readonly items: readonly JsonNode[] }
    | { readonly kind: "text"; readonly value: string }
    | { readonly kind: "number"; readonly value: number }
    | { readonly kind: "truth"; readonly value: boolean }
    | { readonly kind: "null" }
  );

/** What is wrong with a text that should be JSON, and where; `insert` is what would mend that place, if one answer is obvious. */
export interface JsonFault extends Span {
  readonly kind: "syntax" | "depth";
  /** What stands there that may not, or what is missing, as a phrase. */
  readonly found: string;
  /** What is accepted there. */
  readonly accepted: string;
  /** The text that should stand in place of the span; absent where that is a guess. */
  readonly instead?: string;
}

/** Numbers as RFC 8259 writes them. */
const numberPattern = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][-+]?\d+)?/y;
const wordPattern = /[\p{L}\p{N}_$.+-]+/uy;
const escapes: Readonly<Record<string, string>> = { '"': '"', "\\": "\\", "/": "/", b: "\b", f: "\f", n: "\n", r: "\r", t: "\t" };

class Stop extends Error {
  constructor(readonly fault: JsonFault) {
    super(fault.found);
  }
}

/** Words of other languages for a value that is missing or is no number: what is meant by one is not known. */
const noValue = /^[-+]?(?:undefined|none|nil|na|nan|inf|infinity)$/iu;

/** The value that a word without quotes was meant to be; `undefined` where that is a guess. */
function meantBy(word: string): string | undefined {
  const lower = word.toLowerCase();
  if (["true", "false", "null"].includes(lower)) return lower;
  if (noValue.test(word)) return undefined;
  const isNumber = /^[-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?$/iu.test(word) && Number.isFinite(Number(word));
  return isNumber ? String(Number(word)) : JSON.stringify(word);
}

/**
 * The JSON value that is the whole of `text` from `start` on, with the place of every part, or the first fault.
 *
 * Strict: no comments, no trailing commas, no single quotes. Keys may repeat; whoever reads them decides.
 *
 * @param depth how deep objects and lists may stand in one another.
 * Source: RFC 8259.
 */
export const readJson = rememberTexts(readTree, syntaxUnits);

function readTree(text: string, start: number, depth: number): { readonly value: JsonNode } | { readonly fault: JsonFault } {
  let at = start;

  function stop(found: string, accepted: string, from = at, to = at + 1, instead?: string): never {
    const fault = { kind: "syntax" as const, found, accepted, from, to: Math.min(Math.max(to, from), text.length) };
    throw new Stop(instead === undefined ? fault : { ...fault, instead });
  }

  function skipSpace(): void {
    while (" \t\n\r".includes(text[at] ?? "x")) at++;
    if (text.startsWith("//", at) || text.startsWith("/*", at)) {
      const end = text.startsWith("//", at) ? text.indexOf("\n", at) : text.indexOf("*/", at) + 2;
      const to = end < at + 2 ? text.length : end;
      stop("a comment", "JSON without comments; prose goes above the cell", at, to, "");
    }
  }

  function readValue(level: number): JsonNode {
    skipSpace();
    const from = at;
    const c = text[at];
    if ((c === "{" || c === "[") && level >= depth)
      throw new Stop({ kind: "depth", found: "too many levels", accepted: `${depth} levels`, from, to: from + 1 });
    if (c === "{") return readObject(level);
    if (c === "[") return readList(level);
    if (c === '"') {
      const value = readText();
      return { kind: "text", value, from, to: at };
    }
    if (c === "'" || c === "\u201c") stopAtQuotes();
    numberPattern.lastIndex = at;
    const number = numberPattern.exec(text)?.[0];
    if (number !== undefined && !/[\p{L}\p{N}_.]/u.test(text[at + number.length] ?? "")) {
      at += number.length;
      return { kind: "number", value: Number(number), from, to: at };
    }
    wordPattern.lastIndex = at;
    const word = wordPattern.exec(text)?.[0] ?? "";
    at += word.length;
    if (word === "true" || word === "false") return { kind: "truth", value: word === "true", from, to: at };
    if (word === "null") return { kind: "null", from, to: at };
    if (word === "") return stop(c === undefined ? "the end of the text" : `"${c}"`, "a value", from);
    return stop(`"${word}"`, 'text in double quotes, a number, true, false, null, "{" or "["', from, at, meantBy(word));
  }

  function stopAtQuotes(): never {
    const from = at;
    const close = text[at] === "'" ? "'" : "\u201d";
    const end = text.indexOf(close, at + 1);
    const inside = end < 0 ? "" : text.slice(at + 1, end);
    if (end < 0 || /["\\\n]/.test(inside)) stop(`a quote ${text[from]}`, "double quotes");
    return stop(`a quote ${text[from]}`, "double quotes", from, end + 1, `"${inside}"`);
  }

  function readText(): string {
    const from = at++;
    let value = "";
    for (;;) {
      const c = text[at];
      if (c === undefined || c === "\n" || c === "\r") stop("text without a closing quote", 'a closing "', from, at);
      if (c === '"') {
        at++;
        return value;
      }
      if (c < " ") stop("a control character in text", "an escape such as \\t", at, at + 1);
      value += c === "\\" ? readEscape() : c;
      at++;
    }
  }

  function readEscape(): string {
    const c = text[++at] ?? "";
    if (Object.hasOwn(escapes, c)) return escapes[c]!;
    const code = /^u([0-9a-fA-F]{4})/.exec(text.slice(at, at + 5))?.[1];
    if (code === undefined) return stop(`the escape \\${c}`, '\\" \\\\ \\/ \\b \\f \\n \\r \\t or \\u and four hexadecimal digits', at - 1, at + 1);
    at += 4;
    return String.fromCharCode(Number.parseInt(code, 16));
  }

  /** Reads what stands between brackets, separated by commas. */
  function readMembers(close: string, member: () => void): void {
    at++;
    skipSpace();
    if (text[at] === close) {
      at++;
      return;
    }
    for (;;) {
      member();
      const end = at;
      skipSpace();
      if (text[at] === close) {
        at++;
        return;
      }
      if (text[at] === undefined) stop("the end of the text", `"${close}" or ","`);
      if (text[at] !== ",") stop("no comma", `"," or "${close}"`, end, end, ",");
      const comma = at++;
      skipSpace();
      if (text[at] === close) stop("a comma before the closing bracket", `"${close}" right after the last value`, comma, comma + 1, "");
    }
  }

  function readObject(level: number): JsonNode {
    const from = at;
    const entries: JsonEntry[] = [];
    readMembers("}", () => {
      skipSpace();
      const keyFrom = at;
      if (text[at] === "'" || text[at] === "\u201c") stopAtQuotes();
      if (text[at] !== '"') {
        wordPattern.lastIndex = at;
        const word = wordPattern.exec(text)?.[0];
        if (word === undefined) stop(text[at] === undefined ? "the end of the text" : `"${text[at]}"`, "a key in double quotes");
        stop(`the key ${word} without quotes`, "a key in double quotes", at, at + word.length, `"${word}"`);
      }
      const key = readText();
      const keySpan = { from: keyFrom, to: at };
      skipSpace();
      if (text[at] !== ":") stop("no colon", '":" after the key', keySpan.to, keySpan.to, ":");
      at++;
      entries.push({ key, keySpan, value: readValue(level + 1) });
    });
    return { kind: "object", entries, from, to: at };
  }

  function readList(level: number): JsonNode {
    const from = at;
    const items: JsonNode[] = [];
    readMembers("]", () => {
      items.push(readValue(level + 1));
    });
    return { kind: "list", items, from, to: at };
  }

  try {
    const value = readValue(0);
    skipSpace();
    if (at < text.length) stop("more text after the end", "one value and nothing after it", at, text.length);
    return { value };
  } catch (error) {
    if (error instanceof Stop) return { fault: error.fault };
    throw error;
  }
}
