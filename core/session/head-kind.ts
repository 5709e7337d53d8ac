import { headDefaults } from "./head-defaults";
import type { HeadKind, SessionFacts, StandardMiss } from "./session-facts";

/** The kind of head `name`, or the kind of all heads where they are of one; an iron where that is not known. */
export function headKindOf(sessions: readonly SessionFacts[], name: string | null): HeadKind {
  const heads = sessions.flatMap((session) => session.heads);
  const named = heads.find((head) => head.name === name);
  const kinds = new Set(heads.map((head) => head.kind));
  return named?.kind ?? (kinds.size === 1 ? [...kinds][0]! : "iron");
}

/** How far off a standard miss with a kind of head is: as the first session that states any says, else the default. */
export function standardMissOf(sessions: readonly SessionFacts[], kind: HeadKind): StandardMiss {
  return sessions.find((session) => session.standardMisses !== undefined)?.standardMisses?.[kind] ?? headDefaults[kind].standardMiss;
}
