import type { HoverAnswer } from "./answers";
import { attributeHelp } from "./complete-header";
import { cellMarkdown } from "./hover-query";
import { headerPlace } from "./header-line";
import { sentence } from "./column-hover";
import { asCode, escaped } from "./markdown";
import type { NotebookView } from "./notebook-view";

/** What the attribute at `offset` in the first line of a cell says, and what the table is that it names. */
export function hoverHeader(view: NotebookView, cell: number, offset: number): HoverAnswer | null {
  const place = headerPlace(view.cells[cell]!.text, offset);
  if (place === null || place.kind === null || place.at === "gap" || place.piece === null) return null;
  const { kind, piece, span } = place;
  const name = piece.name ?? "";
  const help = attributeHelp(kind, name);
  if (help === "") return null;
  const about = `**${asCode(`${name}=`)}** ${escaped(sentence(help))}`;
  if (place.at === "name") return { ...span, markdown: about };
  // The table is told of in the words that it has in a query.
  const schema = name === "table" ? view.surroundingsOf(cell).tables.get(piece.value) : name === "query" ? view.cells[cell]!.checked.schema : null;
  const table = schema === undefined || schema === null ? null : cellMarkdown(piece.value, view);
  return { ...span, markdown: table ?? about };
}
