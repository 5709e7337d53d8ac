import type { HoverAnswer } from "./answers";
import { columnsInBrief, schemaInWords } from "./cell-words";
import { attributeHelp } from "./complete-header";
import { headerPlace } from "./header-line";
import { sentence } from "./column-hover";
import { asCode, escaped } from "./markdown";
import type { NotebookView } from "./notebook-view";

/** Characters of a list of columns. */
const mostColumns = 600;

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
  const schema = name === "table" ? view.surroundingsOf(cell).tables.get(piece.value) : name === "query" ? view.cells[cell]!.checked.schema : null;
  if (schema === undefined || schema === null) return { ...span, markdown: about };
  return { ...span, markdown: `**${asCode(piece.value)}**: ${escaped(schemaInWords(schema))}\n\n${escaped(columnsInBrief(schema.columns, mostColumns))}` };
}
