import type { Limits } from "./limits";
import type { Checked } from "./problem";
import { combineTables } from "./session/combine-sessions";
import type { SessionFacts } from "./session/session-facts";
import { rememberAlone, tooManyRows, type CombinedShots, type LoadedSession, type SessionLoader } from "./session-loader";
import { inUnits } from "./table/convert-units";
import { mostValues, numberFacts, schemaOf, type ColumnSchema, type NumberRange, type Schema } from "./table/schema";
import { missingCount, type Column, type Table } from "./table/table";
import type { UnitSystem } from "./units";

/** What is known of one column without its rows. */
export interface ColumnCounts {
  readonly missing: number;
  /** The least and the greatest number of a number column; absent when all are missing. */
  readonly range?: NumberRange;
  /**
   * Every text that the column can hold, or every number that is in it, in no order; absent when there are more than 200,
   * and for a text column of an export that was read in part.
   */
  readonly distinct?: readonly string[] | readonly number[];
}

/** What is known of a session's shots without their rows. */
export interface SessionCounts {
  readonly rowCount: number;
  /** True when only the beginning of an export was read: then there are more rows, values and texts than these. */
  readonly isPart: boolean;
  /** One for each column of the session's table, in its order. */
  readonly columns: readonly ColumnCounts[];
}

/** A session whose table has no rows, with what its rows would tell a reader. It can be sent to another thread as it is. */
export interface ProfiledSession extends LoadedSession {
  /** `null` when the session has no table. */
  readonly counts: SessionCounts | null;
}

/**
 * The profile of a session: everything that checking, completing and explaining need, and no list as long as the shots.
 *
 * Columns keep names, kinds, units, origins and up to 200 labels. Of the session's facts the values that were set aside or
 * corrected one by one are left out, and their counts stay.
 */
export function profileOf(session: LoadedSession): ProfiledSession {
  const { table } = session;
  if (table === null) return { ...session, counts: null };
  const isPart = session.exports.some((each) => each.isPart === true);
  const columns = table.columns.map((column) => countsOf(column, isPart));
  return { ...session, table: withoutRows(table), counts: { rowCount: table.rowCount, isPart, columns } };
}

/**
 * Returns a loader of profiles: what it combines has the schema and the problems that the sessions themselves would have,
 * and a table without rows.
 *
 * @param profiles gives the profile of a session as it is now, by its path, and lets go of profiles.
 */
export function createProfileLoader(profiles: Pick<SessionLoader, "keepUsed"> & { readonly load: (path: string) => Promise<ProfiledSession> }, limits: Limits): SessionLoader {
  return { load: profiles.load, keepUsed: profiles.keepUsed, combine: rememberAlone((sessions, units) => combineProfiles(sessions.map(asProfile), units, limits)) };
}

/** The schema of one session's table in the units that it is in; `null` when it has none. */
export function schemaOfProfile(session: ProfiledSession): Schema | null {
  return session.table === null ? null : schemaFrom(witnessTable(session), [session]);
}

function asProfile(session: LoadedSession): ProfiledSession {
  return "counts" in session ? (session as ProfiledSession) : profileOf(session);
}

function countsOf(column: Column, isPart: boolean): ColumnCounts {
  switch (column.kind) {
    case "number": {
      const distinct = isPart ? null : fewNumbers(column.values);
      return { ...numberFacts(column.values), ...(distinct === null ? {} : { distinct }) };
    }
    case "text":
      // The session's own name is in every row, whatever else the export holds.
      return { missing: missingCount(column), ...(column.labels.length > mostValues || (isPart && column.name !== "session") ? {} : { distinct: column.labels }) };
    case "truth":
      return { missing: missingCount(column) };
  }
}

/** The different numbers of a column; `null` when there are more than 200. */
function fewNumbers(values: Float64Array): readonly number[] | null {
  const distinct = new Set<number>();
  for (const value of values) {
    if (Number.isNaN(value)) continue;
    distinct.add(value);
    if (distinct.size > mostValues) return null;
  }
  return [...distinct];
}

function withoutRows(table: Table): Table {
  return { ...table, columns: table.columns.map(withoutValues), rowCount: 0, sessions: table.sessions.map(withoutLists) };
}

function withoutValues(column: Column): Column {
  switch (column.kind) {
    case "number":
      return { ...column, values: new Float64Array(0) };
    case "text":
      return { ...column, codes: new Int32Array(0), labels: column.labels.slice(0, mostValues) };
    case "truth":
      return { ...column, values: new Int8Array(0) };
  }
}

function withoutLists({ putBack: _putBack, setAsideValues: _setAside, corrections: _corrections, ...facts }: SessionFacts): SessionFacts {
  return facts;
}

function combineProfiles(sessions: readonly ProfiledSession[], units: UnitSystem, limits: Limits): Checked<CombinedShots | null> {
  if (sessions.some((session) => session.table === null)) return { value: null, problems: [] };
  const tooMany = tooManyRows(sessions.map((session) => session.counts?.rowCount ?? 0), limits);
  if (tooMany.length > 0) return { value: null, problems: tooMany };
  const { value, problems } = combineTables(sessions.map(witnessTable));
  if (value === null) return { value, problems };
  const witness = inUnits(value, units);
  return { value: { table: withoutRows(witness), schema: schemaFrom(witness, sessions) }, problems };
}

/**
 * A small table that stands for a session's: rows with every number and text that is known of it, or else with the least
 * and the greatest number. What joining and converting make of these rows, they would make of the session's.
 */
function witnessTable({ table, counts }: ProfiledSession): Table {
  if (table === null || counts === null) throw new TypeError("a session without a table has no columns");
  const shown = table.columns.map((column, index) => {
    const { range, distinct } = counts.columns[index]!;
    if (column.kind === "number") return (distinct as readonly number[] | undefined) ?? (range === undefined ? [] : [range.low, range.high]);
    return column.kind === "text" ? column.labels : [];
  });
  const rowCount = shown.reduce((most, values) => Math.max(most, values.length), 0);
  const columns = table.columns.map((column, index): Column => {
    const values = shown[index]!;
    switch (column.kind) {
      case "number":
        return { ...column, values: Float64Array.from({ length: rowCount }, (_, row) => (values[row] as number | undefined) ?? Number.NaN) };
      case "text":
        return { ...column, codes: Int32Array.from({ length: rowCount }, (_, row) => (row < values.length ? row : -1)) };
      case "truth":
        return { ...column, values: new Int8Array(rowCount).fill(-1) };
    }
  });
  return { ...table, columns, rowCount };
}

/** The schema of the sessions together: what the witness has of it, and the counts of the sessions. */
function schemaFrom(witness: Table, sessions: readonly ProfiledSession[]): Schema {
  const { rowCount: _ofWitness, ...shape } = schemaOf(witness);
  const counts = sessions.flatMap((session) => session.counts ?? []);
  const columns = shape.columns.map((column) => columnFrom(column, sessions));
  if (counts.some((each) => each.isPart)) return { ...shape, columns };
  return { ...shape, columns, rowCount: counts.reduce((sum, each) => sum + each.rowCount, 0) };
}

/** A column of the witness with what the sessions justify: counts, range and values only where they are known of all. */
function columnFrom({ missing: _ofWitness, range, values, ...shape }: ColumnSchema, sessions: readonly ProfiledSession[]): ColumnSchema {
  let missing = 0;
  let isCounted = true;
  let isRangeKnown = true;
  let areValuesKnown = true;
  for (const { table, counts } of sessions) {
    if (table === null || counts === null) continue;
    const own = counts.columns[table.columns.findIndex((column) => column.name === shape.name)];
    missing += own?.missing ?? counts.rowCount;
    isCounted &&= !counts.isPart;
    isRangeKnown &&= own === undefined || !counts.isPart;
    areValuesKnown &&= own === undefined || own.distinct !== undefined;
  }
  return {
    ...shape,
    ...(isCounted ? { missing } : {}),
    ...(isRangeKnown && range !== undefined ? { range } : {}),
    ...(areValuesKnown && values !== undefined ? { values } : {}),
  };
}
