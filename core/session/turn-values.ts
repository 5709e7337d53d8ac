import { shotColumnFacts } from "../table/shot-columns";
import type { Column } from "../table/table";
import { convert } from "../units";
import type { HeadBuild } from "./session-facts";

/**
 * Moves strikes from the monitor's origin to the strike reference of the head that was hit. Without a head there is
 * no reference, and the strike is missing.
 *
 * @param columns by name; the arrays are changed.
 * @param heads the code of the head of each shot, into `builds`.
 */
export function moveToReference(columns: ReadonlyMap<string, Column>, heads: Int32Array, builds: readonly HeadBuild[]): void {
  for (const [name, axis] of [
    ["strike_x", "x"],
    ["strike_y", "y"],
  ] as const) {
    const column = columns.get(name);
    if (column?.kind !== "number" || column.unit === null) continue;
    const { unit, values } = column;
    const origins = builds.map((build) => convert(build.strikeReference[axis], "mm", unit));
    for (let row = 0; row < values.length; row++) values[row] = values[row]! - (origins[heads[row]!] ?? Number.NaN) + 0;
  }
}

/** Turns whatever is left or right of the target line to the other side, as a left-hander's swing is mirrored. */
export function mirrorDirections(columns: ReadonlyMap<string, Column>): void {
  for (const column of columns.values()) {
    if (column.kind !== "number" || shotColumnFacts(column.name)?.mirrored !== true) continue;
    const { values } = column;
    for (let row = 0; row < values.length; row++) values[row] = 0 - values[row]!;
  }
}
