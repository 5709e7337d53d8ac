import type { TextRange } from "../text-position";
import { convert, isConvertible, type Measure } from "../units";

/** What every named choice of the front matter has. */
interface Named {
  readonly name: string;
  /** In the front matter's text. */
  readonly nameRange: TextRange;
}

/** One value of a choice, as text, with its place in the front matter. */
export interface ChosenValue {
  readonly text: string;
  readonly range: TextRange;
}

/** Rows that have one of some values in a column; `values` is `null` where any will do, a missing one too. */
export interface ValuesChoice extends Named {
  readonly kind: "values";
  readonly column: string;
  readonly columnRange: TextRange;
  readonly values: readonly ChosenValue[] | null;
}

/** Rows whose number in a column lies between bounds, both included; a bound is `null` where there is none. */
export interface RangeChoice extends Named {
  readonly kind: "range";
  readonly column: string;
  readonly columnRange: TextRange;
  readonly from: Bound | null;
  readonly to: Bound | null;
}

/** A bound: a number with its unit, or a plain one of a column without a unit. */
export type Bound = Measure | number;

/** One word among several, which stands in a cell as `chosen.NAME`. */
export interface WordChoice extends Named {
  readonly kind: "word";
  readonly among: readonly string[];
  readonly word: string;
}

/** A named choice of the front matter: a condition on rows, or a word. */
export type NotebookChoice = ValuesChoice | RangeChoice | WordChoice;

/** What is chosen, for a reader: `Wren, Heron`, `120 yd to 180 yd`, `carry`. */
export function chosenInWords(choice: NotebookChoice): string {
  switch (choice.kind) {
    case "values":
      return choice.values === null ? "any" : choice.values.map(({ text }) => valueInWords(text)).join(", ");
    case "range": {
      const { from, to } = choice;
      if (from === null && to === null) return "any";
      if (to === null) return `from ${boundText(from!)}`;
      return from === null ? `to ${boundText(to)}` : `${boundText(from)} to ${boundText(to)}`;
    }
    case "word":
      return choice.word;
  }
}

/** A choice by its name, with what is chosen: `head = Wren, Heron`. */
export function choiceInWords(choice: NotebookChoice): string {
  return `${choice.name} = ${chosenInWords(choice)}`;
}

/** The same for a reader who does not see the front matter: the column stands beside a name that is another word, `window (carry) = from 120 yd`. */
export function choiceWithColumn(choice: NotebookChoice): string {
  const { name } = choice;
  const of = choice.kind === "word" || choice.column === name ? "" : ` (${choice.column})`;
  return `${name}${of} = ${chosenInWords(choice)}`;
}

/** A value as it reads in a list; in quotes where it would read as `any`, as nothing, or as two. */
function valueInWords(text: string): string {
  return text === "any" || text.trim() !== text || text === "" || /[,;]/u.test(text) ? JSON.stringify(text) : text;
}

/** True where the lower bound is above the other, so that no number lies between them. Bounds in units of two kinds are in no order. */
export function isUpsideDown(from: Bound, to: Bound): boolean {
  if (typeof from === "number" || typeof to === "number") return typeof from === "number" && typeof to === "number" && from > to;
  if (!isConvertible(from.unit, to.unit)) return false;
  // A bound may be the other one in another unit, but for its last digit.
  return convert(from.value, from.unit, to.unit) - to.value > 1e-9 * Math.abs(to.value);
}

/** A bound as it is written in the front matter: `120 yd`. */
export function boundText(bound: Bound): string {
  return typeof bound === "number" ? String(bound) : `${bound.value} ${bound.unit}`;
}

/** All that a result can depend on in a choice, as text: equal where the choices let the same through. */
export function choiceText(choice: NotebookChoice): string {
  switch (choice.kind) {
    case "values":
      return JSON.stringify([choice.kind, choice.name, choice.column, choice.values?.map(({ text }) => text).sort() ?? null]);
    case "range":
      return JSON.stringify([choice.kind, choice.name, choice.column, choice.from, choice.to]);
    case "word":
      return JSON.stringify([choice.kind, choice.name, choice.word]);
  }
}
