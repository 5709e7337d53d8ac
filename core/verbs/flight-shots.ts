import type { Launch } from "../flight/launch";
import { launchParts, neededForLaunch } from "../flight/modelled-flight";
import type { LaunchColumn } from "../flight/modelled-flight";
import type { ColumnSchema } from "../table/schema";
import type { NumberColumn, Table } from "../table/table";
import { findColumn } from "../table/table";
import { convert, isConvertible } from "../units";

/** How the shots of a table started. */
export interface Launches {
  /**
   * The launch of a row. What is missing of the three needed values is `NaN`; a missing start direction counts as straight
   * and a missing spin axis as level.
   */
  readonly launchAt: (row: number) => Launch;
  /** Whether a row has its own start direction and spin axis, as far as the table has columns for them. */
  readonly isAimKnown: (row: number) => boolean;
  /** Columns of start direction and spin axis that the table does not have. */
  readonly without: readonly ("start_direction" | "spin_axis")[];
  /** The columns that the launches come from. */
  readonly columns: readonly NumberColumn[];
}

/** Which of the columns that a flight needs these lack, in a unit that fits. */
export function lackedForLaunch(columns: readonly Pick<ColumnSchema, "name" | "kind" | "unit">[]): readonly LaunchColumn[] {
  return neededForLaunch.filter((part) => !columns.some((column) => column.name === part && column.kind === "number" && column.unit !== null && isConvertible(column.unit, launchParts[part].coherent)));
}

/** The launches of a table in which `lackedForLaunch` finds nothing lacking. */
export function launchesOf(table: Table): Launches {
  const columns = new Map((Object.keys(launchParts) as LaunchColumn[]).flatMap((part) => {
    const column = findColumn(table, part);
    return column?.kind === "number" && column.unit !== null && isConvertible(column.unit, launchParts[part].coherent) ? [[part, column] as const] : [];
  }));
  const valueAt = (part: LaunchColumn, row: number): number => {
    const column = columns.get(part);
    return column === undefined ? Number.NaN : convert(column.values[row]!, column.unit!, launchParts[part].coherent);
  };
  const orZero = (value: number): number => (Number.isNaN(value) ? 0 : value);
  const aimed = (["start_direction", "spin_axis"] as const).filter((part) => columns.has(part));
  return {
    launchAt: (row) => ({
      speed: valueAt("ball_speed", row),
      launchAngle: valueAt("launch_angle", row),
      spinRate: valueAt("spin_rate", row),
      startDirection: orZero(valueAt("start_direction", row)),
      spinAxis: orZero(valueAt("spin_axis", row)),
    }),
    isAimKnown: (row) => aimed.every((part) => !Number.isNaN(valueAt(part, row))),
    without: (["start_direction", "spin_axis"] as const).filter((part) => !columns.has(part)),
    columns: [...columns.values()],
  };
}
