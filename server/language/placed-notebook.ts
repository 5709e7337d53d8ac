import type { Position, Range } from "vscode-languageserver";
import { locateCells, toCell, toFile, type CellLocation } from "../../core/notebook/locate";
import type { NotebookDocument } from "../../core/notebook/document";
import type { Problem, TextEdit } from "../../core/problem";
import { lineTable, type LineTable, type TextRange } from "../../core/text-position";
import type { Span } from "../../core/query/syntax";
import type { NotebookView } from "./notebook-view";
import { fromPosition, toWholeRange } from "./to-protocol";

/** A place in a document of the editor. */
export interface DocumentRange {
  readonly uri: string;
  readonly range: Range;
}

/** A checked notebook, and where its cells stand in the documents that the editor has of it. */
export interface PlacedNotebook {
  readonly view: NotebookView;
  readonly root: string;
  /** The cell at a place of a document, with the offset in its text; `null` where there is none. */
  readonly cellAt: (uri: string, position: Position) => { readonly cell: number; readonly offset: number } | null;
  /** The cells that a document shows: one, or for a notebook that is open as text all of them. */
  readonly cellsOf: (uri: string) => readonly number[];
  readonly placeOf: (cell: number, span: Span) => DocumentRange;
  /** A problem of a cell's text with its places where they stand in the document; edits of other files stay as they are. */
  readonly problemAt: (cell: number, found: Problem) => Problem;
}

/** A notebook that is open as one: each cell is a document, in the order of the view. */
export function placedCells(view: NotebookView, root: string, uris: readonly string[]): PlacedNotebook {
  const lines = lineTables(view);
  return {
    view,
    root,
    cellAt: (uri, position) => {
      const cell = uris.indexOf(uri);
      return cell < 0 ? null : { cell, offset: lines(cell).offsetAt(fromPosition(position)) };
    },
    cellsOf: (uri) => (uris.includes(uri) ? [uris.indexOf(uri)] : []),
    placeOf: (cell, { from, to }) => ({ uri: uris[cell]!, range: toWholeRange(lines(cell).rangeAt(from, to)) }),
    problemAt: (_, found) => found,
  };
}

/** A notebook that is open as text, `document` being what that text says. */
export function placedText(view: NotebookView, root: string, uri: string, text: string, document: NotebookDocument): PlacedNotebook {
  const lines = lineTables(view);
  const locations = locator(text, document);
  return {
    view,
    root,
    cellAt: (_, position) => {
      const at = fromPosition(position);
      for (const { index, kind } of view.cells) {
        if (kind === "prose") continue;
        const own = toCell(locations()[index]!, { start: at, end: at });
        if (own !== null) return { cell: index, offset: lines(index).offsetAt(own.start) };
      }
      return null;
    },
    cellsOf: (asked) => (asked === uri ? view.cells.map((cell) => cell.index) : []),
    placeOf: (cell, { from, to }) => ({ uri, range: toWholeRange(toFile(locations()[cell]!, lines(cell).rangeAt(from, to))) }),
    problemAt: problemMover(text, document, locations),
  };
}

/** The line table of each cell's text, made when it is first asked for. */
function lineTables(view: NotebookView): (cell: number) => LineTable {
  const made = new Map<number, LineTable>();
  return (cell) => {
    const known = made.get(cell) ?? lineTable(view.cells[cell]!.text);
    made.set(cell, known);
    return known;
  };
}

/** Where the cells stand in a text, found when it is first asked for. */
function locator(text: string, document: NotebookDocument): () => readonly CellLocation[] {
  let located: readonly CellLocation[] | null = null;
  return () => (located ??= locateCells(text, document));
}

/** Returns what moves a problem of a cell to where it stands in the text of its notebook. */
export function problemMover(text: string, document: NotebookDocument, locations = locator(text, document)): PlacedNotebook["problemAt"] {
  return (cell, found) => movedProblem(found, (range) => toFile(locations()[cell]!, range));
}

/** The problem with every place in its own text moved. */
function movedProblem(found: Problem, move: (range: TextRange) => TextRange): Problem {
  const moveEdit = (edit: TextEdit): TextEdit => ({ ...edit, range: move(edit.range) });
  const { fix, mends } = found;
  return {
    ...found,
    range: move(found.range),
    ...(mends === undefined ? {} : { mends: mends.map(moveEdit) }),
    ...(fix === undefined || fix.file !== undefined ? {} : { fix: { ...fix, edits: fix.edits.map(moveEdit) } }),
  };
}
