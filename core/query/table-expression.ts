import type { Schema } from "../table/schema";
import type { VerbCall } from "./argument-plan";
import type { Span, Syntax } from "./syntax";
import type { ChartKind } from "./vocabulary";

/** Where a chain of verbs begins. */
export type TableSource = Span &
  (
    | { readonly kind: "named"; readonly name: string }
    | { readonly kind: "constant"; readonly name: string }
    | { readonly kind: "session" | "sessions"; readonly path: string; readonly pathSpan: Span }
  );

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

/** A chart of a table, with its options as written. */
export interface ChartExpression extends Span {
  readonly chart: ChartKind;
  readonly nameSpan: Span;
  readonly table: TableExpression;
  readonly options: Syntax | null;
}
