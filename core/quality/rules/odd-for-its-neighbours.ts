import { hampelSurroundings } from "../../stats/hampel";
import { medianAbsoluteDeviation } from "../../stats/quantile";
import { evidenceOf, headName, inWords, sentence } from "../evidence";
import type { Finding, MisreadRule } from "../rule";
import type { SessionReadings } from "../session-readings";

const window = 7; // shots
const suspectAt = 3; // scales
const followsBy = 0.5; // share of the way that the ball must go with the club to confirm it

/** What a tester hardly changes from shot to shot, and what of the ball would change with it. */
const testerColumns = [
  { column: "club_speed", confirmedBy: "ball_speed", ofIt: (difference: number, centre: number) => difference / centre },
  { column: "club_path", confirmedBy: "start_direction", ofIt: (difference: number) => difference },
] as const;

/** Club speed or path far from the head's shots just before and after, while the ball does not follow. */
export const oddForItsNeighbours: MisreadRule = {
  name: "odd for its neighbours",
  summary: "Club speed and path change little from shot to shot: a jump that the ball does not follow is more likely the monitor's than the tester's.",
  doubts: testerColumns.map(({ column }) => column),
  needs: [],
  tolerance: "3 robust standard deviations of the 7 shots of the head around it, and no less than those of all the head's shots",
  source: "Hampel 1974, JASA 69:383; the choice of channels is common practice, no source",
  find: (readings) => testerColumns.flatMap((each) => findIn(readings, each)),
};

function findIn(readings: SessionReadings, { column, confirmedBy, ofIt }: (typeof testerColumns)[number]): readonly Finding[] {
  const values = evidenceOf(readings, column);
  if (values === null) return [];
  const witness = evidenceOf(readings, confirmedBy);
  const found: Finding[] = [];
  for (const rows of rowsOfHeads(readings, values)) {
    if (rows.length < window) continue;
    const own = rows.map((i) => values[i]!);
    const around = hampelSurroundings(own, window);
    const of = witness === null ? null : hampelSurroundings(rows.map((i) => witness[i]!), window);
    const least = medianAbsoluteDeviation(own);
    rows.forEach((i, place) => {
      const { centre, scale } = around[place]!;
      const off = own[place]! - centre;
      const tolerance = suspectAt * Math.max(scale, least, readings.error(column, centre));
      if (!(Math.abs(off) > tolerance)) return;
      const witnessOff = witness === null || of === null ? Number.NaN : ofIt(witness[i]! - of[place]!.centre, of[place]!.centre);
      // The ball goes along with the club: the tester swung otherwise.
      if (Math.sign(witnessOff) === Math.sign(off) && Math.abs(witnessOff) > followsBy * Math.abs(ofIt(off, centre)) * shareOfBall(column)) return;
      const ball = Number.isFinite(witnessOff) ? `, while ${inWords(confirmedBy)} does not follow` : "";
      found.push({
        at: i,
        column,
        implied: centre,
        tolerance,
        doubt: "some",
        evidence: `${sentence(inWords(column))} ${readings.say(column, own[place]!)} is far from the ${readings.say(column, centre)} ± ${readings.saySize(column, tolerance)} of the shots with ${headName(readings, i)} around it${ball}.`,
        witnesses: [{ name: "neighbouring shots", implied: centre }],
      });
    });
  }
  return found;
}

/** How much of a change of the club is seen in the ball: all of a speed's, a third of a path's. */
function shareOfBall(column: "club_speed" | "club_path"): number {
  return column === "club_speed" ? 1 : 0.3;
}

function rowsOfHeads(readings: SessionReadings, values: Float64Array): readonly number[][] {
  const byHead = new Map<number, number[]>();
  for (let i = 0; i < readings.count; i++) {
    if (Number.isFinite(values[i]!)) byHead.set(readings.head[i]!, [...(byHead.get(readings.head[i]!) ?? []), i]);
  }
  return [...byHead.values()];
}
