import { buildTrends } from "../chart/kinds/order";
import type { FittedTrends, TrendLine } from "../chart/trend-layers";
import { noTrends } from "../chart/trend-layers";
import { inWords } from "../chart/field-name";
import { formatShare } from "../present/format-number";
import type { RunContext } from "../query/vocabulary";
import { levelAt, levelled } from "../stats/drift-model";
import { familyInterval } from "../stats/simultaneous";
import type { Chart, NumberColumn, Table } from "../table/table";
import { findColumn, makeTable, numberColumn } from "../table/table";
import type { DriftRow } from "./drift-table";
import { keepRows } from "./keep-rows";
import type { UsedShots } from "./used-shots";

/** Points of a line between which it is straight enough to the eye. */
const mostPoints = 40;

/**
 * The shots of one column in hitting order, levels of the groups taken out, with the fitted trend of each session and its
 * band; without a trend where none was fitted. `null` where the table has no shot numbers or too many rows or sessions.
 *
 * @param rows of that column, one a session.
 */
export function driftPicture(input: Table, by: string, rows: readonly DriftRow[], used: UsedShots, confidence: number, context: RunContext): Chart | null {
  const column = rows[0]?.column;
  const shot = findColumn(input, "shot");
  if (column === undefined || shot?.kind !== "number") return null;
  if (used.rows.length > context.limits.marks || rows.length > context.limits.panels) return null;
  const fitted = rows.filter((row) => row.drift.drift !== null);
  if (fitted.length === 0) {
    return buildTrends(keepRows(input, used.rows), column.name, by, { ...noTrends, remarks: ["No trend is drawn, since none can be told."] });
  }
  const groups = Math.max(...rows.map((row) => row.groups.length));
  const followed = groups > 1 ? levelledColumn(input, column, rows) : column;
  const kept = ["session", "head", "stint", "shot", by].flatMap((name, place, names) => (names.indexOf(name) === place ? (findColumn(input, name) ?? []) : []));
  const table = makeTable([...kept, followed], input.rowCount, input);
  const lines = fitted.flatMap((row) => linesOf(row, shot, sessionLabels(input), confidence));
  return buildTrends(keepRows(table, used.rows), followed.name, by, { subject: column.name, lines, remarks: remarksOf(column, by, groups, lines, confidence) });
}

/** The column with each group's level taken out, missing where no trend was fitted. */
function levelledColumn(input: Table, column: NumberColumn, rows: readonly DriftRow[]): NumberColumn {
  const values = new Float64Array(input.rowCount).fill(Number.NaN);
  for (const row of rows) {
    if (row.drift.drift === null) continue;
    const levels = levelled(row.drift.drift, row.shots);
    row.rows.forEach((place, i) => (values[place] = levels[i]!));
  }
  const isTaken = (name: string): boolean => findColumn(input, name) !== undefined;
  const name = `${column.name}_levelled`;
  return numberColumn(isTaken(name) ? `${name}_here` : name, values, column.unit);
}

/** The name of a row's session as the table has it, by which a chart finds its panel. */
function sessionLabels(input: Table): (row: number) => string {
  const session = findColumn(input, "session");
  return (row) => (session?.kind === "text" ? (session.labels[session.codes[row]!] ?? "") : "");
}

function linesOf(row: DriftRow, shot: NumberColumn, sessionOf: (row: number) => string, confidence: number): readonly TrendLine[] {
  const fit = row.drift.drift!;
  const { time } = row.shots;
  const inOrder = Array.from(time.keys()).sort((a, b) => time[a]! - time[b]!);
  const step = Math.max(1, (inOrder.length - 1) / (mostPoints - 1));
  const places = Array.from({ length: Math.floor((inOrder.length - 1) / step + 1e-9) + 1 }, (_, k) => inOrder[Math.round(k * step)]!);
  const session = sessionOf(row.rows[0]!);
  const shotAt = (i: number): number => shot.values[row.rows[i]!]!;
  const apart = row.drift.byGroup;
  if (apart.length === 0) {
    const points = places.map((i) => {
      const level = levelAt(fit, time[i]!, null);
      return { shot: shotAt(i), level: level.difference, ...familyInterval(level, 2, confidence) };
    });
    return [{ session, group: null, points: points.map((point) => ({ ...point, from: bound(point.from), to: bound(point.to) })) }];
  }
  // Levels are those half-way through, where all lines cross once the levels are taken out.
  const middle = levelAt(fit, fit.middle, null).difference;
  return apart.map(({ group, difference }) => ({
    session,
    group: row.groups[group]!,
    points: places.map((i) => ({ shot: shotAt(i), level: middle + difference * (time[i]! - fit.middle), from: null, to: null })),
  }));
}

function bound(value: number): number | null {
  return Number.isNaN(value) ? null : value;
}

function remarksOf(column: NumberColumn, by: string, groups: number, lines: readonly TrendLine[], confidence: number): FittedTrends["remarks"] {
  const ofAll = lines.some((line) => line.group === null);
  const ofGroups = lines.some((line) => line.group !== null);
  return [
    ofAll ? `Long line: the fitted trend; between the dashes: its ${formatShare(confidence)} interval.` : "",
    ofGroups ? `Long lines: the trend of each ${by}, since they do not change alike.` : "",
    groups > 1 ? `Levelled: each shot's ${inWords(column.name)} less the level of its ${by}, plus the mean of these levels.` : "",
  ].filter((remark) => remark !== "");
}
