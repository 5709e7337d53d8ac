import type { Verb, Vocabulary } from "../../core/query/vocabulary";
import { vocabulary } from "../../core/vocabulary";

/** The vocabulary with one more verb, `odd()`, which does what a test wants and gives its input back. */
export function withOddVerb(run: (context: Parameters<Verb["run"]>[2]) => void): Vocabulary {
  const odd: Verb = {
    name: "odd",
    family: "table",
    help: { summary: "Does what a test wants.", example: "shots.odd()" },
    parameters: [],
    infer: (input) => ({ schema: input, problems: [] }),
    run: (input, _, context) => {
      run(context);
      return input;
    },
  };
  return { ...vocabulary, verbs: new Map([...vocabulary.verbs, ["odd", odd]]) };
}
