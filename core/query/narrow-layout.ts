import { tokenizer, type Comment } from "acorn";
import { syntaxOptions } from "./syntax-options";
import type { Span } from "./syntax";

/** The text with a space for each sign of a comment, so that brackets, dots and operators can be looked for. */
export function maskComments(text: string, bodyOffset: number): string {
  let masked = text;
  for (const { from, to } of commentSpans(text, bodyOffset)) masked = masked.slice(0, from) + " ".repeat(to - from) + masked.slice(to);
  return masked;
}

/** Where the comments of a body stand that `parseQuery` can read. */
export function commentSpans(text: string, bodyOffset: number): readonly (Span & { readonly isLine: boolean })[] {
  const comments: Comment[] = [];
  // Reading the tokens is what fills the list.
  Array.from(tokenizer(text.slice(bodyOffset), { ...syntaxOptions, onComment: comments }));
  return comments.map(({ start, end, type }) => ({ from: start + bodyOffset, to: end + bodyOffset, isLine: type === "Line" }));
}

/** The span with the pairs of brackets around it that stand between `low` and `high`. */
export function outerSpan(masked: string, { from, to }: Span, low: number, high: number): Span {
  let span: Span = { from, to };
  for (;;) {
    const before = /\(\s*$/u.exec(masked.slice(low, span.from));
    const behind = /^\s*\)/u.exec(masked.slice(span.to, high));
    if (before === null || behind === null) return span;
    span = { from: low + before.index, to: span.to + behind[0].length };
  }
}
