import { closingOf, findBlocks, frontEnd } from "./blocks";
import { hasHeader, nameCells } from "./cell-names";
import { findConflicts } from "./conflicts";
import type { Cell, CellForm, NotebookDocument } from "./document";
import { closesFence, fenced, printFence, readFence, readOpening } from "./fence";
import { isBlank, splitLines, withLf } from "./lines";

/** One cell as it stands in the file. */
export interface Piece {
  /** The cell's number in the document. */
  readonly index: number;
  /** What stands before it: the end of the line before and blank lines. */
  before: string;
  /** Its lines, their own ends among them, without the end of the last one. */
  text: string;
  /** True when the header line was added here and is not in the cell's text. */
  readonly named: boolean;
}

/** The text of a document, and the piece of it that each cell is. */
export interface Layout {
  readonly pieces: readonly Piece[];
  readonly after: string;
}

interface Draft extends Piece {
  readonly cell: Cell;
  form: CellForm;
}

/**
 * Lays the cells of a document out as a file.
 *
 * What was parsed and not touched comes out byte for byte. Otherwise care is taken that parsing gives the same cells
 * again: front matter comes first; cells without a header get one; a fence grows where its cell would close it; an
 * unclosed fence or HTML block of a text is closed before the next cell; two texts in a row stay two paragraphs.
 * Blank texts are left out. Text in a prose cell that is itself written as a cell becomes one.
 */
export function layOut(document: NotebookDocument): Layout {
  const drafts = draftsOf(document);
  const last = drafts.at(-1);
  if (last === undefined) return { pieces: [], after: blankFile(document) };
  for (const [i, draft] of drafts.entries()) {
    draft.text = printCell(draft.cell, draft.form, document.lineEnd, draft === last);
    draft.before = separator(draft, drafts[i - 1], document.lineEnd);
  }
  closeRuns(drafts, document.lineEnd);
  if (hidesFront(drafts)) drafts[0]!.before = document.lineEnd;
  const { after } = last.cell.form;
  return { pieces: drafts, after: after !== undefined && isAfter(after) ? after : document.lineEnd };
}

/** The cells that are printed, in the order in which they are printed: the first front matter first. */
function draftsOf(document: NotebookDocument): readonly Draft[] {
  const cells = nameCells(document).cells;
  const front = cells.findIndex((cell) => cell.kind === "front");
  const drafts = cells.map((cell, index): Draft => {
    const shown = cell.kind === "front" && index !== front ? frontAsProse(cell) : cell;
    return { index, cell: shown, form: shown.form, before: "", text: "", named: hasHeader(cell) && !hasHeader(document.cells[index]!) };
  });
  const others = drafts.filter(({ index, cell }) => index !== front && (cell.kind !== "prose" || !isBlank(cell.text)));
  return front < 0 ? others : [drafts[front]!, ...others];
}

/** A second front matter: the first one holds, and this one is kept as a block of YAML in the prose. */
function frontAsProse(cell: Cell): Cell {
  return { kind: "prose", text: fenced("yaml", cell.text), form: {} };
}

/** The text of a document that has no cell, or blank ones alone. */
function blankFile({ cells }: NotebookDocument): string {
  const before = cells[0]?.form.before ?? "";
  return isBlank(before) ? before : "";
}

/** A cell's lines; as they stood in the file where the text is still the same. */
function printCell(cell: Cell, form: CellForm, lineEnd: string, isLast: boolean): string {
  if (form.raw !== undefined && rawText(cell, form.raw, isLast) === cell.text) return form.raw;
  // An edited cell whose line ends were mixed goes on with its own first one.
  const end = splitLines(form.raw ?? "")[0]!.end || lineEnd;
  return printedLines(cell, form, isLast).join(end);
}

function printedLines(cell: Cell, form: CellForm, isLast: boolean): readonly string[] {
  switch (cell.kind) {
    case "prose":
    case "conflict":
      return cell.text.split("\n");
    case "query":
    case "chart":
      return printFence(cell, form, isLast);
    case "front":
      return printFront(cell.text, form);
  }
}

/** The front matter between its `---` lines. A line of the text that would end it is moved in by one space. */
function printFront(text: string, form: CellForm): readonly string[] {
  const rule = (asked: string | undefined): string => (asked !== undefined && /^---[ \t]*$/.test(asked) ? asked : "---");
  const lines = text === "" ? [] : text.split("\n").map((line) => (/^---[ \t]*$/.test(line) ? ` ${line}` : line));
  return [rule(form.fence), ...lines, rule(form.closing)];
}

/** The text that `raw` gives as a cell of the same kind; `null` when it is no such cell, or must not stay open. */
function rawText(cell: Cell, raw: string, isLast: boolean): string | null {
  const lines = splitLines(raw).map((line) => line.text);
  if (cell.kind === "prose" || cell.kind === "conflict") return withLf(raw);
  if (cell.kind === "front") return frontEnd(lines) === lines.length ? lines.slice(1, -1).join("\n") : null;
  const opening = readOpening(lines[0]!);
  if (opening === null) return null;
  const closing = lines.findIndex((line, i) => i > 0 && closesFence(line, opening.fence));
  const closed = closing === lines.length - 1 && closing > 0;
  return closed || (closing < 0 && isLast) ? readFence(lines, opening, closed).text : null;
}

/** What stands before a cell: what its form asks for where that keeps it apart from the cell before, or a blank line. */
function separator({ cell, form }: Draft, before: Draft | undefined, lineEnd: string): string {
  const asked = form.before;
  if (before === undefined) return cell.kind !== "front" && asked !== undefined && /^(?:[ \t]*(?:\r\n|\n|\r))*$/.test(asked) ? asked : "";
  const canonical = lineEnd + lineEnd;
  if (asked === undefined || !/^(?:\r\n|\n|\r)(?:[ \t]*(?:\r\n|\n|\r))*$/.test(asked)) return canonical;
  // Two texts with no blank line between them would be one paragraph.
  const ends = asked.match(/\r\n|\n|\r/g)!.length;
  return cell.kind === "prose" && before.cell.kind === "prose" && ends < 2 ? canonical : asked;
}

function isAfter(text: string): boolean {
  return /^(?:(?:\r\n|\n|\r)[ \t]*)*$/.test(text);
}

/**
 * Closes what prose leaves open wherever it would swallow the cell after it.
 *
 * Prose and conflicts up to the next query or chart cell are looked at together, since a list may go on across them.
 */
function closeRuns(drafts: readonly Draft[], lineEnd: string): void {
  let start = 0;
  for (const [i, draft] of drafts.entries()) {
    if (draft.cell.kind === "prose" || draft.cell.kind === "conflict") continue;
    if (i > start) closeRun(drafts, start, i, lineEnd);
    start = i + 1;
  }
  if (start < drafts.length - 1) closeRun(drafts, start, drafts.length - 1, lineEnd);
}

/** Mends the pieces `start` up to and with `end`, until each cell among them is found again where it begins. */
function closeRun(drafts: readonly Draft[], start: number, end: number, lineEnd: string): void {
  // A cell is mended in two ways at most, after which the rest of the run is looked at again.
  for (let attempts = 2 * (end - start + 1); attempts > 0; attempts--) {
    const lost = findLost(drafts, start, end);
    if (lost === null) return;
    const draft = drafts[lost.at]!;
    const canonical = lineEnd + lineEnd;
    if (draft.before !== canonical || (draft.form.indent !== undefined && draft.cell.kind !== "conflict")) {
      draft.before = canonical;
      draft.form = withoutIndentation(draft.form);
      draft.text = printCell(draft.cell, draft.form, lineEnd, lost.at === drafts.length - 1);
    } else if (lost.closing !== null) drafts[lost.at - 1]!.text += lineEnd + lost.closing;
    else return;
  }
}

/** The form of a fence that stands at the margin. */
function withoutIndentation(form: CellForm): CellForm {
  return Object.fromEntries(Object.entries(form).filter(([name]) => name !== "indent" && name !== "closing" && name !== "raw"));
}

/** The first cell of a run that parsing would not find where it begins, and the line that would end what hides it. */
function findLost(drafts: readonly Draft[], start: number, end: number): { at: number; closing: string | null } | null {
  // A run inside the file must not be taken for its beginning, where front matter may stand.
  const lines: string[] = start === 0 && drafts[0]!.before === "" ? [] : [""];
  const starts: number[] = [];
  for (let i = start; i <= end; i++) {
    const { before, text } = drafts[i]!;
    if (i > start) for (let blank = before.match(/\r\n|\n|\r/g)!.length; blank > 1; blank--) lines.push("");
    starts.push(lines.length);
    for (const line of splitLines(text)) lines.push(line.text);
  }
  const { blocks, swallowers } = findBlocks(lines);
  const found = new Set(blocks.filter((block) => block.kind !== "prose").map((block) => block.from));
  for (let i = start; i <= end; i++) {
    const { cell, text } = drafts[i]!;
    const within = cell.kind === "conflict" ? conflictStart(text) : 0;
    const from = starts[i - start]! + (within ?? 0);
    if (i === 0 || cell.kind === "prose" || within === null || found.has(from)) continue;
    const hiding = swallowers.find((block) => block.from < from && from < block.to);
    return { at: i, closing: hiding === undefined ? null : closingOf(lines[hiding.from]!) };
  }
  return null;
}

/** The line of a conflict's text that it begins on, after blank ones; `null` for a text that is no conflict any more. */
function conflictStart(text: string): number | null {
  const first = findBlocks(splitLines(text).map((line) => line.text)).blocks[0];
  return first?.kind === "conflict" ? first.from : null;
}

/** True when the file would begin with front matter though its first cell is none: a text that begins with a rule. */
function hidesFront(drafts: readonly Draft[]): boolean {
  const [first] = drafts;
  if (first === undefined || first.before !== "" || first.cell.kind !== "prose") return false;
  if (!/^---[ \t]*$/.test(splitLines(first.text)[0]!.text)) return false;
  const all = drafts.flatMap((draft) => splitLines(draft.text).map((line) => line.text));
  return frontEnd(findConflicts(all).ours) > 0;
}
