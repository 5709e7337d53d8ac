import type { Measure } from "../units";
import { headDefaults } from "./head-defaults";
import type { SessionFacts } from "./session-facts";

/**
 * The margin of a column: the smallest difference that matters to a player. The notebook's counts, then that of the
 * first session that states one, then the default of the first head's kind; `null` where there is none.
 *
 * @param stated the margins of the notebook's front matter.
 */
export function marginOf(column: string, stated: Readonly<Record<string, Measure>>, sessions: readonly SessionFacts[]): Measure | null {
  if (Object.hasOwn(stated, column)) return stated[column]!;
  const session = sessions.find((each) => Object.hasOwn(each.margins, column));
  if (session !== undefined) return session.margins[column]!;
  const { margins } = headDefaults[sessions[0]?.heads[0]?.kind ?? "iron"];
  return Object.hasOwn(margins, column) ? margins[column]! : null;
}
