import { tokenizer, type Comment } from "acorn";
import { syntaxOptions } from "./syntax-options";

/**
 * The comments of a query cell's body in their order, without the signs around them.
 *
 * @param body a body that `parseQuery` can read; comments inside the words of a text are words.
 * @throws {SyntaxError} for a body that cannot be read.
 * @example commentsOf("a // far") // [" far"]
 */
export function commentsOf(body: string): readonly string[] {
  const comments: Comment[] = [];
  // Reading the tokens is what fills the list.
  Array.from(tokenizer(body, { ...syntaxOptions, onComment: comments }));
  return comments.map(({ value }) => value);
}
