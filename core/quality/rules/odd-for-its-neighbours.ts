import { hampelSurroundings } from "../../stats/hampel";
import { medianAbsoluteDeviation } from "../../stats/quantile";
import { findColumn, valueAt } from "../../table/table";
import { directionsOf } from "../direction-witnesses";
import { evidenceOf, headName, inWords, isEvidence, sentence } from "../evidence";
import { rowsByHead } from "../head-of-shot";
import type { Finding, MisreadRule } from "../rule";
import type { SessionReadings } from "../session-readings";
import { ratioResiduals } from "../speed-witnesses";

const window = 7; // shots
const suspectAt = 3; // scales
const jointlyAt = 2.8; // scales for jump and speed ratio together: finds 95 % of jumps of 8 to 20 % and doubts 0.5 % of good readings of invented sessions
const beyondDoubt = 6; // scales of jump and speed ratio together
const leastShare = 0.045; // of the club speed, below which a jump is not worth doubting. Common practice, no source
const followsWithin = 1.5; // standard deviations of the start direction about what face and path imply

/** What a tester hardly changes from shot to shot. */
const testerColumns = ["club_speed", "club_path"] as const;

/** Club speed or path far from the head's shots just before and after, while the ball does not follow. */
export const oddForItsNeighbours: MisreadRule = {
  name: "odd for its neighbours",
  summary: "Club speed and path change little from shot to shot: a jump that the ball does not follow is more likely the monitor's than the tester's.",
  doubts: testerColumns,
  needs: [],
  tolerance: "3 robust standard deviations of the 7 shots of the head around it, and no less than those of all the head's shots; 2.8 of jump and speed ratio together, and 4.5 %, where the ratio is known; beyond doubt at 6 of both together",
  source: "Hampel 1974, JASA 69:383; the choice of channels is common practice, no source",
  find: (readings) => testerColumns.flatMap((column) => findIn(readings, column)),
};

function findIn(readings: SessionReadings, column: (typeof testerColumns)[number]): readonly Finding[] {
  const values = evidenceOf(readings, column);
  if (values === null) return [];
  const found: Finding[] = [];
  for (const rows of rowsByHead(readings, (i) => Number.isFinite(values[i]!))) {
    if (rows.length < window) continue;
    const own = rows.map((i) => values[i]!);
    const around = hampelSurroundings(own, window);
    const ofHead = medianAbsoluteDeviation(own);
    const ballOf = column === "club_speed" ? ballAfterSpeed(readings) : ballAfterPath(readings);
    rows.forEach((i, place) => {
      const { centre, scale } = around[place]!;
      const error = readings.error(column, centre);
      const jump: Jump = { i, off: own[place]! - centre, centre, scatter: Math.max(ofHead, error), error };
      const ball = ballOf(jump);
      if (ball.follows) return;
      // Where the ball is known to stay, the scatter of the head is enough, and that of seven shots need not tell.
      const tolerance = ball.tolerance ?? suspectAt * Math.max(scale, jump.scatter);
      if (!(Math.abs(jump.off) > tolerance)) return;
      const stays = ball.tolerance === null ? "" : `, while the ball ${column === "club_speed" ? "is no faster or slower for it" : "did not start accordingly"}`;
      found.push({
        at: i,
        column,
        implied: centre,
        tolerance,
        // Jump and ratio together are two witnesses; a jump alone is never beyond doubt.
        doubt: column === "club_speed" && ball.tolerance !== null && Math.abs(jump.off) > (beyondDoubt / jointlyAt) * tolerance ? "strong" : "some",
        evidence: `${sentence(inWords(column))} ${readings.say(column, own[place]!)} is far from the ${readings.say(column, centre)} ± ${readings.saySize(column, tolerance)} of the shots with ${headName(readings, i)} around it${stays}.`,
        witnesses: [{ name: "neighbouring shots", implied: centre }],
      });
    });
  }
  return found;
}

/** How far a reading is from the median of those around it. */
interface Jump {
  readonly i: number;
  readonly off: number;
  readonly centre: number;
  /** One standard deviation of such differences with the head, the tester's and the monitor's. */
  readonly scatter: number;
  /** One standard deviation of the reading alone. */
  readonly error: number;
}

/** What the ball says of a jump of the club. */
interface Ball {
  /** True where the ball goes along: the tester swung otherwise. */
  readonly follows: boolean;
  /** How large a jump may be, given the ball; `null` where the ball says nothing. */
  readonly tolerance: number | null;
}

const unknown: Ball = { follows: false, tolerance: null };
const follows: Ball = { follows: true, tolerance: null };

/**
 * Ball speed follows club speed as far as the speed ratio stays what head and strike imply.
 *
 * A misread of the club alone changes its speed and the ratio by the same share. The best estimate of that share weighs
 * both, their common reading error taken into account; what is left between them must be within their scatter.
 */
function ballAfterSpeed(readings: SessionReadings): (jump: Jump) => Ball {
  const residuals = ratioResiduals(readings);
  return ({ i, off, centre, scatter, error }) => {
    const [jump, ratio] = [Math.log1p(off / centre), -(residuals?.off[i] ?? Number.NaN)];
    const [own, ofRatio, common] = [(scatter / centre) ** 2, (residuals?.scale[i] ?? Number.NaN) ** 2, (error / centre) ** 2];
    const apart = own + ofRatio - 2 * common;
    if (!(apart > 0) || !Number.isFinite(ratio)) return unknown;
    if (Math.abs(jump - ratio) > suspectAt * Math.sqrt(apart)) return follows;
    const weight = (ofRatio - common) / apart;
    const estimate = weight * jump + (1 - weight) * ratio;
    const allowed = Math.max(leastShare, jointlyAt * Math.sqrt((own * ofRatio - common * common) / apart));
    // The tolerance of the jump itself, with the ratio as it is.
    return { follows: false, tolerance: Math.abs(estimate) > allowed ? Math.abs(off) * (allowed / Math.abs(estimate)) : Infinity };
  };
}

/** The start direction lies between face and path as it should where the path is right. */
function ballAfterPath(readings: SessionReadings): (jump: Jump) => Ball {
  const hasStart = (["face_angle", "start_direction"] as const).every((column) => isEvidence(readings, column));
  const start = readings.values("start_direction");
  return ({ i, scatter }) => {
    const shot = hasStart ? directionsOf(readings).shots[i]! : null;
    const off = shot === null ? Number.NaN : Math.abs(start![i]! - shot.start) / shot.startError;
    // Without a start to judge by, a shot that was asked for is left alone.
    if (!Number.isFinite(off)) return isStock(readings, i) ? unknown : follows;
    return off < followsWithin ? follows : { follows: false, tolerance: suspectAt * scatter };
  };
}

function isStock(readings: SessionReadings, i: number): boolean {
  const intent = findColumn(readings.table, "intent");
  const value = intent === undefined ? null : valueAt(intent, readings.rows[i]!);
  return value === null || value === "stock";
}
