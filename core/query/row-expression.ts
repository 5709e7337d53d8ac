import type { ArithmeticOperator, CompareOperator, LogicOperator, Span } from "./syntax";
import type { RowFunction, ValueType } from "./vocabulary";

/** The type of a row expression; `unknown` while it rests on a column that is not known before the cell runs. */
export type RowType = ValueType | { readonly kind: "unknown"; readonly unit: null };

/**
 * A row function's body, checked: every column exists, every operand has the kind its operator takes, every function
 * is an entry of the vocabulary. It holds nothing that came from the parser.
 */
export type RowExpression = Span & { readonly type: RowType } & (
    | { readonly kind: "constant"; readonly value: number | string | boolean | null }
    | { readonly kind: "column"; readonly name: string }
    | { readonly kind: "negate"; readonly of: RowExpression }
    | { readonly kind: "not"; readonly of: RowExpression }
    | { readonly kind: "arithmetic"; readonly operator: ArithmeticOperator; readonly left: RowExpression; readonly right: RowExpression }
    | { readonly kind: "compare"; readonly operator: CompareOperator; readonly left: RowExpression; readonly right: RowExpression }
    | { readonly kind: "is missing"; readonly of: RowExpression; readonly negated: boolean }
    | { readonly kind: "logic"; readonly operator: LogicOperator; readonly left: RowExpression; readonly right: RowExpression }
    | { readonly kind: "choose"; readonly test: RowExpression; readonly yes: RowExpression; readonly no: RowExpression }
    | { readonly kind: "call"; readonly run: RowFunction; readonly given: readonly RowExpression[] }
  );

/** The parts of an expression, from left to right. */
export function partsOf(expression: RowExpression): readonly RowExpression[] {
  switch (expression.kind) {
    case "constant":
    case "column":
      return [];
    case "negate":
    case "not":
    case "is missing":
      return [expression.of];
    case "arithmetic":
    case "compare":
    case "logic":
      return [expression.left, expression.right];
    case "choose":
      return [expression.test, expression.yes, expression.no];
    case "call":
      return expression.given;
  }
}

/** The number of nodes of an expression: its cost for one row. */
export function nodeCount(expression: RowExpression): number {
  return partsOf(expression).reduce((count, part) => count + nodeCount(part), 1);
}

/** The names of the columns an expression reads, each once. */
export function columnsRead(expression: RowExpression): ReadonlySet<string> {
  const names = new Set<string>();
  const visit = (part: RowExpression): void => {
    if (part.kind === "column") names.add(part.name);
    partsOf(part).forEach(visit);
  };
  visit(expression);
  return names;
}
