import { zones } from "../table/shot-columns";
import type { ShotColumn } from "../table/shot-columns";
import type { Column, NumberColumn, TextColumn } from "../table/table";
import type { Unit } from "../units";
import { convert, convertDifference } from "../units";
import type { CentreZone, HeadKind } from "./session-facts";

/** What the columns that `deriveColumns` makes are made of, the zone left out: its parts and no other column. */
export const derivedFrom: Readonly<Partial<Record<string, readonly ShotColumn[]>>> = {
  speed_ratio: ["ball_speed", "club_speed"],
  face_to_path: ["face_angle", "club_path"],
  strike_distance: ["strike_x", "strike_y"],
  spin_rate: ["back_spin", "side_spin"],
  spin_axis: ["back_spin", "side_spin"],
  back_spin: ["spin_rate", "spin_axis"],
  side_spin: ["spin_rate", "spin_axis"],
};

/**
 * The columns that follow from others and are not there themselves: speed ratio, face to path, the parts of the spin
 * or its whole, the distance of the strike and its zone.
 *
 * A value is missing where a part of it is. Spin: `back = total · cos τ`, `side = total · sin τ` with the tilt τ of
 * the axis, positive when the ball curves right; `total² = back² + side²`. Spin about the line of flight is not in
 * such tables.
 *
 * @param columns by name; strikes are from the strike reference already.
 * @param kindOf the kind of head of a shot, `null` without a head.
 */
export function deriveColumns(
  columns: ReadonlyMap<string, Column>,
  kindOf: (row: number) => HeadKind | null,
  centreZones: Readonly<Record<HeadKind, CentreZone>>,
): Column[] {
  const numbers = (name: ShotColumn): NumberColumn | null => {
    const column = columns.get(name);
    return column?.kind === "number" ? column : null;
  };
  const derived: Column[] = [];
  const add: AddColumn = (name, unit, values) => {
    if (!columns.has(name)) derived.push({ kind: "number", name, unit, origin: "derived", values: values() });
  };
  const [ball, club] = [numbers("ball_speed"), numbers("club_speed")];
  if (ball !== null && club !== null)
    add("speed_ratio", null, () => pairs(ball.values, inUnit(club, ball.unit), (b, c) => (c > 0 ? b / c : Number.NaN)));
  const [face, path] = [numbers("face_angle"), numbers("club_path")];
  if (face !== null && path !== null)
    add("face_to_path", face.unit, () => pairs(face.values, inUnit(path, face.unit), (f, p) => f - p));
  deriveSpin(numbers, add);
  const [x, y] = [numbers("strike_x"), numbers("strike_y")];
  if (x !== null && y !== null) {
    const across = inUnit(x, "mm");
    const up = inUnit(y, "mm");
    add("strike_distance", "mm", () => pairs(across, up, Math.hypot));
    derived.push(zoneColumn(across, up, kindOf, centreZones));
  }
  return derived;
}

type AddColumn = (name: ShotColumn, unit: Unit | null, values: () => Float64Array) => void;

function deriveSpin(numbers: (name: ShotColumn) => NumberColumn | null, add: AddColumn): void {
  const [total, axis, back, side] = [numbers("spin_rate"), numbers("spin_axis"), numbers("back_spin"), numbers("side_spin")];
  if (total !== null && axis !== null) {
    const tilt = inUnit(axis, "rad");
    add("back_spin", total.unit, () => pairs(total.values, tilt, (rate, angle) => rate * Math.cos(angle)));
    add("side_spin", total.unit, () => pairs(total.values, tilt, (rate, angle) => rate * Math.sin(angle)));
  }
  if (back === null || side === null) return;
  const aside = inUnit(side, back.unit);
  add("spin_rate", back.unit, () => pairs(back.values, aside, Math.hypot));
  add("spin_axis", "deg", () =>
    pairs(back.values, aside, (b, s) => (b === 0 && s === 0 ? Number.NaN : convertDifference(Math.atan2(s, b), "rad", "deg"))),
  );
}

/** The values in another unit; as they are where there is none. */
function inUnit(column: NumberColumn, unit: Unit | null): Float64Array {
  const from = column.unit;
  return from === null || unit === null || from === unit ? column.values : column.values.map((value) => convert(value, from, unit));
}

/** Row by row; −0 becomes 0. */
function pairs(a: Float64Array, b: Float64Array, combine: (a: number, b: number) => number): Float64Array {
  return a.map((value, row) => combine(value, b[row]!) + 0);
}

/** The ninth of the face that was struck, from the strike in mm and the size of the centre zone of its kind of head. */
function zoneColumn(
  x: Float64Array,
  y: Float64Array,
  kindOf: (row: number) => HeadKind | null,
  centreZones: Readonly<Record<HeadKind, CentreZone>>,
): TextColumn {
  const codes = new Int32Array(x.length);
  for (let row = 0; row < x.length; row++) {
    const kind = kindOf(row);
    const across = x[row]!;
    const up = y[row]!;
    if (kind === null || Number.isNaN(across) || Number.isNaN(up)) {
      codes[row] = -1;
      continue;
    }
    const { halfWidth, halfHeight } = centreZones[kind];
    const column = across > halfWidth ? 0 : across < -halfWidth ? 2 : 1;
    const level = up > halfHeight ? 0 : up < -halfHeight ? 2 : 1;
    codes[row] = 3 * level + column;
  }
  return { kind: "text", name: "zone", origin: "derived", codes, labels: zones };
}
