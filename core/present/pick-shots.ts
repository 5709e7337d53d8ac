import { settableColumns } from "../table/settable-columns";
import type { ShotColumn } from "../table/shot-columns";
import type { SetAsideRequest } from "../session/set-aside-edit";
import type { PayloadValue, TablePayload } from "./payload";
import type { SetAsideMessage } from "./set-aside-message";

/** What of the chosen shots is to be set aside: one column, the whole shot, or the value that each row doubts. */
export type WhatAside = ShotColumn | "all" | "doubted";

/** Shots that can be set aside from a table, and what of them. */
export interface ShotPicker {
  /** What can be set aside, the likeliest first. */
  readonly choices: readonly WhatAside[];
  /** True for a row that is a shot, or a doubt, that is not set aside already. */
  readonly canPick: (row: readonly PayloadValue[]) => boolean;
  /** What a row is called: `shot 41 of spring-bay-1`. */
  readonly nameOf: (row: readonly PayloadValue[]) => string;
  /** What the session files are asked for; files, shots and columns in order, each once. */
  readonly requests: (rows: readonly (readonly PayloadValue[])[], what: WhatAside, because: string) => SetAsideMessage["files"];
}

/**
 * What tells the shot that a row is, and the session file that it is kept in, `null` for a row that is none; `null` for a
 * table whose rows are no shots.
 */
export function shotOfRow({ columns, sessions }: TablePayload): ((row: readonly PayloadValue[]) => { readonly file: string; readonly shot: number } | null) | null {
  const [shot, session] = ["shot", "session"].map((name) => columns.findIndex((column) => column.name === name)) as [number, number];
  if (sessions === undefined || sessions.length === 0 || shot < 0 || (sessions.length > 1 && session < 0)) return null;
  return (row) => {
    const file = (sessions.length === 1 ? sessions[0] : sessions.find(({ name }) => name === row[session]))?.file;
    const number = row[shot];
    return file === undefined || typeof number !== "number" ? null : { file, shot: number };
  };
}

/** A picker for a table whose rows are shots kept in session files; `null` for any other. */
export function shotPicker(table: TablePayload): ShotPicker | null {
  const { sessions } = table;
  const place = (name: string): number => table.columns.findIndex((column) => column.name === name);
  const [shot, session, doubted, state] = [place("shot"), place("session"), place("column"), place("state")];
  if (sessions === undefined || sessions.length === 0 || shot < 0 || table.columns[shot]!.kind !== "number") return null;
  if (sessions.length > 1 && session < 0) return null;
  const isDoubts = doubted >= 0 && state >= 0 && place("recorded") >= 0;
  const read = table.columns.filter((column) => column.kind === "number" && column.origin !== "derived" && column.origin !== "computed");
  const columns = settableColumns.filter((name) => read.some((column) => column.name === name));
  if (!isDoubts && columns.length === 0) return null;
  const sessionOf = (row: readonly PayloadValue[]): string => (sessions.length === 1 ? sessions[0]!.name : String(row[session]));
  const fileOf = (row: readonly PayloadValue[]): string | undefined => sessions.find((each) => each.name === sessionOf(row))?.file;

  function columnsOf(row: readonly PayloadValue[], what: WhatAside): readonly ShotColumn[] | "all" {
    if (what !== "doubted") return what === "all" ? "all" : [what];
    return settableColumns.filter((name) => name === row[doubted]);
  }

  return {
    choices: isDoubts ? ["doubted", "all"] : [...columns, "all"],
    canPick: (row) => typeof row[shot] === "number" && fileOf(row) !== undefined && (!isDoubts || row[state] !== "set aside"),
    nameOf: (row) => `shot ${String(row[shot])} of ${sessionOf(row)}${isDoubts ? `, ${String(row[doubted])}` : ""}`,
    requests: (rows, what, because) => {
      const files = new Map<string, Map<string, { readonly columns: readonly ShotColumn[] | "all"; readonly shots: Set<number> }>>();
      for (const row of rows) {
        const file = fileOf(row);
        const named = columnsOf(row, what);
        if (file === undefined || named.length === 0) continue;
        const own = files.get(file) ?? new Map<string, { columns: readonly ShotColumn[] | "all"; shots: Set<number> }>();
        files.set(file, own);
        const key = String(named);
        const one = own.get(key) ?? { columns: named, shots: new Set<number>() };
        own.set(key, one);
        one.shots.add(row[shot] as number);
      }
      return [...files].map(([file, own]) => ({
        file,
        requests: [...own.values()].map(({ columns: named, shots }): SetAsideRequest => ({ shots: [...shots].sort((a, b) => a - b), columns: named, because })),
      }));
    },
  };
}
