import type { Limits } from "../../core/limits";
import type { NotebookDocument } from "../../core/notebook/document";
import type { QuerySurroundings } from "../../core/query/query-surroundings";
import type { Vocabulary } from "../../core/query/vocabulary";
import type { LookedAt } from "../../core/run-notebook";
import type { Schema } from "../../core/table/schema";
import type { NotebookView } from "./notebook-view";

/** The view of a document that was looked at. */
export function makeView(
  document: NotebookDocument,
  path: string,
  { notebook, sources, checked }: LookedAt,
  parts: { readonly vocabulary: Vocabulary; readonly limits: Limits; readonly listFolder: NotebookView["listFolder"] },
): NotebookView {
  const named = notebook.cells.filter((cell) => cell.isNamed);

  function surroundingsOf(index: number): QuerySurroundings {
    const own = named.find((cell) => cell.index === index)?.name;
    const tables = new Map<string, Schema>();
    if (sources.shots?.schema) tables.set("shots", sources.shots.schema);
    for (const { name, index: other } of named) {
      const { schema } = checked.cells[other]!;
      if (other !== index && name !== own && schema !== null) tables.set(name, schema);
    }
    const giving = named.filter((cell) => cell.uses.gives === "table" && cell.name !== own).map((cell) => cell.name);
    return {
      vocabulary: parts.vocabulary,
      tables,
      cells: new Set(["shots", ...named.map((cell) => cell.name)]),
      tableNames: () => [...new Set(["shots", ...giving])],
      sessions: (place) => sources.byPath.get(place)?.schema ?? null,
      units: notebook.front.units,
      choices: notebook.front.choices,
      limits: parts.limits,
    };
  }

  return {
    path,
    cells: document.cells.map(({ kind, text }, index) => ({ index, kind, text, checked: checked.cells[index]! })),
    notebook,
    sources,
    checked,
    surroundingsOf,
    listFolder: parts.listFolder,
  };
}
