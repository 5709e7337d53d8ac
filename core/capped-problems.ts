import { problem, type Problem } from "./problem";
import { textStart } from "./text-position";

/**
 * At most `most` problems of a cell or a file in the order given, then how many there are in all. Where some are left out, errors are
 * kept before anything else, so that one with errors shows at least one.
 *
 * @param more the code that says how many there are.
 */
export function cappedProblems(problems: readonly Problem[], most: number, more: "nb.more-problems" | "yaml.more" = "nb.more-problems"): readonly Problem[] {
  if (problems.length <= most) return problems;
  const isError = (each: Problem): boolean => each.severity === "error";
  const kept = new Set([...problems.filter(isError), ...problems.filter((each) => !isError(each))].slice(0, most));
  return [...problems.filter((each) => kept.has(each)), problem(more, { total: problems.length, listed: most }, textStart)];
}
