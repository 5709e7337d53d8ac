import type { DirectionVerdict } from "../direction-verdict";
import { misreadDirection, orInstead } from "../direction-verdict";
import type { DirectionWitness } from "../direction-witnesses";
import { directionsOf } from "../direction-witnesses";
import { isEvidence, silentWhereCalculated } from "../evidence";
import type { Finding, MisreadRule } from "../rule";
import type { SessionReadings } from "../session-readings";

const needs = ["face_angle", "club_path", "start_direction"] as const;
const suspectAt = 3; // standard deviations, where no spin axis is read
const beyondDoubt = 6; // standard deviations
const source = "Wood, Henrikson & Broadie 2018, Proceedings 2(6):249: the face has 0.76 of the start direction with a driver, 0.69 with a 7-iron, 0.61 with a wedge";

/** A ball that did not start between path and face as it should. */
export const startDirection: MisreadRule = {
  name: "start direction",
  summary: "A ball starts between path and face, about two thirds to three quarters of the way to the face.",
  doubts: ["start_direction", "face_angle"],
  needs,
  tolerance: "3 standard deviations of the readings and of the face's share, some 4° for an iron; beyond doubt at 6, or where the spin axis agrees with the face",
  source,
  find: (readings) => {
    if (!needs.every((column) => isEvidence(readings, column))) return [];
    const hasAxis = isEvidence(readings, "spin_axis") && isEvidence(readings, "launch_angle");
    return directionsOf(readings).shots.flatMap((shot, i) => {
      // Where the axis is read too, it decides which of the readings is off.
      if (hasAxis && Number.isFinite(shot.fromAxis)) {
        const verdict = misreadDirection(shot);
        return verdict?.misread === "start" ? [startFinding(readings, i, shot, verdict)] : [];
      }
      return faceOrStart(readings, i, shot);
    });
  },
  silent: (readings) => silentWhereCalculated(readings, needs),
};

function startFinding(readings: SessionReadings, i: number, shot: DirectionWitness, verdict: DirectionVerdict): Finding {
  const start = readings.values("start_direction")![i]!;
  const tolerance = suspectAt * shot.startError;
  return {
    at: i,
    column: "start_direction",
    implied: shot.start,
    tolerance,
    doubt: verdict.isClear && Math.abs(start - shot.start) > beyondDoubt * shot.startError ? "strong" : "some",
    evidence: `Start direction ${readings.say("start_direction", start)} does not fit face and path, which imply ${readings.say("start_direction", shot.start)} ± ${readings.saySize("start_direction", tolerance)}; the spin axis agrees with the face.${orInstead(verdict)}`,
    witnesses: [{ name: "face and path", implied: shot.start }],
  };
}

/** Without a spin axis the face is named, as the one that is misread more often, with a word of doubt. */
function faceOrStart(readings: SessionReadings, i: number, shot: DirectionWitness): readonly Finding[] {
  const start = readings.values("start_direction")![i]!;
  const off = Math.abs(start - shot.start) / shot.startError;
  if (!(off > suspectAt)) return [];
  const tolerance = (suspectAt * shot.startError) / shot.share;
  const say = (column: "face_angle" | "start_direction", value: number): string => readings.say(column, value);
  return [
    {
      at: i,
      column: "face_angle",
      implied: shot.fromStart,
      tolerance,
      doubt: off > beyondDoubt ? "strong" : "some",
      evidence: `Face angle ${say("face_angle", shot.face)} does not fit start direction ${say("start_direction", start)}, which implies ${say("face_angle", shot.fromStart)} ± ${readings.saySize("face_angle", tolerance)}. It may be the start direction or the path instead: without a measured spin axis that cannot be told.`,
      witnesses: [{ name: "start direction", implied: shot.fromStart }],
    },
  ];
}

const leastShare = 0.45;
const greatestShare = 1;
const leastAngle = (2 * Math.PI) / 180; // between face and path, below which a share says nothing

/** A share of the face in the start direction that no club gives; it only warns. */
export const faceShareRule: MisreadRule = {
  name: "face share",
  summary: "Between path and face, a ball starts no nearer to the path than 45 % of the way and no farther than the face.",
  doubts: ["face_angle"],
  needs,
  tolerance: "3 standard deviations of the readings outside the part from 45 % to 100 % of the way, where face and path are 2° apart or more",
  source: "Measured shares of 0.61 to 0.83: Wood, Henrikson & Broadie 2018, Proceedings 2(6):249; the limits about them common practice, no source",
  find: (readings) => {
    // Where the spin axis is read too, the face is judged by both.
    if (!needs.every((column) => isEvidence(readings, column)) || isEvidence(readings, "spin_axis")) return [];
    return directionsOf(readings).shots.flatMap((shot, i) => shareFinding(readings, i, shot));
  },
  silent: (readings) => silentWhereCalculated(readings, needs),
};

function shareFinding(readings: SessionReadings, i: number, shot: DirectionWitness): readonly Finding[] {
  const apart = shot.face - shot.path;
  if (!(Math.abs(apart) >= leastAngle)) return [];
  const start = readings.values("start_direction")![i]!;
  // What all shots share has been taken out of the start that face and path imply, so it is out of this share too.
  const share = shot.share + (start - shot.start) / apart;
  const beyond = share < leastShare ? leastShare - share : share - greatestShare;
  if (!(beyond * Math.abs(apart) > suspectAt * shot.startError)) return [];
  const [low, high] = [leastShare, greatestShare].map((each) => shot.path + (start - shot.path) / each).sort((a, b) => a - b);
  return [
    {
      at: i,
      column: "face_angle",
      implied: shot.fromStart,
      tolerance: (high! - low!) / 2 + (suspectAt * shot.startError) / shot.share,
      doubt: "some",
      evidence: `The ball started ${Math.round(share * 100)} % of the way from path ${readings.say("club_path", shot.path)} to face ${readings.say("face_angle", shot.face)}; 45 to 100 % is usual.`,
      witnesses: [],
    },
  ];
}
