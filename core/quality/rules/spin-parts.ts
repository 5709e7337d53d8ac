import type { ShotColumn } from "../../table/shot-columns";
import { findColumn } from "../../table/table";
import type { Finding, MisreadRule } from "../rule";
import type { SessionReadings } from "../session-readings";

const deg = Math.PI / 180;
const rpm = (2 * Math.PI) / 60;
const leastSpin = 30 * rpm;
const spinShare = 0.01;
const axisTolerance = 1 * deg;
const farBeyond = 10; // tolerances

/** Total spin, its parts and its axis are one thing said in three ways. */
export const spinParts: MisreadRule = {
  name: "parts of the spin",
  summary: "Total spin squared is back spin squared plus side spin squared, and the axis leans by the angle between them.",
  doubts: ["spin_rate", "spin_axis"],
  needs: ["back_spin", "side_spin"],
  tolerance: "1 % of the spin or 30 rpm, whichever is more; 1° of the axis, and what an axis counted from the horizon differs by",
  source: "Geometry; tolerances common practice, no source",
  find: (readings) => [...totals(readings), ...axes(readings)],
};

/** A column as the export has it; one that was derived here from the parts agrees with them by itself. */
function recorded(readings: SessionReadings, column: ShotColumn): Float64Array | null {
  const origin = findColumn(readings.table, column)?.origin;
  return origin === "derived" || origin === "computed" ? null : readings.values(column);
}

function totals(readings: SessionReadings): readonly Finding[] {
  const [back, side, total] = [recorded(readings, "back_spin"), recorded(readings, "side_spin"), recorded(readings, "spin_rate")];
  if (back === null || side === null || total === null) return [];
  const found: Finding[] = [];
  total.forEach((read, at) => {
    const implied = Math.hypot(back[at]!, side[at]!);
    const tolerance = Math.max(spinShare * implied, leastSpin);
    if (!(Math.abs(read - implied) > tolerance)) return;
    found.push({
      at,
      column: "spin_rate",
      implied,
      tolerance,
      doubt: Math.abs(read - implied) > farBeyond * tolerance ? "strong" : "some",
      evidence: `Spin rate ${readings.say("spin_rate", read)} is not what its parts make, ${readings.say("spin_rate", implied)} ± ${readings.saySize("spin_rate", tolerance)}; it may be one of the parts that is off.`,
      witnesses: [{ name: "back and side spin", implied }],
    });
  });
  return found;
}

function axes(readings: SessionReadings): readonly Finding[] {
  const [back, side, axis] = [recorded(readings, "back_spin"), recorded(readings, "side_spin"), recorded(readings, "spin_axis")];
  if (back === null || side === null || axis === null) return [];
  const launch = readings.values("launch_angle");
  const found: Finding[] = [];
  axis.forEach((read, at) => {
    const implied = Math.atan2(side[at]!, back[at]!);
    const elevation = launch?.[at] ?? Number.NaN;
    // Some programs count the tilt from the horizon, which makes it less by the cosine of the launch angle.
    const otherAxis = Number.isFinite(elevation) ? Math.abs(implied) * (1 - Math.cos(elevation)) : 0;
    const tolerance = axisTolerance + 1.1 * otherAxis + leastSpin / Math.max(leastSpin, Math.hypot(back[at]!, side[at]!));
    if (!(Math.abs(read - implied) > tolerance)) return;
    found.push({
      at,
      column: "spin_axis",
      implied,
      tolerance,
      doubt: Math.abs(read - implied) > farBeyond * tolerance ? "strong" : "some",
      evidence: `Spin axis ${readings.say("spin_axis", read)} is not the angle between back and side spin, ${readings.say("spin_axis", implied)} ± ${readings.saySize("spin_axis", tolerance)}; it may be one of the two that is off.`,
      witnesses: [{ name: "back and side spin", implied }],
    });
  });
  return found;
}
