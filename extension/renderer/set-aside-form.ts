import type { PayloadValue, TablePayload } from "../../core/present/payload";
import { shotPicker, type ShotPicker, type WhatAside } from "../../core/present/pick-shots";
import type { SetAsideAnswer, SetAsideMessage } from "../../core/present/set-aside-message";
import { makeButton, makeElement } from "./make-element";

/** Sends what is to be set aside, and gives what became of it. */
export type SetAside = (files: SetAsideMessage["files"]) => Promise<SetAsideAnswer>;

/** The part of a table view in which a person chooses shots and sets them aside with a reason. */
export interface SetAsideForm {
  /** Turns choosing on and off. */
  readonly button: HTMLElement;
  /** Column, reason and the button that sends; hidden while nothing is chosen from. */
  readonly form: HTMLElement;
  /** The first cell of the row of headings while shots are chosen; `null` while not. */
  readonly head: (rows: readonly (readonly PayloadValue[])[]) => HTMLElement | null;
  /** The first cell of a row while shots are chosen; `null` while not. */
  readonly cell: (row: readonly PayloadValue[]) => HTMLElement | null;
}

/**
 * The form for a table whose rows are shots kept in session files; `null` for any other.
 *
 * @param redraw draws the table again, with or without the boxes.
 */
export function makeSetAsideForm(table: TablePayload, setAside: SetAside, redraw: () => void): SetAsideForm | null {
  const picker = shotPicker(table);
  if (picker === null) return null;
  const chosen = new Set<readonly PayloadValue[]>();
  let isOpen = false;
  let boxes: { readonly row: readonly PayloadValue[]; readonly box: HTMLInputElement }[] = [];
  let last = -1;

  const what = makeElement("select", "fairstrike-field", {}, ...picker.choices.map((choice) => makeElement("option", "", { attributes: { value: choice } }, inWords(choice))));
  const because = makeElement("input", "fairstrike-field fairstrike-reason", { attributes: { type: "text", "aria-required": "true", maxlength: "300" } });
  const status = makeElement("span", "", { attributes: { role: "status" } });
  const send = makeElement("button", "fairstrike-button", { attributes: { type: "submit" } });
  const form = makeElement(
    "form", "fairstrike-bar fairstrike-form", { on: { submit: (event) => void submit(event) } },
    makeElement("label", "", {}, "Set aside ", what),
    makeElement("label", "", {}, "because ", because),
    send,
    status,
  );
  form.hidden = true;
  const button = makeButton("Set shots aside", "fairstrike-link", () => {
    isOpen = !isOpen;
    button.setAttribute("aria-pressed", String(isOpen));
    form.hidden = !isOpen;
    redraw();
    tell();
  });
  button.setAttribute("aria-pressed", "false");

  function tell(): void {
    const count = chosen.size;
    send.textContent = count === 0 ? "Choose shots in the table" : `Set aside in ${count} ${count === 1 ? "row" : "rows"}`;
    send.disabled = count === 0;
  }

  async function submit(event: Event): Promise<void> {
    event.preventDefault();
    const reason = because.value.trim();
    if (reason === "") {
      status.textContent = "Write a reason: it is kept beside the values.";
      because.focus();
      return;
    }
    send.disabled = true;
    const rows = table.rows.filter((row) => chosen.has(row));
    const answer = await setAside(picker!.requests(rows, what.value as WhatAside, reason));
    status.textContent = answer.text;
    if (answer.done) {
      chosen.clear();
      redraw();
    }
    tell();
  }

  function makeBox(label: string, isChecked: boolean): HTMLInputElement {
    const box = makeElement("input", "", { attributes: { type: "checkbox", "aria-label": label } });
    box.checked = isChecked;
    return box;
  }

  function choose(row: readonly PayloadValue[], isChosen: boolean): void {
    if (isChosen) chosen.add(row);
    else chosen.delete(row);
  }

  tell();
  return {
    button,
    form,
    head: (rows) => {
      boxes = [];
      last = -1;
      if (!isOpen) return null;
      const able = rows.filter((row) => picker.canPick(row));
      const all = makeBox("all rows", able.length > 0 && able.every((row) => chosen.has(row)));
      all.addEventListener("change", () => {
        for (const row of able) choose(row, all.checked);
        for (const { row, box } of boxes) box.checked = chosen.has(row);
        tell();
      });
      return makeElement("th", "fairstrike-box", { attributes: { scope: "col" } }, all);
    },
    cell: (row) => (isOpen ? boxCell(row) : null),
  };

  function boxCell(row: readonly PayloadValue[]): HTMLElement {
    const own: ShotPicker = picker!;
    if (!own.canPick(row)) return makeElement("td", "fairstrike-box", {});
    const box = makeBox(own.nameOf(row), chosen.has(row));
    const at = boxes.push({ row, box }) - 1;
    box.addEventListener("click", (event) => {
      // With Shift everything between the last box that was clicked and this one.
      const from = event.shiftKey && last >= 0 ? Math.min(last, at) : at;
      const to = event.shiftKey && last >= 0 ? Math.max(last, at) : at;
      for (const each of boxes.slice(from, to + 1)) {
        each.box.checked = box.checked;
        choose(each.row, box.checked);
      }
      last = at;
      tell();
    });
    return makeElement("td", "fairstrike-box", {}, box);
  }
}

function inWords(what: WhatAside): string {
  switch (what) {
    case "doubted":
      return "the doubted values";
    case "all":
      return "every reading of the shots";
    default:
      return what.replaceAll("_", " ");
  }
}
