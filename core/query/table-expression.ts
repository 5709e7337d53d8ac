import type { Schema } from "../table/schema";
import type { Span, Syntax } from "./syntax";
import type { ChartKind, OptionValues, Parameter, SourceKind, Verb } from "./vocabulary";

/** Where a chain of verbs begins. */
export type TableSource = Span &
  (
    | { readonly kind: "named"; readonly name: string }
    | { readonly kind: "constant"; readonly name: string }
    | { readonly kind: "session" | "sessions"; readonly path: string; readonly pathSpan: Span }
    | { readonly kind: "made"; readonly call: SourceCall }
  );

/** A table made from options, as it was called; `values` is `null` where an option is wrong, which was reported. */
export interface SourceCall {
  readonly source: SourceKind;
  readonly nameSpan: Span;
  readonly options: Syntax | null;
  readonly values: OptionValues | null;
}

/** What was written for one parameter: nothing of it is checked yet against a table. */
export interface GivenArgument {
  readonly parameter: Parameter;
  readonly nodes: readonly Syntax[];
  /** The table that was given, for a parameter that takes one. */
  readonly table?: TableExpression;
}

/** A verb as it was called, with what was written between its brackets. */
export interface VerbCall extends Span {
  readonly verb: Verb;
  readonly nameSpan: Span;
  readonly given: readonly GivenArgument[];
}

/** One verb of a chain, and what is known of the table before and after it. */
export interface Step extends VerbCall {
  readonly before: Schema;
  readonly after: Schema;
}

/** A table: where it comes from, and the verbs it goes through. */
export interface TableExpression extends Span {
  readonly source: TableSource;
  readonly steps: readonly Step[];
  readonly schema: Schema;
}

/** What a hole of a text gives: one value, sentences, or the rows of its table. */
export type TextHole = Span & { readonly table: TableExpression } & (
    | { readonly kind: "value"; readonly call: ValueCall }
    | { readonly kind: "sentences"; readonly nameSpan: Span }
    | { readonly kind: "rows" }
  );

/** `.one("column", decimals)` as written. */
export interface ValueCall {
  readonly nameSpan: Span;
  readonly given: readonly Syntax[];
}

/** A text with holes, and the texts between them: one more than there are holes. */
export interface TextExpression extends Span {
  readonly texts: readonly string[];
  readonly holes: readonly TextHole[];
}

/** A chart of a table, with its options as written. */
export interface ChartExpression extends Span {
  readonly chart: ChartKind;
  readonly nameSpan: Span;
  readonly table: TableExpression;
  readonly options: Syntax | null;
}
