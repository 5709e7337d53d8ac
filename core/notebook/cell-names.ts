import type { Cell, NotebookDocument } from "./document";
import { headerKind, splitHeader } from "./header-text";

/** True when the cell begins with a header line. */
export function hasHeader(cell: Pick<Cell, "text">): boolean {
  return headerKind(firstLine(cell.text)) !== null;
}

/**
 * The document with a header line, `query=cell_1` or `chart=chart_1`, for each query or chart cell that has none.
 *
 * The number is the first that no cell of the document has yet, so that saving twice gives the same names. A chart
 * drawn from no table says nothing of one. Cells with a header are the same objects as before.
 */
export function nameCells(document: NotebookDocument): NotebookDocument {
  const taken = takenNames(document.cells);
  const names = { query: freeNames("query", taken), chart: freeNames("chart", taken) };
  const cells = document.cells.map((cell) => {
    if ((cell.kind !== "query" && cell.kind !== "chart") || hasHeader(cell)) return cell;
    const header = `${cell.kind}=${names[cell.kind].next().value}`;
    return { ...cell, text: cell.text === "" ? header : `${header}\n${cell.text}` };
  });
  return { ...document, cells };
}

/** Everything that the header lines of query and chart cells name: themselves, and what they draw. */
export function takenNames(cells: readonly Pick<Cell, "kind" | "text">[]): ReadonlySet<string> {
  const named = cells.filter((cell) => (cell.kind === "query" || cell.kind === "chart") && hasHeader(cell));
  return new Set(named.flatMap((cell) => splitHeader(firstLine(cell.text)).map(({ value }) => value)));
}

/** Those of `cell_1`, `cell_2` … (`chart_1` … for a chart) that are not taken, without end. */
export function* freeNames(kind: "query" | "chart", taken: ReadonlySet<string>): Generator<string, never> {
  const stem = kind === "query" ? "cell" : "chart";
  for (let count = 1; ; count++) if (!taken.has(`${stem}_${count}`)) yield `${stem}_${count}`;
}

function firstLine(text: string): string {
  const end = text.indexOf("\n");
  return end < 0 ? text : text.slice(0, end);
}
