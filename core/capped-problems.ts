import { problem, type Problem } from "./problem";
import { textStart } from "./text-position";

/**
 * At most `most` problems of a cell in the order given, then how many there are in all. Where some are left out, errors are
 * kept before anything else, so that a cell with errors shows at least one.
 */
export function cappedProblems(problems: readonly Problem[], most: number): readonly Problem[] {
  if (problems.length <= most) return problems;
  const isError = (each: Problem): boolean => each.severity === "error";
  const kept = new Set([...problems.filter(isError), ...problems.filter((each) => !isError(each))].slice(0, most));
  return [...problems.filter((each) => kept.has(each)), problem("nb.more-problems", { total: problems.length, listed: most }, textStart)];
}
