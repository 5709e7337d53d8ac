import { headDefaults } from "../session/head-defaults";
import type { CentreZone, HeadKind, SessionFacts } from "../session/session-facts";
import type { Zone } from "../table/shot-columns";
import type { Table } from "../table/table";
import { findColumn } from "../table/table";
import { convert } from "../units";
import { strikeColumns } from "./shot-data";
import type { UsedShots } from "./used-shots";

/** Whether a strike was in the centre zone; `null` for one that is not known. */
export type Centred = boolean | null;

const centre: Zone = "centre";

/**
 * For each used shot whether the face was hit in the centre zone: from the column `zone`, or from the strike and the
 * centre zone of the head's kind where the table no longer has it. `null` for a table that tells neither.
 */
export function centredStrikes(table: Table, used: UsedShots): readonly Centred[] | null {
  const zone = findColumn(table, "zone");
  if (zone?.kind === "text") return Array.from(used.rows, (row) => (zone.codes[row]! < 0 ? null : zone.labels[zone.codes[row]!] === centre));
  const strikes = strikeColumns(table);
  const head = findColumn(table, "head");
  if (strikes === null || head?.kind !== "text") return null;
  return Array.from(used.rows, (row, i) => {
    const session = table.sessions[used.session[i]!];
    const kind = session?.heads.find((build) => build.name === head.labels[head.codes[row]!])?.kind;
    const x = convert(strikes.x.values[row]!, strikes.x.unit!, "mm");
    const y = convert(strikes.y.values[row]!, strikes.y.unit!, "mm");
    if (session === undefined || kind === undefined || Number.isNaN(x + y)) return null;
    const { halfWidth, halfHeight } = zoneOf(session, kind);
    return Math.abs(x) <= halfWidth && Math.abs(y) <= halfHeight;
  });
}

/** The centre zone in words, with its size where it is the same for all heads of the sessions. */
export function centreZoneInWords(sessions: readonly SessionFacts[]): string {
  const sizes = sessions.flatMap((session) => session.heads.map(({ kind }) => zoneOf(session, kind)));
  const shown = new Set(sizes.map(({ halfWidth, halfHeight }) => `${2 * halfWidth} by ${2 * halfHeight} mm`));
  return shown.size === 1 ? `the centre zone, ${[...shown][0]!} about the head's strike reference` : "the centre zone";
}

function zoneOf(session: SessionFacts, kind: HeadKind): CentreZone {
  return session.centreZones?.[kind] ?? headDefaults[kind].centreZone;
}
