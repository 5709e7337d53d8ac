import type { Fix } from "../problem";
import { bracketsMatch } from "./list-fixes";
import type { Reporter } from "./reporter";
import type { Syntax } from "./syntax";

type RowFunctionSyntax = Extract<Syntax, { kind: "row function" }>;

/** What was meant by more arguments than are taken: what the hint says, where that is not to remove them, and the fix. */
export interface ExtraMeant {
  readonly instead?: string;
  readonly fix?: Fix | undefined;
}

/** Conditions given one after another where one is taken, as one that asks for all of them; `undefined` where one is no row function. */
export function joinedConditions(given: readonly Syntax[], reporter: Reporter): ExtraMeant | undefined {
  if (given.length < 2 || !given.every((node) => node.kind === "row function")) return undefined;
  const instead = "join conditions with && in one row function: d => d.carry > 150 && d.offline < 10";
  const row = given[0]!.parameter;
  const conditions = given.map((node) => conditionOf(node, reporter));
  if (given.some(({ parameter }) => parameter !== row)) return { instead };
  return replacing(given, `${row} => ${conditions.join(" && ")}`, "Join the conditions with &&", instead, reporter);
}

/** Objects given one after another where one is taken, as one that has the entries of all; `undefined` where one is no object. */
export function joinedObjects(given: readonly Syntax[], reporter: Reporter): ExtraMeant | undefined {
  if (given.length < 2 || !given.every((node) => node.kind === "object")) return undefined;
  const instead = "write all of them between the same braces: { …, … }";
  const names = given.flatMap(({ entries }) => entries.map(({ name }) => name));
  const inside = given.map((node) => reporter.textOf(node).slice(1, -1).trim().replace(/\s*,$/u, ""));
  if (new Set(names).size < names.length) return { instead };
  return replacing(given, `{ ${inside.filter((text) => text !== "").join(", ")} }`, "Write them in one object", instead, reporter);
}

/** What stands behind the arrow, in brackets where && would part it. */
function conditionOf(node: RowFunctionSyntax, reporter: Reporter): string {
  const written = reporter.textOf(node);
  const arrow = written.indexOf("=>");
  const condition = written.slice(arrow + 2).trim();
  const { body } = node;
  const binds = body.kind !== "choose" && body.kind !== "row function" && !(body.kind === "binary" && body.operator === "||");
  const isBracketed = body.from > node.to - condition.length;
  return binds || isBracketed ? condition : `(${condition})`;
}

/** The fix that puts one text in place of all that was given; none where that would tear brackets apart or lose a comment. */
function replacing(given: readonly Syntax[], text: string, title: string, instead: string, reporter: Reporter): ExtraMeant {
  const span = { from: given[0]!.from, to: given.at(-1)!.to };
  const written = reporter.textOf(span);
  return bracketsMatch(written) && !/\/[/*]/u.test(written) ? { instead, fix: reporter.replacing(title, span, text) } : { instead };
}
