import type { Problem } from "../problem";
import { problem } from "../problem";
import { formatMeasure } from "../present/format-number";
import { columnMapEdit } from "../session/column-map-edit";
import type { Session } from "../session/session";
import { unitInName } from "../table/convert-units";
import type { ShotColumn } from "../table/shot-columns";
import { shotColumns } from "../table/shot-columns";
import { findColumn } from "../table/table";
import { textStart } from "../text-position";
import type { Unit } from "../units";
import { units } from "../units";
import type { SessionReadings } from "./session-readings";
import type { Choice, UsualShot } from "./unit-choices";
import { bestChoices, costAsStated, flightColumn, usualShots } from "./unit-choices";
import type { SpeedChoice } from "./speed-units";
import { speedChoices } from "./speed-units";

/** What is known of the units besides the session file. */
export interface UnitContext {
  /** The session file, for the fixes. */
  readonly text: string;
  /** True where a row of the exports states units, which a session cannot overrule. */
  readonly hasUnitsRow: boolean;
  /** Columns whose unit nothing tells, so that it was assumed. */
  readonly assumed: ReadonlySet<string>;
}

/**
 * Warnings where the units of a session's columns do not fit one another, with a fix where one answer is clear and the
 * session file can be changed safely; where several would do, they are listed. Nothing is applied.
 *
 * The usual launch of each head is flown by the default fit, and its carry and peak compared with the usual ones: among the
 * units that an export may have, those are best that make |ln(carry/simulated)| + |ln(peak/simulated)| least. They are spoken
 * of only when they are better than the stated ones by 0.25, which no wind and no ball makes of right units: so yards are not
 * told from metres. Ball and club speed are compared by the speed ratio that the kind of head can have.
 *
 * Source: model of Naruo, Mizota & Shimozono 2004; limits common practice, no source.
 */
export function unitProblems(readings: SessionReadings, session: Session, context: UnitContext): readonly Problem[] {
  const shots = usualShots(readings);
  const stated = costAsStated(shots);
  const found = bestChoices(shots, stated);
  if (found.length > 1) return [unclear(session, found, sayFlight(shots[0]!, null))];
  const [choice] = found;
  if (choice === undefined) return speedProblems(readings, session, context, stated);
  const why = `${sayFlight(shots[0]!, null)}; with ${sayChoice(choice)} it would be ${sayFlight(shots[0]!, choice, true)}`;
  const changed = [...choice.entries()].map(([column, unit]) => unitProblem(session, context, { column, from: unitOf(readings, column), to: unit, why }));
  const otherAngles = choice.get("launch_angle") === "rad" ? anglesInRadians(readings).map((column) => unitProblem(session, context, { column, from: "deg", to: "rad", why: `the launch angle is in rad, and no value is beyond ${mostRadians}` })) : [];
  return [...changed, ...otherAngles, ...(choice.has("ball_speed") ? speedProblems(readings, session, context, 0, choice.get("ball_speed")) : [])];
}

/** What ball and club speed say of one another, the ball's unit being known where a flight has confirmed or corrected it. */
function speedProblems(readings: SessionReadings, session: Session, context: UnitContext, cost: number, ball?: Unit): readonly Problem[] {
  const found = speedChoices(readings, { ballUnit: ball ?? null, isBallKnown: ball !== undefined || cost < confirmedBelow });
  if (found === null || found.choices.length === 0) return [];
  if (found.choices.length > 1) return [unclear(session, found.choices.map(({ column, unit }) => new Map([[column, unit]])), found.why)];
  const [{ column, unit, ratio }] = found.choices as [SpeedChoice];
  return [unitProblem(session, context, { column, from: unitOf(readings, column), to: unit, why: `${found.why}; with ${unit} it would be ${ratio.toFixed(2)}` })];
}

const confirmedBelow = 0.3; // cost below which a flight confirms the units of its launch

function unclear(session: Session, choices: readonly Choice[], why: string): Problem {
  const columns = [...new Set(choices.flatMap((choice) => [...choice.keys()]))];
  return problem("session.unit-unclear", { columns, why, options: choices.map(sayChoice) }, placeOf(session, columns[0]!));
}

interface OtherUnit {
  readonly column: ShotColumn;
  readonly from: Unit;
  readonly to: Unit;
  readonly why: string;
}

function unitProblem(session: Session, { text, hasUnitsRow, assumed }: UnitContext, { column, from, to, why }: OtherUnit): Problem {
  const map = session.columns.find((each) => each.column === column);
  const header = map?.header ?? column;
  const isExport = hasUnitsRow || unitInName(header) !== null || ((map?.unit ?? null) === null && !assumed.has(column));
  const edit = isExport ? null : columnMapEdit(text, column, { key: "unit", value: to });
  const fix = edit === null ? {} : { fix: { title: `State that ${column} is in ${to}`, edits: [edit], byPerson: true as const } };
  return problem("session.unit-doubted", { column, unit: from, instead: to, header, why, isExport }, placeOf(session, column), fix);
}

function placeOf(session: Session, column: ShotColumn): Problem["range"] {
  return session.columns.find((each) => each.column === column)?.headerRange ?? session.sources[0]?.fileRange ?? textStart;
}

function unitOf(readings: SessionReadings, column: ShotColumn): Unit {
  const found = findColumn(readings.table, column);
  return (found?.kind === "number" ? found.unit : null) ?? "m";
}

function sayChoice(choice: Choice): string {
  return [...choice].map(([column, unit]) => `${column} in ${unit}`).join(" and ");
}

/** `a usual shot with Wren would carry 80 yd by its launch, and 165 yd are recorded`, or only the two numbers. */
function sayFlight(shot: UsualShot, choice: Choice | null, isShort = false): string {
  const { column, simulated, recorded } = flightColumn(shot, choice ?? new Map());
  const unit = choice?.get(column) ?? shot.units.get(column)!;
  const say = (value: number): string => formatMeasure(value / units[unit].factor, 0, unit);
  if (isShort) return `${say(simulated)} and ${say(recorded)}`;
  return `a usual shot with ${shot.head ?? "these heads"} would ${column === "carry" ? "carry" : "peak at"} ${say(simulated)} by its launch, and ${say(recorded)} are recorded`;
}

const mostRadians = 1.6; // no angle of a shot is beyond it in radians
const fewestAngles = 8;

/** Columns of angles that are read in degrees though no value is too large for radians. */
function anglesInRadians(readings: SessionReadings): readonly ShotColumn[] {
  return (Object.keys(shotColumns) as ShotColumn[]).filter((column) => {
    const found = findColumn(readings.table, column);
    if (column === "launch_angle" || shotColumns[column].quantity !== "angle" || found?.kind !== "number" || found.unit !== "deg" || found.origin === "derived") return false;
    const there = found.values.filter(Number.isFinite);
    return there.length >= fewestAngles && there.every((value) => Math.abs(value) < mostRadians);
  });
}
