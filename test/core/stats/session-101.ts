import type { ShotData } from "../../../core/stats/shot-data";
import { checksOf } from "./check-values";

interface Session {
  readonly csv: string;
  readonly block: readonly number[];
  readonly heads: readonly string[];
}

/** The simulated session of the check values, whose heads are known, with what its truth and its reference fits give. */
interface Expected {
  readonly ball: Metric;
  readonly carry: Metric;
  readonly strike: Readonly<Record<"meanX" | "meanY" | "sdX" | "sdY" | "smdX" | "smdY", readonly number[]>>;
}

interface Metric {
  readonly standardised: Readonly<Record<"mean" | "diff" | "seIid" | "seCR2" | "dfCR2", readonly number[]>>;
  readonly lossAtMiss: { readonly points: readonly (readonly [number, number])[]; readonly byHead: readonly (readonly number[])[] };
}

interface Truth {
  readonly pairs: readonly Readonly<Record<"standardisedBallSpeed" | "standardisedCarry" | "overSessionBallSpeed", number>>[];
  readonly retention: readonly (readonly Readonly<Record<"x" | "y" | "ballLoss" | "carryLoss" | "ballRetention", number>>[])[];
}

type Check = { readonly csv: string; readonly block: readonly number[]; readonly heads: readonly string[]; readonly expected: Expected; readonly truth: Truth };

const [check] = checksOf<unknown, unknown, Expected>("whole-session") as unknown as readonly (Check & Session)[];

/** What the check values expect of the session, and what is true of its heads. */
export const session101 = check!;

const [header, ...lines] = session101.csv.split("\n").map((line) => line.split(","));

/** A column of the session's export. */
export function sessionColumn(name: string): Float64Array {
  const place = header!.indexOf(name);
  return Float64Array.from(lines, (cells) => Number(cells[place]));
}

/** The session's shots with one of its columns as the value. */
export function sessionShots(value: "Ball speed [mph]" | "Carry distance [yd]"): ShotData {
  const n = lines.length;
  return {
    groupCount: session101.heads.length,
    group: Int32Array.from(lines, (cells) => session101.heads.indexOf(cells[1]!)),
    session: new Int32Array(n),
    stint: Float64Array.from(session101.block),
    time: Float64Array.from({ length: n }, (_, i) => i / (n - 1)),
    value: sessionColumn(value),
    strike: { x: sessionColumn("Strike toe-heel [mm]"), y: sessionColumn("Strike high-low [mm]") },
  };
}
