import type { NotebookDocument } from "./document";
import { layOut } from "./layout";

/**
 * The text of a notebook file.
 *
 * What `parseNotebook` gave and nobody changed comes out byte for byte; a changed cell changes its own lines alone.
 * Never throws, whatever a form says. `layOut` tells what is done so that parsing gives the same cells again.
 */
export function printNotebook(document: NotebookDocument): string {
  const { pieces, after } = layOut(document);
  return `${document.mark ? "\ufeff" : ""}${pieces.map(({ before, text }) => before + text).join("")}${after}`;
}
