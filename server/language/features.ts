import { bodyOffset } from "../../core/notebook/read-header";
import type { HoverAnswer, SignatureAnswer, Suggestion } from "./answers";
import { completeChart } from "./complete-chart";
import { completeFront } from "./complete-front";
import { completeHeader } from "./complete-header";
import { completeQuery } from "./complete-query";
import { hoverChart } from "./hover-chart";
import { hoverFront } from "./hover-front";
import { hoverHeader } from "./hover-header";
import { hoverQuery } from "./hover-query";
import type { NotebookView } from "./notebook-view";
import { signatureAt } from "./signature";

/** What can stand at a place of a notebook. */
export async function completeNotebook(view: NotebookView, cell: number, offset: number): Promise<readonly Suggestion[]> {
  const { kind, text } = view.cells[cell]!;
  if (kind === "front") return completeFront(view, cell, offset);
  if (kind !== "query" && kind !== "chart") return [];
  const body = bodyOffset(text);
  if (offset < body) return completeHeader(view, cell, offset);
  // A cell without a first line of its own can still get one.
  const header = body === 0 && !text.slice(0, offset).includes("\n") ? completeHeader(view, cell, offset) : [];
  return [...header, ...(kind === "query" ? await completeQuery(view, cell, offset) : completeChart(view, cell, offset))];
}

/** What is known of the name at a place of a notebook. */
export function hoverNotebook(view: NotebookView, cell: number, offset: number): HoverAnswer | null {
  const { kind, text } = view.cells[cell]!;
  if (kind === "front") return hoverFront(view, cell, offset);
  if (kind !== "query" && kind !== "chart") return null;
  if (offset < bodyOffset(text)) return hoverHeader(view, cell, offset);
  return kind === "query" ? hoverQuery(view, cell, offset) : hoverChart(view, cell, offset);
}

/** The call that is being written at a place of a notebook. */
export function signatureInNotebook(view: NotebookView, cell: number, offset: number): SignatureAnswer | null {
  const { kind, text } = view.cells[cell]!;
  return kind === "query" && offset >= bodyOffset(text) ? signatureAt(view, cell, offset) : null;
}
