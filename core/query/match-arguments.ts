import { extraMeant, sayExtra, takenOut } from "./extra-fix";
import { joinedConditions, type ExtraMeant } from "./joined-fix";
import { optionsFix } from "./options-fix";
import type { Reporter } from "./reporter";
import type { Span, Syntax } from "./syntax";
import type { GivenArgument, TableExpression } from "./table-expression";
import type { Parameter, Verb } from "./vocabulary";

/** A verb as it was called, before its arguments are looked at. */
export interface CallOf {
  readonly verb: Verb;
  readonly nameSpan: Span;
  readonly nodes: readonly Syntax[];
}

/**
 * Which parameter each argument of a call is for; `null` when there are too few or too many, or a table among them has
 * errors, which were reported.
 *
 * Parameters that may be left out have no entry when they are.
 */
export function matchArguments(
  call: CallOf,
  reporter: Reporter,
  checkTable: (node: Syntax) => TableExpression | null,
): readonly GivenArgument[] | null {
  const { parameters } = call.verb;
  const given: GivenArgument[] = [];
  let used = 0;
  for (const parameter of parameters) {
    const takesRest = parameter.kind === "columns" || parameter.kind === "ordering" || parameter.kind === "choices";
    const nodes = takesRest ? call.nodes.slice(used) : call.nodes.slice(used, used + 1);
    used += nodes.length;
    const first = nodes[0];
    if (nodes.length < leastOf(parameter)) {
      reporter.say("query.missing-argument", { call: call.verb.name, argument: wanted(parameter), help: `write it like this: ${call.verb.help.example}` }, call.nameSpan);
      return null;
    }
    if (parameter.kind === "choices") {
      given.push({ parameter, nodes });
      continue;
    }
    if (first === undefined) {
      // Options that may be left out can still hold one that may not.
      if (parameter.kind === "options" && Object.values(parameter.options).some((option) => option.required)) given.push({ parameter, nodes });
      continue;
    }
    if (parameter.kind === "table") {
      const table = checkTable(first);
      if (table === null) return null;
      given.push({ parameter, nodes, table });
    } else given.push({ parameter, nodes });
  }
  if (call.nodes.length === used) return given;
  sayExtra(call.verb.name, call.nodes, used, reporter, meantByExtra(call, used, reporter));
  return null;
}

function meantByExtra({ verb, nodes }: CallOf, used: number, reporter: Reporter): ExtraMeant {
  const last = verb.parameters.at(-1);
  // A number that a verb takes by its place is whole, so that no comma before the extra one is a decimal comma.
  if (last?.kind === "number") return takenOut(nodes, used, reporter);
  const joined = last?.kind === "condition" ? joinedConditions(nodes, reporter) : undefined;
  if (joined !== undefined) return joined;
  if (last?.kind !== "options" || nodes[used - 1]?.kind === "object") return extraMeant(nodes, used, reporter);
  const fix = optionsFix(nodes.slice(used - 1), last.options, null, reporter);
  return { instead: `options stand between braces: ${verb.help.example}`, fix };
}

/** True for a verb that does something with nothing between its brackets. */
export function takesNothing({ parameters }: Verb): boolean {
  return parameters.every((parameter) => leastOf(parameter) === 0 && (parameter.kind !== "options" || Object.values(parameter.options).every((option) => !option.required)));
}

/** What a call lacks, in words. */
function wanted(parameter: Parameter): string {
  if (parameter.kind !== "options") return `${parameter.name} (${parameter.help.replace(/\.$/, "")})`;
  const required = Object.entries(parameter.options).flatMap(([name, option]) => (option.required ? [`${name}: …`] : []));
  return `its options: { ${required.join(", ")} }`;
}

function leastOf(parameter: Parameter): number {
  switch (parameter.kind) {
    case "columns":
      return parameter.least;
    case "choices":
      return 0;
    case "number":
    case "options":
      return parameter.optional ? 0 : 1;
    default:
      return 1;
  }
}
