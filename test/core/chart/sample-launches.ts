import type { Table } from "../../../core/table/table";
import { makeTable, numberColumn } from "../../../core/table/table";
import { normals } from "../stats/check-values";
import { sampleShots } from "./sample-shots";

/** Invented shots with launches of mid-irons: `perHead` of each bird, three at a time. */
export function sampleLaunches(wanted: Parameters<typeof sampleShots>[0] = {}): Table {
  const shots = sampleShots(wanted);
  const normal = normals(11);
  const around = (name: string, centre: number, sd: number, unit: "mph" | "deg" | "rpm") =>
    numberColumn(name, Array.from({ length: shots.rowCount }, () => centre + sd * normal()), unit, "measured");
  const kept = shots.columns.filter(({ name }) => name !== "ball_speed");
  return makeTable(
    [...kept, around("ball_speed", 118, 2, "mph"), around("launch_angle", 18, 1, "deg"), around("spin_rate", 6300, 300, "rpm"), around("start_direction", 0, 1.5, "deg"), around("spin_axis", 1, 3, "deg")],
    shots.rowCount,
    shots,
  );
}
