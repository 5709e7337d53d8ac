/** Words that other readers of YAML take for a truth or for nothing: in quotes they are texts everywhere. */
const otherTypes = /^(?:y|n|yes|no|on|off|true|false|null|~)$/iu;

/**
 * A text as a YAML scalar on one line: plain where it can be, in double quotes otherwise.
 *
 * @param place `flow` between braces or brackets, where commas and brackets need quotes.
 * @example yamlScalar("Path [°]", "flow") // '"Path [°]"'
 */
export function yamlScalar(text: string, place: "block" | "flow"): string {
  return isPlain(text, place) ? text : JSON.stringify(text).replace(/[\u007f-\u009f\u2028\u2029\ufeff]/gu, (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, "0")}`);
}

function isPlain(text: string, place: "block" | "flow"): boolean {
  // oxlint-disable-next-line no-control-regex -- a control character cannot stand in a plain scalar
  if (text === "" || text.trim() !== text || /[\u0000-\u001f\u007f-\u009f\u2028\u2029\ufeff]|\p{Cs}/u.test(text)) return false;
  if (otherTypes.test(text) || /^[,[\]{}#&*!|>'"%@`?:]/u.test(text) || /^-(?:$|[\s\-,[\]{}])/u.test(text) || /^\.{3}/u.test(text)) return false;
  return !/: | #|:$/u.test(text) && !(place === "flow" && /[,[\]{}]/u.test(text));
}
