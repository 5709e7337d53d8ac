import type { ShotColumn } from "../../table/shot-columns";
import { inWords, isEvidence, sentence } from "../evidence";
import type { FlightColumn } from "../flight-residuals";
import { flightDoubt, flightResiduals, shifted } from "../flight-residuals";
import type { MisreadLaunch } from "../launch-witnesses";
import { launchColumns, misreadLaunch } from "../launch-witnesses";
import type { Finding, MisreadRule } from "../rule";
import type { SessionReadings } from "../session-readings";
import { silentOnFlight } from "./silent-on-flight";

const deg = Math.PI / 180;
const model = "Flight by Naruo, Mizota & Shimozono 2004, Trans. JSME B 70(697):2371; tolerances common practice, no source";

/** How far a column may be from what the launch gives, in the unit of `FlightResidual.off`. */
interface Limits {
  readonly suspect: number;
  readonly strong: number;
}

/** Shares for lengths, radians for the angle; common practice, no source. */
const limits: Readonly<Record<FlightColumn, Limits>> = {
  carry: { suspect: Math.log(1.05), strong: Math.log(1.12) },
  peak_height: { suspect: Math.log(1.12), strong: Math.log(1.25) },
  descent_angle: { suspect: 5 * deg, strong: 9 * deg },
};
const calculatedCarry = Math.log(1.08); // between two models of a carry that nobody measured
const scatterAllowed = 4; // robust standard deviations of the session, which outdoors are mostly those of the wind
const errorsAllowed = 4; // standard deviations of what reading errors of the launch make of the flight
const columns: readonly FlightColumn[] = ["carry", "peak_height", "descent_angle"];

/** A reading of the flight that its launch contradicts. */
interface Contradiction {
  readonly column: FlightColumn;
  readonly implied: number;
  readonly off: number;
  readonly tolerance: number;
  readonly isStrong: boolean;
}

const known = new WeakMap<SessionReadings, ReadonlyMap<number, readonly Contradiction[]>>();

/** Measured readings of the flight that their launches contradict, by place of the shot. */
function contradictions(readings: SessionReadings): ReadonlyMap<number, readonly Contradiction[]> {
  let found = known.get(readings);
  if (found === undefined) {
    const byShot = new Map<number, Contradiction[]>();
    if (launchColumns.every((column) => isEvidence(readings, column)))
      for (const column of columns)
        if (isEvidence(readings, column)) for (let i = 0; i < readings.count; i++) {
          const one = contradictionAt(readings, column, i, limits[column]);
          if (one !== null) byShot.set(i, [...(byShot.get(i) ?? []), one]);
        }
    found = byShot;
    known.set(readings, found);
  }
  return found;
}

function contradictionAt(readings: SessionReadings, column: FlightColumn, i: number, { suspect, strong }: Limits): Contradiction | null {
  const { implied, off, scale } = flightResiduals(readings, column)[i]!;
  const least = Math.max(suspect, scatterAllowed * scale);
  if (!(Math.abs(off) > least)) return null;
  // Only now what it costs flights to know: a low launch or one far from the others is less well foretold.
  const doubt = flightDoubt(readings, column, i);
  const tolerance = Math.max(least, errorsAllowed * doubt.error) + doubt.model;
  return Math.abs(off) > tolerance ? { column, implied, off, tolerance, isStrong: Math.abs(off) > Math.max(strong, 1.5 * tolerance) } : null;
}

const mostBlamed = 1 / 3; // share of a session's shots, beyond which a column as a whole is doubted and no launch is looked for

/**
 * The finding on a shot whose flight does not fit its launch: the reading of the launch that is to blame where one is found,
 * else the reading of the flight. Each shot is spoken of by one rule, that of the first column which does not fit.
 */
function findFor(readings: SessionReadings, column: FlightColumn): readonly Finding[] {
  const all = contradictions(readings);
  return [...all].flatMap(([i, found]) => {
    const others = columns.filter((each) => isEvidence(readings, each) && !found.some((one) => one.column === each) && Number.isFinite(flightResiduals(readings, each)[i]!.off));
    const blamed = all.size > readings.count * mostBlamed ? null : misreadLaunch(readings, i, found.length);
    if (blamed !== null) return found[0]!.column === column ? [launchFinding(readings, i, found, blamed)] : [];
    const own = found.find((one) => one.column === column);
    // Several that do not fit one launch: the launch may be wrong as well, and one finding says so.
    if (own === undefined || (found.length > 1 && found[0] !== own)) return [];
    return [flightFinding(readings, i, own, { isSure: found.length === 1 && others.length > 0, others })];
  });
}

function launchFinding(readings: SessionReadings, i: number, found: readonly Contradiction[], { column, implied, from }: MisreadLaunch): Finding {
  const names = found.map((one) => `${inWords(one.column)} ${readings.say(one.column, readings.values(one.column)![i]!)}`);
  const value = readings.values(column)![i]!;
  const reach = from === "other shots" ? `which is what the other shots imply for this strike and delivery` : `which alone would explain it`;
  return {
    at: i,
    column,
    implied,
    tolerance: null,
    doubt: from === "other shots" && found.some((one) => one.isStrong) ? "strong" : "some",
    evidence: `${sentence(inWords(column))} ${readings.say(column, value)} does not fit the measured flight, ${listed(names)}: it would with ${readings.say(column, implied)}, ${reach}.`,
    witnesses: [{ name: "measured flight", implied }],
  };
}

function flightFinding(readings: SessionReadings, i: number, { column, implied, tolerance, isStrong }: Contradiction, { isSure, others }: { readonly isSure: boolean; readonly others: readonly FlightColumn[] }): Finding {
  const width = Math.abs(shifted(column, implied, tolerance) - implied);
  const value = readings.values(column)![i]!;
  const why = isSure
    ? `${sentence(listed(others.map(inWords)))} ${others.length === 1 ? "agrees" : "agree"} with the launch.`
    : "Ball speed, launch angle or spin may be off instead; none of them is odd for its head.";
  return {
    at: i,
    column,
    implied,
    tolerance: width,
    doubt: isStrong && isSure ? "strong" : "some",
    evidence: `${sentence(inWords(column))} ${readings.say(column, value)} does not follow from the launch, which gives ${readings.say(column, implied)} ± ${readings.saySize(column, width)} beside the head's other shots. ${why}`,
    witnesses: [{ name: "launch", implied }],
  };
}

/** A carry that the monitor calculated, though not from the launch it shows. */
function calculatedCarries(readings: SessionReadings): readonly Finding[] {
  return Array.from({ length: readings.count }, (_, i) => i).flatMap((i) => {
    const found = contradictionAt(readings, "carry", i, { suspect: calculatedCarry, strong: Infinity });
    if (found === null) return [];
    const width = Math.abs(shifted("carry", found.implied, found.tolerance) - found.implied);
    return [
      {
        at: i,
        column: "carry" as const,
        implied: found.implied,
        tolerance: width,
        doubt: "some" as const,
        evidence: `Carry ${readings.say("carry", readings.values("carry")![i]!)} is calculated, but not from the launch that is shown, which gives ${readings.say("carry", found.implied)} ± ${readings.saySize("carry", width)} beside the head's other shots.`,
        witnesses: [{ name: "launch", implied: found.implied }],
      },
    ];
  });
}

/** A carry that does not follow from ball speed, launch angle and spin, or one of these that the flight contradicts. */
export const carryOfLaunch: MisreadRule = {
  name: "carry of the launch",
  summary: "Ball speed, launch angle and spin give the carry by a flight model, once what all shots of the head share is taken out: wind, ball, model.",
  doubts: ["carry", ...launchColumns],
  needs: ["carry", ...launchColumns],
  tolerance: "5 % and 4 robust standard deviations of the session, wider for low launches; beyond doubt at 12 % where the rest of the flight agrees; a calculated carry is only doubted, from 8 %",
  source: model,
  find: (readings) => (isEvidence(readings, "carry") ? findFor(readings, "carry") : calculatedCarries(readings)),
  silent: (readings) => silentOnFlight(readings, ["carry", ...launchColumns]),
};

/** A peak height that does not follow from the launch. */
export const peakOfLaunch: MisreadRule = {
  name: "peak of the launch",
  summary: "The launch gives the peak height by a flight model, once what all shots of the head share is taken out.",
  doubts: ["peak_height", ...launchColumns],
  needs: ["peak_height", ...launchColumns],
  tolerance: "12 % and 4 robust standard deviations of the session, wider for low launches; beyond doubt at 25 % where the rest of the flight agrees",
  source: model,
  find: (readings) => findFor(readings, "peak_height"),
  silent: (readings) => silentOnFlight(readings, ["peak_height", ...launchColumns]),
};

const usualDescentError = 1 * deg;

/** A descent angle that does not follow from the launch, or that is flatter than the launch was. */
export const descentOfLaunch: MisreadRule = {
  name: "descent of the launch",
  summary: "The launch gives the descent angle by a flight model; in still air a ball always comes down steeper than it went up.",
  doubts: ["descent_angle", ...launchColumns],
  needs: ["descent_angle", "launch_angle"],
  tolerance: "5° and 4 robust standard deviations of the session, wider for low launches; beyond doubt at 9° where the rest of the flight agrees; no flatter than the launch by 3 standard deviations",
  source: model,
  find: (readings) => {
    const byModel = launchColumns.every((column) => readings.values(column) !== null) ? findFor(readings, "descent_angle") : [];
    const spoken = new Set(byModel.map(({ at }) => at));
    return [...byModel, ...flatterThanLaunch(readings).filter(({ at }) => !spoken.has(at))];
  },
  silent: (readings) => silentOnFlight(readings, ["descent_angle", "launch_angle"]),
};

function flatterThanLaunch(readings: SessionReadings): readonly Finding[] {
  const columnsNeeded: readonly ShotColumn[] = ["descent_angle", "launch_angle"];
  if (!columnsNeeded.every((column) => isEvidence(readings, column))) return [];
  const [descent, launch] = [readings.values("descent_angle")!, readings.values("launch_angle")!];
  return Array.from(descent.keys()).flatMap((i) => {
    const stated = readings.error("descent_angle", descent[i]!);
    const tolerance = 3 * Math.hypot(Number.isFinite(stated) ? stated : usualDescentError, readings.error("launch_angle", launch[i]!));
    if (!(launch[i]! - descent[i]! > tolerance)) return [];
    return [
      {
        at: i,
        column: "descent_angle" as const,
        implied: null,
        tolerance,
        doubt: readings.facts.monitor?.place === "indoor" ? ("strong" as const) : ("some" as const),
        evidence: `Descent angle ${readings.say("descent_angle", descent[i]!)} is flatter than the launch angle ${readings.say("launch_angle", launch[i]!)} by more than ${readings.saySize("descent_angle", tolerance)}; in still air a ball comes down steeper than it went up. It may be the launch angle instead.`,
        witnesses: [],
      },
    ];
  });
}

/** `carry`, `carry and peak height`, `carry, peak height and descent angle`. */
function listed(names: readonly string[]): string {
  return names.length < 2 ? (names[0] ?? "") : `${names.slice(0, -1).join(", ")} and ${names.at(-1)!}`;
}
