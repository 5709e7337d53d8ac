import { curveOf } from "../../flight/other-air";
import { flightOfReading } from "../reading-flight";
import { medianAbsoluteDeviation } from "../../stats/quantile";
import { directionsOf } from "../direction-witnesses";
import { inWords, isEvidence } from "../evidence";
import { launchAt, levelsOfHeads } from "../flight-residuals";
import { headKindAt } from "../head-of-shot";
import type { Finding, MisreadRule } from "../rule";
import type { SessionReadings } from "../session-readings";
import { silentOnFlight } from "./silent-on-flight";

const deg = Math.PI / 180;
const yard = 0.9144;
const needs = ["carry", "offline", "start_direction", "spin_axis", "ball_speed", "launch_angle", "spin_rate"] as const;
const doubts = ["offline", "start_direction", "spin_axis"] as const;
const source = "Flight by Naruo, Mizota & Shimozono 2004, Trans. JSME B 70(697):2371; tolerances common practice, no source";

const leastTilt = 3 * deg; // of the spin axis, from which it says which way the ball curves
const leastCurve = 4 * yard; // below which no curve is doubted
const curveShare = 0.35; // of the curve that the axis implies
const scatterAllowed = 4.5; // robust standard deviations of the session, and those of the shot's own reading errors
const usualOfflineError = 0.01; // of the carry, where no reading error is stated
const likelier = 6; // by which the squares left must be fewer than any other's: 20 times as likely

/** A shot whose curve is not the one of its spin axis. Lengths in m, what all shots of the head share taken out. */
interface OddCurve {
  readonly i: number;
  readonly curve: number;
  readonly expected: number;
  readonly tolerance: number;
  /** What all shots of the head share: a wind from the side, or a target line that two readings see differently. */
  readonly level: number;
  /** Curve for the sine of the axis. */
  readonly perTilt: number;
  /** True where the ball went to the other side than its axis leans. */
  readonly isOpposite: boolean;
}

const known = new WeakMap<SessionReadings, readonly OddCurve[]>();

function oddCurves(readings: SessionReadings): readonly OddCurve[] {
  let found = known.get(readings);
  if (found === undefined) {
    found = needs.every((column) => isEvidence(readings, column)) ? findOddCurves(readings) : [];
    known.set(readings, found);
  }
  return found;
}

function findOddCurves(readings: SessionReadings): readonly OddCurve[] {
  const [carry, offline, start, axis] = [readings.values("carry")!, readings.values("offline")!, readings.values("start_direction")!, readings.values("spin_axis")!];
  const expected = Array.from(carry, (_, i) => {
    const flight = readings.flight(i);
    return flight?.supported ? curveOf(flight.carry, flight.offline, start[i]!) : Number.NaN;
  });
  const curves = Array.from(carry, (each, i) => curveOf(each, offline[i]!, start[i]!));
  const raw = curves.map((curve, i) => curve - expected[i]!);
  const level = levelsOfHeads(readings, raw);
  const scales = new Map<string, number>();
  const scaleAt = (i: number): number => {
    const kind = headKindAt(readings, i);
    if (!scales.has(kind)) scales.set(kind, medianAbsoluteDeviation(raw.map((each, at) => each - level(at)).filter((_, at) => headKindAt(readings, at) === kind)));
    return scales.get(kind)!;
  };
  return raw.flatMap((each, i) => {
    const least = Math.max(leastCurve, curveShare * Math.abs(expected[i]!), scatterAllowed * scaleAt(i));
    if (!(Math.abs(each - level(i)) > least)) return [];
    const tilted = flightOfReading(launchAt(readings, i, { spinAxis: leastTilt }), { air: readings.air.air });
    const perTilt = curveOf(tilted.carry, tilted.offline, start[i]!) / Math.sin(leastTilt);
    const stated = readings.error("offline", offline[i]!);
    const error = Math.hypot(carry[i]! * readings.error("start_direction", start[i]!), perTilt * readings.error("spin_axis", axis[i]!), Number.isFinite(stated) ? stated : usualOfflineError * carry[i]!);
    const tolerance = Math.max(least, scatterAllowed * error);
    if (!(Math.abs(each - level(i)) > tolerance)) return [];
    const curve = curves[i]! - level(i);
    const isOpposite = Math.abs(axis[i]!) > leastTilt && Math.abs(curve) > leastCurve && Math.sign(curve) !== Math.sign(axis[i]!);
    return [{ i, curve, expected: expected[i]!, tolerance, level: level(i), perTilt, isOpposite }];
  });
}

/**
 * Which of the three readings is off, as face and path see it: the one that, replaced by what the curve implies, makes them
 * agree best; `null` where the club was not read, or does not tell.
 */
function contradictedByClub(readings: SessionReadings, odd: OddCurve): (typeof doubts)[number] | null {
  if (!isEvidence(readings, "face_angle") || !isEvidence(readings, "club_path")) return null;
  const shot = directionsOf(readings).shots[odd.i]!;
  const change = (column: "start_direction" | "spin_axis"): number => impliedValue(readings, odd, column).implied - readings.values(column)![odd.i]!;
  const left = (start: number, axis: number): number =>
    ((shot.face - shot.fromStart - start / shot.share) / shot.fromStartError) ** 2 + ((shot.face - shot.fromAxis - axis * shot.facePerTilt) / shot.fromAxisError) ** 2;
  const all = [
    { column: "offline", rest: left(0, 0) },
    { column: "start_direction", rest: left(change("start_direction"), 0) },
    { column: "spin_axis", rest: left(0, change("spin_axis")) },
  ] as const;
  const [best, next] = [...all].sort((a, b) => a.rest - b.rest);
  return next!.rest - best!.rest > likelier ? best!.column : null;
}

function curveFinding(readings: SessionReadings, odd: OddCurve): Finding {
  const { i, curve, expected, tolerance, isOpposite } = odd;
  const contradicted = contradictedByClub(readings, odd);
  const column = contradicted ?? "offline";
  const size = (length: number): string => `${readings.saySize("offline", length)} to the ${length < 0 === (readings.facts.hand === "left" && readings.facts.mirrored !== true) ? "right" : "left"}`;
  const [axis, start] = [readings.say("spin_axis", readings.values("spin_axis")![i]!), readings.say("start_direction", readings.values("start_direction")![i]!)];
  const because =
    contradicted === null
      ? "It may be the start direction or the spin axis instead."
      : contradicted === "offline"
        ? "Face and path agree with start direction and spin axis."
        : `Face and path agree with that ${contradicted === "spin_axis" ? "and with the start direction" : "and with the spin axis"}, not with the ${inWords(contradicted)} read.`;
  const { implied, width } = impliedValue(readings, odd, column);
  return {
    at: i,
    column,
    implied,
    tolerance: width,
    doubt: isOpposite && contradicted !== null && Math.abs(curve - expected) > 1.5 * tolerance ? "strong" : "some",
    evidence: `Started at ${start} with a spin axis of ${axis}, the ball would curve ${size(expected)}, within ${readings.saySize("offline", tolerance)}; where it landed says ${size(curve)}. ${because}`,
    witnesses: [{ name: column === "offline" ? "start direction and spin axis" : "where the ball landed", implied }],
  };
}

/** The value of a column with which curve and axis would agree, and how far the tolerance of the curve reaches in it. */
function impliedValue(readings: SessionReadings, { i, curve, expected, tolerance, level, perTilt }: OddCurve, column: (typeof doubts)[number]): { readonly implied: number; readonly width: number } {
  const [carry, offline, start] = [readings.values("carry")![i]!, readings.values("offline")![i]!, readings.values("start_direction")![i]!];
  switch (column) {
    case "offline":
      return { implied: carry * Math.sin(start) + expected + level, width: tolerance };
    case "start_direction":
      return { implied: Math.asin(Math.max(-1, Math.min(1, (offline - expected - level) / carry))), width: tolerance / carry };
    case "spin_axis":
      return { implied: Math.asin(Math.max(-1, Math.min(1, curve / perTilt))), width: tolerance / perTilt };
  }
}

/** A ball that landed on the other side than its spin axis says. */
export const curveSide: MisreadRule = {
  name: "side of the curve",
  summary: "A ball curves to the side to which its spin axis leans, once what all shots of the head share is taken out, as a wind from the side is.",
  doubts,
  needs,
  tolerance: "An axis beyond 3° and a curve of more than 4 yd the other way, and the tolerance of the curve's size; beyond doubt where face and path tell which reading is off",
  source,
  find: (readings) => oddCurves(readings).flatMap((odd) => (odd.isOpposite ? [curveFinding(readings, odd)] : [])),
  silent: (readings) => silentOnFlight(readings, needs),
};

/** A ball that curved to the right side, but not as far as its axis says. */
export const curveSize: MisreadRule = {
  name: "size of the curve",
  summary: "The spin axis gives by a flight model how far the ball curves, once what all shots of the head share is taken out.",
  doubts,
  needs,
  tolerance: "4 yd, 35 % of the curve, or 4.5 standard deviations of the session's scatter or of the reading errors, whichever is most",
  source,
  find: (readings) => oddCurves(readings).flatMap((odd) => (odd.isOpposite ? [] : [curveFinding(readings, odd)])),
  silent: (readings) => silentOnFlight(readings, needs),
};
