import type { CellKind } from "./document";
import { headerKind } from "./header-text";

/** The type under which the editor knows our notebooks. */
export const notebookType = "fairstrike-notebook";

/** The editor's language id of each kind of cell. The file says `js`, `json` and YAML, for the sake of git hosts. */
export const languageOfKind: Readonly<Record<CellKind, string>> = {
  front: "fairstrike-front",
  prose: "markdown",
  query: "fairstrike-query",
  chart: "fairstrike-chart",
  conflict: "fairstrike-conflict",
};

const kinds = Object.entries(languageOfKind) as readonly (readonly [CellKind, string])[];

/**
 * The kind of an editor's cell: a query or a chart by its header line where it has one, or else by its language.
 *
 * A language of nobody's is prose: its text is kept. Front matter that was moved down is still front matter.
 *
 * @param text the cell's text with LF line ends.
 */
export function kindOfCell(language: string, text: string): CellKind {
  const kind = kinds.find(([, id]) => id === language)?.[0] ?? null;
  const isSettled = kind === "front" || kind === "conflict" || kind === "prose";
  return isSettled ? kind : (headerKind(text.split("\n", 1)[0]!) ?? kind ?? "prose");
}
