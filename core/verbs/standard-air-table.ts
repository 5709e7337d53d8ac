import type { Air } from "../flight/air";
import { airAsHit, airOfSession } from "../flight/session-air";
import type { PutBackValue, SessionFacts } from "../session/session-facts";
import type { ColumnSchema } from "../table/schema";
import { shotColumnNames } from "../table/shot-columns";
import type { Column, NumberColumn, Table } from "../table/table";
import { findColumn, numberColumn } from "../table/table";
import type { MovedColumn, MovedShot, ShotReadings } from "./standard-air-shots";
import { fromSI, inOtherAir, isMoved, isMovedName, isReading, isSameAir, readingColumns, readingsAt, toSI } from "./standard-air-shots";
import type { NamedAir } from "./standard-air-target";

/** The column of how far the two fits are apart in a moved carry. */
export const spreadName = "carry_spread";

/** Not moved but left out: how far a ball runs is not known for other air. */
export const leftOutName = "total";

/** The air that a session's flights are in, and the one they were hit in. */
interface SessionAirs {
  readonly now: Air;
  readonly hit: Air;
}

/** A table of shots in other air, and what there is to say of it. */
export interface MovedTable {
  readonly columns: readonly Column[];
  readonly sessions: readonly SessionFacts[];
  /** The shots, one a row. */
  readonly shots: readonly MovedShot[];
  /** By row, how far the two fits are apart over the whole move from the air a shot was hit in, in SI. */
  readonly spread: Readonly<Record<"carry" | "peak_height" | "descent_angle", Float64Array>>;
}

/** The columns after the move, in place of those before it: without the total, with the spread behind the carry. */
export function columnsAfter<C extends ColumnSchema | Column>(before: readonly C[], spread: C | null): readonly C[] {
  const kept = before.filter((column) => column.name !== leftOutName && column.name !== spreadName);
  return kept.flatMap((column) => (spread !== null && column.name === "carry" ? [column, spread] : [column]));
}

/**
 * All shots of a table in the air `to`; every session with a row here must state the air its flights are in.
 *
 * @param sessionOf the number of each row's session among the table's.
 */
export function movedTable(table: Table, sessionOf: Int32Array, to: NamedAir, checkpoint: () => void): MovedTable {
  const columns = readingColumns(table.columns);
  const airs = table.sessions.map((session): SessionAirs => ({ now: airOfSession(session).air, hit: airAsHit(session).air }));
  const spread = { carry: none(table), peak_height: none(table), descent_angle: none(table) };
  const shots = Array.from(sessionOf, (session, row) => {
    checkpoint();
    const before = readingsAt(columns, row);
    const { now, hit } = airs[session]!;
    const shot = inOtherAir(before, now, to.air);
    // After several moves the fits differ by what lies between the first air and the last.
    const { change } = isSameAir(now, hit) ? shot : inOtherAir(before, hit, to.air);
    if (shot.change !== null && change !== null) {
      const { carry = Number.NaN, peak_height: peak = Number.NaN } = shot.readings;
      spread.carry[row] = (carry * change.spread.carryRatio) / change.carryRatio;
      spread.peak_height[row] = (peak * change.spread.peakRatio) / change.peakRatio;
      spread.descent_angle[row] = change.spread.descentDifference;
    }
    return shot;
  });
  const values = (column: NumberColumn): Float64Array =>
    column.values.map((value, row) =>
      // A shot that is in that air already keeps its values to the last digit.
      isSameAir(airs[sessionOf[row]!]!.now, to.air) ? value : fromSI(column.name, shots[row]!.readings[column.name as MovedColumn]!, column.unit!),
    );
  const carry = columns.find(({ name }) => name === "carry");
  const beside = carry === undefined ? null : numberColumn(spreadName, Array.from(spread.carry, (value) => fromSI("carry", value, carry.unit!)), carry.unit);
  return {
    columns: columnsAfter<Column>(table.columns.map((column) => (isMoved(column) ? { ...column, values: values(column as NumberColumn) } as Column : column)), beside),
    sessions: table.sessions.map((session, place) => {
      const rows = Array.from(sessionOf.keys()).filter((row) => sessionOf[row] === place);
      return rows.length === 0 ? session : movedSession(session, airs[place]!, to, putBackAfter(table, session, rows, shots, airs[place]!.now, to.air));
    }),
    shots,
    spread,
  };
}

function none(table: Table): Float64Array {
  return new Float64Array(table.rowCount).fill(Number.NaN);
}

/** The session in its new air; as it was hit where that is its own. */
function movedSession(session: SessionFacts, { hit }: SessionAirs, to: NamedAir, putBack: readonly PutBackValue[] | undefined): SessionFacts {
  const { movedTo: _, ...asHit } = session;
  return { ...asHit, ...(isSameAir(hit, to.air) ? {} : { movedTo: to }), ...(putBack === undefined ? {} : { putBack }) };
}

/**
 * What the moved table would have beside its values, were nothing set aside: the flights of those shots in the new air,
 * some of which only a value set aside makes it possible to move.
 */
function putBackAfter(table: Table, session: SessionFacts, rows: readonly number[], shots: readonly MovedShot[], from: Air, to: Air): readonly PutBackValue[] | undefined {
  const number = findColumn(table, "shot");
  if (session.putBack === undefined || number?.kind !== "number" || isSameAir(from, to)) return session.putBack;
  const columns = readingColumns(table.columns);
  const numbers = new Set(session.putBack.map((each) => each.shot));
  return [...numbers].flatMap((shot) => {
    const own = session.putBack!.filter((each) => each.shot === shot);
    const others = own.filter((each) => !isMovedName(each.column) && each.column !== leftOutName);
    const row = rows.find((each) => number.values[each] === shot);
    if (row === undefined) return others;
    const { readings } = inOtherAir({ ...readingsAt(columns, row), ...readingsOf(own) }, from, to);
    const moved = columns.filter(isMoved).flatMap(({ name, unit }): readonly PutBackValue[] => {
      const value = readings[name as MovedColumn]!;
      const isNew = !Number.isNaN(value) && value !== shots[row]!.readings[name as MovedColumn];
      return isNew ? [{ shot, column: name as MovedColumn, value: fromSI(name, value, unit!), unit }] : [];
    });
    return [...others, ...moved].sort((a, b) => shotColumnNames.indexOf(a.column) - shotColumnNames.indexOf(b.column));
  });
}

/** The readings among values put back, in SI. */
function readingsOf(values: readonly PutBackValue[]): ShotReadings {
  const known = values.filter(({ column, value, unit }) => typeof value === "number" && isReading({ name: column, kind: "number", unit }));
  return Object.fromEntries(known.map(({ column, value, unit }) => [column, toSI(column, value as number, unit!)]));
}
