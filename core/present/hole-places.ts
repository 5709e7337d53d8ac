import MarkdownIt from "markdown-it";

/** Where a hole of a text stands, once the text is read as Markdown. */
export type HolePlace = "words" | "code" | "HTML" | "an address" | "what Markdown does not show";

/** Markdown as outputs and git hosts read it: tables, HTML, and addresses that stand in the text. */
const markdown = new MarkdownIt({ html: true, linkify: true });
type Token = ReturnType<typeof markdown.parse>[number];

markdown.linkify.set({ fuzzyLink: false });
// An address that this parser would refuse is an address to others.
markdown.validateLink = () => true;

const mark = "\ue000";

/**
 * Where each hole of a text in Markdown stands, in the order of the holes.
 *
 * Only in words does a backslash keep a character of the data from becoming markup: in code it would be shown, and in
 * HTML or an address it would keep nothing.
 *
 * @param texts what stands between the holes: one more than there are holes.
 */
export function findHolePlaces(texts: readonly string[]): readonly HolePlace[] {
  const places = new Map<number, HolePlace>();
  const note = (text: string, place: HolePlace): void => {
    for (const [, index] of text.matchAll(/\ue000(\d+)\ue000/gu)) if (places.get(Number(index)) !== "an address") places.set(Number(index), place);
  };
  let isAddress = false;
  const visit = (token: Token): void => {
    if (token.type === "link_open") isAddress = token.markup === "linkify" || token.markup === "autolink";
    else if (token.type === "link_close") isAddress = false;
    for (const [, value] of token.attrs ?? []) note(String(value).replaceAll("%EE%80%80", mark), "an address");
    if (token.children !== null) token.children.forEach(visit);
    else if (token.type.startsWith("html")) note(token.content, "HTML");
    else if (token.type.startsWith("code") || token.type === "fence") note(token.info + token.content, "code");
    else note(token.content, isAddress ? "an address" : "words");
  };
  // What stands for a hole is read like a letter; one that the author wrote would be taken for it.
  const marked = texts.map((text, index) => (index === 0 ? "" : `${mark}${index - 1}${mark}`) + text.replaceAll(mark, " ")).join("");
  markdown.parse(marked, {}).forEach(visit);
  return texts.slice(1).map((_, index) => places.get(index) ?? "what Markdown does not show");
}
