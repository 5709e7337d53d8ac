import type { Table } from "../../../core/table/table";
import { makeTable, numberColumn, textColumn } from "../../../core/table/table";
import { sampleSession, sampleTable } from "../present/sample-tables";
import { sampleShots } from "./sample-shots";

/** A made-up table with the columns of `enough`: two pairs with a plan, and one of heads hit in one go, without. */
export function sampleEnough(): Table {
  const number = (name: string, values: readonly (number | null)[], unit: "yd" | null = null) => numberColumn(name, values, unit);
  return sampleTable(
    [
      textColumn("head", ["Heron", "Plover", "Plover"]),
      textColumn("against", ["Wren", "Wren", "Heron"]),
      textColumn("of", ["carry", "carry", "carry"]),
      number("margin", [3, 3, 3], "yd"),
      number("shots_to_see", [88, 96, null]),
      number("shots_to_show", [92, 104, null]),
      number("n", [32, 31, 31]),
      number("n_against", [32, 32, 32]),
      number("standard_error", [1.5, 1.6, null], "yd"),
      number("df", [20, 20, null]),
      number("stints_worth", [8, 8, null]),
      number("shots_per_stint", [4, 4, null]),
      number("compared", [3, 3, null]),
      number("hit_in_turn", [3, 3, null]),
      number("shots_for_verdict", [32, 31, null]),
      number("confidence", [0.95, 0.95, 0.95]),
      number("power", [0.8, 0.8, 0.8]),
    ],
    { sessions: [sampleSession({ synthetic: true })] },
  );
}

/** The invented shots with a face-to-path and a spin axis that goes with it, steeper with each head; one has none. */
export function sampleDeliveries(): Table {
  const shots = sampleShots();
  const offline = shots.columns.find((column) => column.name === "offline")!;
  const head = shots.columns.find((column) => column.name === "head")!;
  const along = Float64Array.from({ length: shots.rowCount }, (_, row) => (offline.kind === "number" ? offline.values[row]! / 3 : 0));
  const steepness = (row: number): number => 3 + (head.kind === "text" ? head.codes[row]! : 0);
  const axis = Array.from(along, (value, row) => (row === 7 ? null : steepness(row) * value + ((row * 37) % 11) / 5 - 1));
  const columns = [...shots.columns, numberColumn("face_to_path", along, "deg", "derived"), numberColumn("spin_axis", axis, "deg", "measured")];
  return makeTable(columns, shots.rowCount, shots);
}
