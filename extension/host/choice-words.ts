import { boundText, choiceInWords, type NotebookChoice, type RangeChoice } from "../../core/notebook/choice";
import type { Choosing } from "../../core/notebook/choice-edit";
import type { WantedChoice } from "../../core/present/choice-message";
import { unitOfRange, type ChoiceControl } from "../../core/present/choice-controls";
import { convert, isConvertible, parseMeasure, type Unit } from "../../core/units";

/** The choices of a cell in a line: `Choices: head = Wren, Heron; window = any`. */
export function choicesLine(choices: readonly NotebookChoice[]): string {
  return `${choices.length === 1 ? "Choice" : "Choices"}: ${choices.map(choiceInWords).join("; ")}`;
}

/** A bound as a person types it, with the unit where it was left out; empty for none, or in words what would be accepted. */
export function typedBound(text: string, unit: Unit | null): { readonly ok: true; readonly bound: string | null } | { readonly ok: false; readonly because: string } {
  const written = text.trim();
  if (written === "") return { ok: true, bound: null };
  const isPlain = /^-?\d{1,15}(?:\.\d{1,15})?$/u.test(written);
  if (isPlain) return { ok: true, bound: unit === null ? written : `${written} ${unit}` };
  const measure = unit === null ? undefined : parseMeasure(written);
  if (measure !== undefined && isConvertible(measure.unit, unit!)) return { ok: true, bound: `${measure.value} ${measure.unit}` };
  return { ok: false, because: `Write a number${unit === null ? "" : ` in ${unit}`} with a decimal point, such as 120.5, or nothing for no bound` };
}

/** A bound as it is now, for a field: `120 yd`; empty for none. */
export function boundNow(choice: RangeChoice, end: "from" | "to"): string {
  const bound = choice[end];
  return bound === null ? "" : boundText(bound);
}

/** The unit in which the bounds of a choice are, as far as it is written. */
export function unitNow(choice: RangeChoice): Unit | null {
  return unitOfRange(choice, null);
}

/** Said where the lower bound is above the other. */
export const upsideDown = "The lower bound is above the upper one";

/** True unless both bounds are there, as `typedBound` gives them, and the lower one is above the other. */
export function areInOrder(from: string | null, to: string | null): boolean {
  if (from === null || to === null) return true;
  const [low, high] = [parseMeasure(from), parseMeasure(to)];
  if (low === undefined || high === undefined) return Number(from) <= Number(to);
  return convert(low.value, low.unit, high.unit) <= high.value;
}

/** What a control asks for, as it is to be written; or in words why that cannot be. */
export type ReadWanted = { readonly choosing: Choosing } | { readonly because: string };

/** Reads what a person wants of a control. Values and words that the control did not offer are refused. */
export function choosingOf(control: ChoiceControl, wanted: Exclude<WantedChoice, { kind: "list" }>): ReadWanted {
  if (control.kind === "values" && wanted.kind === "values" && control.values !== null) {
    const ticked = control.values.filter((value) => wanted.values.includes(value));
    if (ticked.length < wanted.values.length) return { because: `${control.name} has other values now` };
    if (ticked.length === 0) return { because: "tick at least one value" };
    return { choosing: { kind: "values", values: ticked.length === control.values.length ? null : ticked } };
  }
  if (control.kind === "word" && wanted.kind === "word" && control.among.includes(wanted.word)) return { choosing: wanted };
  if (control.kind !== "range" || wanted.kind !== "range") return { because: `${control.name} is another choice now` };
  const [from, to] = [typedBound(wanted.from, control.unit), typedBound(wanted.to, control.unit)];
  if (!from.ok) return { because: lowered(from.because) };
  if (!to.ok) return { because: lowered(to.because) };
  if (!areInOrder(from.bound, to.bound)) return { because: lowered(upsideDown) };
  return { choosing: { kind: "range", from: from.bound, to: to.bound } };
}

function lowered(sentence: string): string {
  return sentence.charAt(0).toLowerCase() + sentence.slice(1);
}
