import type { Problem } from "../problem";
import { problem } from "../problem";
import { shotColumnFacts } from "../table/shot-columns";
import { textStart } from "../text-position";
import type { Draft } from "./draft";
import type { Session } from "./session";
import type { HeadBuild } from "./session-facts";

/** What a session leaves open and is therefore assumed: which direction is positive, and where a centred strike is. */
export function reportAssumptions(draft: Draft, session: Session, hit: readonly HeadBuild[]): Problem[] {
  return [...directions(draft), ...references(draft, session, hit)];
}

function directions(draft: Draft): Problem[] {
  const maps = draft.exports.flatMap((shots) => shots.directionsAssumed);
  const [first] = maps;
  if (first === undefined) return [];
  const columns = [...new Set(maps.map((map) => map.column))];
  const positive = new Set(columns.flatMap((column) => shotColumnFacts(column)?.direction?.[0] ?? []));
  return [problem("session.direction-assumed", { columns, positive: [...positive] }, first.headerRange)];
}

/** Only where strikes are read, and only for references that move them. */
function references(draft: Draft, session: Session, hit: readonly HeadBuild[]): Problem[] {
  if (!draft.columns.has("strike_x") && !draft.columns.has("strike_y")) return [];
  const assumed = hit.filter(({ name, strikeReference: { x, y } }) => {
    const described = session.heads.find((head) => head.name === name);
    return (x !== 0 || y !== 0) && described?.referenceAssumed !== false;
  });
  const [first] = assumed;
  if (first === undefined) return [];
  const range = session.heads.find((head) => head.name === first.name)?.nameRange ?? textStart;
  const { x, y } = first.strikeReference;
  return [problem("session.reference-assumed", { heads: assumed.map((head) => head.name), x: `${x} mm`, y: `${y} mm` }, range)];
}
