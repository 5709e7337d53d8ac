import type { Refused } from "./verb-problem";
import { refuse } from "./verb-problem";

/** Groups beyond which they, and their pairs, are too many to be looked at one by one. Common practice, no source. */
const mostCompared = 12;

/**
 * What keeps a verb from telling these groups apart: too many of them; `null` when nothing does.
 *
 * @param by name of the column that groups.
 */
export function tooManyGroups(groups: readonly string[], by: string, most = mostCompared): Refused | null {
  return groups.length > most ? refuse("by", "trade.too-many-groups", { by, count: groups.length, most }) : null;
}

/** What keeps a verb from comparing these groups: one alone, or too many; `null` when nothing does. */
export function notComparable(groups: readonly string[], by: string): Refused | null {
  return groups.length < 2 ? refuse("by", "trade.one-group", { by, name: groups[0]! }) : tooManyGroups(groups, by);
}
