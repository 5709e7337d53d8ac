import { closestName } from "../closest-name";
import type { Fix, TextEdit } from "../problem";
import type { Reporter } from "./reporter";
import type { CompareOperator, Syntax } from "./syntax";

type Binary = Extract<Syntax, { kind: "binary" }>;

/** A comparison by order. */
type Comparison = Binary & { readonly operator: CompareOperator };

const orders: readonly string[] = ["<", "<=", ">", ">="];

/** True for a comparison by order whose left side is another one. */
export function isChain(node: Syntax): node is Binary & { readonly left: Binary } {
  return node.kind === "binary" && orders.includes(node.operator) && node.left.kind === "binary" && orders.includes(node.left.operator);
}

/** True for a comparison by order whose left side is another one without brackets around it. */
export function isLinked(node: Binary, reporter: Reporter): node is Binary & { readonly left: Comparison } {
  return isChain(node) && /^\s*$/u.test(reporter.textOf({ from: node.left.to, to: node.operatorSpan.from }));
}

/**
 * `100 < d.carry < 150` as two comparisons with `&&`, a longer chain as more of them; `undefined` for any other
 * comparison, and where brackets around a part of it, or a comparison beside it, would leave something wrong.
 */
export function chainFix(whole: Binary, reporter: Reporter): Fix | undefined {
  const edits: TextEdit[] = [];
  let first = whole;
  for (; isLinked(first, reporter); first = first.left) {
    const { left, operator, operatorSpan } = first;
    const middle = left.right;
    const text = reporter.textOf(middle);
    const again = middle.kind === "binary" || middle.kind === "choose" ? `(${text})` : text;
    edits.unshift({ range: reporter.rangeOf({ from: left.to, to: operatorSpan.to }), text: ` && ${again} ${operator}` });
  }
  if (edits.length === 0 || isChain(first)) return undefined;
  const [before, after] = [{ from: Math.max(0, whole.from - 20), to: whole.from }, { from: whole.to, to: whole.to + 20 }].map((span) => reporter.textOf(span));
  if (/[=!]==\s*$/u.test(before!) || /^\s*[=!]==|^\s*\)[\s)]*[<>]/u.test(after!)) return undefined;
  return { title: edits.length === 1 ? "Write it as two comparisons" : "Write it as comparisons with && between them", edits };
}

/** A text without quotes: what it was most likely meant to be, in quotes. */
export function quotedText(name: string, known: readonly string[] | undefined): string {
  return JSON.stringify(known === undefined || known.includes(name) ? name : (closestName(name, known) ?? name));
}
