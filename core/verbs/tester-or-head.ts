import { inWords } from "../chart/field-name";
import { isClear } from "../stats/drift";
import { mean } from "../stats/moments";
import type { NumberColumn, Table } from "../table/table";
import { findColumn, numberColumn } from "../table/table";
import { convert, isConvertible } from "../units";
import type { DriftWords } from "./drift-sentences";
import { effectText } from "./drift-sentences";
import type { DriftRow } from "./drift-table";
import { capitalised, listed } from "./session-sentences";

/** Columns that rise and fall with club speed when nothing else changes. */
const withClubSpeed: readonly string[] = ["club_speed", "ball_speed", "carry", "total"];

/** The column of ball speed divided by club speed: the table's own, else of its two speeds; `null` when it has neither. */
export function speedRatio(table: Table): NumberColumn | null {
  const own = findColumn(table, "speed_ratio");
  if (own?.kind === "number") return own;
  const [ball, club] = [findColumn(table, "ball_speed"), findColumn(table, "club_speed")];
  if (ball?.kind !== "number" || club?.kind !== "number" || ball.unit === null || club.unit === null || !isConvertible(ball.unit, club.unit)) return null;
  const ratios = ball.values.map((value, row) => convert(value, ball.unit!, club.unit!) / club.values[row]!);
  return numberColumn("speed_ratio", ratios, null, "derived");
}

/**
 * Whether what changed in one session was the tester or something else, in one sentence; none where nothing that goes
 * with club speed changed, or where the heads do not change alike.
 *
 * @param rows of the session, those asked for.
 * @param club club speed in the session; `null` when the table has none.
 * @param ratio ball speed divided by club speed, likewise.
 */
export function testerSentences(rows: readonly DriftRow[], club: DriftRow | null, ratio: DriftRow | null, words: DriftWords): readonly string[] {
  const changed = rows.filter((row) => withClubSpeed.includes(row.column.name) && row.drift.verdict.startsWith("changed"));
  if (changed.length === 0) return [];
  const where = words.severalSessions ? ` in ${changed[0]!.sessionName}` : "";
  const others = changed.filter((row) => row.column.name !== "club_speed");
  const names = capitalised(listed(changed.map((row) => inWords(row.column.name)))) + where;
  const cannot = (why: string): readonly string[] => [`Whether the tester or something else made ${listed(changed.map((row) => inWords(row.column.name)))} change${where} cannot be told: ${why}.`];
  if (club === null) return cannot("the table has no club speed");
  if (club.drift.ground !== "enough") return cannot("too little is known of club speed");
  if (club.drift.verdict === "do not change alike") return cannot("club speed does not change alike for all " + words.by + "s");
  const clubText = effectText(club.drift.change, club.column.unit);
  const direction = (row: DriftRow): number => Math.sign(row.drift.change.difference);
  if (!club.drift.verdict.startsWith("changed")) {
    if (!isLeftOut(club, changed)) return cannot(`club speed, ${clubText}, is not known closely enough`);
    return [`${names} changed, and no change is seen in club speed, ${clubText}: not the speed of the swing; strikes, ball, air or readings may have changed.`];
  }
  if (others.some((row) => direction(row) !== direction(club))) return [`${names} changed, but not all as club speed did, ${clubText}: not the speed of the swing alone.`];
  if (ratio === null) return cannot("the table has no ball speed to set against club speed");
  if (ratio.drift.ground !== "enough") return cannot("too little is known of ball speed divided by club speed");
  const ratioText = effectText(ratio.drift.change, null);
  const together = others.length === 0 ? `Club speed${where} changed, ${clubText}` : `${capitalised(listed(others.map((row) => inWords(row.column.name))))}${where} changed in the same direction as club speed, ${clubText}`;
  if (isClear(ratio.drift.change) || ratio.drift.alike === false) return [`${together}, but ball speed divided by club speed changed too, ${ratioText}: not the tester's speed alone; strikes, ball or readings may have changed.`];
  if (isSteadyBeside(ratio, club)) return [`${together}, and ball speed divided by club speed did not drift, ${ratioText}: the tester, not the ${words.by}s.`];
  return [`${together}, which points to the tester; but ball speed divided by club speed, ${ratioText}, is not known closely enough to leave out the ${words.by}s.`];
}

/**
 * Whether the swing's speed is known not to have made a change: club speed is shown to be steady, or cannot have changed by
 * as large a share as ball speed did.
 */
function isLeftOut(club: DriftRow, changed: readonly DriftRow[]): boolean {
  const ball = changed.find((row) => row.column.name === "ball_speed");
  return club.drift.verdict === "practically steady" || (ball !== undefined && isSteadyBeside(club, ball));
}

/**
 * Whether the 90 % interval of one change, as a share of the mean, is inside the share by which another column changed:
 * then no change of the first can be as large as that of the second.
 */
function isSteadyBeside(steady: DriftRow, changed: DriftRow): boolean {
  const share = Math.abs(changed.drift.change.difference / mean(changed.shots.value));
  const [from, to] = [steady.drift.narrow.from, steady.drift.narrow.to].map((bound) => bound / mean(steady.shots.value));
  return from! > -share && to! < share;
}
