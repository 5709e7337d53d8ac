import type { ShotColumn } from "./shot-columns";
import { shotColumnNames } from "./shot-columns";

/** Columns that are counted here, from the order of the shots or from other columns, and never read or changed. */
export const countedColumns: readonly ShotColumn[] = ["session", "shot", "stint", "pass", "strike_distance", "zone"];

/** Shot columns that hold readings or ratings: whatever can be set aside. */
export const settableColumns: readonly ShotColumn[] = shotColumnNames.slice(shotColumnNames.indexOf("club_speed")).filter((name) => !countedColumns.includes(name));
