import type { CST, ErrorCode, Node as LibraryNode } from "yaml";
import { Composer, isAlias, isMap, isScalar, isSeq, Parser } from "yaml";
import { defaultLimits } from "./limits";
import { placesBefore } from "./places-before";
import type { Checked, Problem } from "./problem";
import { problem } from "./problem";
import { rememberTexts } from "./remember-texts";
import { replaceSpans } from "./replace-spans";
import type { LineTable, TextPosition, TextRange } from "./text-position";
import { lineTable, onOneLine, textStart } from "./text-position";
import { colonInValue, type Pair } from "./yaml-colons";
import { yamlMends, type YamlMend } from "./yaml-mends";
import { syntaxReasons } from "./yaml-reasons";
import { yamlScalar } from "./yaml-scalar";
import { childrenOf, neverClosed } from "./yaml-tokens";

/** One `key: value` of a map. */
export interface YamlEntry {
  readonly key: string;
  readonly keyRange: TextRange;
  readonly value: YamlNode;
}

/** A map: its entries in order, keys distinct. */
export interface YamlMap {
  readonly kind: "map";
  readonly entries: readonly YamlEntry[];
  readonly range: TextRange;
}

/** A list: its items in order. */
export interface YamlList {
  readonly kind: "list";
  readonly items: readonly YamlNode[];
  readonly range: TextRange;
}

/**
 * A scalar: always text, as written (`012`, `1.20`, `no`, `~`), with escapes resolved and folded lines joined.
 *
 * `quoted` is true for quoted and for block scalars. A value left out (`key:`) is the plain text "".
 */
export interface YamlScalar {
  readonly kind: "scalar";
  readonly text: string;
  readonly quoted: boolean;
  readonly range: TextRange;
}

/** A node of YAML text with its place in the text. */
export type YamlNode = YamlMap | YamlList | YamlScalar;

/** The longest YAML text that is read, in UTF-16 units: a session of several thousand corrections, read within a second. */
export const mostYamlText = 512 * 1024;

/** Keys that every JavaScript object has: refused, so that no later reader can be fooled by one. */
export const forbiddenNames: ReadonlySet<string> = new Set([
  "__proto__",
  "prototype",
  "constructor",
  "hasOwnProperty",
  "isPrototypeOf",
  "propertyIsEnumerable",
  "toLocaleString",
  "toString",
  "valueOf",
  "__defineGetter__",
  "__defineSetter__",
  "__lookupGetter__",
  "__lookupSetter__",
]);

/**
 * The tree of a YAML text, scalars kept as text, with the place of every key and value.
 *
 * A small part of YAML 1.2: maps, lists, scalars and comments. Aliases, anchors, tags, merge keys, directives,
 * several documents, tabs, duplicate keys and keys that are not names are refused with a problem each, in linear
 * time. The value is what could be read all the same: an alias is its own text, a second value of a key is left
 * out, and a line with tabs before it or a key without its colon is read as if that were mended. It is `null` for a text without content, and for one that is too long or too deep to be read at all.
 *
 * @example readYaml("seed: 7").value // a map with the entry seed, the text "7"
 */
export const readYaml = rememberTexts(readTree, mostYamlText);

function readTree(text: string): Checked<YamlNode | null> {
  if (text.length > mostYamlText)
    return { value: null, problems: [problem("yaml.too-long", { length: text.length, most: mostYamlText }, textStart)] };
  // A lone CR ends a line for us but not for the library; LF in its place keeps every offset.
  const source = text.replace(/\r(?!\n)/g, "\n");
  const lines = lineTable(source);
  const reading = new Reading(source, lines);
  const tokens = reading.refuse([...new Parser().parse(source)]);
  if (tokens === null) return { value: null, problems: listed(reading.problems, lines) };
  const mends = yamlMends(tokens, source, lines);
  if (mends.length > 0) return readMended(source, mends, lines);
  reading.reportNeverClosed(tokens);
  const value = reading.compose(tokens);
  return { value, problems: listed(reading.problems, lines) };
}

/** The tree of a text with mends made in it, its places and problems those of the text as it was. */
function readMended(source: string, mends: readonly YamlMend[], lines: LineTable): Checked<YamlNode | null> {
  const mended = replaceSpans(source, mends);
  const reading = new Reading(mended, lineTable(mended));
  const tokens = reading.refuse([...new Parser().parse(mended)]);
  if (tokens !== null) reading.reportNeverClosed(tokens);
  const value = tokens === null ? null : reading.compose(tokens);
  const before = placesBefore(mends, lines);
  const guessed = new Set(mends.flatMap(({ isCertain, found }) => (isCertain ? [] : found.range.start.line)));
  const others = reading.problems.filter(({ range }) => !guessed.has(range.start.line)).map((found) => placedBefore(found, before));
  return { value: value === null ? null : moved(value, before), problems: listed([...mends.map(({ found }) => found), ...others], lines) };
}

function placedBefore(found: Problem, before: (range: TextRange) => TextRange): Problem {
  const fix = found.fix === undefined ? {} : { fix: { ...found.fix, edits: found.fix.edits.map((edit) => ({ ...edit, range: before(edit.range) })) } };
  return { ...found, range: before(found.range), ...fix };
}

/** The node with all its ranges moved. */
function moved(node: YamlNode, to: (range: TextRange) => TextRange): YamlNode {
  const range = to(node.range);
  if (node.kind === "list") return { ...node, range, items: node.items.map((item) => moved(item, to)) };
  if (node.kind === "map") return { ...node, range, entries: node.entries.map(({ key, keyRange, value }) => ({ key, keyRange: to(keyRange), value: moved(value, to) })) };
  return { ...node, range };
}

/** Problems in the order of the text, cut at the limit with the true total. */
function listed(problems: readonly Problem[], lines: LineTable): readonly Problem[] {
  const at = (p: Problem): number => lines.offsetAt(p.range.start);
  const sorted = problems.map((each) => ({ ...each, range: onOneLine(each.range, lines) })).sort((a, b) => at(a) - at(b));
  const most = defaultLimits.problems;
  if (sorted.length <= most) return sorted;
  return [...sorted.slice(0, most), problem("yaml.more", { total: sorted.length, listed: most }, textStart)];
}

/** One reading of one text: its line table and what was wrong so far. */
class Reading {
  readonly problems: Problem[] = [];
  private readonly brokenLines = new Set<number>();
  /** Where indentation that does not fit was found last. */
  private badIndentFrom: number | null = null;
  /** Where the first bracket or quote is that is never closed. */
  private neverClosedFrom = Number.POSITIVE_INFINITY;

  constructor(
    private readonly source: string,
    private readonly lines: LineTable,
  ) {}

  /**
   * Reports what we refuse and returns the tokens of the first document; `null` when they must not be composed.
   *
   * The walk keeps its own stack, and the depth is checked before composing: the library composes by recursion, and
   * running out of stack inside one of its regular expressions ends the whole process, past any `catch`.
   */
  refuse(tokens: readonly CST.Token[]): readonly CST.Token[] | null {
    const first: CST.Token[] = [];
    let documents = 0;
    for (const token of tokens) {
      if (token.type === "document" && ++documents === 2) {
        this.problems.push(problem("yaml.several-documents", {}, this.lines.rangeAt(token.offset, token.offset + 3)));
        break;
      }
      if (token.type === "directive") this.refuseToken("yaml.directive", token.offset, token.source);
      else first.push(token);
    }
    const most = defaultLimits.depth;
    const open: { token: CST.Token; depth: number }[] = first.map((token) => ({ token, depth: 0 }));
    for (let next = open.pop(); next !== undefined; next = open.pop()) {
      if (next.depth > most) {
        this.problems.push(problem("yaml.too-deep", { most }, this.lines.rangeAt(next.token.offset, next.token.offset + 1)));
        return null;
      }
      this.refuseSource(next.token);
      for (const token of childrenOf(next.token)) open.push({ token, depth: next.depth + ("items" in token ? 1 : 0) });
    }
    return first;
  }

  /** Reports brackets and quotes that are never closed where they are opened; the library says so where it gives up. */
  reportNeverClosed(tokens: readonly CST.Token[]): void {
    for (const { offset, sign, close, fix } of neverClosed(tokens, this.source)) {
      const facts = { reason: "it is never closed", found: sign, accepted: `write ${close} behind what belongs to it` };
      const range = this.lines.rangeAt(offset, offset + 1);
      const edits = fix === null ? [] : [{ range: this.lines.rangeAt(fix.offset, fix.offset), text: fix.text }];
      this.problems.push(problem("yaml.syntax", facts, range, fix === null ? {} : { fix: { title: `Write ${fix.text.trim()} at the end of the line`, edits } }));
      this.brokenLines.add(range.start.line);
      this.neverClosedFrom = Math.min(this.neverClosedFrom, offset);
    }
  }

  private refuseSource(token: CST.Token): void {
    if (token.type === "alias") this.refuseToken("yaml.alias", token.offset, token.source);
    else if (token.type === "anchor") this.refuseToken("yaml.anchor", token.offset, token.source);
    else if (token.type === "tag") this.refuseToken("yaml.tag", token.offset, token.source);
    else if (token.type === "space" && token.source.includes("\t")) {
      const range = this.lines.rangeAt(token.offset, token.offset + token.source.length);
      const fix = { title: "Use spaces", edits: [{ range, text: token.source.replaceAll("\t", "  ") }] };
      this.problems.push(problem("yaml.tab", {}, range, { fix }));
    }
  }

  private refuseToken(code: "yaml.alias" | "yaml.anchor" | "yaml.tag" | "yaml.directive", offset: number, text: string): void {
    this.problems.push(problem(code, { text }, this.lines.rangeAt(offset, offset + text.length)));
  }

  /** The tree of the document that `tokens` hold, or `null` when it is empty. */
  compose(tokens: readonly CST.Token[]): YamlNode | null {
    // Scalars stay text (failsafe), and keys are compared by us: the library's own comparison takes quadratic time.
    const composer = new Composer({ schema: "failsafe", merge: false, uniqueKeys: false, logLevel: "silent" });
    for (const document of composer.compose(tokens, true, this.source.length)) {
      for (const error of document.errors) this.reportSyntax(error.code, error.pos);
      const root = document.contents as LibraryNode | null;
      if (root === null || (isScalar(root) && isLeftOut(root))) return null;
      return this.node(root, 0);
    }
    return null;
  }

  private reportSyntax(code: ErrorCode, [from, to]: readonly [number, number]): void {
    const reason = syntaxReasons[code];
    if (reason === null) return;
    // What is missing behind a bracket or quote that is never closed follows from it.
    if ((code === "BAD_INDENT" || code === "MISSING_CHAR") && from >= this.neverClosedFrom) return;
    const end = Math.max(to, Math.min(from + 1, this.source.length));
    const found = this.source.slice(from, end).split(/\r?\n/, 1)[0] ?? "";
    const range = this.lines.rangeAt(from, end);
    const follows = this.followsIndent(code, from);
    // A further error on the same line follows from the first one almost always.
    if (follows || this.brokenLines.has(range.start.line)) return;
    this.brokenLines.add(range.start.line);
    this.problems.push(problem("yaml.syntax", { reason, found }, range));
  }

  /**
   * True for an error in indentation below another one: lines that don't fit one that is indented wrongly are right as they
   * are, up to the next that is not indented.
   */
  private followsIndent(code: ErrorCode, from: number): boolean {
    const before = this.badIndentFrom;
    const begins = code === "BAD_INDENT" || code === "MULTILINE_IMPLICIT_KEY";
    if (!begins && code !== "BLOCK_AS_IMPLICIT_KEY") return false;
    const follows = before !== null && !/\n[^\s#]/u.test(this.source.slice(before, from));
    this.badIndentFrom = begins || follows ? from : null;
    return follows;
  }

  /** The node `from`, or an empty scalar at the offset `at` where the text leaves it out. */
  private node(from: unknown, at: number): YamlNode {
    if (isMap(from)) return this.map(from);
    if (isSeq(from)) {
      const [start, end] = from.range ?? [at, at];
      const items = from.items.map((item) => this.node(item, start));
      const last = items.at(-1);
      const range = this.lines.rangeAt(start, end);
      return { kind: "list", items, range: from.flow || last === undefined ? range : { start: range.start, end: last.range.end } };
    }
    if (isAlias(from)) {
      const [start, end] = from.range ?? [at, at];
      return { kind: "scalar", text: `*${from.source}`, quoted: false, range: this.lines.rangeAt(start, end) };
    }
    if (isScalar(from)) {
      const [start, end] = from.range ?? [at, at];
      const text = typeof from.value === "string" ? from.value : "";
      return { kind: "scalar", text, quoted: from.type !== "PLAIN", range: this.lines.rangeAt(start, end) };
    }
    return { kind: "scalar", text: "", quoted: false, range: this.lines.rangeAt(at, at) };
  }

  private map(from: { items: readonly Pair[]; range?: readonly number[] | null; flow?: boolean }): YamlMap {
    const [start = 0, end = start] = from.range ?? [];
    const entries: YamlEntry[] = [];
    const known = new Map<string, number>();
    let last = this.lines.positionAt(start);
    const pairs = [...from.items];
    for (const [index, pair] of pairs.entries()) {
      const keyNode = this.node(pair.key, start);
      const keyEnd = this.lines.offsetAt(keyNode.range.end);
      const text = colonInValue(pair, this.source);
      if (text !== null) pairs.splice(index + 1, 0, ...text.below);
      const value = text === null ? this.node(pair.value, keyEnd) : this.asText(text.span, from.flow === true);
      const before = last;
      last = value.range.end;
      const key = this.checkKey(keyNode, pair.key, known);
      if (key !== null) entries.push({ key, keyRange: keyNode.range, value });
      else this.offerToLeaveOut(entries, { key: keyNode.kind === "scalar" ? keyNode.text : "", keyRange: keyNode.range, value }, from.flow === true, before);
    }
    const range = this.lines.rangeAt(start, end);
    return { kind: "map", entries, range: from.flow || entries.length === 0 ? range : { start: range.start, end: last } };
  }

  /** The text of a value with a colon in it; the problem that the library has with it says so, and quotes the value unless it may lack a comma. */
  private asText([from, to]: readonly [number, number], isFlow: boolean): YamlNode {
    const text = this.source.slice(from, to);
    const range = this.lines.rangeAt(from, to);
    const at = this.problems.findIndex((found) => found.code === "yaml.syntax" && this.lines.offsetAt(found.range.start) === from);
    if (at >= 0) {
      const facts = { reason: "a value with a colon and a space in it must be quoted", found: text, accepted: "put the value in quotes" };
      const fix = { title: "Quote the value", edits: [{ range, text: yamlScalar(text, isFlow ? "flow" : "block") }] };
      const lacksComma = isFlow && /^[^:]*\s\S/u.test(text);
      this.problems[at] = lacksComma ? problem("yaml.syntax", { ...facts, accepted: "put the value in quotes, or a comma before the next key" }, range) : problem("yaml.syntax", facts, range, { fix });
    }
    return { kind: "scalar", text, quoted: false, range };
  }

  /** Gives the duplicate key just reported a fix where it says the same as the first: then nothing is lost without it. */
  private offerToLeaveOut(entries: readonly YamlEntry[], again: YamlEntry, isFlow: boolean, before: TextPosition): void {
    const found = this.problems.at(-1);
    const first = entries.find(({ key }) => key === again.key);
    const written = ({ value }: YamlEntry): string => this.source.slice(this.lines.offsetAt(value.range.start), this.lines.offsetAt(value.range.end));
    if (found?.code !== "yaml.duplicate-key" || found.range !== again.keyRange || first === undefined || written(first) !== written(again) || written(again) === "") return;
    const { line } = again.keyRange.start;
    const hasOwnLine = before.line < line && again.value.range.end.line === line;
    if (!isFlow && !hasOwnLine) return;
    const range = isFlow ? { start: before, end: again.value.range.end } : { start: { line, column: 1 }, end: { line: line + 1, column: 1 } };
    const fix = { title: `Leave the second ${again.key} out`, edits: [{ range, text: "" }] };
    this.problems[this.problems.length - 1] = { ...found, fix };
  }

  /** The key as a name, remembered in `known`; `null` when it cannot be used, which is reported. */
  private checkKey(node: YamlNode, written: unknown, known: Map<string, number>): string | null {
    const { range } = node;
    if (node.kind !== "scalar" || isAlias(written) || (node.text === "" && !node.quoted)) {
      const [from, to] = [this.lines.offsetAt(range.start), this.lines.offsetAt(range.end)];
      this.problems.push(problem("yaml.key", { found: this.source.slice(from, to) }, range));
      return null;
    }
    const key = node.text;
    const line = known.get(key);
    if (key === "<<" && !node.quoted) this.problems.push(problem("yaml.merge", {}, range));
    else if (forbiddenNames.has(key)) this.problems.push(problem("yaml.forbidden-name", { key }, range));
    else if (line !== undefined) this.problems.push(problem("yaml.duplicate-key", { key, line }, range));
    else {
      known.set(key, range.start.line);
      return key;
    }
    return null;
  }
}

/** True for a scalar that the text leaves out. */
function isLeftOut(scalar: { readonly type?: string | undefined; readonly source?: string | undefined; readonly value: unknown }): boolean {
  return (scalar.type ?? "PLAIN") === "PLAIN" && (scalar.value === "" || scalar.value === null);
}
