import { bodyOffset } from "../../core/notebook/read-header";
import type { Span } from "../../core/query/syntax";
import { formatChart } from "./format-chart";
import { formatQuery } from "./format-query";

/** Columns that a formatted line is held to where the text allows it. */
const lineWidth = 120;

/**
 * The whole text of a cell with its body laid out anew, or `null` when it cannot be read, is so already or is front matter.
 *
 * The header line stays as it is. What the body means stays as well: its syntax is compared before and after, and so are
 * its comments and the words of a text; where either would not be the same, the answer is `null`.
 *
 * @param text the cell's text; its lines end in LF, and a text with other line ends is left alone.
 * @example await formatCell("query", "query=a\nshots.slice( 0,9 );") // "query=a\nshots.slice(0, 9)"
 */
export async function formatCell(kind: "query" | "chart" | "front", text: string): Promise<string | null> {
  if (kind === "front" || text.includes("\r")) return null;
  const start = bodyOffset(text);
  const formatted = kind === "query" ? await formatQuery(text, start, lineWidth) : formatChart(text, start, lineWidth);
  return formatted === text ? null : formatted;
}

/** A stretch of the old text and what stands in its place. */
export interface TextReplacement extends Span {
  readonly text: string;
}

/** Pairs of words that are compared at most; above, the whole stretch that differs is replaced. */
const mostPairs = 1_000_000;

/**
 * The replacements that make `changed` of `old`: sorted, apart, none larger than the words that differ, so that cursors
 * and marks between them stay where they are. Empty for equal texts.
 *
 * Words, stretches of white space and single signs are kept whole. The longest common run of them is found by the dynamic
 * programme for the longest common subsequence. Source: Wagner and Fischer, "The string-to-string correction problem",
 * J. ACM 21 (1974).
 */
export function formatEdits(old: string, changed: string): readonly TextReplacement[] {
  const before = wordsOf(old);
  const after = wordsOf(changed);
  let head = 0;
  while (head < before.length && head < after.length && before[head] === after[head]) head++;
  let tail = 0;
  while (tail < before.length - head && tail < after.length - head && before.at(-1 - tail) === after.at(-1 - tail)) tail++;
  const from = lengthOf(before.slice(0, head));
  return differences(before.slice(head, before.length - tail), after.slice(head, after.length - tail), from);
}

function wordsOf(text: string): readonly string[] {
  return text.match(/\s+|[\p{L}\p{N}_]+|[^]/gu) ?? [];
}

function lengthOf(words: readonly string[]): number {
  return words.reduce((sum, word) => sum + word.length, 0);
}

function differences(before: readonly string[], after: readonly string[], start: number): readonly TextReplacement[] {
  if (before.length === 0 && after.length === 0) return [];
  if (before.length * after.length > mostPairs) return [{ from: start, to: start + lengthOf(before), text: after.join("") }];
  const common = commonLengths(before, after);
  const width = after.length + 1;
  const edits: TextReplacement[] = [];
  let [i, j, at] = [0, 0, start];
  while (i < before.length || j < after.length) {
    const from = at;
    let text = "";
    while ((i < before.length || j < after.length) && before[i] !== after[j]) {
      const dropsOld = j === after.length || (i < before.length && common[(i + 1) * width + j]! >= common[i * width + j + 1]!);
      if (dropsOld) at += before[i++]!.length;
      else text += after[j++];
    }
    if (at > from || text !== "") edits.push({ from, to: at, text });
    while (i < before.length && before[i] === after[j]) {
      at += before[i++]!.length;
      j++;
    }
  }
  return edits;
}

/** For each pair of places, how much the rests have in common, row by row: words count more than the space between them. */
function commonLengths(before: readonly string[], after: readonly string[]): Uint32Array {
  const width = after.length + 1;
  const common = new Uint32Array((before.length + 1) * width);
  for (let i = before.length - 1; i >= 0; i--) {
    for (let j = after.length - 1; j >= 0; j--) {
      const here = i * width + j;
      const weight = before[i]!.trim() === "" ? 1 : 2;
      common[here] = before[i] === after[j] ? common[here + width + 1]! + weight : Math.max(common[here + width]!, common[here + 1]!);
    }
  }
  return common;
}
