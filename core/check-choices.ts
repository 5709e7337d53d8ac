import { closestName } from "./closest-name";
import type { NotebookChoice } from "./notebook/choice";
import { problem, type Problem } from "./problem";
import type { References } from "./query/references";
import type { Schema } from "./table/schema";
import { yamlScalar } from "./yaml-scalar";

/**
 * What is wrong with the choices of the front matter: columns that no table has, values that no row has, and choices that
 * no cell uses.
 *
 * @param schemas what is known of the tables that cells can name; `null` while the shots are not known.
 */
export function checkChoices(choices: readonly NotebookChoice[], uses: readonly References[], schemas: readonly Schema[] | null, most: number): readonly Problem[] {
  const isKnown = schemas !== null && schemas.length > 0 && schemas.every(({ open }) => !open);
  const found = choices.flatMap((choice) => [...(isKnown ? inTables(choice, schemas) : []), ...unused(choice, uses)]);
  return found.slice(0, most);
}

function inTables(choice: NotebookChoice, schemas: readonly Schema[]): readonly Problem[] {
  if (choice.kind === "word") return [];
  const { name, column, columnRange } = choice;
  const columns = schemas.flatMap((schema) => schema.columns);
  const meant = columns.filter((each) => each.name === column);
  if (meant.length === 0) {
    const known = [...new Set(columns.map((each) => each.name))];
    const nearest = closestName(column, known);
    const fix = nearest === null ? {} : { fix: { title: `Change to ${nearest}`, edits: [{ range: columnRange, text: yamlScalar(nearest, "flow") }] } };
    return [problem("nb.choice-column", { name, column, nearest: nearest ?? undefined, known }, columnRange, fix)];
  }
  if (choice.kind !== "values" || choice.values === null || meant.some(({ values, kind }) => kind !== "text" || values === undefined)) return [];
  const known = [...new Set(meant.flatMap(({ values }) => values ?? []))];
  return choice.values.flatMap(({ text, range }) => {
    if (known.includes(text)) return [];
    const nearest = closestName(text, known);
    const fix = nearest === null ? {} : { fix: { title: `Change to ${nearest}`, edits: [{ range, text: yamlScalar(nearest, "flow") }] } };
    return [problem("nb.choice-value", { name, column, value: text, nearest: nearest ?? undefined, known }, range, fix)];
  });
}

function unused({ name, nameRange, kind }: NotebookChoice, uses: readonly References[]): readonly Problem[] {
  if (uses.some(({ choices, allChoices }) => (allChoices && kind !== "word") || choices.some((use) => use.name === name))) return [];
  return [problem("nb.choice-unused", { name, how: kind === "word" ? `chosen.${name}` : `shots.choose("${name}")` }, nameRange)];
}
