import type { Option, Verb } from "../../core/query/vocabulary";
import type { Span } from "../../core/query/syntax";
import type { ColumnSchema } from "../../core/table/schema";

/** What a name in a cell is. */
export type Role =
  | "cell"
  | "constant"
  | "row"
  | "column"
  | "verb"
  | "function"
  | "aggregate"
  | "chart kind"
  | "source"
  | "option"
  | "choice"
  | "named choice"
  | "value"
  | "path";

/**
 * One name where it stands in a cell's text, and what it means there.
 *
 * The span is of the name alone: without quotes, dot or brackets.
 */
export interface Occurrence extends Span {
  readonly role: Role;
  readonly name: string;
  /**
   * Equal for all occurrences of one thing in the notebook: `cell:stock`, `constant:3:limit`, `shot column:carry`,
   * `column:3:120` for the column that is declared in cell 3 at offset 120, `column:3:field:m` for the
   * one that the chart in cell 3 makes; `named choice:head` for one of the front matter. `null` for what has no declaration of its own.
   */
  readonly symbol: string | null;
  readonly isDeclaration: boolean;
  /** Of a column, and of a value compared with one: what is known of the column there. */
  readonly column?: ColumnSchema;
  /** Of an option and a choice: the option. */
  readonly option?: Option;
  /** Of an option, a choice and a verb: the verb. */
  readonly verb?: Verb;
}
