import type { FormCell, FormChoice, FormField, FormPart } from "../../core/present/form-message";
import { makeElement } from "../renderer/make-element";

type Control = HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement;

/** What is filled in so far, and what is told when it changes. */
export interface Filling {
  readonly valueOf: (id: string) => string;
  readonly changed: (id: string, value: string) => void;
  /** Calls `tell` whenever something was filled in, and once at the beginning. */
  readonly follow: (tell: () => void) => void;
}

/** Returns a part of a form. */
export function makePart(part: FormPart, filling: Filling): HTMLElement {
  if (part.kind === "words") return makeElement("p", "", {}, part.text);
  if (part.kind === "fields") return makeFields(part.title, part.fields, filling);
  return makeTable(part, filling);
}

/** Returns fields that belong together under their title. */
export function makeFields(title: string, fields: readonly FormField[], filling: Filling): HTMLElement {
  return makeElement(
    "fieldset",
    "",
    {},
    makeElement("legend", title === "" ? "unseen" : "", {}, title),
    makeElement("div", "fields", {}, ...fields.map((field) => makeField(field, filling))),
  );
}

/** A control with its label, its help and a place for what is wrong with it, tied together for screen readers. */
function makeField(field: FormField, filling: Filling): HTMLElement {
  const { id, label, help, kind } = field;
  const control = makeControl(field, filling);
  control.setAttribute("aria-describedby", `${help === undefined ? "" : `${id}-help `}${id}-error`);
  const parts = [
    makeElement("label", "", { attributes: { for: id } }, label),
    control,
    ...(help === undefined ? [] : [makeElement("span", "quiet", { attributes: { id: `${id}-help` } }, help)]),
    errorPlace(id),
  ];
  return shownWhile(field, filling, makeElement("div", kind === "lines" ? "field wide" : "field", {}, ...parts));
}

/** Hides an element while its field is not asked for. */
function shownWhile({ only }: FormField, { valueOf, follow }: Filling, element: HTMLElement): HTMLElement {
  if (only !== undefined) follow(() => (element.hidden = !only.values.includes(valueOf(only.field))));
  return element;
}

function makeControl({ id, kind, choices = [] }: FormField, { valueOf, changed }: Filling): Control {
  const control = kind === "choice" ? makeElement("select", "", {}) : makeElement(kind === "lines" ? "textarea" : "input", "", { attributes: { spellcheck: "false", autocomplete: "off" } });
  control.id = id;
  if (control instanceof HTMLSelectElement) control.append(...makeChoices(choices));
  control.value = valueOf(id);
  control.addEventListener("input", () => changed(id, control.value));
  return control;
}

function makeChoices(choices: readonly FormChoice[]): HTMLElement[] {
  const groups = new Map<string, HTMLElement>();
  return choices.flatMap(({ value, label, group }) => {
    const option = makeElement("option", "", { attributes: { value } }, label);
    if (group === undefined) return [option];
    const there = groups.get(group);
    const element = there ?? makeElement("optgroup", "", { attributes: { label: group } });
    element.append(option);
    groups.set(group, element);
    return there === undefined ? [element] : [];
  });
}

function errorPlace(id: string): HTMLElement {
  return makeElement("span", "error", { attributes: { id: `${id}-error` } });
}

/** A table that can be scrolled by keyboard. The first cell of a row names it. */
function makeTable({ title, headings, rows }: Extract<FormPart, { kind: "table" }>, filling: Filling): HTMLElement {
  const heading = (text: string): HTMLElement => makeElement("th", "", { attributes: { scope: "col" } }, text);
  return makeElement(
    "div",
    "",
    {},
    makeElement("h3", "", {}, title),
    makeElement(
      "div",
      "scroll",
      { attributes: { tabindex: "0", role: "region", "aria-label": title } },
      makeElement(
        "table",
        "",
        {},
        makeElement("thead", "", {}, makeElement("tr", "", {}, ...headings.map((text) => heading(text)))),
        makeElement("tbody", "", {}, ...rows.map((row) => makeElement("tr", "", {}, ...row.map((cell, index) => makeCell(cell, index === 0, filling))))),
      ),
    ),
  );
}

function makeCell(cell: FormCell, isFirst: boolean, filling: Filling): HTMLElement {
  if ("field" in cell) {
    const control = makeControl(cell.field, filling);
    // Row and column name it for the eye.
    control.setAttribute("aria-label", cell.field.label);
    control.setAttribute("aria-describedby", `${cell.field.id}-error`);
    return makeElement("td", "", {}, shownWhile(cell.field, filling, makeElement("div", "field", {}, control, errorPlace(cell.field.id))));
  }
  return isFirst ? makeElement("th", cell.as, { attributes: { scope: "row" } }, cell.text) : makeElement("td", cell.as, {}, cell.text);
}

/** Says at a control what is wrong with it, and at every other control nothing. */
export function showErrors(errors: ReadonlyMap<string, string>): void {
  for (const control of document.querySelectorAll("input, select, textarea")) {
    const error = errors.get(control.id);
    if (error === undefined) control.removeAttribute("aria-invalid");
    else control.setAttribute("aria-invalid", "true");
    const place = document.querySelector(`#${CSS.escape(`${control.id}-error`)}`);
    if (place !== null && place.textContent !== (error ?? "")) place.textContent = error ?? "";
  }
}
