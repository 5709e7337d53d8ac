import type { Problem, ProblemCode } from "../problem";

/**
 * What only a whole export justifies: that something is in none of its shots, what all of its shots have in common, and how
 * often something is there.
 */
const needsWhole: ReadonlySet<ProblemCode> = new Set<ProblemCode>([
  "csv.empty",
  "csv.rows-filled",
  "csv.trailing-delimiter",
  "csv.blank-lines",
  "csv.blank-rows",
  "csv.mixed-eol",
  "value.kept-as-text",
  "session.no-such-shot",
  "session.renumbered",
  "session.lists-renumbered",
  "session.reference-assumed",
  "session.head-not-hit",
  "session.head-misspelt",
  "session.head-not-named",
  "session.no-heads",
]);

/** The problems that hold for a session although only the beginning of one of its exports was read. */
export function justifiedByPart(problems: readonly Problem[]): readonly Problem[] {
  return problems.filter((found) => !needsWhole.has(found.code) && !(found.code === "csv.more-problems" && needsWhole.has(found.facts.of as ProblemCode)));
}
