/** What an element is made with: attributes by their names, and listeners. */
export interface ElementParts {
  readonly attributes?: Readonly<Record<string, string>>;
  readonly on?: Readonly<Record<string, (event: Event) => void>>;
}

/**
 * Returns an element with the given children. Strings become text, never markup.
 *
 * @param classes names of this project's own style sheet, separated by spaces.
 */
export function makeElement<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  classes: string,
  parts: ElementParts,
  ...children: readonly (Node | string)[]
): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag);
  if (classes !== "") element.className = classes;
  for (const [name, value] of Object.entries(parts.attributes ?? {})) element.setAttribute(name, value);
  for (const [name, listener] of Object.entries(parts.on ?? {})) element.addEventListener(name, listener);
  element.append(...children);
  return element;
}

/** Returns a button that does `press` when pressed by pointer or key. */
export function makeButton(label: string, classes: string, press: () => void): HTMLButtonElement {
  return makeElement("button", classes, { attributes: { type: "button" }, on: { click: press } }, label);
}
