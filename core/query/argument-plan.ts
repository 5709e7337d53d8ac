import type { ColumnSchema, Schema } from "../table/schema";
import type { RowExpression } from "./row-expression";
import type { Aggregate, CheckedArgument, OptionValues } from "./vocabulary";
import type { Span } from "./syntax";
import type { TableExpression } from "./table-expression";

/** One new column: its name, how it is computed, and its schema; `null` while its kind is not known. */
export interface NewColumn {
  readonly name: string;
  readonly expression: RowExpression;
  readonly schema: ColumnSchema | null;
}

/** One aggregate: what it is computed from and what it gives; `null` while its kind is not known. */
export interface NewAggregate {
  readonly name: string;
  readonly aggregate: Aggregate;
  readonly of: RowExpression | null;
  readonly numbers: readonly number[];
  readonly schema: ColumnSchema | null;
}

/** One argument, checked against the schema of the table it works on: ready to be inferred from, or to be run. */
export type ArgumentPlan = { readonly span: Span } & (
  | { readonly kind: "condition"; readonly test: RowExpression; readonly narrows: ReadonlyMap<string, readonly string[]> }
  | { readonly kind: "new columns"; readonly columns: readonly NewColumn[] }
  | { readonly kind: "aggregates"; readonly calls: readonly NewAggregate[] }
  | { readonly kind: "columns"; readonly names: readonly string[] }
  | { readonly kind: "ordering"; readonly keys: readonly { readonly name: string; readonly descending: boolean }[] }
  | { readonly kind: "renames"; readonly names: readonly (readonly [from: string, to: string])[] }
  | { readonly kind: "table"; readonly schema: Schema; readonly table: TableExpression }
  | { readonly kind: "number"; readonly value: number }
  | { readonly kind: "options"; readonly values: OptionValues }
);

/** The argument as a verb's inference gets it; columns whose kind is not known yet are left out. */
export function asChecked(plan: ArgumentPlan): CheckedArgument {
  switch (plan.kind) {
    case "condition":
      return { kind: "condition", narrows: plan.narrows };
    case "new columns":
      return { kind: "new columns", columns: plan.columns.flatMap(({ schema }) => (schema === null ? [] : [schema])) };
    case "aggregates":
      return { kind: "aggregates", columns: plan.calls.flatMap(({ schema }) => (schema === null ? [] : [schema])) };
    case "columns":
      return { kind: "columns", names: plan.names };
    case "ordering":
      return { kind: "ordering", names: plan.keys.map(({ name }) => name) };
    case "renames":
      return { kind: "renames", names: plan.names };
    case "table":
      return { kind: "table", schema: plan.schema };
    case "number":
      return { kind: "number", value: plan.value };
    case "options":
      return { kind: "options", values: plan.values };
  }
}

/** Names of the new columns whose kind is not known before the cell runs. */
export function unknownColumns(plans: readonly ArgumentPlan[]): readonly string[] {
  return plans.flatMap((plan) => {
    if (plan.kind === "new columns") return plan.columns.filter(({ schema }) => schema === null).map(({ name }) => name);
    return plan.kind === "aggregates" ? plan.calls.filter(({ schema }) => schema === null).map(({ name }) => name) : [];
  });
}
