import { headerKind, splitHeader } from "../../core/notebook/header-text";
import { frontMatterKeyHelp } from "../../core/notebook/front-matter-keys";
import { shotColumnFacts } from "../../core/table/shot-columns";
import type { HoverAnswer } from "./answers";
import { attributeHelp } from "./complete-header";
import { frontPlace, usualMargin } from "./complete-front";
import { asCode, escaped } from "./markdown";
import type { NotebookView } from "./notebook-view";

/** What is known of the key, path or margin at `offset` in front matter. */
export function hoverFront(view: NotebookView, cell: number, offset: number): HoverAnswer | null {
  const { text } = view.cells[cell]!;
  const place = frontPlace(text, offset);
  if (place === null || place.replace.from === place.replace.to) return null;
  const { from, to } = place.replace;
  const word = text.slice(from, to).trim();
  if (place.parent === null) return Object.hasOwn(frontMatterKeyHelp, word) ? { from, to, markdown: `**${escaped(word)}**: ${escaped(frontMatterKeyHelp[word as keyof typeof frontMatterKeyHelp])}` } : null;
  if (place.parent === "margin") {
    const column = place.column ?? word;
    const usual = usualMargin(column);
    const facts = shotColumnFacts(column);
    if (usual === null || facts === undefined) return null;
    return { from, to, markdown: `The smallest difference of ${asCode(column)} (${escaped(facts.description)}) that matters to a player. Usual: ${usual.value} ${usual.unit} (common practice, no source). Choose it before looking.` };
  }
  if (place.parent === "shots") {
    const sessions = view.sources.shots?.table?.sessions ?? [];
    const [first] = sessions;
    if (first === undefined) return { from, to, markdown: "The shots of this session could not be read." };
    const lines = sessions.map((session) => `${asCode(session.name)}${session.date === null ? "" : `, ${escaped(session.date)}`}: ${session.shotCount} shots; heads ${session.heads.map((head) => escaped(head.name)).join(", ")}`);
    return { from, to, markdown: `The table ${asCode("shots")} holds\n\n${lines.map((line) => `- ${line}`).join("\n")}` };
  }
  return Object.hasOwn(frontMatterKeyHelp, place.parent) ? { from, to, markdown: escaped(frontMatterKeyHelp[place.parent as keyof typeof frontMatterKeyHelp]) } : null;
}

/** What the attribute at `offset` in the first line of a cell says, and what the table is that it names. */
export function hoverHeader(view: NotebookView, cell: number, offset: number): HoverAnswer | null {
  const line = view.cells[cell]!.text.split("\n", 1)[0]!;
  if (headerKind(line) === null) return null;
  const piece = splitHeader(line).find(({ from, to }) => from <= offset && offset <= to);
  const name = piece?.name ?? null;
  if (piece === undefined || name === null || !Object.hasOwn(attributeHelp, name)) return null;
  if (offset <= piece.from + name.length) return { from: piece.from, to: piece.from + name.length, markdown: escaped(attributeHelp[name]!) };
  const span = { from: piece.valueFrom, to: piece.to };
  if (name === "description") return null;
  const schema = name === "table" ? view.surroundingsOf(cell).tables.get(piece.value) : name === "query" ? view.cells[cell]!.checked.schema : null;
  if (schema === undefined || schema === null) return { ...span, markdown: escaped(attributeHelp[name]!) };
  const columns = schema.columns.slice(0, 12).map((column) => asCode(column.name)).join(", ");
  const more = schema.columns.length > 12 ? ` … (${schema.columns.length} in all)` : "";
  const rows = schema.rowCount === undefined ? "" : `${schema.rowCount} rows; `;
  return { ...span, markdown: `${asCode(piece.value)}: ${rows}columns ${columns}${more}` };
}
