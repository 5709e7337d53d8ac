import type { ShotColumn } from "../../table/shot-columns";
import { inWords, sentence } from "../evidence";
import { flightResiduals } from "../flight-residuals";
import type { FlightColumn } from "../flight-residuals";
import { levelsByHead } from "../head-of-shot";
import type { Finding, MisreadRule } from "../rule";
import type { SessionReadings } from "../session-readings";

const deg = Math.PI / 180;
const parabolaShare = 0.9; // of a parabola's height, below which no flight with drag and backspin stays
const usualError = { carry: 0.03, peak_height: 0.05, descent_angle: 1.5 * deg, launch_angle: 0.5 * deg } as const; // shares and radians, where none is stated
const errorsAllowed = 3; // standard deviations

/** Peak, carry and the angles at both ends that no one path has. Geometry alone, so that it holds in any wind and for any ball. */
export const shapeOfFlight: MisreadRule = {
  name: "shape of the flight",
  summary: "A ball's path is bent downwards all the way, so that its peak lies below the line of its descent drawn back to the tee, and above a parabola's.",
  doubts: ["peak_height", "carry", "descent_angle", "launch_angle"],
  needs: ["peak_height", "carry"],
  tolerance: "Peak below carry × tangent of the descent angle, and above 0.9 of carry × tangent of the launch angle ÷ 4, each with 3 standard deviations of the readings",
  source: "Geometry; the margins are common practice, no source",
  find: (readings) => [...findBeyond(readings, "descent_angle"), ...findBeyond(readings, "launch_angle")],
};

function findBeyond(readings: SessionReadings, angle: "descent_angle" | "launch_angle"): readonly Finding[] {
  const [peak, carry, angles] = [readings.values("peak_height")!, readings.values("carry")!, readings.values(angle)];
  if (angles === null) return [];
  const isUpper = angle === "descent_angle";
  const errorOf = (column: "carry" | "peak_height", value: number): number => {
    const stated = readings.error(column, value);
    return Number.isFinite(stated) ? stated / Math.abs(value) : usualError[column];
  };
  return Array.from(peak.keys()).flatMap((i) => {
    const stated = readings.error(angle, angles[i]!);
    const reach = errorsAllowed * (Number.isFinite(stated) ? stated : usualError[angle]);
    const turned = Math.min(89 * deg, angles[i]! + (isUpper ? reach : -reach));
    const share = errorsAllowed * Math.hypot(errorOf("carry", carry[i]!), errorOf("peak_height", peak[i]!));
    const bound = isUpper ? carry[i]! * Math.tan(turned) * (1 + share) : (parabolaShare * carry[i]! * Math.tan(turned) * (1 - share)) / 4;
    if (!(isUpper ? peak[i]! > bound : peak[i]! < bound)) return [];
    const column = oddest(readings, i, ["peak_height", "carry", angle]);
    const others = (["peak_height", "carry", angle] as const).filter((each) => each !== column);
    return [
      {
        at: i,
        column,
        implied: column === "peak_height" ? bound : null,
        tolerance: null,
        doubt: "strong" as const,
        evidence: `A carry of ${readings.say("carry", carry[i]!)} with a ${inWords(angle)} of ${readings.say(angle, angles[i]!)} cannot peak at ${readings.say("peak_height", peak[i]!)}: ${isUpper ? "no more" : "no less"} than ${readings.say("peak_height", bound)} is possible. ${sentence(inWords(column))} is the oddest of the three; it may be ${others.map(inWords).join(" or ")} instead.`,
        witnesses: [{ name: "shape of a flight", implied: column === "peak_height" ? bound : Number.NaN }].filter(({ implied }) => Number.isFinite(implied)),
      },
    ];
  });
}

/** The reading that is farthest from what its launch gives or, where that is not known, from the head's median; in scales. */
function oddest(readings: SessionReadings, i: number, columns: readonly ("peak_height" | "carry" | "descent_angle" | "launch_angle")[]): ShotColumn {
  const far = columns.map((column) => {
    if (column !== "launch_angle") {
      const { off, scale } = flightResidualsIfKnown(readings, column, i);
      if (off > 0 && scale > 0) return off / scale;
    }
    const values = readings.values(column)!;
    const { centre, scale } = levelsByHead(readings, values)(i);
    const distance = Math.abs(values[i]! - centre) / scale;
    return Number.isFinite(distance) ? distance : 0;
  });
  return columns[far.indexOf(Math.max(...far))]!;
}

function flightResidualsIfKnown(readings: SessionReadings, column: FlightColumn, i: number): { readonly off: number; readonly scale: number } {
  const { off, scale } = flightResiduals(readings, column)[i]!;
  return { off: Math.abs(off), scale };
}
