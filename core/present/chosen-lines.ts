import type { CheckedNotebook } from "../check-notebook";
import { choiceWithColumn, type NotebookChoice } from "../notebook/choice";

/** The choices behind a cell's result, each once, in the order of the front matter. */
interface ChosenBehind {
  /** Those that the cell uses itself. */
  readonly own: readonly NotebookChoice[];
  /** Those of the cells whose results it uses, directly or not, but for its own. */
  readonly before: readonly NotebookChoice[];
}

/** What is chosen behind a cell's result, a sentence each for its own choices and for those of the cells that it uses; none where nothing is. */
export function chosenLines(checked: CheckedNotebook, index: number): readonly string[] {
  const { own, before } = chosenBehind(checked, index);
  const said = (choices: readonly NotebookChoice[]): string => choices.map(choiceWithColumn).join("; ");
  return [...(own.length === 0 ? [] : [`Chosen: ${said(own)}`]), ...(before.length === 0 ? [] : [`Chosen in the cells it uses: ${said(before)}`])];
}

/** The choices that a cell uses itself. */
export function chosenIn({ front, cells }: CheckedNotebook, index: number): readonly NotebookChoice[] {
  const names = new Set(cells[index]?.query?.chosen.map(({ name }) => name));
  return front.choices.filter(({ name }) => names.has(name));
}

function chosenBehind(checked: CheckedNotebook, index: number): ChosenBehind {
  const own = chosenIn(checked, index);
  const found = new Set<NotebookChoice>();
  const seen = new Set([index]);
  const waiting = [...(checked.cells[index]?.needs ?? [])];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    if (seen.has(next)) continue;
    seen.add(next);
    for (const choice of chosenIn(checked, next)) found.add(choice);
    waiting.push(...(checked.cells[next]?.needs ?? []));
  }
  return { own, before: checked.front.choices.filter((choice) => found.has(choice) && !own.includes(choice)) };
}
