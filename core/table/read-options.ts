import type { Limits } from "../limits";
import type { DecimalMark, Delimiter } from "./delimited-text";

/** How delimited text is to be read; what is left out is told from the text, and said. */
export interface ReadOptions {
  readonly delimiter?: Delimiter;
  readonly decimal?: DecimalMark;
  /** Lines before the header. */
  readonly skipLines?: number;
  /** Given when rows may be shorter than the header. */
  readonly shortRows?: "missing";
  /** Given when the header may have a name twice. */
  readonly duplicateHeaders?: "number";
  readonly limits?: Limits;
}
