import type { Reporter } from "./reporter";
import type { Syntax } from "./syntax";

/** UTF-16 units of the names behind a member that are looked at. */
const longest = 100;

/**
 * Where a column's name ends that was written with hyphens, `d.club-speed`; `null` where the hyphens are signs of a
 * calculation.
 *
 * @param isName true for what is a value by its own name, so that it can be subtracted.
 */
export function hyphenedEnd(node: Extract<Syntax, { kind: "member" }>, columns: { readonly has: (name: string) => boolean }, isName: (word: string) => boolean, reporter: Reporter): number | null {
  const behind = reporter.textOf({ from: node.to, to: node.to + longest });
  const rest = /^(?:-[\p{ID_Start}_$][\p{ID_Continue}$]*)+(?![\p{ID_Continue}$.([])/u.exec(behind)?.[0];
  if (rest === undefined || !columns.has((node.name + rest).replaceAll("-", "_"))) return null;
  return rest.slice(1).split("-").some(isName) ? null : node.to + rest.length;
}
