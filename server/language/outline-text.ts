import { cut, inert } from "../../core/present/show-value";

/** Characters of a name and of a detail. */
const mostCharacters = 80;

/** A name or a detail as an outline shows it: short, on one line, and with nothing in it that is not seen. */
export function outlineText(text: string): string {
  return cut(inert(text), mostCharacters);
}
