import { misreadDirection, faceLimits } from "../direction-verdict";
import type { DirectionWitness } from "../direction-witnesses";
import { directionsOf } from "../direction-witnesses";
import { isEvidence, silentWhereCalculated } from "../evidence";
import type { Finding, MisreadRule } from "../rule";
import type { SessionReadings } from "../session-readings";

const needs = ["face_angle", "club_path", "start_direction", "spin_axis", "launch_angle"] as const;
const source = "Face share in the start direction: Wood, Henrikson & Broadie 2018, Proceedings 2(6):249; spin axis along path × face normal: rigid-body impact as in Penner 2001, Am. J. Phys. 69:563; limits common practice, no source";

/** The face that does not fit where the ball started and how it curved. */
export const faceAngle: MisreadRule = {
  name: "face angle",
  summary: "Where the ball started and how its spin axis leans each imply a face; a face that both contradict was misread.",
  doubts: ["face_angle"],
  needs,
  tolerance: "4° from what both imply together, beyond doubt at 6°; wider where reading errors are; the face alone is named only where the two are within 4° of one another",
  source,
  find: (readings) => {
    if (!needs.every((column) => isEvidence(readings, column))) return [];
    return directionsOf(readings).shots.flatMap((shot, i) => {
      const verdict = misreadDirection(shot);
      return verdict?.misread === "face" ? [faceFinding(readings, i, shot, verdict.isClear)] : [];
    });
  },
  silent: (readings) => {
    const calculated = silentWhereCalculated(readings, needs);
    if (calculated !== null) return calculated;
    const { offsets } = directionsOf(readings);
    return offsets.length === 0 ? null : offsets.join(" ");
  },
};

function faceFinding(readings: SessionReadings, i: number, shot: DirectionWitness, isClear: boolean): Finding {
  const { suspect, strong } = faceLimits(shot);
  const say = (value: number): string => readings.say("face_angle", value);
  const implied = `start direction implies ${say(shot.fromStart)}, the spin axis ${say(shot.fromAxis)}`;
  const isSure = isClear && Math.abs(shot.face - shot.together) > strong;
  return {
    at: i,
    column: "face_angle",
    implied: shot.together,
    tolerance: suspect,
    doubt: isSure ? "strong" : "some",
    evidence:
      isClear
        ? `Face angle ${say(shot.face)} does not fit the ball: ${implied}, together ${say(shot.together)} ± ${readings.saySize("face_angle", suspect)}.`
        : `Face angle ${say(shot.face)}, path, start direction and spin axis do not fit together: ${implied}. Which of them was misread cannot be told.`,
    witnesses: [
      { name: "start direction", implied: shot.fromStart },
      { name: "spin axis", implied: shot.fromAxis },
    ],
  };
}
