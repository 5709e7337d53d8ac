import type { DriftShots } from "../stats/drift-model";
import type { NumberColumn, Table } from "../table/table";
import { findColumn } from "../table/table";
import type { UsedShots } from "./used-shots";

/** The used shots of one session that have a value of a column, with the names of their groups and the table's rows. */
export interface SessionShots {
  readonly shots: DriftShots;
  /** Names of the groups that have a shot. */
  readonly groups: readonly string[];
  /** For each shot its row in the table. */
  readonly rows: Int32Array;
}

/** The used shots of the session of that number that have a value of `column`, as data of a drift. */
export function sessionShots(table: Table, column: NumberColumn, used: UsedShots, session: number, firsts: readonly boolean[]): SessionShots {
  const present = Int32Array.from(
    Array.from(used.rows.keys()).filter((i) => used.session[i] === session && !Number.isNaN(column.values[used.rows[i]!]!)),
  );
  const groups = [...new Set(present.map((i) => used.group[i]!))].sort((a, b) => a - b);
  const pass = findColumn(table, "pass");
  return {
    groups: groups.map((group) => used.groups[group]!),
    rows: present.map((i) => used.rows[i]!),
    shots: {
      groupCount: groups.length,
      group: present.map((i) => groups.indexOf(used.group[i]!)),
      stint: Float64Array.from(present, (i) => used.stint![i]!),
      time: Float64Array.from(present, (i) => used.time[i]!),
      value: Float64Array.from(present, (i) => column.values[used.rows[i]!]!),
      pass: pass?.kind === "number" && pass.origin === "derived" ? Float64Array.from(present, (i) => pass.values[used.rows[i]!]!) : null,
      afterChange: Array.from(present, (i) => firsts[i]!),
    },
  };
}

/**
 * For each used shot whether it was the first after a change of head, second stint on.
 *
 * Looked up among all rows of the table, since a stint may begin with a shot that is not used. A stint that follows one
 * of the same head is parted from it by a break, which is no change; where the number before is not in the table,
 * something else was hit in between.
 */
export function firstAfterChange(table: Table, used: UsedShots): readonly boolean[] {
  const stint = findColumn(table, "stint");
  const shot = findColumn(table, "shot");
  const head = findColumn(table, "head");
  if (stint?.kind !== "number" || shot?.kind !== "number" || head?.kind !== "text") return Array.from(used.rows, () => false);
  const session = findColumn(table, "session");
  const placeOf = (row: number, number: number): string => `${session?.kind === "text" ? session.codes[row]! : 0} ${number}`;
  const begins = new Map<string, { readonly shot: number; readonly head: number }>();
  for (let row = 0; row < table.rowCount; row++) {
    const place = placeOf(row, stint.values[row]!);
    const known = begins.get(place);
    if (known === undefined || shot.values[row]! < known.shot) begins.set(place, { shot: shot.values[row]!, head: head.codes[row]! });
  }
  return Array.from(used.rows, (row) => {
    const number = stint.values[row]!;
    const before = begins.get(placeOf(row, number - 1));
    return number > 1 && begins.get(placeOf(row, number))?.shot === shot.values[row] && before?.head !== head.codes[row];
  });
}
