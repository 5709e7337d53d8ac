import type { Schema } from "../table/schema";
import type { ArgumentPlan, NewAggregate, NewColumn } from "./argument-plan";
import type { GivenArgument, VerbCall } from "./table-expression";
import { checkColumnName } from "./check-column";
import { columnNames, orderingKeys } from "./check-column-names";
import { plainNumber, plainText } from "./check-literal";
import { checkOptions } from "./check-options";
import { checkRow, columnExpression, type RowSurroundings } from "./check-row";
import { isRefusedKey } from "./names";
import { sayExtra } from "./extra-fix";
import type { RowExpression } from "./row-expression";
import { chosenRows } from "./choose-rows";
import { rowFunctionFix } from "./row-function-fix";
import { typeInWords } from "./row-units";
import { narrowedBy, valuesOf } from "./row-values";
import type { Entry, Span, Syntax } from "./syntax";
import { syntaxInWords } from "./syntax";
import type { Aggregate } from "./vocabulary";

/** A verb's arguments, checked. */
export interface CheckedArguments {
  /** `null` when one of them is wrong in whatever part, which was reported. */
  readonly plans: readonly ArgumentPlan[] | null;
  /** The same without the entries of objects that are wrong; `null` when more than that is. */
  readonly healthy: readonly ArgumentPlan[] | null;
  /** The names of new columns that are wrong. */
  readonly wrong: readonly string[];
}

/**
 * A verb's arguments, checked against the schema of the table it works on.
 *
 * The same function runs before a cell runs, on inferred schemas, and while it runs, on the tables themselves.
 */
export function checkArguments(call: VerbCall, input: Schema, around: RowSurroundings): CheckedArguments {
  const wrong: WrongEntry[] = [];
  const plans = call.given.map((given) => checkArgument(given, call, input, around, wrong));
  const healthy = plans.includes(null) ? null : (plans as readonly ArgumentPlan[]);
  return { plans: wrong.length > 0 ? null : healthy, healthy, wrong: wrong.flatMap(({ name, isNew }) => (isNew ? [name] : [])) };
}

/** An entry of an object that is wrong; `isNew` where its name is that of a new column. */
interface WrongEntry {
  readonly name: string;
  readonly isNew: boolean;
}

/** @param wrong takes the entries of an object that are wrong; the plan is of the others. */
function checkArgument(given: GivenArgument, call: VerbCall, input: Schema, around: RowSurroundings, wrong: WrongEntry[]): ArgumentPlan | null {
  const { parameter, nodes } = given;
  const node = nodes[0];
  const span = node === undefined ? call.nameSpan : { from: node.from, to: nodes[nodes.length - 1]!.to };
  const { reporter, constants } = around;
  switch (parameter.kind) {
    case "condition": {
      const test = rowExpression(node!, aCondition, input, around);
      if (test === null) return null;
      if (test.type.kind !== "truth" && test.type.kind !== "unknown") {
        reporter.say("query.kind", { what: "this", found: typeInWords(test.type), wanted: "a condition, true or false," }, test);
        return null;
      }
      return { span, kind: "condition", test, narrows: narrowedBy(test, columnsByName(input)) };
    }
    case "choices": {
      const chosen = chosenRows(nodes, node === undefined ? call.nameSpan : span, input, around);
      const test = chosen && checkRow(chosen, input, quietly(around));
      return test && { span, kind: "condition", test, narrows: narrowedBy(test, columnsByName(input)) };
    }
    case "new columns": {
      const columns = eachEntry(node!, "new columns, such as { curve: d => d.offline / d.carry }", around, (entry) => newColumn(entry, input, around), ({ name }) => wrong.push({ name, isNew: true }));
      return columns && { span, kind: "new columns", columns };
    }
    case "aggregates": {
      const calls = eachEntry(node!, "new columns, such as { typical: op.median(\"carry\") }", around, (entry) => newAggregate(entry, input, around), ({ name }) => wrong.push({ name, isNew: true }));
      return calls && { span, kind: "aggregates", calls };
    }
    case "columns": {
      const names = columnNames(nodes, input, around);
      return names && { span, kind: "columns", names };
    }
    case "ordering": {
      const keys = orderingKeys(nodes, input, around);
      return keys && { span, kind: "ordering", keys };
    }
    case "renames": {
      const names = eachEntry(node!, "new names, such as { carry: \"carry_length\" }", around, (entry) => rename(entry, input, around), ({ name }) => wrong.push({ name, isNew: false }));
      return names && { span, kind: "renames", names };
    }
    case "table":
      return given.table === undefined ? null : { span, kind: "table", schema: given.table.schema, table: given.table };
    case "number": {
      const value = plainNumber(node!, constants);
      const wanted = `a whole number from ${parameter.least} to ${parameter.most}`;
      const meant = node!.kind === "text" && /^\d+$/u.test(node!.value.trim()) ? reporter.replacing(`Write ${node!.value.trim()}`, node!, node!.value.trim()) : undefined;
      if (value === undefined) reporter.say("query.expected", { wanted, found: syntaxInWords(node!) }, node!, meant);
      else if (value >= parameter.least && value <= parameter.most && Number.isInteger(value)) return { span, kind: "number", value };
      else reporter.say("query.number", { found: String(value), wanted }, node!);
      return null;
    }
    case "options": {
      const values = checkOptions(node ?? null, parameter.options, input, { name: call.verb.name, span: call.nameSpan }, around);
      return values && { span, kind: "options", values };
    }
  }
}

/** What is said of a condition that nobody wrote would stand in the wrong place: values that no row has are told in the front matter. */
function quietly(around: RowSurroundings): RowSurroundings {
  return { ...around, reporter: { ...around.reporter, add: () => undefined, say: () => undefined, unknown: () => undefined } };
}

/** What a filter takes, in words. */
const aCondition = "a condition, such as d => d.carry > 150";

function columnsByName(input: Schema) {
  return new Map(input.columns.map((column) => [column.name, column]));
}

function rowExpression(node: Syntax, wanted: string, input: Schema, around: RowSurroundings): RowExpression | null {
  if (node.kind === "row function") return checkRow(node, input, around);
  const fix = rowFunctionFix(node, input, around, wanted === aCondition);
  around.reporter.say("query.expected", { wanted, found: syntaxInWords(node) }, node, fix);
  return null;
}

/** What `check` makes of each entry of an object, those left out that are wrong; `null` for what is no object with entries. */
function eachEntry<T>(node: Syntax, wanted: string, around: RowSurroundings, check: (entry: Entry) => T | null, isWrong: (entry: Entry) => void): readonly T[] | null {
  if (node.kind !== "object" || node.entries.length === 0) {
    const found = node.kind === "object" ? "an empty object" : syntaxInWords(node);
    around.reporter.say("query.expected", { wanted, found }, node);
    return null;
  }
  return node.entries.flatMap((entry) => {
    const checked = check(entry);
    if (checked !== null) return [checked];
    isWrong(entry);
    return [];
  });
}

function newColumn(entry: Entry, input: Schema, around: RowSurroundings): NewColumn | null {
  const expression = rowExpression(entry.value, "a row function, such as d => d.carry * 2", input, around);
  if (expression === null) return null;
  const { type } = expression;
  const { name } = entry;
  if (type.kind === "missing") {
    around.reporter.say("query.always-missing", {}, expression);
    return null;
  }
  if (type.kind === "unknown") return { name, expression, schema: null };
  const values = type.kind === "text" ? valuesOf(expression, columnsByName(input)) : null;
  return {
    name,
    expression,
    schema: { name, kind: type.kind, unit: type.unit, origin: "computed", ...(values === null ? {} : { values }) },
  };
}

function newAggregate(entry: Entry, input: Schema, around: RowSurroundings): NewAggregate | null {
  const { reporter, vocabulary } = around;
  const node = entry.value;
  const callee = node.kind === "call" ? node.callee : null;
  if (node.kind !== "call" || callee?.kind !== "member" || callee.of.kind !== "name" || callee.of.name !== "op") {
    // A row function around an aggregate, or an aggregate of `d.carry`, is how other tools write the same.
    const fix = aggregateInside(node, around) ?? aggregateAlone(node, around);
    reporter.say("query.expected", { wanted: "a function of many rows, such as op.mean(\"carry\")", found: syntaxInWords(node) }, node, fix);
    return null;
  }
  const aggregate = vocabulary.aggregates.get(callee.name);
  if (aggregate === undefined) {
    if (vocabulary.rowFunctions.has(callee.name)) reporter.say("query.wrong-place", { name: callee.name, kind: "a function of one row" }, callee.nameSpan);
    else reporter.unknown("query.unknown-function", callee.name, callee.nameSpan, [...vocabulary.aggregates.keys()]);
    return null;
  }
  const given = aggregate.of === "none" ? node.given : node.given.slice(1);
  const of = aggregate.of === "none" ? null : aggregated(aggregate, node.given[0], node, input, around);
  const numbers = aggregateNumbers(aggregate, given, node, around);
  if (numbers === null || (of === null && aggregate.of !== "none")) return null;
  const { name } = entry;
  if (of?.type.kind === "unknown") return { name, aggregate, of, numbers, schema: null };
  const column = of === null ? null : { name, kind: of.type.kind as "number" | "text" | "truth", unit: of.type.unit, origin: "computed" as const };
  return { name, aggregate, of, numbers, schema: { name, ...aggregate.type(column), origin: "computed" } };
}

/** `mean("carry")`, without the place where functions are. */
function aggregateAlone(node: Syntax, { vocabulary, reporter }: RowSurroundings) {
  if (node.kind !== "call" || node.callee.kind !== "name" || !vocabulary.aggregates.has(node.callee.name)) return undefined;
  return reporter.replacing(`Use op.${node.callee.name}`, { from: node.callee.from, to: node.callee.from }, "op.");
}

function aggregateInside(node: Syntax, around: RowSurroundings) {
  if (node.kind !== "row function" || node.body.kind !== "call") return undefined;
  const { callee, given } = node.body;
  const [of, ...more] = given;
  if (callee.kind !== "member" || !around.vocabulary.aggregates.has(callee.name) || more.length > 0) return undefined;
  if (of !== undefined && of.kind !== "member") return undefined;
  const text = `op.${callee.name}(${of === undefined ? "" : JSON.stringify(of.name)})`;
  return around.reporter.replacing(`Write ${text}`, node, text);
}

function aggregated(
  aggregate: Aggregate,
  node: Syntax | undefined,
  call: Span,
  input: Schema,
  around: RowSurroundings,
): RowExpression | null {
  const { reporter } = around;
  const of = aggregate.of === "none" ? "any" : aggregate.of;
  if (node === undefined) {
    const help = `name a column in quotes: op.${aggregate.name}("carry")`;
    reporter.say("query.missing-argument", { call: `op.${aggregate.name}`, argument: "a column", help }, call);
    return null;
  }
  if (node.kind !== "row function") {
    const name = checkColumnName(node, of, input, around);
    return name === null ? null : columnExpression(columnsByName(input).get(name), name, node);
  }
  const expression = checkRow(node, input, around);
  if (expression === null) return null;
  const { kind } = expression.type;
  if (kind === "missing") reporter.say("query.always-missing", {}, expression);
  else if (of === "any" || kind === of || kind === "unknown") return expression;
  else reporter.say("query.kind", { what: "this", found: typeInWords(expression.type), wanted: of === "number" ? "a number" : "text" }, expression);
  return null;
}

function aggregateNumbers(aggregate: Aggregate, given: readonly Syntax[], call: Extract<Syntax, { kind: "call" }>, around: RowSurroundings): readonly number[] | null {
  const { reporter, constants } = around;
  const name = `op.${aggregate.name}`;
  if (given.length > aggregate.numbers.length) {
    sayExtra(name, call.given, aggregate.numbers.length + (aggregate.of === "none" ? 0 : 1), reporter);
    return null;
  }
  const numbers: number[] = [];
  for (const [index, wanted] of aggregate.numbers.entries()) {
    const node = given[index];
    const bounds = `a number from ${wanted.least} to ${wanted.most}`;
    const value = node === undefined ? undefined : plainNumber(node, constants);
    if (node === undefined) reporter.say("query.missing-argument", { call: name, argument: wanted.name, help: `${wanted.name} is ${bounds}` }, call);
    else if (value === undefined) reporter.say("query.expected", { wanted: bounds, found: syntaxInWords(node) }, node);
    else if (value >= wanted.least && value <= wanted.most) numbers.push(value);
    else {
      // A share is often written in per cent.
      const isShare = wanted.least === 0 && wanted.most === 1 && value > 1 && value <= 100;
      const facts = { found: String(value), wanted: bounds, ...(isShare ? { instead: String(value / 100) } : {}) };
      reporter.say("query.number", facts, node, isShare ? reporter.replacing(`Write ${value / 100}`, node, String(value / 100)) : undefined);
    }
  }
  return numbers.length === aggregate.numbers.length ? numbers : null;
}

function rename(entry: Entry, input: Schema, around: RowSurroundings): readonly [string, string] | null {
  const { reporter } = around;
  const to = plainText(entry.value, around.constants);
  if (to === undefined) {
    const { value } = entry;
    const fix = value.kind === "name" ? reporter.replacing(`Write "${value.name}"`, value, JSON.stringify(value.name)) : undefined;
    reporter.say("query.expected", { wanted: "the new name in quotes", found: syntaxInWords(value) }, value, fix);
    return null;
  }
  if (isRefusedKey(to)) {
    reporter.say("query.engine-name", { name: to }, entry.value);
    return null;
  }
  if (!input.open && !input.columns.some((column) => column.name === entry.name)) {
    reporter.unknown("query.unknown-column", entry.name, entry.nameSpan, input.columns.map((column) => column.name), {
      span: entry.nameSpan,
      write: (name) => (/^[\p{ID_Start}_][\p{ID_Continue}]*$/u.test(name) ? name : JSON.stringify(name)),
    });
    return null;
  }
  return [entry.name, to];
}
