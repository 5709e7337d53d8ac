import type { Table } from "../table/table";
import { findColumn } from "../table/table";
import type { Drawn } from "./drawn-rows";

/** What one picture takes together although no figure may rest on it. */
export interface PooledShots {
  /** Groups with shots of several players, or with a shot more than once: they get no ellipse and no line. */
  readonly groups: ReadonlySet<string>;
  /** "Shots of 2 players are drawn together." Empty where every group is of one player. */
  readonly players: string;
  /** "12 shots are drawn more than once." Empty where every shot is there once. */
  readonly repeats: string;
}

/**
 * What the groups of a picture take together: shots of several players, and shots that are there more than once, as after
 * `concat` with a table of the same shots. The verbs of the trade refuse both.
 */
export function pooledShots({ table, groups, player, noun }: Drawn): PooledShots {
  const pooled = new Set<string>();
  const players = new Set<string>();
  let repeated = 0;
  const keyOf = noun === "shots" ? shotKeys(table) : null;
  for (const { label, rows } of groups) {
    const own = new Set(rows.flatMap((row) => player(row) ?? []));
    const counts = new Map<string, number>();
    for (const key of rows.flatMap((row) => keyOf?.(row) ?? [])) counts.set(key, (counts.get(key) ?? 0) + 1);
    const again = [...counts.values()].filter((count) => count > 1).length;
    repeated += again;
    if (own.size > 1) for (const name of own) players.add(name);
    if (own.size > 1 || again > 0) pooled.add(label);
  }
  return {
    groups: pooled,
    players: players.size === 0 ? "" : `Shots of ${players.size} players are drawn together.`,
    repeats: repeated === 0 ? "" : `${repeated} ${repeated === 1 ? "shot is" : "shots are"} drawn more than once.`,
  };
}

/** What is said below the title of a picture with ellipses; nothing where nothing is taken together. */
export function pooledInWords({ groups, players, repeats }: PooledShots): readonly string[] {
  if (groups.size === 0) return [];
  const named = [...groups].filter((label) => label !== "");
  return [players, repeats, `No ellipse${named.length === 0 ? "" : ` for ${named.slice(0, 8).join(", ")}${named.length > 8 ? " and others" : ""}`} from such shots.`].filter((part) => part !== "");
}

/** What names the shot of a row; `null` where the table does not say which shot a row is. */
function shotKeys(table: Table): ((row: number) => string | null) | null {
  const shot = findColumn(table, "shot");
  const session = findColumn(table, "session");
  if (shot?.kind !== "number" || (session?.kind !== "text" && table.sessions.length > 1)) return null;
  return (row) => {
    const number = shot.values[row]!;
    return Number.isNaN(number) ? null : `${number} ${session?.kind === "text" ? (session.labels[session.codes[row]!] ?? "") : ""}`;
  };
}
