import type { Span } from "../../core/query/syntax";
import type { Occurrence } from "./occurrence";

/** How a name stands in the text, which decides how another is written in its place: a field of a chart is `json`, what a transform makes `json text`, a key of front matter `yaml`. */
export type WrittenForm = "bare" | "quoted" | "member" | "key" | "json" | "json text" | "yaml";

/** An occurrence with what renaming needs to know of it. */
export interface WrittenName extends Occurrence {
  readonly form: WrittenForm;
  /** What another name replaces: with quotes, and with the dot or the brackets of a member. */
  readonly whole: Span;
  /** What a verb put behind the declared name, `_1` after a join. */
  readonly ending: string;
  /** The session files that a column of shots comes from, below the root. */
  readonly files: readonly string[];
  /** True for a column without a symbol that may be there all the same. */
  readonly isUncertain?: true;
}

/** The span without the quotes at its ends. */
export function withoutQuotes({ from, to }: Span): Span {
  return { from: from + 1, to: Math.max(from + 1, to - 1) };
}
