import MarkdownIt from "markdown-it";
import { escapeHtml, visible, type Html } from "./html-text";

/** A heading of the page, for its contents. */
export interface PageHeading {
  readonly id: string;
  /** 2 to 6; 1 is the page's title. */
  readonly level: number;
  readonly text: string;
}

/** What the prose of a page is rendered with: headings are counted through the whole of it. */
export interface ProseRenderer {
  readonly render: (text: string) => Html;
  /** The headings so far. */
  readonly headings: readonly PageHeading[];
}

/** How the headings of one page fit together. */
export interface ProseOptions {
  readonly title: string;
  /** All prose of the page in order, by which levels of headings are settled. */
  readonly all: readonly string[];
  readonly makeId: (prefix: string, text: string) => string;
}

/** Nesting beyond which text stays text: no page needs more, and each level costs time. */
const deepest = 40;

const markdown = new MarkdownIt({ html: false, linkify: false, typographer: false, xhtmlOut: true, maxNesting: deepest });
// Where an address may not be followed, its Markdown stays as it was written.
markdown.validateLink = mayFollow;
// One file and nothing fetched: of a picture its words are left.
markdown.renderer.rules["image"] = (tokens, index) => {
  const token = tokens[index]!;
  const words = token.content === "" ? "" : `: ${escapeHtml(token.content)}`;
  return `<span class="picture">[picture${words}]</span>`;
};
markdown.renderer.rules["link_open"] = (tokens, index) => `<a href="${escapeHtml(String(tokens[index]!.attrGet("href") ?? ""))}" rel="noopener noreferrer">`;
markdown.renderer.rules["table_open"] = () => '<div class="scroll" tabindex="0" role="group" aria-label="Table of the text"><table>\n';
markdown.renderer.rules["table_close"] = () => "</table></div>\n";
markdown.renderer.rules["th_open"] = (tokens, index) => `<th scope="col"${alignOf(tokens[index]!.attrGet("style"))}>`;
markdown.renderer.rules["td_open"] = (tokens, index) => `<td${alignOf(tokens[index]!.attrGet("style"))}>`;

/** Addresses of the web and of mail, places in the page, and files beside it; nothing that runs or names this machine. */
function mayFollow(address: string): boolean {
  if (/^(?:https?:\/\/|mailto:|#)/iu.test(address)) return true;
  return !/^(?:[a-z][a-z0-9+.-]*:|[/\\])/iu.test(address.replaceAll(/[\s\p{C}]/gu, ""));
}

function alignOf(style: string | number | null): string {
  return String(style).endsWith("right") ? ' class="number"' : "";
}

/**
 * Renders the prose of one page: CommonMark with tables; HTML in it is shown as text, and no picture is loaded.
 *
 * Levels of headings leave none out below the title, which is the only one of level 1; a first heading that repeats the
 * title is left out. Levels stay as written where the page has no other of level 1, and go down by one where it has.
 */
export function createProse({ title, all, makeId }: ProseOptions): ProseRenderer {
  const headings: PageHeading[] = [];
  const repeats = repeatsTitle(all[0] ?? "", title);
  const levels = all.flatMap((text) => levelsIn(text)).slice(repeats ? 1 : 0);
  const shift = levels.includes(1) ? 1 : 0;
  let isFirst = true;

  function render(text: string): Html {
    const parsed = markdown.parse(visible(text), {});
    const tokens = isFirst && repeats ? parsed.slice(3) : parsed;
    isFirst = false;
    for (const [index, token] of tokens.entries()) {
      if (token.type !== "heading_open") continue;
      const words = plainWords(tokens[index + 1]?.children ?? []);
      const level = Math.min(6, Math.max(2, Number(token.tag.slice(1)) + shift), (headings.at(-1)?.level ?? 1) + 1);
      const id = makeId("part", words);
      headings.push({ id, level, text: words });
      token.tag = `h${level}`;
      token.attrSet("id", id);
      tokens[index + 2]!.tag = `h${level}`;
    }
    return markdown.renderer.render(tokens, markdown.options, {});
  }

  return { render, headings };
}

/** Text in Markdown that a cell gives: no heading in it counts for the page. */
export function renderText(text: string): Html {
  const tokens = markdown.parse(visible(text), {});
  for (const token of tokens) if (token.type === "heading_open" || token.type === "heading_close") token.tag = "p";
  return markdown.renderer.render(tokens, markdown.options, {});
}

/** True when a prose begins with the title as a heading of level 1. */
export function repeatsTitle(prose: string, title: string): boolean {
  const [first, inline] = markdown.parse(visible(prose), {});
  return first?.type === "heading_open" && first.tag === "h1" && plainWords(inline?.children ?? []).trim() === title.trim();
}

function levelsIn(text: string): readonly number[] {
  return markdown.parse(visible(text), {}).flatMap(({ type, tag }) => (type === "heading_open" ? [Number(tag.slice(1))] : []));
}

type Inline = NonNullable<ReturnType<typeof markdown.parse>[number]["children"]>[number];

function plainWords(children: readonly Inline[]): string {
  return children.map(({ type, content }) => (type === "softbreak" || type === "hardbreak" ? " " : content)).join("");
}
