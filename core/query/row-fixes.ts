import type { Fix } from "../problem";
import type { ColumnSchema } from "../table/schema";
import { anyOfFix, bracketsMatch } from "./list-fixes";
import { nameHere } from "./other-names";
import type { Reporter } from "./reporter";
import type { Syntax } from "./syntax";
import type { RowFunction, Vocabulary } from "./vocabulary";

/** What a fix needs to know besides the syntax. */
interface Surroundings {
  readonly vocabulary: Vocabulary;
  /** The constants of the cell by name. */
  readonly constants: ReadonlyMap<string, unknown>;
  readonly reporter: Reporter;
}

type Member = Extract<Syntax, { kind: "member" }>;
type Name = Extract<Syntax, { kind: "name" }>;
type Call = Extract<Syntax, { kind: "call" }>;

/**
 * The fix that takes out the arguments from number `from` on up to, not including, `end`, each with the comma before it.
 * `undefined` where brackets around one of them would be left behind.
 */
export function removingFrom(given: readonly Syntax[], from: number, reporter: Reporter, end = given.length): Fix | undefined {
  const [before, first, last] = [given[from - 1], given[from], given[end - 1]];
  if (first === undefined || last === undefined) return undefined;
  const span = { from: before?.to ?? first.from, to: last.to };
  const opening = before === undefined ? reporter.textOf({ from: Math.max(0, first.from - 20), to: first.from }) : reporter.textOf({ from: before.to, to: first.from });
  const isWhole = before === undefined ? !/\(\s*\(\s*$/u.test(opening) : /^\s*,/u.test(opening);
  const between = reporter.textOf(span);
  return isWhole && bracketsMatch(between) ? reporter.replacing("Remove it", span, "") : undefined;
}

/** A member of something that is not the row, where the row is meant, or a function of the value by another way of writing. */
export function memberFix(node: Member, row: string, columns: ReadonlyMap<string, ColumnSchema>, { constants, reporter, vocabulary }: Surroundings): Fix | undefined {
  if (node.of.kind === "name") return constants.has(node.of.name) || !columns.has(node.name) ? undefined : reporter.replacing(`Use ${row}`, node.of, row);
  const run = vocabulary.rowFunctions.get(ownName(node.name));
  if (run?.parameters.length !== 1 || node.of.kind === "list") return undefined;
  return reporter.replacing(`Use op.${run.name}`, node, `op.${run.name}(${reporter.textOf(node.of)})`);
}

/**
 * The function that was meant by one that is not called as `op.name(…)`, and the fix: `abs(…)` and `Math.abs(…)` with
 * `op.` before them, a method of a value with the value as its first argument.
 */
export function calledInstead(node: Call, { vocabulary, reporter }: Surroundings): { readonly name: string; readonly fix: Fix | undefined } | undefined {
  const { callee, given } = node;
  if (callee.kind !== "name" && callee.kind !== "member") return undefined;
  if (callee.kind === "member" && callee.of.kind === "list") {
    if (callee.name !== "includes") return undefined;
    return { name: "any_of", fix: given.length === 1 ? anyOfFix(given[0]!, callee.of, node, reporter) : undefined };
  }
  const run = vocabulary.rowFunctions.get(ownName(callee.name));
  return run && { name: run.name, fix: callFix(node, callee, run, reporter) };
}

/** True for `not(…)` around a condition, which was reported. */
export function saidNot({ callee, given, to }: Call, reporter: Reporter): boolean {
  if (callee.kind !== "name" || callee.name !== "not" || given.length !== 1) return false;
  const space = /^\s*/u.exec(reporter.textOf({ from: callee.to, to }))![0].length;
  const fix = reporter.replacing("Use !", { from: callee.from, to: callee.to + space }, "!");
  reporter.say("query.not-allowed", { found: "not(…)", instead: "a condition is reversed with !" }, callee, fix);
  return true;
}

function callFix(node: Call, callee: Name | Member, run: RowFunction, reporter: Reporter): Fix | undefined {
  const { given } = node;
  const title = `Use op.${run.name}`;
  if (callee.kind === "name") return reporter.replacing(title, callee, `op.${run.name}`);
  const { of } = callee;
  if (of.kind === "name" && /^[A-Z]/u.test(of.name)) return reporter.replacing(title, callee, `op.${run.name}`);
  // A method that takes more than the function does is another.
  if (given.length + 1 > run.parameters.length && run.parameters.at(-1)?.rest !== true) return undefined;
  const [first, last] = [given[0], given.at(-1)];
  const others = first === undefined ? "" : `, ${reporter.textOf({ from: first.from, to: last!.to })}`;
  return bracketsMatch(others) ? reporter.replacing(title, node, `op.${run.name}(${reporter.textOf(of)}${others})`) : undefined;
}

/** What a function of JavaScript is called here. Those of angles are other functions there, in radians. */
function ownName(name: string): string {
  const here = nameHere(name);
  return here === undefined || here.endsWith("_deg") ? name : here;
}
