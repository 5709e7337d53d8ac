import type { ChoiceControl, ChoicesPayload, RangeControl, ValuesControl, WordControl } from "../../core/present/choice-controls";
import type { ChooseAnswer, WantedChoice } from "../../core/present/choice-message";
import { unitLabel } from "../../core/present/format-number";
import { inert } from "../../core/present/show-value";
import { makeButton, makeElement } from "./make-element";

/** Sends what a person chose, and gives what became of it. */
export type Choose = (name: string, wanted: WantedChoice) => Promise<ChooseAnswer>;

/** What one control is made with. */
interface Parts {
  readonly send: (wanted: WantedChoice, control: HTMLElement) => void;
  /** The key by which a control is found again when all of them are drawn anew. */
  readonly key: (part: string) => string;
}

const keyAttribute = "data-fairstrike-key";

/**
 * Returns the controls of a notebook's choices: boxes for values, two fields for bounds, radio buttons for words.
 *
 * @param choose `null` where the extension cannot be reached: then the controls only tell what is chosen.
 */
export function makeChoiceView({ choices }: ChoicesPayload, choose: Choose | null): HTMLElement {
  const status = makeElement("p", "fairstrike-unseen", { attributes: { role: "status" } });
  const place = makeElement("div", "fairstrike-choices", {}, ...choices.map((control) => made(control)));
  return makeElement("section", "", { attributes: { "aria-label": "Choices" } }, place, status);

  function made(control: ChoiceControl): HTMLElement {
    const legend = control.kind === "word" || control.name === control.column ? control.name : `${control.name}: ${control.column}`;
    const fieldset = makeElement("fieldset", "fairstrike-choice", {}, makeElement("legend", "", {}, inert(legend)), ...contentOf(control, {
      key: (part) => `${control.name}\n${part}`,
      send: (wanted, origin) => void send(control, fieldset, wanted, origin),
    }));
    fieldset.disabled = choose === null;
    return fieldset;
  }

  async function send(control: ChoiceControl, fieldset: HTMLElement, wanted: WantedChoice, origin: HTMLElement): Promise<void> {
    if (choose === null) return;
    const answer = await choose(control.name, wanted);
    // What was done is seen in the controls; whoever hears them is told.
    status.className = answer.done ? "fairstrike-unseen" : "fairstrike-notice";
    status.textContent = inert(answer.text);
    if (answer.done || !fieldset.isConnected) return;
    // A bound that cannot be read stays for the person to mend; anything else is as it was.
    if (control.kind === "range") {
      origin.setAttribute("aria-invalid", "true");
      return;
    }
    const key = origin.getAttribute(keyAttribute);
    const again = made(control);
    fieldset.replaceWith(again);
    focusOn(again, key);
  }
}

/** The key of the control that has the focus within an element; `null` where none has. */
export function focusedKey(element: HTMLElement): string | null {
  const active = (element.getRootNode() as Document | ShadowRoot).activeElement;
  return active !== null && element.contains(active) ? active.getAttribute(keyAttribute) : null;
}

/** Puts the focus on the control with this key, if it is there. */
export function focusOn(element: HTMLElement, key: string | null): void {
  if (key === null) return;
  const found = [...element.querySelectorAll<HTMLElement>(`[${keyAttribute}]`)].find((each) => each.getAttribute(keyAttribute) === key);
  found?.focus({ preventScroll: true });
}

function contentOf(control: ChoiceControl, parts: Parts): readonly HTMLElement[] {
  switch (control.kind) {
    case "values":
      return valuesContent(control, parts);
    case "range":
      return rangeContent(control, parts);
    case "word":
      return wordContent(control, parts);
  }
}

function valuesContent({ name, values, chosen, absent }: ValuesControl, { send, key }: Parts): readonly HTMLElement[] {
  if (values === null) {
    const now = chosen === null ? "any" : chosen.map(inert).join(", ");
    const button = makeButton("Change…", "fairstrike-link", () => send({ kind: "list" }, button));
    button.setAttribute("aria-label", `Change ${inert(name)}…`);
    button.setAttribute(keyAttribute, key("list"));
    return [makeElement("span", "", {}, now), button];
  }
  const boxes = values.map((value) => {
    const box = makeElement("input", "", { attributes: { type: "checkbox", [keyAttribute]: key(`is ${value}`) }, on: { change: () => send({ kind: "values", values: values.filter((_, index) => boxes[index]!.checked) }, box) } });
    box.checked = chosen === null || chosen.includes(value);
    return box;
  });
  return values.map((value, index) => makeElement("label", "", {}, boxes[index]!, absent.includes(value) ? `${inert(value)} (not in the data)` : inert(value)));
}

function wordContent({ name, among, word }: WordControl, { send, key }: Parts): readonly HTMLElement[] {
  const group = `fairstrike ${nextGroup++} ${name}`;
  return among.map((each) => {
    const radio = makeElement("input", "", { attributes: { type: "radio", name: group, [keyAttribute]: key(`is ${each}`) }, on: { change: () => send({ kind: "word", word: each }, radio) } });
    radio.checked = each === word;
    return makeElement("label", "", {}, radio, inert(each));
  });
}

/** Groups of radio buttons are numbered through the page, so that none takes a button from another. */
let nextGroup = 1;

function rangeContent({ name, from, to, unit, found }: RangeControl, { send, key }: Parts): readonly HTMLElement[] {
  const made = (words: string, value: string): HTMLInputElement => {
    const field = makeElement("input", "fairstrike-field fairstrike-bound", { attributes: { type: "text", inputmode: "decimal", maxlength: "40", placeholder: "any", "aria-label": `${inert(name)}, ${words}${unit === null ? "" : ` in ${unitLabel(unit)}`}`, [keyAttribute]: key(words) } });
    field.value = value;
    field.addEventListener("input", () => field.removeAttribute("aria-invalid"));
    field.addEventListener("change", () => send({ kind: "range", from: lower.value, to: upper.value }, field));
    return field;
  };
  const lower = made("at least", from);
  const upper = made("at most", to);
  const label = makeElement("span", "", {}, lower, " to ", upper, unit === null ? "" : ` ${unitLabel(unit)}`);
  return found === null ? [label] : [label, makeElement("span", "fairstrike-small", {}, `there: ${inert(found)}`)];
}
