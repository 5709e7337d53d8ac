import type { Form, FormResult, OpenItem } from "../../core/present/form-message";
import { makeButton, makeElement } from "../renderer/make-element";
import { makeFields, showErrors, type Filling } from "./form-parts";

/** The last part of a form: what is still open, what will be written and what that gives, and the button that writes it. */
export interface FinishSection {
  readonly element: HTMLElement;
  /** Something was filled in that was not looked at yet. */
  readonly wait: () => void;
  /** Shows what the answers given so far lead to. */
  readonly show: (open: readonly OpenItem[], result: FormResult | null) => void;
  /** Says why nothing was written. */
  readonly fail: (text: string) => void;
}

/** What the answers are known to be: not looked at since the last one, with something open, complete, or being written. */
type State = "waiting" | "open" | "complete" | "writing";

/**
 * Makes the last part of a form. `finish` is called when the button is pressed, also while the last answer was not looked
 * at yet, so that no press is lost: whoever is told looks at the answers first.
 */
export function makeFinishSection({ label, fields, preview: title }: Form["finish"], filling: Filling, finish: () => void): FinishSection {
  let state: State = "waiting";
  const open = makeElement("div", "open", { attributes: { id: "open", role: "status" } }, "Looking …");
  const given = makeElement("div", "", { attributes: { "aria-live": "polite" } });
  const preview = makeElement("pre", "", { attributes: { tabindex: "0", role: "region", "aria-label": title } });
  const failure = makeElement("p", "error", { attributes: { role: "alert" } });
  const leadToOpen = (): void => open.querySelector("button")?.focus();
  const become = (next: State): void => {
    state = next;
    button.setAttribute("aria-disabled", String(state === "open" || state === "writing"));
    button.textContent = state === "writing" ? "Writing …" : label;
  };
  // It can be reached while something is open, and leads there then.
  const button = makeButton(label, "", () => {
    if (state === "open") leadToOpen();
    if (state === "open" || state === "writing") return;
    become("writing");
    finish();
  });
  button.setAttribute("aria-describedby", "open");
  become("waiting");
  const element = makeElement(
    "section",
    "",
    {},
    makeElement("h2", "", {}, "Write"),
    makeFields("", fields, filling),
    open,
    given,
    makeElement("div", "bar", {}, button),
    failure,
    makeElement("h3", "", {}, title),
    preview,
  );
  return {
    element,
    wait() {
      if (state !== "writing") become("waiting");
    },
    show(items, result) {
      const wasPressed = state === "writing";
      const isComplete = items.length === 0 && result !== null;
      become(isComplete ? "complete" : "open");
      failure.textContent = "";
      const words = isComplete ? "✓ Nothing is open: the files can be written." : `⚠ Still open: ${items.length}`;
      const list = items.length === 0 ? [] : [makeElement("ul", "", {}, ...items.map((item) => makeElement("li", "", {}, linkTo(item))))];
      fill(open, [words, items], () => [makeElement("strong", "", {}, words), ...list]);
      open.className = isComplete ? "open none" : "open";
      fill(given, result, () => (result === null ? [] : givenParts(result)));
      preview.textContent = result?.text ?? "The file's text is shown here when every question above has its answer.";
      // Of several things wrong with a field the first is said there.
      showErrors(new Map(items.flatMap(({ field, text: wrong }) => (field === null ? [] : [[field, wrong] as const])).toReversed()));
      if (wasPressed && !isComplete) leadToOpen();
    },
    fail(text) {
      become("complete");
      failure.textContent = text;
    },
  };
}

/** Fills an element anew unless it shows the same already: it would be read out again at every key. */
function fill(element: HTMLElement, of: unknown, parts: () => readonly Node[]): void {
  const shown = JSON.stringify(of);
  if (element.dataset["shown"] === shown) return;
  element.replaceChildren(...parts());
  element.dataset["shown"] = shown;
}

/** What the files that were given become, in words and head by head. */
function givenParts({ words, table }: FormResult): readonly Node[] {
  const classOf = (index: number): string => (index === 0 ? "" : "number");
  const heading = makeElement("tr", "", {}, ...table.headings.map((text, index) => makeElement("th", classOf(index), { attributes: { scope: "col" } }, text)));
  const rows = table.rows.map((row) => makeElement("tr", "", {}, ...row.map((text, index) => (index === 0 ? makeElement("th", "", { attributes: { scope: "row" } }, text) : makeElement("td", "number", {}, text)))));
  return [
    makeElement("h3", "", {}, "What it gives"),
    ...words.map((text) => makeElement("p", "", {}, text)),
    makeElement("table", "", {}, makeElement("thead", "", {}, heading), makeElement("tbody", "", {}, ...rows)),
  ];
}

function linkTo({ field, text }: OpenItem): HTMLElement | string {
  if (field === null) return text;
  return makeButton(text, "link", () => {
    const control = document.querySelector<HTMLElement>(`#${CSS.escape(field)}`);
    control?.scrollIntoView({ block: "center" });
    control?.focus();
  });
}
