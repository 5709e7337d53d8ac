import type { TextPosition, TextRange } from "../text-position";
import type { NotebookDocument } from "./document";
import { readOpening } from "./fence";
import { layOut, type Piece } from "./layout";
import { splitLines } from "./lines";
import { printNotebook } from "./print-notebook";

/** Where the text of one cell stands in its file. */
export interface CellLocation {
  /** The file's line, from 1, that the first line of the cell's text stands on. */
  readonly firstLine: number;
  /** For each line of the cell's text, how many columns farther right it stands in the file. */
  readonly shifts: readonly number[];
}

/**
 * The place of each cell's text in the text of the file, in the order of the cells. This is the only arithmetic on
 * lines there is.
 *
 * The header line of a query or chart cell stands behind its fence; the front matter's text begins on the line after
 * its `---`; an indented fence moves its lines. Columns do not count a byte order mark, which editors do not show. A
 * blank prose cell, which is not in the file, is placed where it would be.
 *
 * @param text the file: as the document was parsed from, or as `printNotebook` gives it.
 * @throws {RangeError} when `text` is neither.
 */
export function locateCells(text: string, document: NotebookDocument): readonly CellLocation[] {
  if (printNotebook(document) !== text) throw new RangeError("the document does not print as this text");
  const found = new Map<number, CellLocation>();
  let line = 1;
  for (const piece of layOut(document).pieces) {
    line += countLineEnds(piece.before);
    found.set(piece.index, locatePiece(piece, document, line));
    line += countLineEnds(piece.text);
  }
  let next = line;
  const locations = document.cells.map((cell, index) => found.get(index) ?? { firstLine: 0, shifts: cell.text.split("\n").map(() => 0) });
  for (let i = locations.length - 1; i >= 0; i--) {
    if (found.has(i)) next = locations[i]!.firstLine;
    else locations[i] = { ...locations[i]!, firstLine: next };
  }
  return locations;
}

/** A range of a cell's text as a range of the file. */
export function toFile(location: CellLocation, range: TextRange): TextRange {
  const move = ({ line, column }: TextPosition): TextPosition => ({
    line: line + location.firstLine - 1,
    column: column + shiftOf(location, line),
  });
  return { start: move(range.start), end: move(range.end) };
}

/** A range of the file as a range of the cell's text; `null` when it is not wholly within the cell's lines. */
export function toCell(location: CellLocation, range: TextRange): TextRange | null {
  const move = ({ line, column }: TextPosition): TextPosition => {
    const own = line - location.firstLine + 1;
    return { line: own, column: Math.max(1, column - shiftOf(location, own)) };
  };
  const moved = { start: move(range.start), end: move(range.end) };
  return moved.start.line >= 1 && moved.end.line <= location.shifts.length ? moved : null;
}

function shiftOf({ shifts }: CellLocation, line: number): number {
  return shifts[line - 1] ?? 0;
}

function locatePiece(piece: Piece, document: NotebookDocument, line: number): CellLocation {
  const cell = document.cells[piece.index]!;
  const own = cell.text.split("\n");
  if (cell.kind === "prose" || cell.kind === "conflict") return { firstLine: line, shifts: own.map(() => 0) };
  const printed = splitLines(piece.text).map((each) => each.text);
  const below = (from: number): readonly number[] => own.slice(1 - from).map((text, i) => Math.max(0, (printed[i + 1] ?? text).length - text.length));
  if (cell.kind === "front" || piece.named) return { firstLine: line + 1, shifts: below(1) };
  const opening = readOpening(printed[0]!);
  const lead = /^[ \t]*/.exec(own[0]!)![0].length;
  const header = opening === null ? 0 : printed[0]!.length - opening.trail.length - opening.header.length;
  return { firstLine: line, shifts: [header - lead, ...below(0)] };
}

function countLineEnds(text: string): number {
  return splitLines(text).length - 1;
}
