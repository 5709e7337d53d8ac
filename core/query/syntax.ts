/** A stretch of a cell's whole text, in UTF-16 offsets. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/** The operators that stand between two values. */
export type BinaryOperator = ArithmeticOperator | CompareOperator | LogicOperator;

/** The operators of arithmetic. */
export type ArithmeticOperator = "+" | "-" | "*" | "/" | "%";

/** The operators that compare. */
export type CompareOperator = "===" | "!==" | "<" | "<=" | ">" | ">=";

/** The operators that join truth values. */
export type LogicOperator = "&&" | "||";

/** A name in an object: a new column, an option, an old name. */
export interface Entry {
  readonly name: string;
  readonly nameSpan: Span;
  readonly value: Syntax;
}

/**
 * What a cell's text can consist of, and nothing else.
 *
 * These nodes are our own: the parser's nodes are turned into them one listed kind at a time, and everything after
 * parsing (checking, inferring, running) sees only these.
 */
export type Syntax = Span &
  (
    | { readonly kind: "number"; readonly value: number }
    | { readonly kind: "text"; readonly value: string }
    | { readonly kind: "truth"; readonly value: boolean }
    | { readonly kind: "missing" }
    | { readonly kind: "name"; readonly name: string }
    | { readonly kind: "member"; readonly of: Syntax; readonly name: string; readonly nameSpan: Span }
    | { readonly kind: "call"; readonly callee: Syntax; readonly given: readonly Syntax[] }
    | { readonly kind: "row function"; readonly parameter: string; readonly body: Syntax }
    | { readonly kind: "object"; readonly entries: readonly Entry[] }
    | { readonly kind: "list"; readonly items: readonly Syntax[] }
    | { readonly kind: "negate"; readonly of: Syntax }
    | { readonly kind: "not"; readonly of: Syntax }
    | { readonly kind: "binary"; readonly operator: BinaryOperator; readonly operatorSpan: Span; readonly left: Syntax; readonly right: Syntax }
    | { readonly kind: "choose"; readonly test: Syntax; readonly yes: Syntax; readonly no: Syntax }
  );

/** One `const name = …;` of a cell. */
export interface ConstantSyntax {
  readonly name: string;
  readonly nameSpan: Span;
  readonly value: Syntax;
}

/**
 * A text with holes, text`Heron carries ${…} farther.`: it can be a cell's result and stands nowhere else.
 *
 * `texts` are what stands between the holes, escapes already read: one more than there are holes.
 */
export interface TextSyntax extends Span {
  readonly kind: "text with holes";
  readonly texts: readonly string[];
  readonly holes: readonly Syntax[];
}

/** A cell's body: its constants in order, then the one expression that is its result. */
export interface CellSyntax {
  readonly constants: readonly ConstantSyntax[];
  readonly result: Syntax | TextSyntax;
}

/** A call of a member of `chart`, `chart.landing(…)`. */
export type ChartCall = Extract<Syntax, { kind: "call" }> & { readonly callee: Extract<Syntax, { kind: "member" }> };

/** True for what gives a chart. */
export function isChartCall(node: Syntax | TextSyntax): node is ChartCall {
  return node.kind === "call" && node.callee.kind === "member" && node.callee.of.kind === "name" && node.callee.of.name === "chart";
}

/** What a piece of syntax is, in words for a message. */
export function syntaxInWords(node: Syntax): string {
  switch (node.kind) {
    case "number":
      return "a number";
    case "text":
      return "text in quotes";
    case "truth":
      return "a truth value";
    case "missing":
      return "null";
    case "name":
      return "a name";
    case "member":
      return "a member";
    case "call":
      return "a call";
    case "row function":
      return "a row function";
    case "object":
      return "an object";
    case "list":
      return "a list";
    case "negate":
    case "not":
    case "binary":
    case "choose":
      return "a calculation";
  }
}
