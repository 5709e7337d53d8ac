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
  /** Given when the bytes are only the beginning of a file of so many: a record that is not whole is left out. */
  readonly wholeBytes?: number;
  readonly limits?: Limits;
}
