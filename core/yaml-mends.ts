import type { CST } from "yaml";
import type { Fix, Problem } from "./problem";
import { problem } from "./problem";
import type { LineTable } from "./text-position";
import { childrenOf } from "./yaml-tokens";

/** A slip in YAML text that confuses what stands around it, with the text that is read in place of it. */
export interface YamlMend {
  /** Offsets in the text of what is replaced; nothing is where they are equal. */
  readonly from: number;
  readonly to: number;
  readonly text: string;
  readonly found: Problem;
  /** False where the text in place is a guess: then nothing else that is wrong on its line means anything. */
  readonly isCertain: boolean;
}

/** Every token, those inside others too, in the order of the text. */
function allTokens(tokens: readonly CST.Token[]): readonly CST.Token[] {
  const found: CST.Token[] = [];
  const open = [...tokens];
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    found.push(next);
    for (const token of childrenOf(next)) open.push(token);
  }
  return found.sort((a, b) => a.offset - b.offset);
}

/**
 * What is to be read in place of tabs before the first sign of a line, and of keys without their colon; in the order
 * of the text, none overlapping.
 *
 * @param tokens of the text `source`, no deeper than can be read.
 */
export function yamlMends(tokens: readonly CST.Token[], source: string, lines: LineTable): readonly YamlMend[] {
  const all = allTokens(tokens);
  const tabs = all.filter((token) => token.type === "space" && token.source.includes("\t") && beginsLine(source, token.offset, /[ \t]/u));
  const colons = missingColons(all, source);
  return [...indents(tabs.map(({ offset }) => offset), source, lines), ...colons.map((at) => colonMend(at, source, lines))].sort((a, b) => a.from - b.from);
}

/** A line above that has not ended: what stands before its first sign, as written and as read. */
interface OpenLine {
  readonly raw: string;
  readonly indent: number;
  readonly isItem: boolean;
}

/** The line holds nothing that could be indented wrongly. */
const isEmpty = (line: string): boolean => /^\s*(?:#.*)?$/u.test(line);

/** Behind such a line what belongs to it stands deeper. */
const isOpened = (line: string): boolean => /(?:[:,{[]|[|>][+-]?\d?)$/u.test(line.replace(/\s#.*$/u, "").trimEnd());

const spaceOf = (line: string): string => /^[ \t]*/u.exec(line)![0];

/** The indentation that the lines with tabs before their first sign have, told from the lines around each of them. */
function indents(offsets: readonly number[], source: string, lines: LineTable): readonly YamlMend[] {
  if (offsets.length === 0) return [];
  const tabbed = new Set(offsets.map((offset) => lines.positionAt(offset).line));
  const texts = source.split(/\r?\n/u);
  const mends: YamlMend[] = [];
  const open: OpenLine[] = [];
  let before = "";
  texts.forEach((text, at) => {
    if (isEmpty(text) && !tabbed.has(at + 1)) return;
    const raw = spaceOf(text);
    const isItem = text.startsWith("- ", raw.length);
    let indent = raw.length;
    if (tabbed.has(at + 1)) {
      const next = texts.slice(at + 1, at + 50).find((each) => !isEmpty(each)) ?? "";
      const read = indentAmong({ raw, isItem, isChild: isOpened(before) }, open, spaceOf(next), next === "");
      indent = isEmpty(text) ? (open.at(-1)?.indent ?? 0) : read.indent;
      const from = lines.offsetAt({ line: at + 1, column: 1 });
      mends.push(tabMend(from, raw, indent, isEmpty(text) || read.isCertain, lines));
      if (isEmpty(text)) return;
    }
    // The items of a list may stand right below its key.
    const isDone = (above: OpenLine): boolean => above.indent > indent || (above.indent === indent && (above.isItem || !isItem));
    while (open.length > 0 && isDone(open.at(-1)!)) open.pop();
    open.push({ raw, indent, isItem });
    before = text;
  });
  return mends;
}

function indentAmong({ raw, isItem, isChild }: { raw: string; isItem: boolean; isChild: boolean }, open: readonly OpenLine[], next: string, isLast: boolean): { indent: number; isCertain: boolean } {
  const last = open.at(-1);
  const deeper = next.includes("\t") ? -1 : next.length;
  if (last === undefined) return { indent: Math.max(0, deeper), isCertain: true };
  const known = open.find((line) => line.raw === raw);
  if (known !== undefined) return { indent: known.indent, isCertain: true };
  if (isChild) return { indent: deeper > last.indent ? deeper : last.indent + 2, isCertain: true };
  const beside = open.filter((line) => line.isItem === isItem).map(({ indent }) => indent);
  const isBetween = !isLast && deeper === last.indent && beside.includes(deeper);
  return { indent: isBetween ? deeper : (beside.at(-1) ?? last.indent), isCertain: isBetween || beside.length === 1 };
}

function tabMend(from: number, raw: string, indent: number, isCertain: boolean, lines: LineTable): YamlMend {
  const range = lines.rangeAt(from, from + raw.length);
  const text = " ".repeat(indent);
  const title = indent === 0 ? "Take the tab away" : "Use spaces";
  const fix: Fix = { title, edits: [{ range, text }], ...(isCertain ? {} : { byPerson: true }) };
  return { from, to: from + raw.length, text, found: problem("yaml.tab", {}, range, { fix }), isCertain };
}

/** A name as keys are written, at the beginning of a text, with what shows that a value stands behind it. */
const keyAndValue = /^[\p{L}_][\p{L}\p{N}_-]*(?= +[{[])|^[a-z_]+(?= +[^\s:])|^[\p{L}_][\p{L}\p{N}_-]*$/u;

/** The offsets at which a key of a map ends that has no colon behind it. */
function missingColons(all: readonly CST.Token[], source: string): readonly number[] {
  const found: number[] = [];
  for (const token of all) {
    if (token.type !== "block-map") continue;
    for (const { start: signs, key, sep } of token.items) {
      if (key?.type !== "scalar" || signs.some(({ type }) => type === "explicit-key-ind") || !beginsLine(source, key.offset, /[ \t-]/u)) continue;
      const hasColon = sep?.some(({ type }) => type === "map-value-ind") === true;
      const rows = key.source.split(/\r?\n/u);
      let at = key.offset;
      rows.forEach((row, index) => {
        const start = at + spaceOf(row).length;
        at += row.length + (source[at + row.length] === "\r" ? 2 : 1);
        const text = row.trim();
        const isWhole = hasColon && index === rows.length - 1;
        const end = isWhole ? /^[\p{L}_][\p{L}\p{N}_-]*(?= +\{)/u.exec(text) : keyAndValue.exec(text);
        if (end !== null) found.push(start + end[0].length);
      });
    }
  }
  return found;
}

/** True where nothing but the signs `before` stands before the offset on its line. */
function beginsLine(source: string, offset: number, before: RegExp): boolean {
  let at = offset;
  while (at > 0 && before.test(source[at - 1]!)) at--;
  return at === 0 || /[\r\n]/u.test(source[at - 1]!);
}

function colonMend(at: number, source: string, lines: LineTable): YamlMend {
  const key = /\S*$/u.exec(source.slice(Math.max(0, at - 200), at))![0];
  const range = lines.rangeAt(at - key.length, at);
  const fix = { title: `Write ${key}:`, edits: [{ range: lines.rangeAt(at, at), text: ":" }] };
  const facts = { reason: "there is no colon behind this key", found: key, accepted: `write ${key}: and the value behind it` };
  return { from: at, to: at, text: ":", found: problem("yaml.syntax", facts, range, { fix }), isCertain: true };
}
