import type { Flight } from "../flight/simulate";
import { flightOfReading } from "./reading-flight";
import type { SessionAir } from "../flight/session-air";
import { airOfSession } from "../flight/session-air";
import { digitsForColumn, formatMeasure } from "../present/format-number";
import { headDefaults } from "../session/head-defaults";
import { headKindOf } from "../session/head-kind";
import type { HeadBuild, SessionFacts } from "../session/session-facts";
import type { ShotColumn } from "../table/shot-columns";
import { shotColumnFacts } from "../table/shot-columns";
import type { NumberColumn, Table } from "../table/table";
import { findColumn } from "../table/table";
import type { Unit } from "../units";
import { units } from "../units";
import { readingError } from "./reading-errors";

/**
 * The readings of one session as the rules on misreads see them: SI and radians, in hitting order, as a right-hander's.
 *
 * Entry `i` of every array belongs to row `rows[i]` of the table. Missing is `NaN`.
 */
export interface SessionReadings {
  readonly facts: SessionFacts;
  readonly table: Table;
  readonly rows: Int32Array;
  readonly count: number;
  /** Numbers of the shots. */
  readonly shot: Float64Array;
  /** The number of each shot's head in `heads`; −1 without one. */
  readonly head: Int32Array;
  readonly heads: readonly HeadBuild[];
  readonly air: SessionAir;
  /** The values of a column, or `null` where the table has no such column of numbers with a known unit. */
  readonly values: (column: ShotColumn) => Float64Array | null;
  /** True for a column that the monitor calculated, or that is derived here: its agreement with others is no evidence. */
  readonly isCalculated: (column: ShotColumn) => boolean;
  /** One standard deviation of a reading, SI. */
  readonly error: (column: ShotColumn, value: number) => number;
  /** A value in the unit and the frame of the table's column. */
  readonly inTable: (column: ShotColumn, value: number) => number;
  /** A difference in the unit of the table's column, its size only. */
  readonly sizeInTable: (column: ShotColumn, size: number) => number;
  /** A value as a reader sees it, with its unit: `17.2°`. */
  readonly say: (column: ShotColumn, value: number) => string;
  /** The size of a difference as a reader sees it. */
  readonly saySize: (column: ShotColumn, size: number) => string;
  /** The flight that the default fit makes of a shot's launch in the session's still air; `null` where a part of it is missing. */
  readonly flight: (i: number) => Flight | null;
}

/**
 * The readings of every session of a table, by session; none of a session whose rows have all been left out.
 *
 * Rows are put in hitting order by their shot numbers. A table without shot numbers, or whose rows are not shots any
 * more, gives none. Directions of a left-hander that are not mirrored in the table are mirrored here, and `inTable` turns
 * them back.
 */
export function readingsOf(table: Table): readonly SessionReadings[] {
  const shot = findColumn(table, "shot");
  if (shot?.kind !== "number" || table.sessions.length === 0) return [];
  const session = findColumn(table, "session");
  if (table.sessions.length > 1 && session?.kind !== "text") return [];
  return table.sessions.flatMap((facts) => {
    const own = Array.from({ length: table.rowCount }, (_, row) => row).filter(
      (row) => session?.kind !== "text" || session.labels[session.codes[row]!] === facts.name,
    );
    own.sort((a, b) => shot.values[a]! - shot.values[b]! || a - b);
    return own.length === 0 ? [] : [sessionReadings(table, facts, Int32Array.from(own), shot)];
  });
}

function sessionReadings(table: Table, facts: SessionFacts, rows: Int32Array, shot: NumberColumn): SessionReadings {
  const turned = facts.hand === "left" && facts.mirrored !== true;
  const numbers = (column: ShotColumn): NumberColumn | null => {
    const found = findColumn(table, column);
    const hasUnit = found?.kind === "number" && (found.unit !== null || shotColumnFacts(column)?.quantity === null);
    return hasUnit ? found : null;
  };
  const unitOf = (column: ShotColumn): Unit | null => numbers(column)?.unit ?? null;
  const factorOf = (column: ShotColumn): number => {
    const unit = unitOf(column);
    return unit === null ? 1 : units[unit].factor;
  };
  const signOf = (column: ShotColumn): number => (turned && shotColumnFacts(column)?.mirrored === true ? -1 : 1);
  const known = new Map<ShotColumn, Float64Array | null>();
  const values = (column: ShotColumn): Float64Array | null => {
    let found = known.get(column);
    if (found === undefined) {
      const from = numbers(column);
      const factor = factorOf(column);
      found = from === null ? null : Float64Array.from(rows, (row) => from.values[row]! * factor * signOf(column) + 0);
      known.set(column, found);
    }
    return found;
  };
  const sizeInTable = (column: ShotColumn, size: number): number => Math.abs(size) / factorOf(column);
  const inTable = (column: ShotColumn, value: number): number => (value * signOf(column)) / factorOf(column) + 0;
  const digitsOf = (column: ShotColumn): number => {
    const from = numbers(column);
    return from === null ? 1 : digitsForColumn(from);
  };
  const { head, heads } = headsOf(table, facts, rows);
  const air = airOfSession(facts);
  const flights = new Map<number, Flight | null>();
  return {
    facts,
    table,
    rows,
    count: rows.length,
    shot: Float64Array.from(rows, (row) => shot.values[row]!),
    head,
    heads,
    air,
    values,
    isCalculated: (column) => {
      const origin = numbers(column)?.origin;
      return facts.calculated.includes(column) || (origin !== undefined && origin !== "measured" && origin !== "stated");
    },
    error: (column, value) => readingError(facts, column, value),
    inTable,
    sizeInTable,
    say: (column, value) => formatMeasure(inTable(column, value), digitsOf(column), unitOf(column)),
    saySize: (column, size) => formatMeasure(sizeInTable(column, size), digitsOf(column), unitOf(column)),
    flight: (i) => {
      if (!flights.has(i)) flights.set(i, flightOf(values, i, air));
      return flights.get(i)!;
    },
  };
}

/** The launch is simulated with a level spin axis and straight ahead where those two are not in the table at all. */
function flightOf(values: SessionReadings["values"], i: number, { air }: SessionAir): Flight | null {
  const at = (column: ShotColumn): number => values(column)?.[i] ?? Number.NaN;
  const orLevel = (column: ShotColumn): number => (values(column) === null ? 0 : at(column));
  const flight = flightOfReading(
    {
      speed: at("ball_speed"),
      launchAngle: at("launch_angle"),
      startDirection: orLevel("start_direction"),
      spinRate: at("spin_rate"),
      spinAxis: orLevel("spin_axis"),
    },
    { air },
  );
  return flight.landed ? flight : null;
}

function headsOf(table: Table, facts: SessionFacts, rows: Int32Array): { readonly head: Int32Array; readonly heads: readonly HeadBuild[] } {
  const column = findColumn(table, "head");
  if (column?.kind !== "text") return { head: new Int32Array(rows.length).fill(-1), heads: [] };
  const names = [...new Set([...facts.heads.map((each) => each.name), ...Array.from(rows, (row) => column.labels[column.codes[row]!]).filter((name) => name !== undefined)])];
  const heads = names.map((name): HeadBuild => {
    const stated = facts.heads.find((each) => each.name === name);
    if (stated !== undefined) return stated;
    const kind = headKindOf([facts], name);
    return { name, kind, strikeReference: headDefaults[kind].strikeReference };
  });
  return { head: rows.map((row) => names.indexOf(column.labels[column.codes[row]!] ?? "\u0000")), heads };
}
