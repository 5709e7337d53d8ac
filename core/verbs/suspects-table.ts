import type { DoubtedStretch, Doubts, Suspect } from "../quality/suspect";
import type { SessionFacts } from "../session/session-facts";
import type { ColumnSchema } from "../table/schema";
import type { ShotColumn } from "../table/shot-columns";
import { shotColumnNames } from "../table/shot-columns";
import type { Column, NumberColumn, Table, TextColumn } from "../table/table";
import { findColumn, numberColumn, textColumn } from "../table/table";
import type { Unit } from "../units";
import { convert, isConvertible } from "../units";

/** A value that is doubted, or that a person has set aside. */
export interface SuspectRow {
  readonly session: string;
  readonly shot: number;
  readonly head: string | null;
  readonly column: ShotColumn;
  readonly unit: Unit | null;
  /** `null` where nothing readable was recorded. */
  readonly recorded: number | null;
  readonly implied: number | null;
  readonly tolerance: number | null;
  /** `null` for a value set aside that no rule doubts. */
  readonly rule: string | null;
  readonly doubt: Suspect["doubt"] | null;
  readonly state: "suspect" | "set aside";
  readonly evidence: string;
  readonly witnesses: Suspect["witnesses"];
}

/** One column of the result; a measure is in the unit of its row. */
type Maker = readonly [name: string, kind: "text" | "number", value: (row: SuspectRow) => string | number | null];

const makers: readonly Maker[] = [
  ["session", "text", (row) => row.session],
  ["shot", "number", (row) => row.shot],
  ["head", "text", (row) => row.head],
  ["column", "text", (row) => row.column],
  ["unit", "text", (row) => row.unit],
  ["recorded", "number", (row) => row.recorded],
  ["implied", "number", (row) => row.implied],
  ["tolerance", "number", (row) => row.tolerance],
  ["rule", "text", (row) => row.rule],
  ["state", "text", (row) => row.state],
  ["doubt", "text", (row) => row.doubt],
  ["evidence", "text", (row) => row.evidence],
];

/** Columns that are there but not shown until asked for. */
export const hiddenSuspectColumns: readonly string[] = ["doubt"];

/** The columns of a table of doubtful values. */
export const suspectSchema: readonly ColumnSchema[] = makers.map(([name, kind]) => ({ name, kind, unit: null, origin: "computed" }));

/** The columns of doubtful values, one row a value. */
export function suspectColumns(rows: readonly SuspectRow[]): readonly Column[] {
  return makers.map(([name, kind, value]) => (kind === "text" ? textColumn(name, rows.map(value) as (string | null)[]) : numberColumn(name, rows.map(value) as (number | null)[])));
}

/** Which values are asked for. */
export interface Asked {
  /** `null` for all columns. */
  readonly columns: readonly string[] | null;
  readonly strongOnly: boolean;
}

/** True for a doubt that is asked for. */
function isAsked({ columns, strongOnly }: Asked, { column, doubt }: Pick<Suspect, "column" | "doubt">): boolean {
  return isColumnAsked(columns, column) && (!strongOnly || doubt === "strong");
}

/** True for a stretch that is asked for. */
export function isStretchAsked({ columns }: Asked, { column }: Pick<DoubtedStretch, "column">): boolean {
  return isColumnAsked(columns, column);
}

function isColumnAsked(columns: readonly string[] | null, column: string): boolean {
  return columns === null || columns.includes(column);
}

/**
 * The rows of what is doubted in a table and of what a person has set aside, by session, shot and column.
 *
 * @param back what the rules say of the table with its set-aside values put back; `null` where none are.
 */
export function suspectRows(table: Table, doubts: Doubts, back: { readonly table: Table; readonly doubts: Doubts } | null, asked: Asked): readonly SuspectRow[] {
  const rows = doubts.suspects.filter((each) => isAsked(asked, each)).map((each): SuspectRow => ({ ...each, unit: unitOf(table, each.column), state: "suspect" }));
  if (back !== null) rows.push(...setAsideRows(table, back.table, back.doubts, asked));
  const place = ({ session, column }: SuspectRow): readonly [number, number] => [table.sessions.findIndex(({ name }) => name === session), shotColumnNames.indexOf(column)];
  return rows.sort((a, b) => place(a)[0] - place(b)[0] || a.shot - b.shot || place(a)[1] - place(b)[1]);
}

function unitOf(table: Table, column: string): Unit | null {
  const found = findColumn(table, column);
  return found?.kind === "number" ? found.unit : null;
}

/** What a person has set aside of the shots that have a row here. */
function setAsideRows(table: Table, back: Table, doubts: Doubts, { columns }: Asked): readonly SuspectRow[] {
  const rowOf = rowsOfShots(table);
  const head = findColumn(table, "head");
  const found = new Map(doubts.suspects.map((each) => [`${each.session}\u0000${each.shot} ${each.column}`, each]));
  return table.sessions.flatMap((session) =>
    (session.setAsideValues ?? []).flatMap((value): readonly SuspectRow[] => {
      const row = rowOf(session, value.shot);
      const column = findColumn(table, value.column);
      if (row === undefined || column?.kind !== "number" || !isColumnAsked(columns, value.column)) return [];
      const doubt = found.get(`${session.name}\u0000${value.shot} ${value.column}`);
      const evidence = doubt === undefined ? "No rule doubts it." : doubt.evidence;
      return [
        {
          session: session.name,
          shot: value.shot,
          head: head?.kind === "text" ? (head.labels[head.codes[row]!] ?? null) : value.head,
          column: value.column,
          unit: column.unit,
          recorded: recordedIn(back, value, row, column),
          implied: doubt?.implied ?? null,
          tolerance: doubt?.tolerance ?? null,
          rule: doubt?.rule ?? null,
          doubt: doubt?.doubt ?? null,
          state: "set aside",
          evidence: `Set aside by a person: ${value.because.replace(/\.$/, "")}. ${evidence}`,
          witnesses: doubt?.witnesses ?? [],
        },
      ];
    }),
  );
}

/** The value as it would stand in the table, or as it was recorded where it could not stand there. */
function recordedIn(back: Table, value: { readonly column: string; readonly recorded: number | null; readonly unit: Unit | null }, row: number, { unit }: NumberColumn): number | null {
  const put = findColumn(back, value.column);
  if (put?.kind === "number" && !Number.isNaN(put.values[row]!)) return put.values[row]!;
  if (value.recorded === null || value.unit === null || unit === null || value.unit === unit) return value.recorded;
  return isConvertible(value.unit, unit) ? convert(value.recorded, value.unit, unit) : null;
}

/** Tells the row of a shot of a session. */
function rowsOfShots(table: Table): (session: SessionFacts, shot: number) => number | undefined {
  const shot = findColumn(table, "shot") as NumberColumn;
  const session = findColumn(table, "session") as TextColumn | undefined;
  const name = (row: number): string => (table.sessions.length === 1 ? table.sessions[0]!.name : (session?.labels[session.codes[row]!] ?? ""));
  const rows = new Map(Array.from({ length: table.rowCount }, (_, row) => [`${name(row)}\u0000${shot.values[row]!}`, row] as const));
  return (facts, number) => rows.get(`${facts.name}\u0000${number}`);
}
