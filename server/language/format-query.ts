import { defaultLimits } from "../../core/limits";
import { commentsOf } from "../../core/query/comments";
import { parseQuery } from "../../core/query/parse-query";
import type { CellSyntax } from "../../core/query/syntax";

/**
 * A query cell's text with its body laid out anew by Prettier; `null` when the body cannot be read, or when its syntax, its
 * comments or the words of its text would not be the same afterwards.
 *
 * @param start where the body begins.
 * @param width columns that a line is held to.
 */
export async function formatQuery(text: string, start: number, width: number): Promise<string | null> {
  const before = parseQuery(text, start, defaultLimits).value;
  if (before === null) return null;
  const header = text.slice(0, start);
  const body = await laidOut(text.slice(start), width);
  if (body === null) return null;
  const formatted = withoutGuard(header + body, start);
  const after = parseQuery(formatted, start, defaultLimits).value;
  const isSame = after !== null && meaningOf(after) === meaningOf(before) && remarksOf(formatted.slice(start)) === remarksOf(text.slice(start));
  return isSame ? formatted : null;
}

/** A body of JavaScript laid out by Prettier as cells are written: no semicolons, no brackets around `d`. */
async function laidOut(body: string, width: number): Promise<string | null> {
  const [prettier, acorn, estree] = await Promise.all([import("prettier/standalone"), import("prettier/plugins/acorn"), import("prettier/plugins/estree")]);
  try {
    const formatted = await prettier.format(body, {
      parser: "acorn",
      plugins: [acorn, estree],
      printWidth: width,
      semi: false,
      arrowParens: "avoid",
      quoteProps: "preserve",
      trailingComma: "all",
      embeddedLanguageFormatting: "off",
      endOfLine: "lf",
    });
    return formatted.trimEnd();
  } catch (error) {
    // Prettier reads the text with a parser of its own, which may refuse what ours reads.
    if (error instanceof SyntaxError) return null;
    throw error;
  }
}

/**
 * The text without the semicolon that Prettier puts before an expression in brackets or with a sign, lest it be taken for
 * the end of a statement above. Where there is none above, it guards against nothing.
 */
function withoutGuard(text: string, start: number): string {
  const cell = parseQuery(text, start, defaultLimits).value;
  if (cell === null || cell.constants.length > 0) return text;
  const at = cell.result.from - 1;
  return at >= start && text[at] === ";" ? text.slice(0, at) + text.slice(at + 1) : text;
}

const places: ReadonlySet<string> = new Set(["from", "to", "nameSpan", "operatorSpan"]);

/** A cell's syntax without its places. */
function meaningOf(cell: CellSyntax): string {
  return JSON.stringify(cell, (key, value: unknown) => (places.has(key) ? undefined : value));
}

/** The words of all comments; the white space in them may change with their indentation. */
function remarksOf(body: string): string {
  return commentsOf(body).map((comment) => comment.replace(/\s+/gu, " ").trim()).join("\n");
}
