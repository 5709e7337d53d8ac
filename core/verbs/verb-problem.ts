import type { FactsOf, ProblemCode } from "../problem";
import { problem } from "../problem";
import type { VerbProblem } from "../query/vocabulary";

/** A problem that a verb found, at the option or parameter `at`, or at the verb's own name for `null`. */
export function verbProblem<C extends ProblemCode>(at: string | null, code: C, facts: FactsOf<C>): VerbProblem {
  return { at, make: (range) => problem(code, facts, range) };
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
