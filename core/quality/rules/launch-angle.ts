import { headDefaults } from "../../session/head-defaults";
import { evidenceOf, headName, silentWhereCalculated } from "../evidence";
import { headKindAt, levelsByHead, strikeDistanceAt, strikeTerms, strikeWidening } from "../head-of-shot";
import { flightSays, measuredFlight } from "../measured-flight";
import { predictionsOf } from "../predictions";
import type { Finding, MisreadRule } from "../rule";
import type { SessionReadings } from "../session-readings";

const deg = Math.PI / 180;
const aboveLoft = 2 * deg; // by which a ball may launch higher than the face points
const errorsAllowed = 3; // standard deviations of the two readings compared

/** A ball that left below the head's path or above the face. */
export const impossibleLaunch: MisreadRule = {
  name: "impossible launch",
  summary: "A ball leaves the face between the head's path and the face's normal, so higher than the angle of attack and no higher than the dynamic loft.",
  doubts: ["launch_angle", "angle_of_attack", "dynamic_loft"],
  needs: ["launch_angle"],
  tolerance: "The angle of attack below, the dynamic loft and 2° above, each with 3 standard deviations of the readings",
  source: "Rigid-body impact, as in Penner 2001, Am. J. Phys. 69:563; the margins common practice, no source",
  find: (readings) => {
    const launch = evidenceOf(readings, "launch_angle");
    if (launch === null) return [];
    return [
      ...beyond(readings, { launch, column: "angle_of_attack", name: "angle of attack", side: -1, margin: 0 }),
      ...beyond(readings, { launch, column: "dynamic_loft", name: "dynamic loft", side: 1, margin: aboveLoft }),
    ];
  },
  silent: (readings) => silentWhereCalculated(readings, ["launch_angle", "angle_of_attack"]) ?? silentWhereCalculated(readings, ["launch_angle", "dynamic_loft"]),
};

interface Bound {
  readonly launch: Float64Array;
  readonly column: "angle_of_attack" | "dynamic_loft";
  readonly name: string;
  /** −1 for a bound from below, 1 for one from above. */
  readonly side: -1 | 1;
  readonly margin: number;
}

function beyond(readings: SessionReadings, { launch, column, name, side, margin }: Bound): readonly Finding[] {
  const bound = evidenceOf(readings, column);
  if (bound === null) return [];
  const [ofLaunch, ofBound] = [levelsByHead(readings, launch), levelsByHead(readings, bound)];
  const found: Finding[] = [];
  launch.forEach((read, at) => {
    const tolerance = margin + errorsAllowed * Math.hypot(readings.error("launch_angle", read), readings.error(column, bound[at]!));
    if (!(side * (read - bound[at]!) > tolerance)) return;
    const far = (value: number, { centre, scale }: { readonly centre: number; readonly scale: number }): number => Math.abs(value - centre) / Math.max(scale, deg);
    // The one that is farther from its head's others is doubted.
    const isBound = far(bound[at]!, ofBound(at)) > far(read, ofLaunch(at));
    found.push({
      at,
      column: isBound ? column : "launch_angle",
      implied: isBound ? read : bound[at]!,
      tolerance,
      doubt: "strong",
      evidence: `Launch angle ${readings.say("launch_angle", read)} with ${name} ${readings.say(column, bound[at]!)} cannot be: a ball leaves ${side < 0 ? "higher than the head moves" : "no higher than the face points"}, within ${readings.saySize("launch_angle", tolerance)}. ${isBound ? `The ${name} is the odder of the two for ${headName(readings, at)}` : `The launch angle is the odder of the two for ${headName(readings, at)}`}.`,
      witnesses: [{ name: isBound ? "launch angle" : name, implied: isBound ? read : bound[at]! }],
    });
  });
  return found;
}

const suspectAt = 3.5; // scales: B. Iglewicz, D. C. Hoaglin, How to Detect and Handle Outliers (1993)
const beyondDoubt = 6; // scales
const leastOff = 4 * deg; // common practice, no source

/** A launch angle unlike the head's other shots, for its strike and delivery. A strike beyond the standard miss is not judged. */
export const launchOfHead: MisreadRule = {
  name: "launch of the head",
  summary: "Launch angle is compared with the head's other shots, with strike and delivery taken into account; poor strikes are left alone.",
  doubts: ["launch_angle"],
  needs: ["launch_angle", "strike_y"],
  tolerance: "3.5 robust standard deviations and 4°; beyond doubt at 6 where the measured flight contradicts it",
  source: "Robust residuals at 3.5: Iglewicz & Hoaglin 1993; the rest common practice, no source",
  find: (readings) => {
    const launch = evidenceOf(readings, "launch_angle");
    if (launch === null) return [];
    const [x, , y, y2] = strikeTerms(readings);
    const { predicted, scale } = predictionsOf(readings, launch, [x!, y!, y2!, evidenceOf(readings, "dynamic_loft"), evidenceOf(readings, "angle_of_attack")], {
      widening: (i) => strikeWidening(readings, i),
    });
    const flights = measuredFlight(readings);
    const found: Finding[] = [];
    for (let i = 0; i < readings.count; i++) {
      const off = Math.abs(launch[i]! - predicted[i]!);
      const width = Math.max(scale[i]!, readings.error("launch_angle", launch[i]!));
      if (!(off > Math.max(suspectAt * width, leastOff)) || !(strikeDistanceAt(readings, i) * 1000 < headDefaults[headKindAt(readings, i)].standardMiss.x)) continue;
      const says = flightSays(flights, i, { launchAngle: predicted[i]! });
      if (says === "as read") continue;
      const tolerance = Math.max(suspectAt * width, leastOff);
      const flightWords = says === "as implied" ? "The measured flight agrees with that and not with the launch read." : flights === null ? "The flight was not measured, so it may be a real one." : "The measured flight does not tell which is right.";
      found.push({
        at: i,
        column: "launch_angle",
        implied: predicted[i]!,
        tolerance,
        doubt: says === "as implied" && off > beyondDoubt * width ? "strong" : "some",
        evidence: `Launch angle ${readings.say("launch_angle", launch[i]!)} is far from the ${readings.say("launch_angle", predicted[i]!)} ± ${readings.saySize("launch_angle", tolerance)} that the other shots with ${headName(readings, i)} imply for this strike and delivery. ${flightWords}`,
        witnesses: [{ name: "the head's other shots", implied: predicted[i]! }],
      });
    }
    return found;
  },
};
