import { columnAccess } from "../../core/query/check-row";
import type { Span } from "../../core/query/syntax";
import { yamlScalar } from "../../core/yaml-scalar";
import type { WrittenName } from "./written-name";

const plain = /^[\p{ID_Start}_$][\p{ID_Continue}$]*$/u;

/** What stands in the place of a name in `text` so that it says `to`: brackets and quotes come where that is no plain word, and go where it is one. */
export function writeName(text: string, name: WrittenName, to: string): Span & { readonly text: string } {
  const { from, to: end } = name.whole;
  const whole = { from, to: end };
  switch (name.form) {
    case "bare":
      return { ...whole, text: to };
    case "quoted":
      return { ...whole, text: inQuotes(to, text[from]!) };
    case "key":
      return { ...whole, text: staysPlain(text[from]!, name, to) ? to : inQuotes(to, text[from]!) };
    case "member": {
      const isDotted = text[name.from - 1] !== '"' && text[name.from - 1] !== "'";
      const own = { from: name.from, to: name.to };
      if (isDotted) return plain.test(to) ? { ...own, text: to } : { ...whole, text: columnAccess(to) };
      if (plain.test(to) && !plain.test(name.name)) return { ...whole, text: columnAccess(to) };
      return { from: own.from - 1, to: own.to + 1, text: inQuotes(to, text[own.from - 1]!) };
    }
    case "yaml":
      return { ...whole, text: from === name.from ? yamlScalar(to, "flow") : inQuotes(to, text[from]!) };
    case "json text":
      return { ...whole, text: JSON.stringify(to) };
    case "json":
      // Vega-Lite reads dots, brackets, quotes and backslashes in a field as a path, unless a backslash stands before them.
      return { ...whole, text: JSON.stringify(to.replace(/[.[\]\\"']/gu, "\\$&")) };
  }
}

/** True for a key that needs no quotes: one that had none, or had them because of its name. */
function staysPlain(first: string, name: WrittenName, to: string): boolean {
  const wasQuoted = first === '"' || first === "'";
  return plain.test(to) && (!wasQuoted || !plain.test(name.name));
}

/** Text in quotes of the kind that was there, as far as it can stand in them as it is. */
function inQuotes(text: string, quote: string): string {
  return quote === "'" && !/['\\\p{Cc}]/u.test(text) ? `'${text}'` : JSON.stringify(text);
}
