import type { DirectionVerdict } from "../direction-verdict";
import { misreadDirection, orInstead } from "../direction-verdict";
import type { DirectionWitness } from "../direction-witnesses";
import { directionsOf } from "../direction-witnesses";
import { isEvidence, silentWhereCalculated } from "../evidence";
import type { Finding, MisreadRule } from "../rule";
import type { SessionReadings } from "../session-readings";

const needs = ["face_angle", "club_path", "spin_axis", "launch_angle"] as const;
const suspectAt = 3.5; // standard deviations
const beyondDoubt = 6; // standard deviations
const source = "Spin axis along path × face normal: rigid-body impact as in Penner 2001, Am. J. Phys. 69:563; gear effect as in Cross & Nathan 2007, Am. J. Phys. 75:658; limits common practice, no source";

/** A spin axis that leans otherwise than face, path and strike make it. */
export const spinAxis: MisreadRule = {
  name: "spin axis",
  summary: "The spin axis leans with the angle between face and path and, by gear effect, against a strike to toe or heel.",
  doubts: ["spin_axis", "face_angle"],
  needs,
  tolerance: "3.5 standard deviations of the readings and of the gear effect; beyond doubt at 6 where the start direction agrees with the face",
  source,
  find: (readings) => {
    if (!needs.every((column) => isEvidence(readings, column))) return [];
    const hasStart = isEvidence(readings, "start_direction");
    return directionsOf(readings).shots.flatMap((shot, i) => {
      if (hasStart && Number.isFinite(shot.fromStart)) {
        const verdict = misreadDirection(shot);
        return verdict?.misread === "axis" ? [axisFinding(readings, i, shot, verdict)] : [];
      }
      return faceOrAxis(readings, i, shot);
    });
  },
  silent: (readings) => silentWhereCalculated(readings, needs),
};

function axisFinding(readings: SessionReadings, i: number, shot: DirectionWitness, verdict: DirectionVerdict): Finding {
  const axis = readings.values("spin_axis")![i]!;
  const off = shot.fromAxis - shot.fromStart;
  const tolerance = Math.abs((axis - shot.axisFromStart) / off) * suspectAt * shot.apartError;
  return {
    at: i,
    column: "spin_axis",
    implied: shot.axisFromStart,
    tolerance,
    doubt: verdict.isClear && Math.abs(off) > beyondDoubt * shot.apartError ? "strong" : "some",
    evidence: `Spin axis ${readings.say("spin_axis", axis)} does not fit path and strike with the face on which start direction and face angle agree; they imply ${readings.say("spin_axis", shot.axisFromStart)} ± ${readings.saySize("spin_axis", tolerance)}.${orInstead(verdict)}`,
    witnesses: [{ name: "start direction, path and strike", implied: shot.axisFromStart }],
  };
}

function faceOrAxis(readings: SessionReadings, i: number, shot: DirectionWitness): readonly Finding[] {
  const off = Math.abs(shot.face - shot.fromAxis) / shot.fromAxisError;
  if (!(off > suspectAt)) return [];
  const tolerance = suspectAt * shot.fromAxisError;
  return [
    {
      at: i,
      column: "face_angle",
      implied: shot.fromAxis,
      tolerance,
      doubt: off > beyondDoubt ? "strong" : "some",
      evidence: `Face angle ${readings.say("face_angle", shot.face)} does not fit the spin axis ${readings.say("spin_axis", readings.values("spin_axis")![i]!)}, which implies ${readings.say("face_angle", shot.fromAxis)} ± ${readings.saySize("face_angle", tolerance)}. It may be the axis or the path instead: without a measured start direction that cannot be told.`,
      witnesses: [{ name: "spin axis", implied: shot.fromAxis }],
    },
  ];
}

/** A path that fits neither where the ball started nor how it curved, while face, start and curve fit one another. */
export const clubPath: MisreadRule = {
  name: "club path",
  summary: "With a path misread, the faces that start direction and spin axis imply move apart; another path brings them together.",
  doubts: ["club_path"],
  needs: [...needs, "start_direction"],
  tolerance: "3.5 standard deviations between the two implied faces, where only another path explains them; beyond doubt at 6",
  source,
  find: (readings) => {
    if (![...needs, "start_direction" as const].every((column) => isEvidence(readings, column))) return [];
    return directionsOf(readings).shots.flatMap((shot, i) => {
      const verdict = misreadDirection(shot);
      return verdict?.misread === "path" ? [pathFinding(readings, i, shot, verdict)] : [];
    });
  },
  silent: (readings) => silentWhereCalculated(readings, [...needs, "start_direction"]),
};

function pathFinding(readings: SessionReadings, i: number, shot: DirectionWitness, verdict: DirectionVerdict): Finding {
  const off = Math.abs(shot.fromStart - shot.fromAxis) / shot.apartError;
  // A path that is off moves the two implied faces apart by one over the face's share of it.
  const tolerance = suspectAt * shot.apartError * shot.share;
  return {
    at: i,
    column: "club_path",
    implied: shot.pathFromAxis,
    tolerance,
    doubt: verdict.isClear && off > beyondDoubt ? "strong" : "some",
    evidence: `Club path ${readings.say("club_path", shot.path)} fits neither start direction nor spin axis; with the face angle read, both imply ${readings.say("club_path", shot.pathFromAxis)} ± ${readings.saySize("club_path", tolerance)}.${orInstead(verdict)}`,
    witnesses: [{ name: "face and spin axis", implied: shot.pathFromAxis }],
  };
}
