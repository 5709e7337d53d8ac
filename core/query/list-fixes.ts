import type { Fix } from "../problem";
import type { Reporter } from "./reporter";
import type { Span, Syntax } from "./syntax";
import { syntaxInWords } from "./syntax";
import type { RowFunction } from "./vocabulary";

type List = Extract<Syntax, { kind: "list" }>;

/** The value that is one of a list's, in place of `whole`: `op.any_of(d.head, "Wren", "Heron")`. */
export function anyOfFix(value: Span, list: List, whole: Span, reporter: Reporter, negated = false): Fix | undefined {
  const [first, last] = [list.items[0], list.items.at(-1)];
  if (first === undefined || last === undefined) return undefined;
  const items = reporter.textOf({ from: first.from, to: last.to });
  if (!bracketsMatch(items)) return undefined;
  const text = `${negated ? "!" : ""}op.any_of(${reporter.textOf(value)}, ${items})`;
  return reporter.replacing("Use op.any_of", whole, text);
}

/** Reports a list that stands where a value is wanted. */
export function sayList(list: List, reporter: Reporter, fix: Fix | undefined): null {
  reporter.say("query.expected", { wanted: "a value (or op.any_of, for several)", found: syntaxInWords(list) }, list, fix);
  return null;
}

/** Reports a list among what a function compares a value with; false where there is none. */
export function saidList(run: RowFunction, call: Extract<Syntax, { kind: "call" }>, reporter: Reporter): boolean {
  const [first, second, ...more] = call.given;
  if (more.length > 0 || first === undefined || second === undefined) return false;
  if (run.name === "includes" && first.kind === "list") sayList(first, reporter, anyOfFix(second, first, call, reporter));
  else if (run.name === "any_of" && second.kind === "list") sayList(second, reporter, anyOfFix(first, second, call, reporter));
  else return false;
  return true;
}

/** True where as many brackets are closed in a text as are opened. */
export function bracketsMatch(text: string): boolean {
  const count = (signs: string): number => Array.from(text).filter((sign) => signs.includes(sign)).length;
  return count("([{") === count(")]}");
}
