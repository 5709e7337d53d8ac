import type { FactsOf, ProblemCode } from "../problem";
import { closestName } from "../closest-name";
import { problem } from "../problem";
import type { VerbProblem } from "../query/vocabulary";

/** A problem that a verb found, at the option or parameter `at`, or at the verb's own name for `null`. */
export function verbProblem<C extends ProblemCode>(at: string | null, code: C, facts: FactsOf<C>): VerbProblem {
  return { at, make: (range) => problem(code, facts, range) };
}

/**
 * The problem of a text in quotes that is none of those it could be, with the nearest of them as the fix; `at` is the
 * option or parameter that holds the text and nothing else.
 */
export function unknownText<C extends ProblemCode>(at: string, code: C, facts: FactsOf<C>, given: string, candidates: readonly string[]): VerbProblem {
  const nearest = closestName(given, candidates);
  if (nearest === null) return verbProblem(at, code, facts);
  return { at, make: (range) => problem(code, facts, range, { fix: { title: `Use ${nearest}`, edits: [{ range, text: JSON.stringify(nearest) }] } }) };
}

/** What a verb gives when it cannot give a table. */
export interface Refused {
  readonly type: "refused";
  readonly problems: readonly VerbProblem[];
}

/** A refusal with one problem. */
export function refuse<C extends ProblemCode>(at: string | null, code: C, facts: FactsOf<C>): Refused {
  return { type: "refused", problems: [verbProblem(at, code, facts)] };
}
