import type { NotebookChoice } from "../notebook/choice";
import type { References } from "./references";

/** The choices that a cell uses itself, each once, in the order of the front matter. */
export function usedChoices({ choices, allChoices }: Pick<References, "choices" | "allChoices">, all: readonly NotebookChoice[]): readonly NotebookChoice[] {
  return all.filter(({ name, kind }) => (allChoices && kind !== "word") || choices.some((use) => use.name === name));
}
