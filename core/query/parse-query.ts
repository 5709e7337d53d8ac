import { parse, tokTypes, type AnyNode, type MemberExpression, type ObjectExpression, type Program, type TaggedTemplateExpression } from "acorn";
import type { Limits } from "../limits";
import { problem, type Checked, type Fix, type Problem } from "../problem";
import { oneOf } from "../problem-kind";
import { rememberTexts, syntaxUnits } from "../remember-texts";
import { lineTable, type LineTable } from "../text-position";
import { isEngineName, isRefusedKey, whyNotAName, whyNotARow } from "./names";
import { readTokens, syntaxProblem } from "./read-tokens";
import { syntaxOptions } from "./syntax-options";
import type { BinaryOperator, CellSyntax, ConstantSyntax, Entry, Span, Syntax, TextSyntax } from "./syntax";

/**
 * The syntax of a query cell's body, or `null` with an error when the text is not wholly of listed kinds.
 *
 * Two gates stand one behind the other: `readTokens` looks at every token before the parser runs, and the conversion
 * here turns listed kinds of the parser's nodes into our own, refusing all others. Nothing of the parser's tree is
 * kept. Names, verbs and columns are the business of `checkQuery`.
 *
 * @param text the whole text of the cell, its header line included; places are in this text.
 * @param bodyOffset where the body begins, in UTF-16 units.
 */
export const parseQuery = rememberTexts(readSyntax, syntaxUnits);

function readSyntax(text: string, bodyOffset: number, limits: Limits): Checked<CellSyntax | null> {
  const lines = lineTable(text);
  const tokens = readTokens(text, bodyOffset, lines, limits);
  if (tokens.value === null) return { value: null, problems: tokens.problems };
  const problems: Problem[] = [...tokens.problems];
  const body = text.slice(bodyOffset);
  if (tokens.value.every((token) => token.type === tokTypes.semi)) {
    return { value: null, problems: [...problems, problem("query.empty", {}, lines.rangeAt(...shownOfEmpty(text, bodyOffset, tokens.value[0])))] };
  }
  try {
    const converter = makeConverter(text, bodyOffset, lines);
    const value = converter.cell(parse(body, syntaxOptions));
    return { value, problems: [...problems, ...converter.problems] };
  } catch (error) {
    return { value: null, problems: [...problems, syntaxProblem(error, text, bodyOffset, lines)] };
  }
}

/** What is marked where a body holds no expression: its first sign, else the cell's own first line, whose body it is. */
function shownOfEmpty(text: string, bodyOffset: number, sign: Span | undefined): readonly [from: number, to: number] {
  return sign === undefined ? [0, text.slice(0, bodyOffset).trimEnd().length] : [sign.from, sign.to];
}

const binaryOperators: ReadonlySet<string> = new Set<BinaryOperator>([
  "+",
  "-",
  "*",
  "/",
  "%",
  "===",
  "!==",
  "<",
  "<=",
  ">",
  ">=",
  "&&",
  "||",
]);

const asExpression = "a cell is const names, then one expression: a table with verbs, a chart or a text";
const asRowFunction = "a row function has one plain name and one expression: d => d.carry > 150";

/** Thrown inside the conversion to give up the cell after its problem was noted; never leaves this file. */
class Refused extends Error {}

function makeConverter(text: string, bodyOffset: number, lines: LineTable) {
  const problems: Problem[] = [];
  const spanOf = (node: { start: number; end: number }): Span => ({ from: node.start + bodyOffset, to: node.end + bodyOffset });
  const rangeOf = (span: Span) => lines.rangeAt(span.from, span.to);

  function refuse(found: Problem): never {
    problems.push(found);
    throw new Refused();
  }

  /** Refuses a node at its first token, which is where a person sees what is meant. */
  function refuseNode(node: { start: number; end: number }, instead: string, fix?: Fix): never {
    const span = spanOf(node);
    const raw = text.slice(span.from, span.to);
    const first = /^(?:[\p{L}\p{N}_$]+|"[^"]*"|'[^']*'|.)/u.exec(raw)?.[0] ?? raw;
    refuse(problem("query.not-allowed", { found: first, instead }, lines.rangeAt(span.from, span.from + first.length), fix === undefined ? {} : { fix }));
  }

  function removing(from: number, to: number): Fix {
    return { title: "Remove it", edits: [{ range: lines.rangeAt(from, to), text: "" }] };
  }

  function cell(program: Program): CellSyntax | null {
    try {
      return statements(program);
    } catch (error) {
      if (error instanceof Refused) return null;
      throw error;
    }
  }

  function statements(program: Program): CellSyntax {
    const constants: ConstantSyntax[] = [];
    const body = program.body.filter((statement) => statement.type !== "EmptyStatement");
    for (const [index, statement] of body.entries()) {
      if (statement.type === "VariableDeclaration" && statement.kind === "const") {
        for (const { id, init } of statement.declarations) {
          if (id.type !== "Identifier") refuseNode(id, "a const has one plain name");
          if (!init) refuseNode(id, "write const name = …");
          constants.push(constant(id.name, spanOf(id), convert(init), constants));
        }
      } else if (statement.type === "ExpressionStatement") {
        const next = body[index + 1];
        if (next !== undefined) refuseNode(next, "nothing may follow the cell's expression");
        const { expression } = statement;
        return { constants, result: expression.type === "TaggedTemplateExpression" ? textWithHoles(expression) : convert(expression) };
      } else refuseNode(statement, asExpression);
    }
    const last = text.trimEnd().length;
    const end = lines.rangeAt(last, last);
    return refuse(problem("query.empty", {}, end));
  }

  function textWithHoles(node: TaggedTemplateExpression): TextSyntax {
    const { tag, quasi } = node;
    if (tag.type !== "Identifier" || tag.name !== "text") refuseNode(node, asExpression);
    const texts = quasi.quasis.map((each) => each.value.cooked ?? refuseNode(each, asExpression));
    return { ...spanOf(node), kind: "text with holes", texts, holes: quasi.expressions.map(convert) };
  }

  function constant(name: string, nameSpan: Span, value: Syntax, before: readonly ConstantSyntax[]): ConstantSyntax {
    const reason = whyNotAName(name);
    if (reason !== null) refuse(problem("query.reserved-name", { name, reason }, rangeOf(nameSpan)));
    if (before.some((other) => other.name === name)) refuse(problem("query.duplicate-name", { name, what: "name" }, rangeOf(nameSpan)));
    return { name, nameSpan, value };
  }

  function convert(node: AnyNode): Syntax {
    const span = spanOf(node);
    switch (node.type) {
      case "Literal": {
        const { value } = node;
        if (typeof value === "number") return { ...span, kind: "number", value };
        if (typeof value === "string") return { ...span, kind: "text", value };
        if (typeof value === "boolean") return { ...span, kind: "truth", value };
        if (value === null && node.raw === "null") return { ...span, kind: "missing" };
        return refuseNode(node, asExpression);
      }
      case "Identifier":
        refuseEngineName(node.name, span);
        return { ...span, kind: "name", name: node.name };
      case "MemberExpression":
        return { ...span, kind: "member", of: convert(node.object), ...memberName(node) };
      case "CallExpression":
        return { ...span, kind: "call", callee: convert(node.callee), given: node.arguments.map(convert) };
      case "ArrowFunctionExpression": {
        const [parameter, ...more] = node.params;
        if (node.async || node.generator || node.body.type === "BlockStatement") refuseNode(node, asRowFunction);
        if (parameter === undefined) refuseNode(node, asRowFunction);
        if (parameter.type !== "Identifier") refuseNode(parameter, asRowFunction);
        if (more[0] !== undefined) refuseNode(more[0], asRowFunction);
        const reason = whyNotARow(parameter.name);
        if (reason !== null) refuse(problem("query.reserved-name", { name: parameter.name, reason }, rangeOf(spanOf(parameter))));
        return { ...span, kind: "row function", parameter: parameter.name, body: convert(node.body) };
      }
      case "ObjectExpression":
        return { ...span, kind: "object", entries: entriesOf(node) };
      case "ArrayExpression":
        return {
          ...span,
          kind: "list",
          items: node.elements.map((item) => (item === null ? refuseNode(node, "a list has no gaps") : convert(item))),
        };
      case "UnaryExpression":
        if (node.operator === "-") return { ...span, kind: "negate", of: convert(node.argument) };
        if (node.operator === "!") return { ...span, kind: "not", of: convert(node.argument) };
        return refuseNode(node, "a condition is reversed with !, a number with -", node.operator === "+" ? removing(span.from, span.to - (node.argument.end - node.argument.start)) : undefined);
      case "BinaryExpression":
      case "LogicalExpression": {
        if (!binaryOperators.has(node.operator)) return refuseNode(node, `operators are ${oneOf([...binaryOperators])}`);
        const left = convert(node.left);
        const right = convert(node.right);
        const operator = node.operator as BinaryOperator;
        return { ...span, kind: "binary", operator, operatorSpan: operatorBetween(left, right, operator), left, right };
      }
      case "ConditionalExpression":
        return { ...span, kind: "choose", test: convert(node.test), yes: convert(node.consequent), no: convert(node.alternate) };
      case "TaggedTemplateExpression":
        return refuseNode(node, "a text is the whole of a cell's last expression, and no part of another");
      case "SequenceExpression":
        return refuseNode(node, "a comma does not join expressions: write one");
      default:
        return refuseNode(node, asExpression);
    }
  }

  function memberName(node: MemberExpression): { readonly name: string; readonly nameSpan: Span } {
    const { property } = node;
    const nameSpan = spanOf(property);
    if (!node.computed && property.type === "Identifier") {
      refuseEngineName(property.name, nameSpan);
      return { name: property.name, nameSpan };
    }
    if (node.computed && property.type === "Literal" && typeof property.value === "string") {
      refuseEngineName(property.value, nameSpan);
      return { name: property.value, nameSpan };
    }
    return refuseNode(property, "between square brackets stands one name in quotes: d[\"its name\"]");
  }

  function entriesOf(node: ObjectExpression): readonly Entry[] {
    const entries: Entry[] = [];
    for (const property of node.properties) {
      if (property.type !== "Property") return refuseNode(property, "write the entries one by one");
      const { key } = property;
      const nameSpan = spanOf(key);
      if (property.computed || property.kind !== "init" || property.method) return refuseNode(property, "an entry is a name, a colon and a value");
      const name = key.type === "Identifier" ? key.name : key.type === "Literal" && typeof key.value === "string" ? key.value : null;
      if (name === null) return refuseNode(key, "an entry is a name, a colon and a value");
      if (isRefusedKey(name)) refuse(problem("query.engine-name", { name }, rangeOf(nameSpan)));
      if (property.shorthand) return refuseNode(key, "an entry is a name, a colon and a value");
      if (entries.some((entry) => entry.name === name)) refuse(problem("query.duplicate-name", { name, what: "entry" }, rangeOf(nameSpan)));
      entries.push({ name, nameSpan, value: convert(property.value) });
    }
    return entries;
  }

  function refuseEngineName(name: string, span: Span): void {
    if (isEngineName(name)) refuse(problem("query.engine-name", { name }, rangeOf(span)));
  }

  /** Where an operator stands; brackets and comments around the sides are passed over. */
  function operatorBetween(left: Span, right: Span, operator: BinaryOperator): Span {
    const between = text.slice(left.to, right.from).replace(/\/\*[^]*?\*\/|\/\/[^\n\r]*/gu, (comment) => " ".repeat(comment.length));
    const from = left.to + Math.max(0, between.indexOf(operator));
    return { from, to: from + operator.length };
  }

  return { cell, problems };
}
