import { isRecord } from "../is-record";
import { boundText, chosenInWords, type Bound, type NotebookChoice, type RangeChoice } from "../notebook/choice";
import { units, type Unit } from "../units";
import { unitLabel } from "./format-number";
import { inert } from "./show-value";

/** The mime type of the controls of a notebook's choices. */
export const choicesMime = "application/vnd.fairstrike.choices+json";

/** Boxes that a choice of values may have; of more values, or of values that are not known, one is chosen from a list. */
export const mostBoxes = 12;

/** Values to tick; `values` is `null` where they are too many for boxes or not known. */
export interface ValuesControl {
  readonly kind: "values";
  readonly name: string;
  readonly column: string;
  readonly values: readonly string[] | null;
  /** What is let through; `null` for any. */
  readonly chosen: readonly string[] | null;
  /** Values that are chosen and not in the data. */
  readonly absent: readonly string[];
}

/** Two bounds, as a person types them: without a unit they are in that of the control; empty for none. */
export interface RangeControl {
  readonly kind: "range";
  readonly name: string;
  readonly column: string;
  readonly from: string;
  readonly to: string;
  readonly unit: Unit | null;
  /** The least and the greatest number that is there, in words, such as `132.4 to 171.2 yd`; `null` where not known. */
  readonly found: string | null;
}

/** One word among some. */
export interface WordControl {
  readonly kind: "word";
  readonly name: string;
  readonly among: readonly string[];
  readonly word: string;
}

/** A control of one choice. */
export type ChoiceControl = ValuesControl | RangeControl | WordControl;

/** The controls of a notebook's choices, as an output holds them. */
export interface ChoicesPayload {
  readonly type: "choices";
  readonly choices: readonly ChoiceControl[];
}

/** What the data are known to hold for a choice; `null` for what is not known. The range is in `unit`. */
export interface FoundForChoice {
  readonly name: string;
  readonly values: readonly string[] | null;
  readonly range: { readonly low: number; readonly high: number } | null;
  readonly unit: Unit | null;
}

/** The controls of choices, in their order. */
export function controlsOf(choices: readonly NotebookChoice[], found: readonly FoundForChoice[]): ChoicesPayload {
  return { type: "choices", choices: choices.map((choice) => controlOf(choice, found.find(({ name }) => name === choice.name))) };
}

function controlOf(choice: NotebookChoice, found: FoundForChoice | undefined): ChoiceControl {
  const { name } = choice;
  switch (choice.kind) {
    case "word":
      return { kind: "word", name, among: choice.among, word: choice.word };
    case "values": {
      const chosen = choice.values?.map(({ text }) => text) ?? null;
      const there = found?.values ?? null;
      const absent = there === null ? [] : (chosen ?? []).filter((value) => !there.includes(value));
      const values = there === null ? null : [...new Set([...there, ...absent])];
      return { kind: "values", name, column: choice.column, values: values === null || values.length === 0 || values.length > mostBoxes ? null : values, chosen, absent };
    }
    case "range": {
      const unit = unitOfRange(choice, found?.unit ?? null);
      return { kind: "range", name, column: choice.column, from: boundField(choice.from, unit), to: boundField(choice.to, unit), unit, found: foundInWords(found) };
    }
  }
}

/** The unit of bounds that are typed without one: that of the bounds that are written, or the column's. */
export function unitOfRange({ from, to }: RangeChoice, column: Unit | null): Unit | null {
  for (const bound of [from, to]) if (bound !== null && typeof bound !== "number") return bound.unit;
  return column;
}

function boundField(bound: Bound | null, unit: Unit | null): string {
  if (bound === null) return "";
  return typeof bound === "number" || bound.unit !== unit ? boundText(bound) : String(bound.value);
}

/** Rounded outwards, so that what is there lies within. */
function foundInWords(found: FoundForChoice | undefined): string | null {
  if (found?.range === null || found === undefined) return null;
  const { range: { low, high }, unit } = found;
  return `${Math.floor(low * 10) / 10} to ${Math.ceil(high * 10) / 10}${unit === null ? "" : ` ${unitLabel(unit)}`}`;
}

/** What is chosen, as text, a line a choice. */
export function choicesText(choices: readonly NotebookChoice[]): string {
  return choices.map((choice) => `${inert(choice.name)} = ${inert(chosenInWords(choice))}${choice.kind === "word" ? ` (one of ${choice.among.map(inert).join(", ")})` : ` (${inert(choice.column)})`}`).join("\n");
}

/** Choices that an output may bring at most, and values of one. */
const mostListed = 1000;

/** The controls in a value that another program may have written; `null` when anything in it is of the wrong sort. */
export function readChoicesPayload(value: unknown): ChoicesPayload | null {
  if (!isRecord(value) || value["type"] !== "choices" || !Array.isArray(value["choices"]) || value["choices"].length > mostListed) return null;
  const choices = value["choices"].map(readControl);
  return choices.includes(null) ? null : { type: "choices", choices: choices.filter((each) => each !== null) };
}

function readControl(value: unknown): ChoiceControl | null {
  if (!isRecord(value)) return null;
  const { kind, name, column, values, chosen, absent, from, to, unit, found, among, word } = value;
  if (typeof name !== "string") return null;
  if (kind === "word") return isTexts(among) && typeof word === "string" ? { kind, name, among, word } : null;
  if (typeof column !== "string") return null;
  if (kind === "values") return isTextsOrNull(values) && isTextsOrNull(chosen) && isTexts(absent) ? { kind, name, column, values, chosen, absent } : null;
  if (kind !== "range" || typeof from !== "string" || typeof to !== "string" || (found !== null && typeof found !== "string")) return null;
  if (unit !== null && !(typeof unit === "string" && Object.hasOwn(units, unit))) return null;
  return { kind, name, column, from, to, unit: unit as Unit | null, found };
}

function isTexts(value: unknown): value is readonly string[] {
  return Array.isArray(value) && value.length <= mostListed && value.every((each) => typeof each === "string");
}

function isTextsOrNull(value: unknown): value is readonly string[] | null {
  return value === null || isTexts(value);
}
