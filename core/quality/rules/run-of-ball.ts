import type { Turf } from "../../flight/bounce";
import { runAfterLanding, turfs } from "../../flight/bounce";
import { headDefaults } from "../../session/head-defaults";
import type { HeadKind } from "../../session/session-facts";
import { flightResiduals, levelsOfHeads } from "../flight-residuals";
import { headKindAt } from "../head-of-shot";
import type { Finding, MisreadRule } from "../rule";
import type { SessionReadings } from "../session-readings";

const yard = 0.9144;
/** m that a ball of each kind of head runs at most on usual ground, and comes back at most. Common practice, no source. */
const farthestRun: Readonly<Record<HeadKind, number>> = { iron: 20 * yard, wedge: 20 * yard, wood: 70 * yard };
const farthestBack: Readonly<Record<HeadKind, number>> = { iron: 5 * yard, wedge: 12 * yard, wood: 5 * yard };
const thinRun = 60 * yard; // of a low strike, whose ball comes in flat
const backShare = 0.03; // of the carry, by which two readings may differ
const firmFactor = 2.5; // by which a shot may run farther than the head's usual one on this ground
const modelFactor = 1.5; // by which it may run farther than on the firmest turf of which the bounce was measured

/** A total that is not beyond the carry by what a ball can run. */
export const runOfBall: MisreadRule = {
  name: "run of the ball",
  summary: "A ball stops no shorter than where it landed, but for some spin, and no farther than it can run: a flat one runs far, and so does every ball on firm ground.",
  doubts: ["total", "carry"],
  needs: ["total", "carry"],
  tolerance: "From 5 yd (wedges 12 yd) or 3 % back to 20 yd of run (woods 70 yd, low strikes 60 yd); farther where the head's other shots or the landing make it run farther",
  source: "Bounds common practice, no source; bounce on turf as measured by Biber, Jones, Champneys, Green & Szalai 2023, Sports Eng. 26:50",
  find: (readings) => {
    const [total, carry] = [readings.values("total")!, readings.values("carry")!];
    const runs = Array.from(total, (each, i) => each - carry[i]!);
    const usual = levelsOfHeads(readings, runs);
    return runs.flatMap((run, i) => {
      const kind = headKindAt(readings, i);
      const back = Math.max(farthestBack[kind], backShare * carry[i]!);
      // Where every shot of a head stops short of its carry, the two are not counted from the same line: no single one is off.
      if (run < Math.min(0, usual(i) || 0) - back) return [runFinding(readings, i, { run, bound: -back })];
      const bound = Math.max(farthestRun[kind], isLow(readings, i) ? thinRun : 0, firmFactor * (usual(i) || 0), modelledRun(readings, i));
      return run > bound ? [runFinding(readings, i, { run, bound })] : [];
    });
  },
};

/** True for a strike that is low on the face, or not known to be anywhere while the ball left low. */
function isLow(readings: SessionReadings, i: number): boolean {
  const [high, launch] = [readings.values("strike_y")?.[i] ?? Number.NaN, readings.values("launch_angle")];
  if (high * 1000 < -headDefaults[headKindAt(readings, i)].standardMiss.y / 2) return true;
  return launch !== null && launch[i]! < 0.7 * levelsOfHeads(readings, Array.from(launch))(i);
}

/** The farthest that a ball with this launch may run on any turf known, in m; 0 where the landing is not known. */
function modelledRun(readings: SessionReadings, i: number): number {
  const flight = readings.flight(i);
  if (flight === null) return 0;
  const run = Math.max(...Object.values<Turf>(turfs).map((turf) => runAfterLanding(flight, turf)));
  return Number.isFinite(run) ? modelFactor * run : 0;
}

function runFinding(readings: SessionReadings, i: number, { run, bound }: { readonly run: number; readonly bound: number }): Finding {
  const [total, carry] = [readings.values("total")![i]!, readings.values("carry")![i]!];
  const { off, scale } = flightResiduals(readings, "carry")[i]!;
  // Only a carry that its own launch contradicts is to blame.
  const column = Math.abs(off) > Math.max(Math.log(1.05), 4 * scale) ? "carry" : "total";
  const implied = column === "total" ? carry + bound : total - bound;
  const isShort = run < 0;
  const limit = isShort ? `come back by more than ${readings.saySize("total", bound)}` : `run more than ${readings.saySize("total", bound)}`;
  const why = column === "carry" ? "The launch contradicts the carry." : Number.isFinite(off) ? "The launch agrees with the carry." : "It may be the carry instead.";
  return {
    at: i,
    column,
    implied,
    tolerance: null,
    doubt: (isShort ? run < 2 * bound : run > 2 * bound) && !readings.isCalculated(column) ? "strong" : "some",
    evidence: `Total ${readings.say("total", total)} after a carry of ${readings.say("carry", carry)}: a ball with this head and strike does not ${limit}. ${why}`,
    witnesses: [{ name: column === "total" ? "carry and run" : "total and run", implied }],
  };
}
