/** A piece of HTML that is also well-formed XML; nothing but functions that escape makes it from text. */
export type Html = string;

/** Characters that change how other text is shown or cannot be seen, line ends and tabs left out. */
// oxlint-disable-next-line no-control-regex -- making control characters visible is the purpose
const unseen = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u061c\u180e\u200e\u200f\u2028-\u202e\u2060-\u2069\ufeff\ufffe\uffff\u{e0000}-\u{e007f}]|\p{Cs}/gu;

/** The text with control and direction characters written as `\u202e`; lines stay lines. */
export function visible(text: string): string {
  return text.replaceAll(/\r\n?/gu, "\n").replace(unseen, (c) => `\\u${c.codePointAt(0)!.toString(16).padStart(4, "0")}`);
}

/** The text for the inside of an element or of an attribute in double quotes. */
export function escapeHtml(text: string): Html {
  return visible(text).replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;");
}

/** An element with its attributes, those that are `null` left out; `content` is HTML already. */
export function element(name: string, attributes: Readonly<Record<string, string | null>>, ...content: readonly Html[]): Html {
  const given = Object.entries(attributes).flatMap(([key, value]) => (value === null ? [] : [` ${key}="${escapeHtml(value)}"`]));
  return `<${name}${given.join("")}>${content.join("")}</${name}>`;
}

/** Names for elements of one page: letters and digits of a text, and a number where a name is taken. */
export function createIds(): (prefix: string, text: string) => string {
  const taken = new Set<string>();
  return (prefix, text) => {
    const words = text.toLowerCase().match(/[\p{L}\p{N}_]+/gu) ?? [];
    const name = `${prefix}-${Array.from(words.join("-")).slice(0, 60).join("")}`.replace(/-$/u, "");
    let id = name;
    for (let n = 2; taken.has(id); n++) id = `${name}-${n}`;
    taken.add(id);
    return id;
  };
}
