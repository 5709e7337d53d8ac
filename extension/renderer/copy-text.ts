import { makeElement } from "./make-element";

/** Puts text on the clipboard; `false` where neither way of doing so is allowed. */
export async function copyText(text: string): Promise<boolean> {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    // Without the permission, or without the interface, a selection can still be copied by a press of a button.
    return copySelection(text);
  }
}

function copySelection(text: string): boolean {
  const field = makeElement("textarea", "fairstrike-unseen", { attributes: { "aria-hidden": "true" } });
  field.value = text;
  document.body.append(field);
  const before = document.activeElement;
  field.select();
  // oxlint-disable-next-line typescript/no-deprecated -- the only way left where the clipboard's interface is refused
  const done = document.execCommand("copy");
  field.remove();
  if (before instanceof HTMLElement) before.focus();
  return done;
}
