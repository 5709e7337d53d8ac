import type { NotebookChoice } from "../notebook/choice";
import { boundText } from "../notebook/choice";
import type { ColumnSchema, Schema } from "../table/schema";
import { convert, isConvertible } from "../units";
import { plainText } from "./check-literal";
import type { RowSurroundings } from "./check-row";
import type { BinaryOperator, Span, Syntax } from "./syntax";
import { syntaxInWords } from "./syntax";

/** Choices that are conditions on rows. */
type RowsChoice = Exclude<NotebookChoice, { kind: "word" }>;

type RowFunction = Extract<Syntax, { kind: "row function" }>;

/**
 * The row function that `choose("head", "window")` stands for, of nodes of our own, all at the place of the call; `null`
 * where a choice cannot be used on the table, which was reported.
 *
 * @param nodes the names that were given; all choices whose columns the table has where there are none.
 */
export function chosenRows(nodes: readonly Syntax[], call: Span, input: Schema, around: RowSurroundings): RowFunction | null {
  const { choices, constants, reporter } = around;
  const columns = new Map(input.columns.map((column) => [column.name, column]));
  const tests: (Syntax | null)[] = [];
  if (nodes.length === 0) {
    for (const choice of choices) {
      const column = choice.kind === "word" ? undefined : columns.get(choice.column);
      if (choice.kind !== "word" && column !== undefined) tests.push(testOf(choice, column, call, around));
    }
    if (!choices.some(({ kind }) => kind !== "word")) reporter.say("query.no-choices", {}, call);
  }
  for (const node of nodes) {
    const name = plainText(node, constants);
    const choice = choices.find((each) => each.name === name);
    const names = choices.filter(({ kind }) => kind !== "word").map((each) => each.name);
    if (name === undefined) reporter.say("query.expected", { wanted: "the name of a choice in quotes", found: syntaxInWords(node) }, node);
    else if (choice === undefined) reporter.unknown("query.unknown-named-choice", name, node, names);
    else if (choice.kind === "word") reporter.say("query.choice-kind", { name, instead: `write chosen.${name} where its word should stand` }, node);
    else {
      const column = columns.get(choice.column);
      if (column !== undefined) tests.push(testOf(choice, column, node, around));
      else if (input.open) {
        around.onChosen?.({ name: choice.name, values: null });
        tests.push(truth(call));
      } else {
        reporter.say("query.choice-column", { name, column: choice.column, known: [...columns.keys()] }, node);
        tests.push(null);
      }
      continue;
    }
    tests.push(null);
  }
  if (tests.includes(null)) return null;
  const body = (tests as readonly Syntax[]).reduce<Syntax | null>((left, right) => (left === null ? right : both("&&", left, right, call)), null);
  return { ...spanOf(call), kind: "row function", parameter: "d", body: body ?? truth(call) };
}

function testOf(choice: RowsChoice, column: ColumnSchema, at: Span, { reporter, onChosen }: RowSurroundings): Syntax | null {
  onChosen?.({ name: choice.name, values: column.values ?? null });
  const span = spanOf(at);
  const value: Syntax = { ...span, kind: "member", of: { ...span, kind: "name", name: "d" }, name: column.name, nameSpan: span };
  const wrong = (wanted: string, found: string): null => {
    reporter.say("query.choice-value", { name: choice.name, column: column.name, wanted, found }, at);
    return null;
  };
  if (choice.kind === "values") {
    const tests = (choice.values ?? []).map(({ text }): Syntax | null => {
      if (column.kind === "text") return both("===", value, { ...span, kind: "text", value: text }, at);
      if (column.kind === "truth") return /^(?:true|false)$/u.test(text) ? both("===", value, { ...span, kind: "truth", value: text === "true" }, at) : wrong("true or false", text);
      return /^-?\d{1,15}(?:\.\d{1,15})?$/u.test(text) ? both("===", value, numberAt(Number(text), span), at) : wrong("numbers", text);
    });
    if (tests.includes(null)) return null;
    return (tests as readonly Syntax[]).reduce<Syntax | null>((left, right) => (left === null ? right : both("||", left, right, at)), null) ?? truth(at);
  }
  if (choice.from === null && choice.to === null) return truth(at);
  if (column.kind !== "number") return wrong(column.kind === "text" ? "is, since it holds text" : "is: true or false", "from and to");
  const tests: Syntax[] = [];
  for (const [bound, operator] of [[choice.from, ">="], [choice.to, "<="]] as const) {
    if (bound === null) continue;
    const unit = typeof bound === "number" ? null : bound.unit;
    if (unit === null ? column.unit !== null : column.unit === null || !isConvertible(unit, column.unit)) return wrong(column.unit === null ? "a plain number" : `a number in ${column.unit}`, boundText(bound));
    const number = typeof bound === "number" ? bound : convert(bound.value, bound.unit, column.unit!);
    tests.push(both(operator, value, numberAt(number, span), at));
  }
  return tests.length === 1 ? tests[0]! : both("&&", tests[0]!, tests[1]!, at);
}

function numberAt(value: number, span: Span): Syntax {
  return value < 0 ? { ...span, kind: "negate", of: { ...span, kind: "number", value: -value } } : { ...span, kind: "number", value };
}

function both(operator: BinaryOperator, left: Syntax, right: Syntax, at: Span): Syntax {
  const span = spanOf(at);
  return { ...span, kind: "binary", operator, operatorSpan: span, left, right };
}

function truth(at: Span): Syntax {
  return { ...spanOf(at), kind: "truth", value: true };
}

function spanOf({ from, to }: Span): Span {
  return { from, to };
}
