import { closestName } from "../closest-name";
import type { NotebookChoice } from "../notebook/choice";
import type { ColumnSchema, Schema } from "../table/schema";
import type { Reporter } from "./reporter";
import type { RowExpression } from "./row-expression";
import { checkKnownValues, checkMatchedValues } from "./row-values";
import { agreedUnit, arithmeticType, commonType, unknownType } from "./row-types";
import { typeInWords } from "./row-units";
import type { BinaryOperator, CompareOperator, Span, Syntax } from "./syntax";
import { syntaxInWords } from "./syntax";
import { chainFix, isChain, isLinked, quotedText } from "./comparison-fixes";
import { sayExtra } from "./extra-fix";
import { hyphenedEnd } from "./hyphened-column";
import { sayKinds } from "./kind-fix";
import { anyOfFix, saidList, sayList } from "./list-fixes";
import { calledInstead, memberFix, saidNot } from "./row-fixes";
import type { RowFunction, RowParameter, ValueType, Vocabulary } from "./vocabulary";

/** A constant of a cell that is a plain value. */
export type PlainConstant = number | string | boolean;

/** What a row function can see besides its row. */
export interface RowSurroundings {
  readonly vocabulary: Vocabulary;
  readonly constants: ReadonlyMap<string, PlainConstant>;
  readonly reporter: Reporter;
  /** The named choices of the front matter. */
  readonly choices: readonly NotebookChoice[];
  /** Told of every choice that a table's rows are held against. */
  readonly onChosen?: (chosen: ChosenHere) => void;
}

/** A choice that a cell uses. */
export interface ChosenHere {
  readonly name: string;
  /** The values of its column in the table that it is used on; `null` where they are not known, or of a choice among words. */
  readonly values: readonly string[] | null;
}

const truth: ValueType = { kind: "truth", unit: null };

/**
 * The checked body of a row function over rows of `input`; `null` when it has errors, which were reported.
 *
 * Columns are looked up by name in a map of the input's columns and nowhere else. A column that an open schema does
 * not list has an unknown type; running checks again against the table itself.
 */
export function checkRow(
  node: Extract<Syntax, { kind: "row function" }>,
  input: Schema,
  around: RowSurroundings,
): RowExpression | null {
  const columns = new Map(input.columns.map((column) => [column.name, column]));
  return makeChecker(node.parameter, columns, input.open, around)(node.body);
}

/** The checked value of one column, for verbs and aggregates that name it in quotes. */
export function columnExpression(column: ColumnSchema | undefined, name: string, span: Span): RowExpression {
  return { from: span.from, to: span.to, kind: "column", name, type: column === undefined ? unknownType : { kind: column.kind, unit: column.unit } };
}

function makeChecker(row: string, columns: ReadonlyMap<string, ColumnSchema>, open: boolean, around: RowSurroundings) {
  const { reporter, vocabulary, constants } = around;
  /** The rests of names that were written with hyphens, which are no names by themselves. */
  const hyphened: Span[] = [];

  function check(node: Syntax): RowExpression | null {
    const { from, to } = node;
    switch (node.kind) {
      case "number":
        return { from, to, kind: "constant", value: node.value, type: { kind: "number", unit: null, literal: true } };
      case "text":
        return { from, to, kind: "constant", value: node.value, type: { kind: "text", unit: null } };
      case "truth":
        return { from, to, kind: "constant", value: node.value, type: truth };
      case "missing":
        return { from, to, kind: "constant", value: null, type: { kind: "missing", unit: null } };
      case "name":
        return checkName(node);
      case "member":
        return checkMember(node);
      case "call":
        return checkCall(node);
      case "negate": {
        const of = operand(node.of, "number", "what - changes the sign of");
        return of && { from, to, kind: "negate", of, type: of.type };
      }
      case "not": {
        const of = operand(node.of, "truth", "what ! reverses");
        return of && { from, to, kind: "not", of, type: truth };
      }
      case "binary":
        return checkBinary(node);
      case "choose":
        return checkChoose(node);
      case "row function":
      case "object":
      case "list":
        reporter.say("query.expected", { wanted: "a value", found: syntaxInWords(node) }, node);
        return null;
    }
  }

  function checkName(node: Extract<Syntax, { kind: "name" }>): RowExpression | null {
    const { from, to, name } = node;
    const value = constants.get(name);
    if (value !== undefined) {
      if (typeof value === "number") return { from, to, kind: "constant", value, type: { kind: "number", unit: null, literal: true } };
      return { from, to, kind: "constant", value, type: typeof value === "string" ? { kind: "text", unit: null } : truth };
    }
    if (hyphened.some((span) => span.from < from && to <= span.to)) return null;
    if (name === row) reporter.say("query.expected", { wanted: `a column of the row, such as ${row}.carry`, found: "the row itself" }, node);
    else if (name === "undefined" || name === "NaN") reporter.say("query.not-allowed", { found: name, instead: "a missing value is null" }, node, reporter.replacing("Use null", node, "null"));
    else if (columns.has(name)) {
      const nearest = row + columnAccess(name);
      const fix = reporter.replacing(`Use ${nearest}`, node, nearest);
      reporter.say("query.unknown-name", { name, candidates: [row, ...constants.keys()], nearest }, node, fix);
    }
    else reporter.unknown("query.unknown-name", name, node, [row, ...constants.keys()]);
    return null;
  }

  /** True for a name that is neither the row, nor a column, nor a constant. */
  function isUnknownName(node: Syntax): node is Extract<Syntax, { kind: "name" }> {
    return node.kind === "name" && node.name !== row && !["op", "chart", "undefined", "NaN"].includes(node.name) && !columns.has(node.name) && !constants.has(node.name);
  }

  /** Reports an unknown name beside `of`: beside a text, of which the values may be known, one without its quotes, unless a constant is near. */
  function sayUnquoted(node: Extract<Syntax, { kind: "name" }>, of: RowExpression | null, known = of?.kind === "column" ? columns.get(of.name)?.values : undefined): null {
    const texts = [...constants].flatMap(([constant, value]) => (typeof value === "string" ? [constant] : []));
    if (!isText(of) || (known?.includes(node.name) !== true && closestName(node.name, texts) !== null)) {
      check(node);
      return null;
    }
    const text = quotedText(node.name, known);
    reporter.say("query.unknown-name", { name: node.name, candidates: [row, ...constants.keys()], text }, node, reporter.replacing(`Write ${text}`, node, text));
    return null;
  }

  function checkMember(node: Extract<Syntax, { kind: "member" }>): RowExpression | null {
    const { to, name } = node;
    if (node.of.kind === "name" && node.of.name === row) {
      const end = hyphenedEnd(node, columns, (word) => word === row || constants.has(word), reporter);
      if (end !== null) {
        hyphened.push({ from: to, to: end });
        const span = { from: node.nameSpan.from, to: end };
        reporter.unknown("query.unknown-column", reporter.textOf(span), span, [...columns.keys()], { span: { from: node.of.to, to: end }, write: columnAccess });
        return null;
      }
      const column = columns.get(name);
      if (column === undefined && !open) {
        const replace = { span: { from: node.of.to, to }, write: columnAccess };
        reporter.unknown("query.unknown-column", name, node.nameSpan, [...columns.keys()], replace);
        return null;
      }
      return columnExpression(column, name, node);
    }
    if (node.of.kind === "name" && node.of.name === "op") {
      reporter.say("query.expected", { wanted: `a call, op.${name}(…)`, found: `op.${name}` }, node);
      return null;
    }
    const instead =
      node.of.kind === "name" && !constants.has(node.of.name)
        ? `the row of this function is called ${row}: ${row}.${name}`
        : "values have no members; functions of values are op.name(…)";
    reporter.say("query.not-allowed", { found: `.${name}`, instead }, node.nameSpan, memberFix(node, row, columns, around));
    return null;
  }

  function checkCall(node: Extract<Syntax, { kind: "call" }>): RowExpression | null {
    const { callee } = node;
    if (callee.kind !== "member" || callee.of.kind !== "name" || callee.of.name !== "op") {
      const name = callee.kind === "member" || callee.kind === "name" ? callee.name : "";
      if (saidNot(node, reporter)) return null;
      const meant = calledInstead(node, around);
      const instead = meant === undefined ? "functions are op.name(…)" : `write op.${meant.name}(…)`;
      const span = callee.kind === "member" ? callee.nameSpan : callee;
      reporter.say("query.not-allowed", { found: `${name}(…)`, instead }, span, meant?.fix);
      return null;
    }
    const { name, nameSpan } = callee;
    const run = vocabulary.rowFunctions.get(name);
    if (run === undefined) {
      if (vocabulary.aggregates.has(name)) reporter.say("query.wrong-place", { name, kind: "a function of many rows" }, nameSpan);
      else reporter.unknown("query.unknown-function", name, nameSpan, [...vocabulary.rowFunctions.keys()]);
      return null;
    }
    const parameters = parametersFor(run, node, reporter);
    if (parameters === null) return null;
    if (saidList(run, node, reporter)) return null;
    const given: (RowExpression | null)[] = [];
    for (const [index, argument] of node.given.entries()) given.push(checkArgument(run, parameters[index]!, argument, given[0] ?? null));
    if (given.some((argument) => argument === null)) return null;
    return typedCall(run, given as readonly RowExpression[], node, nameSpan);
  }

  /** @param first the argument before the others, with which they go. */
  function checkArgument(run: RowFunction, parameter: RowParameter, node: Syntax, first: RowExpression | null): RowExpression | null {
    if (isUnknownName(node) && isText(first) && (run.matches === true || parameter.kind === "text")) return run.matches === true ? sayUnquoted(node, first) : sayUnquoted(node, first, []);
    if (parameter.kind === "any") return check(node);
    return operand(node, parameter.kind, `${parameter.name} of op.${run.name}`, run.takesMissing === true);
  }

  function typedCall(run: RowFunction, given: readonly RowExpression[], node: Span, nameSpan: Span): RowExpression | null {
    const { from, to } = node;
    if (given.some((argument) => argument.type.kind === "unknown")) return { from, to, kind: "call", run, given, type: unknownType };
    const type = run.type(given.map((argument) => argument.type as ValueType));
    if (typeof type === "string") {
      reporter.say("query.function-type", { name: run.name, reason: type }, nameSpan);
      return null;
    }
    if (run.matches === true) checkMatchedValues(given, columns, reporter);
    return { from, to, kind: "call", run, given, type };
  }

  function checkBinary(node: Extract<Syntax, { kind: "binary" }>): RowExpression | null {
    const { from, to, operator } = node;
    if (operator === "&&" || operator === "||") {
      const left = operand(node.left, "truth", `the left of ${operator}`);
      const right = operand(node.right, "truth", `the right of ${operator}`);
      return left && right && { from, to, kind: "logic", operator, left, right, type: truth };
    }
    if (isComparison(operator)) return checkComparison(node, operator);
    const left = operand(node.left, "number", `the left of ${operator}`);
    const right = operand(node.right, "number", `the right of ${operator}`);
    if (left === null || right === null) return null;
    const type = arithmeticType(operator, left.type, right.type, node.operatorSpan, reporter);
    return type && { from, to, kind: "arithmetic", operator, left, right, type };
  }

  /** @param chain the comparison with all that stand behind it without brackets: `100 < d.carry < 150` for its left half. */
  function checkComparison(node: Extract<Syntax, { kind: "binary" }>, operator: CompareOperator, chain = node): RowExpression | null {
    const { from, to } = node;
    const equality = operator === "===" || operator === "!==";
    if (equality && node.right.kind === "list") return sayList(node.right, reporter, anyOfFix(node.left, node.right, node, reporter, operator === "!=="));
    const left = equality && isUnknownName(node.left) ? null : isLinked(node, reporter) ? checkComparison(node.left, node.left.operator, chain) : check(node.left);
    const right = equality && isUnknownName(node.right) ? sayUnquoted(node.right, left) : check(node.right);
    if (equality && isUnknownName(node.left)) sayUnquoted(node.left, right);
    if (left === null || right === null) return null;
    if (equality && (left.type.kind === "missing" || right.type.kind === "missing")) {
      const of = right.type.kind === "missing" ? left : right;
      return { from, to, kind: "is missing", of, negated: operator === "!==", type: truth };
    }
    if (left.type.kind !== "unknown" && right.type.kind !== "unknown") {
      if (left.type.kind !== right.type.kind) {
        const instead = "write comparisons one by one with && between them: d.carry > 100 && d.carry < 150";
        if (isChain(node)) reporter.say("query.kind", { what: `the left of ${operator}`, found: typeInWords(left.type), wanted: typeInWords(right.type), instead }, node.operatorSpan, chainFix(chain, reporter));
        else sayKinds(node, left, right, reporter);
        return null;
      }
      if (!equality && left.type.kind !== "number" && left.type.kind !== "text") {
        reporter.say("query.kind", { what: `the left of ${operator}`, found: typeInWords(left.type), wanted: "a number or text" }, node.operatorSpan);
        return null;
      }
      if (left.type.kind === "number" && agreedUnit(left.type, right.type, "compare", node.operatorSpan, reporter) === undefined) return null;
    }
    if (equality) checkKnownValues(left, right, columns, reporter);
    return { from, to, kind: "compare", operator, left, right, type: truth };
  }

  function checkChoose(node: Extract<Syntax, { kind: "choose" }>): RowExpression | null {
    const { from, to } = node;
    const test = operand(node.test, "truth", "what stands before ?");
    const yes = check(node.yes);
    const no = check(node.no);
    if (test === null || yes === null || no === null) return null;
    const type = commonType(yes.type, no.type, node, reporter);
    return type && { from, to, kind: "choose", test, yes, no, type };
  }

  /** A checked operand of the wanted kind. */
  function operand(node: Syntax, wanted: "number" | "text" | "truth", what: string, missingToo = false): RowExpression | null {
    const checked = check(node);
    if (checked === null) return null;
    const { kind } = checked.type;
    if (kind === wanted || kind === "unknown" || (missingToo && kind === "missing")) return checked;
    const hint = wanted === "number" ? "a number" : typeInWords({ kind: wanted });
    reporter.say("query.kind", { what, found: typeInWords(checked.type), wanted: hint }, node);
    return null;
  }

  return check;
}

/** The parameter of each argument; `null` when there are too few or too many. */
function parametersFor(run: RowFunction, node: Extract<Syntax, { kind: "call" }>, reporter: Reporter): readonly RowParameter[] | null {
  const call = `op.${run.name}`;
  const least = run.parameters.filter((parameter) => parameter.optional !== true).length;
  if (node.given.length < least) {
    const argument = run.parameters[node.given.length]!;
    const kind = argument.kind === "any" ? "a value" : typeInWords({ kind: argument.kind });
    reporter.say("query.missing-argument", { call, argument: argument.name, help: `${argument.name} is ${kind}` }, node);
    return null;
  }
  const last = run.parameters[run.parameters.length - 1];
  if (node.given.length > run.parameters.length && last?.rest !== true) {
    sayExtra(call, node.given, run.parameters.length, reporter);
    return null;
  }
  return node.given.map((_, index) => run.parameters[index] ?? last!);
}

function isText(of: RowExpression | null): boolean {
  return of?.type.kind === "text";
}

function isComparison(operator: BinaryOperator): operator is CompareOperator {
  return operator === "===" || operator === "!==" || operator === "<" || operator === "<=" || operator === ">" || operator === ">=";
}

/** How a row function reaches a column: `.carry`, or `["Ball speed"]` where the name is no plain word. */
export function columnAccess(name: string): string {
  return /^[\p{ID_Start}_$][\p{ID_Continue}$]*$/u.test(name) ? `.${name}` : `[${JSON.stringify(name)}]`;
}
