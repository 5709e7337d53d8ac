import { isChosen } from "../../core/query/chosen-words";
import type { Span, Syntax } from "../../core/query/syntax";
import type { Vocabulary } from "../../core/query/vocabulary";
import type { Scope } from "./column-origins";
import { columnFacts, type NameList } from "./name-list";

/** Adds the names in a row function over rows of `scope`: its row, columns, values they are compared with, functions, constants. */
export function addRowNames(node: Extract<Syntax, { kind: "row function" }>, scope: Scope, cell: { readonly index: number; readonly text: string; readonly vocabulary: Vocabulary }, list: NameList): void {
  const { parameter } = node;
  const span = parameterSpan(cell.text, node);
  const symbol = `row:${cell.index}:${span.from}`;
  list.add("row", parameter, span, { symbol, isDeclaration: true });
  visit(node.body);

  function isRow(each: Syntax): boolean {
    return each.kind === "name" && each.name === parameter;
  }

  function compare(a: Syntax, b: Syntax): void {
    if (a.kind === "member" && isRow(a.of)) list.value(b, columnFacts(a.name, scope));
  }

  function visit(each: Syntax): void {
    switch (each.kind) {
      case "name":
        if (list.constants.has(each.name)) list.plainName(each);
        else if (isRow(each)) list.add("row", parameter, each, { symbol });
        return;
      case "member":
        if (isRow(each.of)) {
          list.add("row", parameter, each.of, { symbol });
          list.member(each, columnFacts(each.name, scope));
        } else if (isChosen(each)) list.chosen(each);
        else if (each.of.kind === "name" && each.of.name === "op") list.functionName(each);
        else visit(each.of);
        return;
      case "call": {
        const { callee, given } = each;
        if (callee.kind !== "name") visit(callee);
        const [first, ...others] = given;
        const matches = callee.kind === "member" && cell.vocabulary.rowFunctions.get(callee.name)?.matches === true;
        if (matches && first !== undefined) others.forEach((other) => compare(first, other));
        return given.forEach(visit);
      }
      case "binary":
        visit(each.left);
        if (each.operator === "===" || each.operator === "!==") {
          compare(each.left, each.right);
          compare(each.right, each.left);
        }
        return visit(each.right);
      case "choose":
        visit(each.test);
        visit(each.yes);
        return visit(each.no);
      case "negate":
      case "not":
        return visit(each.of);
      case "object":
        return each.entries.forEach((entry) => visit(entry.value));
      case "list":
        return each.items.forEach(visit);
      case "row function":
        return addRowNames(each, scope, cell, list);
      case "number":
      case "text":
      case "truth":
      case "missing":
        return;
    }
  }
}

/** Where a row function's parameter stands: behind brackets, space and comments at its beginning. */
function parameterSpan(text: string, { from, to }: Span): Span {
  const before = /(?:[\s(]|\/\*[^]*?\*\/|\/\/[^\n]*\n)*/y;
  before.lastIndex = from;
  const start = from + before.exec(text)![0].length;
  const name = /(?:[\p{ID_Continue}$]|\\u\{?[0-9a-fA-F]+\}?)+/uy;
  name.lastIndex = start;
  const length = name.exec(text)?.[0].length ?? 0;
  return { from: start, to: Math.min(to, start + length) };
}
