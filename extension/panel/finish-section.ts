import type { Form, OpenItem } from "../../core/present/form-message";
import { makeButton, makeElement } from "../renderer/make-element";
import { makeFields, showErrors, type Filling } from "./form-parts";

/** The last part of a form: what is still open, a preview of what will be written, and the button that writes it. */
export interface FinishSection {
  readonly element: HTMLElement;
  /** Shows what the answers given so far lead to. */
  readonly show: (open: readonly OpenItem[], preview: string | null) => void;
  /** Says why nothing was written. */
  readonly fail: (text: string) => void;
}

/** Makes the last part of a form; `finish` is called when the button is pressed while nothing is open. */
export function makeFinishSection({ label, fields, preview: title }: Form["finish"], filling: Filling, finish: () => void): FinishSection {
  let mayFinish = false;
  const open = makeElement("div", "open", { attributes: { id: "open", role: "status" } }, "Looking …");
  const preview = makeElement("pre", "", { attributes: { tabindex: "0", role: "region", "aria-label": title } });
  const failure = makeElement("p", "error", { attributes: { role: "alert" } });
  // It can be reached while something is open, and leads there then.
  const button = makeButton(label, "", () => {
    if (mayFinish) finish();
    else open.querySelector("button")?.focus();
  });
  button.setAttribute("aria-describedby", "open");
  button.setAttribute("aria-disabled", "true");
  const element = makeElement(
    "section",
    "",
    {},
    makeElement("h2", "", {}, "Write"),
    makeFields("", fields, filling),
    open,
    makeElement("div", "bar", {}, button),
    failure,
    makeElement("h3", "", {}, title),
    preview,
  );
  return {
    element,
    show(items, text) {
      mayFinish = items.length === 0 && text !== null;
      button.setAttribute("aria-disabled", String(!mayFinish));
      failure.textContent = "";
      const words = mayFinish ? "✓ Nothing is open: the files can be written." : `⚠ Still open: ${items.length}`;
      const shown = JSON.stringify([words, items]);
      // Filled anew with the same words it would be read out again at every key.
      if (open.dataset["shown"] !== shown) {
        open.className = mayFinish ? "open none" : "open";
        const list = makeElement("ul", "", {}, ...items.map((item) => makeElement("li", "", {}, linkTo(item))));
        open.replaceChildren(makeElement("strong", "", {}, words), ...(items.length > 0 ? [list] : []));
        open.dataset["shown"] = shown;
      }
      preview.textContent = text ?? "It is shown here once nothing is open.";
      // Of several things wrong with a field the first is said there.
      showErrors(new Map(items.flatMap(({ field, text: wrong }) => (field === null ? [] : [[field, wrong] as const])).toReversed()));
    },
    fail(text) {
      failure.textContent = text;
    },
  };
}

function linkTo({ field, text }: OpenItem): HTMLElement | string {
  if (field === null) return text;
  return makeButton(text, "link", () => {
    const control = document.querySelector<HTMLElement>(`#${CSS.escape(field)}`);
    control?.scrollIntoView({ block: "center" });
    control?.focus();
  });
}
