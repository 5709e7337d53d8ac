import { inWords } from "../chart/field-name";
import { leastLaunchSpeed } from "../flight/aerodynamics";
import { standardAtmosphere } from "../flight/air";
import { airOfSession, isUsable } from "../flight/session-air";
import { digitsForColumn, formatMeasure, formatNumber } from "../present/format-number";
import type { SessionFacts } from "../session/session-facts";
import { mean } from "../stats/moments";
import { quantile } from "../stats/quantile";
import type { NumberColumn, Table } from "../table/table";
import { findColumn } from "../table/table";
import { convert } from "../units";
import { capitalised, listed } from "./session-sentences";
import type { MovedShot } from "./standard-air-shots";
import { fromSI, isMoved, isMovedName, isSameAir } from "./standard-air-shots";
import type { MovedTable } from "./standard-air-table";
import { leftOutName, spreadName } from "./standard-air-table";
import type { NamedAir } from "./standard-air-target";
import { densityInWords } from "./standard-air-target";

/** A table before and after its move. */
export interface Move {
  readonly before: Table;
  readonly after: MovedTable;
  readonly sessionOf: Int32Array;
  readonly to: NamedAir;
}

/** Columns, and sessions, beyond which they are not all named. */
const mostNamed = 6;

/** What was moved where, by how much, and how far the two fits are apart in that. */
export function answerSentences(move: Move): readonly string[] {
  const carry = movedOf(move).find(({ name }) => name === "carry");
  return [
    `${capitalised(listed(movedOf(move).map(({ name }) => inWords(name))))} ${movedOf(move).length === 1 ? "is" : "are"} moved to ${move.to.name} (${densityInWords(move.to.air)}).`,
    ...sessionLines(move, carry),
    ...spreadSentence(move),
  ];
}

/** What else a reader must know of the move. */
export function detailSentences(move: Move): readonly string[] {
  return [
    ...lostSentences(move),
    ...assumedSentences(move),
    ...(findColumn(move.before, leftOutName) === undefined ? [] : ["Total is left out: how far a ball runs depends on the turf, and in other air it lands at another angle and speed."]),
    ...keptSentence(move),
    ...sessionsHere(move).flatMap(pressureSentence),
  ];
}

/** The columns that were moved, as they were. */
function movedOf({ before }: Move): readonly NumberColumn[] {
  return before.columns.filter((column): column is NumberColumn => isMoved(column));
}

function sessionsHere({ before, sessionOf }: Move): readonly SessionFacts[] {
  const present = new Set(sessionOf);
  return before.sessions.filter((_, place) => present.has(place));
}

function sessionLines(move: Move, carry: NumberColumn | undefined): readonly string[] {
  const sessions = sessionsHere(move);
  const lines = sessions.slice(0, mostNamed).map((session) => {
    const { air } = airOfSession(session);
    const from = `${session.name}, ${session.movedTo === undefined ? `hit in ${densityInWords(air)}` : `in ${session.movedTo.name} (${densityInWords(air)}) before`}`;
    if (isSameAir(air, move.to.air)) return `${from}: nothing moves`;
    if (carry === undefined) return from;
    const place = move.before.sessions.indexOf(session);
    const after = move.after.columns.find((column) => column.name === "carry") as NumberColumn;
    const shifts = Array.from(after.values, (value, row) => (move.sessionOf[row] === place ? value - carry.values[row]! : Number.NaN)).filter((shift) => !Number.isNaN(shift));
    if (shifts.length === 0) return `${from}: no carry`;
    const size = mean(shifts);
    return `${from}: carry ${formatMeasure(Math.abs(size), digitsForColumn(carry), carry.unit)} ${size < 0 ? "shorter" : "longer"} on average`;
  });
  const more = sessions.length - lines.length;
  return [`${lines.join("; ")}${more > 0 ? `; and ${more} sessions more` : ""}.`];
}

/** How far the two fits are apart, typically and at most. */
function spreadSentence({ before, after }: Move): readonly string[] {
  const spreads = (["carry", "peak_height", "descent_angle"] as const).flatMap((name) => {
    const column = findColumn(before, name);
    const known = after.spread[name].filter((value) => !Number.isNaN(value));
    if (column?.kind !== "number" || !isMoved(column) || known.length === 0) return [];
    // An angle's spread is a difference, to which no offset of a scale belongs; none of these units has one.
    const own = known.map((value) => fromSI(name, value, column.unit!));
    const inUnit = (value: number): string => formatMeasure(value, digitsForColumn(column) + 1, column.unit);
    return [{ typical: `${inUnit(quantile(own, 0.5))} of ${inWords(name)}`, most: inUnit(Math.max(...own)) }];
  });
  if (spreads.length === 0) return [];
  const named = findColumn(before, "carry") === undefined ? "" : ` (column ${spreadName})`;
  return [`In this move the two fits of flight differ by ${listed(spreads.map(({ typical }) => typical))} for a typical shot, and by ${listed(spreads.map(({ most }) => most))} at most${named}.`];
}

function lostSentences(move: Move): readonly string[] {
  const { before, after } = move;
  const moved = movedOf(move);
  const hadFlight = (row: number): boolean => moved.some((column) => !Number.isNaN(column.values[row]!));
  const lost = (why: MovedShot["unmoved"]): readonly number[] => Array.from(after.shots.keys()).filter((row) => after.shots[row]!.unmoved === why && hadFlight(row));
  const speed = findColumn(before, "ball_speed");
  const slowest = speed?.kind !== "number" ? "" : formatMeasure(convert(leastLaunchSpeed, "m/s", speed.unit!), 0, speed.unit);
  const incomplete = lost("incomplete");
  const slow = lost("slow");
  const withoutStart = rowsWithoutOffline(move);
  return [
    ...(incomplete.length === 0 ? [] : [`Without a complete launch (ball speed, launch angle, spin rate) and so without a flight in other air: ${countsByHead(before, incomplete)}.`]),
    ...(slow.length === 0 ? [] : [`Slower than ${slowest} off the face, where neither fit was measured, and so without a flight in other air: ${countsByHead(before, slow)}.`]),
    ...(withoutStart.length === 0 ? [] : [`Without offline in other air, since start direction or carry is missing: ${countsByHead(before, withoutStart)}.`]),
  ];
}

function rowsWithoutOffline({ before, after }: Move): readonly number[] {
  const [was, is] = [findColumn(before, "offline"), after.columns.find((column) => column.name === "offline")];
  if (was?.kind !== "number" || is?.kind !== "number") return [];
  return Array.from(was.values.keys()).filter((row) => after.shots[row]!.unmoved === null && !Number.isNaN(was.values[row]!) && Number.isNaN(is.values[row]!));
}

/** `3 of 40 shots of Wren and 1 of 38 shots of Heron`. */
export function countsByHead(table: Table, rows: readonly number[]): string {
  const head = findColumn(table, "head");
  if (head?.kind !== "text") return `${rows.length} of ${table.rowCount} shots`;
  const nameOf = (row: number): string => head.labels[head.codes[row]!] ?? "no head";
  const names = [...new Set(rows.map(nameOf))];
  const all = Array.from({ length: table.rowCount }, (_, row) => nameOf(row));
  const counts = names.slice(0, mostNamed).map((name) => `${rows.filter((row) => nameOf(row) === name).length} of ${all.filter((each) => each === name).length} shots of ${name}`);
  return listed(names.length > mostNamed ? [...counts, `shots of ${names.length - mostNamed} heads more`] : counts);
}

function assumedSentences(move: Move): readonly string[] {
  const axis = findColumn(move.before, "spin_axis");
  const hasOffline = movedOf(move).some(({ name }) => name === "offline");
  const gaps = axis?.kind !== "number" ? [] : Array.from(axis.values.keys()).filter((row) => Number.isNaN(axis.values[row]!) && move.after.shots[row]!.change !== null);
  const humidity = sessionsHere(move).filter((session) => session.movedTo === undefined && session.air.humidity === undefined);
  return [
    ...(axis?.kind === "number" ? (gaps.length === 0 ? [] : [`The spin axis is taken as level where it is missing: ${countsByHead(move.before, gaps)}.`]) : ["The table has no spin axis, which is taken as level."]),
    ...(hasOffline && findColumn(move.before, "start_direction")?.kind !== "number" ? ["The table has no start direction: balls are taken to start straight, so that all of offline counts as curve."] : []),
    ...(humidity.length === 0 ? [] : [`Humidity is not stated in ${namesOf(humidity)} and taken as 50 %.`]),
  ];
}

/** Numbers that were computed from the flight as it was, perhaps, and are not moved. */
function keptSentence({ before }: Move): readonly string[] {
  const kept = before.columns.filter((column) => column.kind === "number" && !isMoved(column) && column.name !== spreadName && (column.origin === "computed" || isMovedName(column.name)));
  return kept.length === 0 ? [] : [`Left as ${kept.length === 1 ? "it was" : "they were"}: ${listedFew(kept.map(({ name }) => name))}.`];
}

/** Said where a stated pressure is hardly that of the place, whose altitude is stated too. */
function pressureSentence({ name, air: { pressure, altitude } }: SessionFacts): readonly string[] {
  if (pressure === undefined || altitude === undefined || !isUsable("altitude", altitude)) return [];
  const here = convert(pressure.value, pressure.unit, "Pa");
  const usual = standardAtmosphere(convert(altitude.value, altitude.unit, "m")).pressure;
  if (Math.abs(here / usual - 1) < mostWeather) return [];
  return [`The pressure of ${name} is taken as that of the place, though at its altitude ${formatNumber(usual / 100, 0)} hPa is usual: a pressure reduced to sea level, as weather reports give it, would be wrong here.`];
}

/** Share by which weather may move the pressure of a place; highs and lows stay within. From memory. */
const mostWeather = 0.05;

function namesOf(sessions: readonly SessionFacts[]): string {
  return listedFew(sessions.map(({ name }) => name));
}

function listedFew(names: readonly string[]): string {
  return listed(names.length > mostNamed ? [...names.slice(0, mostNamed), `${names.length - mostNamed} more`] : names);
}
