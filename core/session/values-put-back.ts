import { shotColumnNames } from "../table/shot-columns";
import type { Column } from "../table/table";
import { takeRows, valueAt } from "../table/table";
import type { Draft } from "./draft";
import type { PutBackValue, SetAsideValue } from "./session-facts";

/** Shots of which something was set aside, as they would be had nothing been. */
export interface RowsPutBack {
  /** Their rows in the draft, ascending. */
  readonly rows: Int32Array;
  /** Columns of these rows alone, whose arrays are their own. */
  readonly columns: Map<string, Column>;
}

/**
 * The shots of which something was set aside, with what the monitor had recorded back in its place.
 *
 * Taken before strikes are moved and directions mirrored, so that the same can be done to these values.
 */
export function rowsPutBack(draft: Draft, setAside: readonly SetAsideValue[]): RowsPutBack {
  const shots = new Set(setAside.map((value) => value.shot));
  const rows = Int32Array.from(Array.from({ length: draft.rowCount }, (_, row) => row).filter((row) => shots.has(draft.numbers.values[row]!)));
  const places = new Map(Array.from(rows, (row, place) => [draft.numbers.values[row]!, place]));
  const columns = new Map([...draft.columns].map(([name, column]) => [name, takeRows(column, rows)]));
  for (const { shot, column: name, recorded } of setAside) {
    const column = columns.get(name);
    if (column?.kind === "number" && recorded !== null) column.values[places.get(shot)!] = recorded;
  }
  return { rows, columns };
}

/**
 * The values that `columns` would have, were nothing set aside: those put back, and those derived from them; by shot and
 * then by column.
 *
 * @param columns those of the table, derived ones among them, in the same frame as the values put back.
 */
export function valuesPutBack({ rows, columns: back }: RowsPutBack, columns: ReadonlyMap<string, Column>, numbers: Float64Array): readonly PutBackValue[] {
  const both = shotColumnNames.flatMap((name) => {
    const [now, whole] = [columns.get(name), back.get(name)];
    return now === undefined || whole === undefined || now.kind !== whole.kind ? [] : [{ name, now, whole }];
  });
  return Array.from(rows, (row, place) =>
    both.flatMap(({ name, now, whole }): readonly PutBackValue[] => {
      const value = valueAt(whole, place);
      if (value === null || typeof value === "boolean" || value === valueAt(now, row)) return [];
      return [{ shot: numbers[row]!, column: name, value, unit: whole.kind === "number" ? whole.unit : null }];
    }),
  ).flat();
}
