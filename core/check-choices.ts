import { closestName } from "./closest-name";
import type { NotebookChoice } from "./notebook/choice";
import { chosenScalar } from "./notebook/choice-edit";
import { problem, type Problem } from "./problem";
import type { ChosenHere } from "./query/check-row";
import type { References } from "./query/references";
import type { Schema } from "./table/schema";
import { yamlScalar } from "./yaml-scalar";

/** What choices are checked against. */
export interface ChoiceSurroundings {
  /** What the cells name, whether or not they can run. */
  readonly uses: readonly References[];
  /** The choices that cells use, with what is known of the tables there. */
  readonly chosen: readonly ChosenHere[];
  /** What is known of the tables that cells can name, by their names; `null` while the shots are not known. */
  readonly schemas: ReadonlyMap<string, Schema> | null;
  /** The most problems. */
  readonly most: number;
}

/**
 * What is wrong with the choices of the front matter: columns that no table has, values that no row has, and choices that
 * no cell uses.
 */
export function checkChoices(choices: readonly NotebookChoice[], around: ChoiceSurroundings): readonly Problem[] {
  return choices.flatMap((choice) => [...inTables(choice, around), ...unused(choice, around.uses)]).slice(0, around.most);
}

function inTables(choice: NotebookChoice, { schemas, chosen }: ChoiceSurroundings): readonly Problem[] {
  if (choice.kind === "word" || schemas === null || schemas.size === 0) return [];
  const { name, column, columnRange } = choice;
  const columns = [...schemas.values()].flatMap((schema) => schema.columns);
  const here = chosen.filter((each) => each.name === name);
  if (here.length === 0 && !columns.some((each) => each.name === column)) {
    if ([...schemas.values()].some(({ open }) => open)) return [];
    const known = [...new Set(columns.map((each) => each.name))];
    const nearest = closestName(column, known);
    const fix = nearest === null ? {} : { fix: { title: `Change to ${nearest}`, edits: [{ range: columnRange, text: yamlScalar(nearest, "flow") }] } };
    return [problem("nb.choice-column", { name, column, nearest: nearest ?? undefined, known }, columnRange, fix)];
  }
  const known = choice.kind === "values" ? knownValues(column, schemas, here) : null;
  if (choice.kind !== "values" || choice.values === null || known === null) return [];
  return choice.values.flatMap(({ text, range }) => {
    if (known.includes(text)) return [];
    const nearest = closestName(text, known);
    const fix = nearest === null ? {} : { fix: { title: `Change to ${nearest}`, edits: [{ range, text: chosenScalar(nearest) }] } };
    return [problem("nb.choice-value", { name, column, value: text, nearest: nearest ?? undefined, known }, range, fix)];
  });
}

/**
 * The values that a text column has in the tables that a choice is used on, or in any other where they are known; of a choice
 * that no cell uses, those of the shots. `null` where they are not all known.
 *
 * A table that only shows some values of another, as an answer by head does, has none that are known and is not asked.
 */
function knownValues(column: string, schemas: ReadonlyMap<string, Schema>, here: readonly ChosenHere[]): readonly string[] | null {
  const inTable = (schema: Schema | undefined): readonly string[] | null => schema?.columns.find(({ name, kind }) => name === column && kind === "text")?.values ?? null;
  const asked = here.length > 0 ? here.map(({ values }) => values) : [inTable(schemas.get("shots"))];
  if (asked.includes(null)) return null;
  return [...new Set([...asked, ...[...schemas.values()].map(inTable)].flatMap((values) => values ?? []))].sort();
}

function unused({ name, nameRange, kind }: NotebookChoice, uses: readonly References[]): readonly Problem[] {
  if (uses.some(({ choices, allChoices }) => (allChoices && kind !== "word") || choices.some((use) => use.name === name))) return [];
  return [problem("nb.choice-unused", { name, how: kind === "word" ? `chosen.${name}` : `shots.choose("${name}")` }, nameRange)];
}
