import MarkdownIt from "markdown-it";
import { findConflicts } from "./conflicts";
import type { Opening } from "./fence";
import { closesFence, fenceOf, readOpening } from "./fence";
import { isBlank } from "./lines";

/** A stretch of lines that is one cell, counted from 0, up to and not including `to`. */
export type Block = { readonly from: number; readonly to: number } & (
  | { readonly kind: "front" | "prose" | "conflict" }
  | { readonly kind: "query" | "chart"; readonly opening: Opening; readonly closed: boolean }
);

/** A stretch at the top level of the text that takes in whatever stands in it: a fenced block or an HTML block. */
export interface Swallower {
  readonly from: number;
  readonly to: number;
}

/** The cells of a text by lines, and what else whoever prints or checks it must know. */
export interface Blocks {
  readonly blocks: readonly Block[];
  readonly swallowers: readonly Swallower[];
  /** Lines with a merge marker that belongs to no whole set. */
  readonly strays: readonly number[];
  /** True when the text begins with `---` and a key, and no `---` closes it. */
  readonly frontUnclosed: boolean;
  /** The line of what would be front matter, were there no blank lines above it; −1 when there is none. */
  readonly frontBelow: number;
  /** Lines that open a fence which names a query or a chart and is no cell, for where it stands or how it is written. */
  readonly lookalikes: readonly number[];
}

/**
 * Lists and quotations in one another, each counted once or twice. The parser takes all that follows a deeper one for
 * part of it, so this is far beyond what anybody writes, and small enough for its recursion.
 */
const deepest = 200;

const markdown = new MarkdownIt("commonmark", { maxNesting: deepest });
// Only the block structure is wanted; inline text would be parsed for nothing.
markdown.core.ruler.disable(["inline", "text_join"]);

/**
 * Finds the cells of a notebook, given its lines without their ends; a line after the last line end counts when it is
 * not empty.
 *
 * Fences are found as CommonMark finds them (0.31), at the top level only: one in a list or a quotation is prose.
 * Where there are merge markers, the side before the merge decides, and a block that a set of markers stands in or
 * overlaps is part of the conflict.
 */
export function findBlocks(lines: readonly string[]): Blocks {
  const { regions, ours, strays } = findConflicts(lines);
  const front = frontEnd(ours);
  const { swallowers, lookalikes } = findSwallowers(ours.map((line, i) => (i < front ? "" : line)));
  const conflicts = widen(regions, front > 0 ? [{ from: 0, to: front }, ...swallowers] : swallowers);
  const found: Block[] = conflicts.map(({ from, to }) => ({ kind: "conflict", from, to }));
  let next = 0;
  const inConflict = (block: Swallower): boolean => {
    while (next < conflicts.length && conflicts[next]!.to <= block.from) next++;
    return next < conflicts.length && conflicts[next]!.from < block.to;
  };
  const cells: Block[] = [];
  if (front > 0 && !inConflict({ from: 0, to: front })) cells.push({ kind: "front", from: 0, to: front });
  for (const block of swallowers) {
    const opening = readOpening(ours[block.from]!);
    if (opening === null || inConflict(block)) continue;
    cells.push({ ...block, kind: opening.kind, opening, closed: isClosed(ours, block, opening.fence) });
  }
  const sorted = [...found, ...cells].sort((a, b) => a.from - b.from);
  return { blocks: withProse(lines, sorted), swallowers, strays, frontUnclosed: front === 0 && startsFront(ours), frontBelow: frontBelow(ours), lookalikes };
}

/** The number of lines of the front matter, `---` lines included; 0 when the text does not begin with any. */
export function frontEnd(lines: readonly string[]): number {
  if (!isRule(lines[0])) return 0;
  for (let i = 1; i < lines.length; i++) if (isRule(lines[i])) return i + 1;
  return 0;
}

function isRule(line: string | undefined): boolean {
  return line !== undefined && /^---[ \t]*$/.test(line);
}

function startsFront(lines: readonly string[]): boolean {
  return isRule(lines[0]) && /^[a-z_]+:(?: |$)/.test(lines.find((line, i) => i > 0 && !isBlank(line)) ?? "");
}

/** The first line that is not blank, where it would begin front matter if it were the first of the file; else −1. */
function frontBelow(lines: readonly string[]): number {
  const first = lines.findIndex((line) => !isBlank(line));
  const isFront = first > 0 && startsFront(lines.slice(first)) && frontEnd(lines.slice(first)) > 0;
  return isFront ? first : -1;
}

function findSwallowers(lines: readonly string[]): { readonly swallowers: readonly Swallower[]; readonly lookalikes: readonly number[] } {
  const blocks = markdown
    .parse(`${lines.join("\n")}\n`, {})
    .filter((token) => token.map !== null && (token.type === "fence" || token.type === "html_block"))
    .map((token) => ({ isTop: token.level === 0, info: token.type === "fence" ? token.info : "", from: token.map![0], to: Math.min(token.map![1], lines.length) }));
  const names = (info: string): boolean => /(?:^|\s)(?:query|chart)\s*=\s*\S/i.test(info);
  return {
    swallowers: blocks.filter(({ isTop }) => isTop).map(({ from, to }) => ({ from, to })),
    lookalikes: blocks.filter(({ isTop, info, from }) => names(info) && !(isTop && readOpening(lines[from]!) !== null)).map(({ from }) => from),
  };
}

/** True when the last line of a fenced block closes it. */
function isClosed(lines: readonly string[], { from, to }: Swallower, fence: string): boolean {
  return to - 1 > from && closesFence(lines[to - 1]!, fence);
}

/** The regions, each made as wide as the blocks it overlaps; those that then overlap are one. Both are in order. */
function widen(regions: readonly Swallower[], blocks: readonly Swallower[]): readonly Swallower[] {
  const wide: { from: number; to: number }[] = [];
  let next = 0;
  for (const region of regions) {
    let { from, to } = region;
    while (next < blocks.length && blocks[next]!.to <= from) next++;
    for (let i = next; i < blocks.length && blocks[i]!.from < region.to; i++) {
      from = Math.min(from, blocks[i]!.from);
      to = Math.max(to, blocks[i]!.to);
    }
    const last = wide.at(-1);
    if (last !== undefined && from < last.to) last.to = Math.max(last.to, to);
    else wide.push({ from, to });
  }
  return wide;
}

/** The blocks with a prose block wherever other lines than blank ones stand between them. */
function withProse(lines: readonly string[], sorted: readonly Block[]): readonly Block[] {
  const all: Block[] = [];
  const addProse = (from: number, to: number): void => {
    let start = from;
    let end = to;
    while (start < end && isBlank(lines[start]!)) start++;
    while (end > start && isBlank(lines[end - 1]!)) end--;
    if (start < end) all.push({ kind: "prose", from: start, to: end });
  };
  let at = 0;
  for (const block of sorted) {
    addProse(at, block.from);
    all.push(block);
    at = block.to;
  }
  addProse(at, lines.length);
  return all;
}

/** How the HTML blocks begin that no blank line ends, and what ends each (CommonMark 0.31, 4.6, kinds 1 to 5). */
const htmlClosings: readonly (readonly [start: RegExp, closing: (found: RegExpExecArray) => string])[] = [
  [/^<(script|pre|style|textarea)(?=[\s>]|$)/i, (found) => `</${found[1]!}>`],
  [/^<!--/, () => "-->"],
  [/^<\?/, () => "?>"],
  [/^<!\[CDATA\[/, () => "]]>"],
  [/^<![A-Za-z]/, () => ">"],
];

/** The line that would end a fenced or HTML block which begins with `line`; `null` when a blank line does. */
export function closingOf(line: string): string | null {
  const fence = fenceOf(line);
  if (fence !== null) return fence.fence;
  const text = line.replace(/^ {1,3}/, "");
  for (const [start, closing] of htmlClosings) {
    const found = start.exec(text);
    if (found !== null) return closing(found);
  }
  return null;
}
