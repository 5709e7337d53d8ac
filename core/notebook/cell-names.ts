import type { Cell, NotebookDocument } from "./document";
import { headerKind, splitHeader } from "./header-text";

/** True when the cell begins with a header line. */
export function hasHeader(cell: Cell): boolean {
  return headerKind(firstLine(cell.text)) !== null;
}

/**
 * The document with a header line, `query=cell_1` or `chart=chart_1`, for each query or chart cell that has none.
 *
 * The number is the first that no cell of the document has yet, so that saving twice gives the same names. A chart
 * drawn from no table says nothing of one. Cells with a header are the same objects as before.
 */
export function nameCells(document: NotebookDocument): NotebookDocument {
  const taken = new Set<string>();
  for (const cell of document.cells) if (isNamed(cell)) for (const { value } of splitHeader(firstLine(cell.text))) taken.add(value);
  const counts = { query: 0, chart: 0 };
  const cells = document.cells.map((cell) => {
    if ((cell.kind !== "query" && cell.kind !== "chart") || hasHeader(cell)) return cell;
    const stem = cell.kind === "query" ? "cell" : "chart";
    let name: string;
    do name = `${stem}_${++counts[cell.kind]}`;
    while (taken.has(name));
    const header = `${cell.kind}=${name}`;
    return { ...cell, text: cell.text === "" ? header : `${header}\n${cell.text}` };
  });
  return { ...document, cells };
}

function isNamed(cell: Cell): boolean {
  return (cell.kind === "query" || cell.kind === "chart") && hasHeader(cell);
}

function firstLine(text: string): string {
  const end = text.indexOf("\n");
  return end < 0 ? text : text.slice(0, end);
}
