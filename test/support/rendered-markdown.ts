import MarkdownIt from "markdown-it";

/** Markdown as a page shows it, HTML in it allowed: what a text of somebody else's must not be able to use. */
export function renderedMarkdown(markdown: string): string {
  return new MarkdownIt("commonmark", { html: true }).render(markdown);
}

/** Tags in the page that such Markdown gives. */
export function tagsIn(markdown: string): readonly string[] {
  return [...new Set([...renderedMarkdown(markdown).matchAll(/<([a-z][a-z0-9]*)/giu)].map((match) => match[1]!))].sort();
}

/** Names of columns, cells and heads that would do something, were they Markdown or HTML (attack L-11). */
export const hostileNames: readonly string[] = [
  "[x](command:evil)",
  "<img src=x onerror=alert(1)>",
  "`` ` ``",
  "```js\nrun()\n```",
  "a\nb\r\n# c",
  "![x](https://example.org/x.png)",
  "**bold** _it_ ~~x~~",
  "<script>alert(1)</script>",
  "\\`x\\`",
  "`",
  "https://example.org/x",
  "\u202egnp.exe",
];
