import { boundText, chosenInWords, type NotebookChoice } from "../../core/notebook/choice";
import { choiceKeyHelp } from "../../core/notebook/read-choices";
import { isShotColumn, shotColumns } from "../../core/table/shot-columns";
import { betweenNumbers, nameInCode, namesInCode, sentence } from "./column-hover";
import { foundFor } from "./found-choice";
import { asCode, escaped } from "./markdown";
import type { NotebookView } from "./notebook-view";
import type { SessionPlace } from "./session-place";

/** What a choice of the front matter is of, what is chosen now, what it accepts and how a cell uses it, in Markdown. */
export function choiceMarkdown(view: NotebookView, name: string): string {
  const choice = view.notebook.front.choices.find((each) => each.name === name);
  if (choice === undefined) return `**${nameInCode(name)}**: the front matter has no choice of this name that can be read.`;
  const use = choice.kind === "word" ? `chosen.${name}` : `.choose("${name}")`;
  const lines = [`Now: ${nowInCode(choice)}.`, `Accepts ${acceptedBy(choice, view)}.`, `In a cell: ${asCode(use)}`];
  return [`**${nameInCode(name)}**, a choice of the front matter, ${whatOf(choice)}`, ...columnHelp(choice), lines.join("  \n")].join("\n\n");
}

/** What is known of a place below `choose`: the choice itself, or what one of its keys says. */
export function choicePlaceMarkdown(view: NotebookView, { path, role, scalar }: SessionPlace): string | null {
  const [, name] = path;
  if (role === "key" && path.length === 1) return choiceMarkdown(view, scalar.text);
  if (typeof name !== "string") return null;
  const help: Readonly<Record<string, string>> = choiceKeyHelp;
  if (role !== "key" || path.length !== 2) return choiceMarkdown(view, name);
  return Object.hasOwn(help, scalar.text) ? `**${asCode(scalar.text)}**: ${escaped(sentence(help[scalar.text]!))}` : null;
}

function whatOf(choice: NotebookChoice): string {
  return choice.kind === "word" ? "of one word among several" : `of rows by the column ${nameInCode(choice.column)}`;
}

function columnHelp(choice: NotebookChoice): readonly string[] {
  return choice.kind !== "word" && isShotColumn(choice.column) ? [escaped(sentence(shotColumns[choice.column].description))] : [];
}

function nowInCode(choice: NotebookChoice): string {
  if (choice.kind !== "values") return nameInCode(chosenInWords(choice));
  return choice.values === null ? "any row" : namesInCode(choice.values.map(({ text }) => text));
}

function acceptedBy(choice: NotebookChoice, view: NotebookView): string {
  if (choice.kind === "word") return `one of ${namesInCode(choice.among)}`;
  const { values, range, unit } = foundFor(choice, view);
  const held = range === null ? "" : `; the rows hold ${betweenNumbers(range.low, range.high, unit)}`;
  if (choice.kind === "values") return `any, one value or a list of values${values === null || values.length === 0 ? held : `: ${namesInCode(values)}`}`;
  const bound = [choice.from, choice.to].find((each) => each !== null);
  const example = bound === undefined ? "" : `, written as ${nameInCode(boundText(bound))}`;
  return `from and to, either of which can be left out${example}${held}`;
}
