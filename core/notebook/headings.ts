import MarkdownIt from "markdown-it";
import { lineTable } from "../text-position";

/** A heading of prose: its words as written, without the signs around them, and where it stands in UTF-16 offsets. */
export interface Heading {
  readonly text: string;
  /** 1 for the highest. */
  readonly level: number;
  readonly from: number;
  readonly to: number;
}

/** Nothing in a list or a quotation is a heading here, so that deeper nesting need not be told apart. */
const deepest = 20;

const markdown = new MarkdownIt("commonmark", { maxNesting: deepest });
// Only the block structure is wanted; inline text would be parsed for nothing.
markdown.core.ruler.disable(["inline", "text_join"]);

/**
 * The headings at the top level of prose, as CommonMark finds them (0.31); those without words are left out.
 *
 * @example findHeadings("# One\n\nTwo\n---").map(({ text, level }) => [text, level]) // [["One", 1], ["Two", 2]]
 */
export function findHeadings(prose: string): readonly Heading[] {
  const lines = lineTable(prose);
  const lineStart = (line: number): number => (line < lines.lineCount ? lines.offsetAt({ line: line + 1, column: 1 }) : prose.length);
  const tokens = markdown.parse(prose, {});
  return tokens.flatMap(({ type, level: depth, map, tag }, i) => {
    const text = tokens[i + 1]?.content.trim() ?? "";
    if (type !== "heading_open" || depth > 0 || map === null || text === "") return [];
    const from = lineStart(map[0]);
    const to = from + prose.slice(from, lineStart(map[1])).trimEnd().length;
    return [{ text, level: Number(tag.slice(1)), from, to }];
  });
}
