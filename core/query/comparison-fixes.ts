import { closestName } from "../closest-name";
import type { Fix } from "../problem";
import type { Reporter } from "./reporter";
import type { Syntax } from "./syntax";

type Binary = Extract<Syntax, { kind: "binary" }>;

const orders: readonly string[] = ["<", "<=", ">", ">="];

/** `100 < d.carry < 150` as two comparisons with `&&`; `undefined` for any other comparison, and where brackets or `===` are beside it. */
export function chainFix(node: Binary, reporter: Reporter): Fix | undefined {
  const { left, operator, operatorSpan } = node;
  if (left.kind !== "binary" || !orders.includes(left.operator) || !orders.includes(operator)) return undefined;
  const [before, between, after] = [
    { from: Math.max(0, node.from - 20), to: node.from },
    { from: left.to, to: operatorSpan.from },
    { from: node.to, to: node.to + 20 },
  ].map((span) => reporter.textOf(span));
  if (!/^\s*$/u.test(between!) || /[=!]==\s*$/u.test(before!) || /^\s*[=!]==/u.test(after!)) return undefined;
  const middle = left.right;
  const text = reporter.textOf(middle);
  const again = middle.kind === "binary" || middle.kind === "choose" ? `(${text})` : text;
  return reporter.replacing("Write it as two comparisons", { from: left.to, to: operatorSpan.to }, ` && ${again} ${operator}`);
}

/** A text without quotes: what it was most likely meant to be, in quotes. */
export function quotedText(name: string, known: readonly string[] | undefined): string {
  return JSON.stringify(known === undefined || known.includes(name) ? name : (closestName(name, known) ?? name));
}
