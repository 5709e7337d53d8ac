import type { Span } from "../../core/query/syntax";

/** A scalar on one line, its quotes included in the span. */
export interface LooseScalar extends Span {
  readonly kind: "scalar";
  readonly text: string;
  readonly quote: "" | "'" | '"';
  /** False for a quoted scalar whose closing quote is missing. */
  readonly isClosed: boolean;
}

/** One `key: value`; of what is being written the colon or the value may be missing. */
export interface LooseEntry {
  readonly key: LooseScalar;
  hasColon: boolean;
  value: LooseNode | null;
}

/** A map, between braces or in lines. */
export interface LooseMap {
  readonly kind: "map";
  readonly from: number;
  readonly isFlow: boolean;
  readonly entries: LooseEntry[];
  /** Behind the closing brace; `null` in lines, or where it is missing. */
  close: number | null;
}

/** A list, between brackets or in lines; an item that is not there yet is `null`. */
export interface LooseList {
  readonly kind: "list";
  readonly from: number;
  readonly isFlow: boolean;
  readonly items: (LooseNode | null)[];
  close: number | null;
}

/** A node of YAML text as it is while it is written. */
export type LooseNode = LooseMap | LooseList | LooseScalar;

/** Stands where the cursor is, as a letter that no name has. */
export const cursorMark = "\ue000";

/** Maps and lists in one another beyond which nothing is looked at. */
const deepest = 64;

/**
 * The tree of a session's text for an editor: whatever is written so far, told by indentation and brackets. Unlike
 * `readYaml` it never refuses; a bracket that is left open ends where a line is indented no deeper than its key.
 *
 * @param text with LF for line ends.
 */
export function readLoosely(text: string): LooseNode | null {
  return new LooseReader(text).read();
}

/** Where a node ends: behind its bracket, or behind the last thing in it. */
export function endOf(node: LooseNode): number {
  let last = node;
  for (;;) {
    if (last.kind === "scalar") return last.to;
    if (last.close !== null) return last.close;
    const entry: LooseEntry | undefined = last.kind === "map" ? last.entries.at(-1) : undefined;
    const inner: LooseNode | null | undefined = last.kind === "map" ? entry?.value : last.items.findLast((item) => item !== null);
    if (inner) last = inner;
    else return entry?.key.to ?? last.from + 1;
  }
}

/** A map or list in lines that can still get more of them, and the column at which these begin. */
interface Open {
  readonly node: LooseMap | LooseList;
  readonly column: number;
}

class LooseReader {
  private root: LooseNode | null = null;
  private readonly open: Open[] = [];
  private at = 0;
  private lineStart = 0;
  /** True once a line ended everything between brackets. */
  private isCut = false;
  private readonly flow: string[] = [];

  constructor(private readonly text: string) {}

  read(): LooseNode | null {
    if (this.text.startsWith("\ufeff")) this.at = 1;
    while (this.at < this.text.length) {
      this.lineStart = this.at;
      this.skip(/[ \t]/u);
      if (!this.isAtEnd() && this.text[this.at] !== "#" && !this.text.startsWith("---", this.lineStart)) this.line();
      this.toNextLine();
    }
    return this.root;
  }

  private line(): void {
    let popped: LooseNode | null = this.closeDeeper(this.at - this.lineStart);
    while (this.isDash()) {
      const column = this.at - this.lineStart;
      const list = this.listAt(column, popped);
      if (list === null) return;
      list.items.push(null);
      popped = null;
      this.at++;
      this.skip(/[ \t]/u);
      if (this.isAtEnd() || this.text[this.at] === "#") return;
    }
    const column = this.at - this.lineStart;
    const start = this.at;
    const key = "{[".includes(this.text[start]!) ? null : this.scalar("key");
    const colon = key === null ? -1 : this.colonFrom(this.at);
    if (key !== null && colon >= 0) this.entry(key, colon, column, popped);
    else this.loneNode(start, column, popped);
  }

  /** Closes what is indented deeper than a line that begins at `column`; the outermost that was closed. */
  private closeDeeper(column: number): LooseNode | null {
    let popped: LooseNode | null = null;
    for (let top = this.open.at(-1); top !== undefined && (top.column > column || (top.column === column && top.node.kind === "list" && !this.isDash())); top = this.open.at(-1)) {
      popped = top.node;
      this.open.pop();
    }
    return popped;
  }

  private isDash(): boolean {
    return this.text[this.at] === "-" && /[\s\ue000]|^$/u.test(this.text[this.at + 1] ?? "");
  }

  /** The list that an item at `column` belongs to, begun where there is none; `null` where none can stand. */
  private listAt(column: number, popped: LooseNode | null): LooseList | null {
    const top = this.open.at(-1);
    if (top?.node.kind === "list" && top.column === column) return top.node;
    if (popped?.kind === "list" && this.holds(popped)) {
      this.open.push({ node: popped, column });
      return popped;
    }
    const list: LooseList = { kind: "list", from: this.at, isFlow: false, items: [], close: null };
    return this.put(list) ? this.push(list, column) : null;
  }

  private mapAt(column: number, popped: LooseNode | null, from: number): LooseMap | null {
    const top = this.open.at(-1);
    if (top?.node.kind === "map" && top.column === column) return top.node;
    // Lines of one map that are not indented alike belong together all the same.
    if (popped?.kind === "map" && this.holds(popped)) {
      this.open.push({ node: popped, column });
      return popped;
    }
    const word = top?.node.kind === "list" ? this.takeLoneItem(top.node, column) : null;
    const entries: LooseEntry[] = word === null ? [] : [{ key: word, hasColon: false, value: null }];
    const map: LooseMap = { kind: "map", from: word?.from ?? from, isFlow: false, entries, close: null };
    return this.put(map) ? this.push(map, column) : null;
  }

  /** A word behind a dash, and under it a key in the same column: the word is a key that is being written. */
  private takeLoneItem(list: LooseList, column: number): LooseScalar | null {
    const word = list.items.at(-1);
    if (word?.kind !== "scalar" || word.from - (this.text.lastIndexOf("\n", word.from) + 1) !== column) return null;
    list.items[list.items.length - 1] = null;
    return word;
  }

  private push<T extends LooseMap | LooseList>(node: T, column: number): T | null {
    if (this.open.length >= deepest) return null;
    this.open.push({ node, column });
    return node;
  }

  /** True when the innermost open node ends with `node`. */
  private holds(node: LooseNode): boolean {
    const top = this.open.at(-1)?.node;
    return top?.kind === "map" ? top.entries.at(-1)?.value === node : top?.items.at(-1) === node;
  }

  /** Puts a node where the innermost open one lacks one; false where nothing is lacking. */
  private put(node: LooseNode): boolean {
    const top = this.open.at(-1)?.node;
    if (top === undefined) {
      if (this.root !== null) return false;
      this.root = node;
      return true;
    }
    if (top.kind === "list") {
      if (top.items.at(-1) !== null) return false;
      top.items[top.items.length - 1] = node;
      return true;
    }
    const last = top.entries.at(-1);
    if (last === undefined || !last.hasColon || last.value !== null) return false;
    last.value = node;
    return true;
  }

  private entry(key: LooseScalar, colon: number, column: number, popped: LooseNode | null): void {
    const map = this.mapAt(column, popped, key.from);
    if (map === null) return;
    const entry: LooseEntry = { key, hasColon: true, value: null };
    map.entries.push(entry);
    this.at = colon + 1;
    this.skip(/[ \t]/u);
    entry.value = this.inline();
  }

  /** A line without a key: a value between brackets, or a word that may become a key. */
  private loneNode(start: number, column: number, popped: LooseNode | null): void {
    this.at = start;
    const top = this.open.at(-1)?.node;
    const isItem = top?.kind === "list" && top.items.at(-1) === null;
    if (isItem || "{[".includes(this.text[start]!)) {
      const node = this.inline();
      if (node !== null) this.put(node);
      return;
    }
    const word = this.scalar("value");
    if (this.root === null || top !== undefined) this.mapAt(column, popped, start)?.entries.push({ key: word, hasColon: false, value: null });
  }

  /** The value that begins here, on the line of its key or dash. */
  private inline(): LooseNode | null {
    if (this.isAtEnd() || this.text[this.at] === "#") return null;
    if (!"{[".includes(this.text[this.at]!)) return this.scalar("value");
    this.isCut = false;
    this.flow.length = 0;
    return this.collection(this.open.at(-1)?.column ?? -1);
  }

  /** A map or list between brackets; a line at or left of `base` ends it. */
  private collection(base: number): LooseMap | LooseList {
    const from = this.at;
    const isMap = this.text[this.at++] === "{";
    const node: LooseMap | LooseList = isMap
      ? { kind: "map", from, isFlow: true, entries: [], close: null }
      : { kind: "list", from, isFlow: true, items: [], close: null };
    this.flow.push(isMap ? "}" : "]");
    for (;;) {
      this.skipFlowSpace(base);
      const c = this.text[this.at];
      if (this.isCut || c === undefined) break;
      if (c === this.flow.at(-1)) {
        node.close = ++this.at;
        break;
      }
      if (c === "}" || c === "]") {
        // A bracket that closes one further out ends this one too; any other is a slip.
        if (this.flow.includes(c)) break;
        this.at++;
      } else if (c === ",") this.at++;
      else if (node.kind === "map") this.flowEntry(node, base);
      else node.items.push(this.flowNode(base, "item"));
    }
    this.flow.pop();
    return node;
  }

  private flowEntry(map: LooseMap, base: number): void {
    const key = this.flowNode(base, "key");
    if (key.kind !== "scalar") return;
    const entry: LooseEntry = { key, hasColon: false, value: null };
    map.entries.push(entry);
    this.skipFlowSpace(base);
    if (this.isCut || this.text[this.at] !== ":") return;
    entry.hasColon = true;
    this.at++;
    this.skipFlowSpace(base);
    if (!this.isCut && !",}]".includes(this.text[this.at] ?? ",")) entry.value = this.flowNode(base, "value");
  }

  private flowNode(base: number, role: "key" | "value" | "item"): LooseNode {
    if ("{[".includes(this.text[this.at]!) && this.flow.length < deepest) return this.collection(base);
    const node = this.scalar(role === "key" ? "key" : "value", true);
    // Whatever stands here, the reading goes on behind it.
    if (node.to === node.from) this.at++;
    return node;
  }

  private skipFlowSpace(base: number): void {
    for (;;) {
      this.skip(/[ \t]/u);
      if (this.text[this.at] === "#" && /\s/u.test(this.text[this.at - 1]!)) this.toLineEnd();
      if (this.text[this.at] !== "\n") return;
      const next = /\n[ \t]*(?=[^\s#])/u.exec(this.text.slice(this.at, this.at + 4096));
      const first = next === null ? -1 : this.at + next.index + next[0].length;
      const lineStart = first < 0 ? -1 : this.text.lastIndexOf("\n", first - 1) + 1;
      if (first < 0 || (first - lineStart <= base && !"}]".includes(this.text[first]!))) {
        this.isCut = true;
        return;
      }
      this.at = first;
    }
  }

  /** The scalar that begins here; as a key it ends at its colon. Nothing is left of a line after a value. */
  private scalar(role: "key" | "value", isFlow = false): LooseScalar {
    const from = this.at;
    const quote = this.text[from];
    if (quote === '"' || quote === "'") return this.quoted(from, quote, isFlow);
    const end = isFlow ? /[,{}[\]\n]|[ \t]#/gu : /\n|[ \t]#/gu;
    const line = this.textUpTo(end, from);
    const colon = role === "key" ? /:(?=[\s\ue000,{}[\]]|$)/u.exec(line)?.index : undefined;
    const text = (colon === undefined ? line : line.slice(0, colon)).trimEnd();
    this.at = from + text.length;
    return { kind: "scalar", from, to: this.at, text, quote: "", isClosed: true };
  }

  private quoted(from: number, quote: "'" | '"', isFlow: boolean): LooseScalar {
    const inside = quote === '"' ? /[^"\\\n]*(?:\\[^\n][^"\\\n]*)*/uy : /[^'\n]*(?:''[^'\n]*)*/uy;
    inside.lastIndex = from + 1;
    const closing = from + 1 + inside.exec(this.text)![0].length;
    // A quote is closed by one behind which something can follow; any other is the beginning of a later one.
    const after = /[ \t\ue000]*(?:$|[\n,}\]:#])/uy;
    after.lastIndex = closing + 1;
    const isClosed = this.text[closing] === quote && after.test(this.text);
    if (isClosed) {
      this.at = closing + 1;
      return { kind: "scalar", from, to: this.at, text: unquoted(this.text.slice(from + 1, closing), quote), quote, isClosed };
    }
    const line = this.textUpTo(/\n/gu, from + 1);
    const mark = Math.max(line.indexOf(cursorMark), 0);
    const end = isFlow ? line.slice(mark).search(/[,}\]]/u) : -1;
    const text = (end < 0 ? line : line.slice(0, mark + end)).trimEnd();
    this.at = from + 1 + text.length;
    return { kind: "scalar", from, to: this.at, text: unquoted(text, quote), quote, isClosed };
  }

  /** Where the colon of a key stands that ends at `end`; −1 when there is none. */
  private colonFrom(end: number): number {
    const colon = /^[ \t]*:(?=[\s\ue000]|$)/u.exec(this.textUpTo(/\n/gu, end));
    return colon === null ? -1 : end + colon[0].length - 1;
  }

  private textUpTo(end: RegExp, from: number): string {
    end.lastIndex = from;
    return this.text.slice(from, end.exec(this.text)?.index ?? this.text.length);
  }

  private skip(what: RegExp): void {
    while (this.at < this.text.length && what.test(this.text[this.at]!)) this.at++;
  }

  private isAtEnd(): boolean {
    return this.at >= this.text.length || this.text[this.at] === "\n";
  }

  private toLineEnd(): void {
    const end = this.text.indexOf("\n", this.at);
    this.at = end < 0 ? this.text.length : end;
  }

  private toNextLine(): void {
    this.toLineEnd();
    this.at++;
  }
}

function unquoted(inside: string, quote: "'" | '"'): string {
  if (quote === "'") return inside.replaceAll("''", "'");
  return inside.replace(/\\(?:u([0-9a-f]{4})|(.))/giu, (_, code: string | undefined, c: string | undefined) => (code === undefined ? (c ?? "") : String.fromCharCode(Number.parseInt(code, 16))));
}
