import { defaultLimits } from "../limits";
import type { Checked, Problem } from "../problem";
import { problem } from "../problem";
import { rememberTexts } from "../remember-texts";
import { textStart, type TextRange } from "../text-position";
import { findBlocks, frontEnd, type Block, type Blocks } from "./blocks";
import { formatProblems } from "./newer-format";
import type { Cell, CellForm, NotebookDocument } from "./document";
import { printFence, readFence } from "./fence";
import { commonLineEnd, isBlank, joinLines, splitLines, type TextLine } from "./lines";

/**
 * Reads the text of a notebook file as cells. Never throws, and loses nothing: `printNotebook` gives the text back.
 *
 * A fenced block at the top level is a cell when its info string is, perhaps after one word, a header line with
 * `query=` or `chart=`. The word may be any (`js` and `json` are canonical). Front matter is what stands between two
 * `---` lines at the very beginning. A region with merge markers, with the blocks it cuts through, is one cell of
 * kind `conflict`. All else is prose, one cell between two others.
 *
 * @param text the whole file, byte order mark and line ends of any kind included.
 * @returns problems of the file as a whole; what is wrong inside a cell is for those who read cells. Ranges are in
 * `text` without its byte order mark. On `nb.newer-format` and `nb.too-large` the file is to be opened as text; of a
 * file that is too large, all but the front matter is one prose cell.
 */
export const parseNotebook = rememberTexts(readDocument, defaultLimits.notebookText);

function readDocument(text: string): Checked<NotebookDocument> {
  const mark = text.startsWith("\ufeff");
  const lines = splitLines(mark ? text.slice(1) : text);
  const lineEnd = commonLineEnd(lines);
  // After the last line end there is no further line, unless something stands there.
  const count = lines.at(-1)!.text === "" ? lines.length - 1 : lines.length;
  const contents = lines.slice(0, count).map((line) => line.text);
  const tooLarge = text.length > defaultLimits.notebookText;
  const found = tooLarge ? undividedBlocks(contents) : findBlocks(contents);
  const cells = found.blocks.map((block, i) => readCell(block, lines, { lineEnd, previousEnd: found.blocks[i - 1]?.to ?? 0 }));
  const last = cells.at(-1);
  if (last !== undefined) {
    const after = afterBlock(lines, found.blocks.at(-1)!.to);
    if (after !== lineEnd) cells[cells.length - 1] = { ...last, form: { ...last.form, after } };
  } else if (count > 0) cells.push({ kind: "prose", text: "", form: { before: joinLines(lines, 0, lines.length) } });
  const size = tooLarge ? [problem("nb.too-large", { length: text.length, most: defaultLimits.notebookText }, textStart)] : [];
  const problems = [...size, ...problemsOf(found, cells, contents)];
  const isNewer = problems.some(({ code }) => code === "nb.newer-format");
  return { value: { cells, lineEnd, mark, ...(isNewer ? { isNewer } : {}) }, problems };
}

/** A file that is too large to be looked at more closely: front matter and one prose. */
function undividedBlocks(lines: readonly string[]): Blocks {
  const front = frontEnd(lines);
  let from = front;
  let to = lines.length;
  while (from < to && isBlank(lines[from]!)) from++;
  while (to > from && isBlank(lines[to - 1]!)) to--;
  const blocks: Block[] = [];
  if (front > 0) blocks.push({ kind: "front", from: 0, to: front });
  if (from < to) blocks.push({ kind: "prose", from, to });
  return { blocks, swallowers: [], strays: [], frontUnclosed: false, frontBelow: -1, lookalikes: [] };
}

interface Place {
  readonly lineEnd: "\n" | "\r\n" | "\r";
  /** The line after the block before. */
  readonly previousEnd: number;
}

function readCell(block: Block, lines: readonly TextLine[], { lineEnd, previousEnd }: Place): Cell {
  const contents = lines.slice(block.from, block.to).map((line) => line.text);
  const { text, form, printed } = readBlock(block, contents);
  const before = beforeBlock(lines, previousEnd, block.from);
  const isUniform = lines.slice(block.from, block.to - 1).every((line) => line.end === lineEnd);
  const isPlain = isUniform && printed.length === contents.length && printed.every((line, i) => line === contents[i]);
  const raw = joinLines(lines, block.from, block.to - 1) + contents.at(-1)!;
  return {
    kind: block.kind,
    text,
    form: {
      ...form,
      ...(before !== (previousEnd === 0 ? "" : lineEnd + lineEnd) ? { before } : {}),
      ...(isPlain ? {} : { raw }),
    },
  };
}

/** The text and form of a block, and its lines as they would be printed from these. */
function readBlock(block: Block, contents: readonly string[]): { text: string; form: CellForm; printed: readonly string[] } {
  switch (block.kind) {
    case "front": {
      const text = contents.slice(1, -1).join("\n");
      const [fence, closing] = [contents[0]!, contents.at(-1)!];
      const form = { ...(fence !== "---" ? { fence } : {}), ...(closing !== "---" ? { closing } : {}) };
      return { text, form, printed: text === "" ? [fence, closing] : contents };
    }
    case "query":
    case "chart": {
      const { text, form } = readFence(contents, block.opening, block.closed);
      return { text, form, printed: printFence({ kind: block.kind, text, form }, form, !block.closed) };
    }
    case "prose":
    case "conflict":
      return { text: contents.join("\n"), form: {}, printed: contents };
  }
}

/** The end of the line before a block and the blank lines after it; for the first block, the blank lines alone. */
function beforeBlock(lines: readonly TextLine[], previousEnd: number, from: number): string {
  return (previousEnd === 0 ? "" : lines[previousEnd - 1]!.end) + joinLines(lines, previousEnd, from);
}

/** Everything after the last line's text of the last block. */
function afterBlock(lines: readonly TextLine[], to: number): string {
  return lines[to - 1]!.end + joinLines(lines, to, lines.length);
}

function problemsOf(found: Blocks, cells: readonly Cell[], contents: readonly string[]): readonly Problem[] {
  const problems: Problem[] = [];
  const [first] = cells;
  // The front matter's first line is the second of the file.
  if (first?.kind === "front") problems.push(...formatProblems(first.text).map((each) => ({ ...each, range: lineBelow(each.range) })));
  if (cells.length > defaultLimits.cells)
    problems.push(problem("nb.too-many-cells", { count: cells.length, most: defaultLimits.cells }, textStart));
  if (found.frontUnclosed) problems.push(problem("nb.unclosed-front", {}, lineRange(0, contents[0]!)));
  if (found.frontBelow >= 0) problems.push(problem("nb.front-not-first", {}, lineRange(found.frontBelow, contents[found.frontBelow]!)));
  for (const line of found.lookalikes) problems.push(problem("nb.not-a-cell", { line: contents[line]! }, lineRange(line, contents[line]!)));
  for (const block of found.blocks) {
    if ((block.kind === "query" || block.kind === "chart") && !block.closed)
      problems.push(problem("nb.unclosed-fence", {}, lineRange(block.from, contents[block.from]!)));
  }
  for (const line of found.strays) {
    const marker = contents[line]!;
    problems.push(problem("nb.stray-marker", { marker }, lineRange(line, marker)));
  }
  return problems;
}

function lineBelow({ start, end }: TextRange): TextRange {
  return { start: { ...start, line: start.line + 1 }, end: { ...end, line: end.line + 1 } };
}

function lineRange(line: number, text: string): TextRange {
  return { start: { line: line + 1, column: 1 }, end: { line: line + 1, column: text.length + 1 } };
}
