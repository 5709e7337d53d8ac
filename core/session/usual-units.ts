import { shotColumns, type ShotColumn } from "../table/shot-columns";
import type { Unit } from "../units";
import { headDefaults } from "./head-defaults";

/**
 * The unit that a number of a shot column without one is most likely in: that of its usual margin, of angles and spin
 * degrees and rpm, of the face mm; `undefined` where several are as usual. Common practice, no source.
 */
export function usualUnitOf(column: ShotColumn): Unit | undefined {
  switch (shotColumns[column].quantity) {
    case "angle":
      return "deg";
    case "spin":
      return "rpm";
    case "face distance":
      return "mm";
    case "time":
      return "s";
    default: {
      const { margins } = headDefaults.iron;
      return Object.hasOwn(margins, column) ? margins[column]!.unit : undefined;
    }
  }
}
