import { inWords } from "../chart/field-name";
import { aerodynamicFits, leastLaunchSpeed } from "../flight/aerodynamics";
import { turfs } from "../flight/bounce";
import type { WithoutFlight } from "../flight/modelled-flight";
import { digitsForColumn, formatMeasure, formatNumber } from "../present/format-number";
import type { SessionFacts } from "../session/session-facts";
import { mean, sampleSd } from "../stats/moments";
import { quantile } from "../stats/quantile";
import type { NumberColumn, Table } from "../table/table";
import { findColumn } from "../table/table";
import { convert, convertDifference, isConvertible } from "../units";
import type { Launches } from "./flight-shots";
import type { NamedWind, RowAirs, TurfName } from "./flight-surroundings";
import type { ModelledShot } from "./flight-table";
import { listed, originSentences } from "./session-sentences";
import { countsByHead } from "./standard-air-sentences";

/** What is behind the sentences of modelled flights. */
export interface FlightWords {
  /** The table as it came. */
  readonly before: Table;
  /** The column model_carry. */
  readonly carry: NumberColumn;
  readonly shots: readonly ModelledShot[];
  readonly launches: Launches;
  readonly airs: RowAirs;
  readonly wind: NamedWind;
  readonly turf: TurfName | null;
  /** True where the options tell air or wind, so that the flights need not be those that were hit. */
  readonly isTold: boolean;
  /** The sessions with a row here. */
  readonly sessions: readonly SessionFacts[];
}

/** Heads beyond which no sentence is given for each. */
const mostHeads = 8;

/** Heads beside what was recorded, how far the two fits are apart, and what turf adds. */
export function flightAnswer(words: FlightWords): readonly string[] {
  const groups = headsOf(words.before);
  const told = groups.slice(0, mostHeads).map((group) => headSentence(group, words));
  const more = groups.length > mostHeads ? [`The other ${groups.length - mostHeads} heads are in the table.`] : [];
  const known = words.shots.some(({ modelled }) => typeof modelled !== "string");
  return [...told, ...more, ...(known ? [spreadSentence(words), ...totalSentences(words)] : [])];
}

interface HeadRows {
  readonly name: string;
  readonly rows: readonly number[];
}

function headsOf(table: Table): readonly HeadRows[] {
  const head = findColumn(table, "head");
  const rows = Array.from({ length: table.rowCount }, (_, row) => row);
  if (head?.kind !== "text") return [{ name: "all shots", rows }];
  const byCode = new Map<number, number[]>();
  for (const row of rows) byCode.set(head.codes[row]!, [...(byCode.get(head.codes[row]!) ?? []), row]);
  const stated = table.sessions.flatMap((session) => session.heads.map(({ name }) => name));
  const placeOf = (name: string): number => (stated.includes(name) ? stated.indexOf(name) : stated.length);
  return [...byCode].map(([code, own]) => ({ name: head.labels[code] ?? "shots without a head", rows: own })).sort((a, b) => placeOf(a.name) - placeOf(b.name));
}

/** The carry that the table recorded, in a unit of length; `null` without one. */
function recordedCarry(before: Table): NumberColumn | null {
  const column = findColumn(before, "carry");
  return column?.kind === "number" && column.unit !== null && isConvertible(column.unit, "m") ? column : null;
}

function headSentence({ name, rows }: HeadRows, { before, carry }: FlightWords): string {
  const recorded = recordedCarry(before);
  const known = rows.filter((row) => !Number.isNaN(carry.values[row]!));
  const both = recorded === null ? [] : known.filter((row) => !Number.isNaN(recorded.values[row]!));
  const digits = digitsForColumn(carry);
  const shown = (values: readonly number[]): string => formatMeasure(mean(values), digits, carry.unit);
  const modelled = (of: readonly number[]): readonly number[] => of.map((row) => carry.values[row]!);
  if (known.length === 0) return `No flight of ${name} can be modelled.`;
  if (both.length === 0) return `Modelled carry of ${name}: ${shown(modelled(known))} on average over ${counted(known.length)}${scatter(modelled(known), digits, carry)}.`;
  const read = recorded!.origin === "measured" ? "measured" : "recorded";
  const own = both.map((row) => convert(recorded!.values[row]!, recorded!.unit!, carry.unit!));
  const shares = own.map((value, i) => (modelled(both)[i]! / value - 1) * 100);
  const share = mean(shares);
  const size = formatNumber(Math.abs(share), 1);
  const away = Number(size) === 0 ? "the two agree" : `modelled is ${size} % ${share < 0 ? "shorter" : "longer"}`;
  const single = shares.length < 2 ? "" : `; single shots scatter about that by ${formatNumber(sampleSd(shares), 1)} %`;
  const others = known.length - both.length;
  return `Carry of ${name}: ${shown(modelled(both))} modelled, ${shown(own)} ${read}, over ${counted(both.length)}: ${away} on average${single}.${others === 0 ? "" : ` ${counted(others)} more ${others === 1 ? "has" : "have"} a modelled carry alone.`}`;
}

function counted(count: number): string {
  return `${count} ${count === 1 ? "shot" : "shots"}`;
}

function scatter(values: readonly number[], digits: number, { unit }: NumberColumn): string {
  return values.length < 2 ? "" : `, standard deviation ${formatMeasure(sampleSd(values), digits, unit)}`;
}

function spreadSentence({ shots, carry }: FlightWords): string {
  const spreads = shots.flatMap(({ modelled }) => (typeof modelled === "string" ? [] : [convertDifference(modelled.carrySpread, "m", carry.unit!)]));
  const shown = (value: number): string => formatMeasure(value, 1, carry.unit);
  return `The two fits of flight differ by ${shown(quantile(spreads, 0.5))} of carry for a typical shot and by ${shown(Math.max(...spreads))} at most (column model_carry_spread).`;
}

/** Angles of descent that the studies of bounces filmed, degrees. */
const filmed: readonly [number, number] = [30, 55];

function totalSentences({ shots, carry, turf }: FlightWords): readonly string[] {
  if (turf === null) return [];
  const landed = shots.flatMap(({ modelled }) => (typeof modelled === "string" ? [] : [modelled]));
  const run = mean(landed.map((each) => convertDifference(each.run, "m", carry.unit!)));
  const outside = landed.filter(({ flight }) => {
    const angle = convert(flight.descentAngle, "rad", "deg");
    return angle < filmed[0] || angle > filmed[1];
  }).length;
  return [
    `model_total is for ${turf} and no other: there the ball ${run < 0 ? "comes back" : "runs"} ${formatMeasure(Math.abs(run), 1, carry.unit)} on average after it lands (${turfs[turf].source}). Turfs differ by a factor of two and more, and no simple model covers all bounces.`,
    ...(outside === 0 ? [] : [`${counted(outside)} ${outside === 1 ? "comes" : "come"} down more shallowly than ${filmed[0]}° or more steeply than ${filmed[1]}°, where the bounce is guessed.`]),
  ];
}

/** Why shots are without a flight, each with the words before the counts. */
const withoutWords = (before: Table): readonly (readonly [WithoutFlight, string])[] => {
  const speed = findColumn(before, "ball_speed");
  const least = speed?.kind === "number" && speed.unit !== null ? formatMeasure(convert(leastLaunchSpeed, "m/s", speed.unit), 0, speed.unit) : "30 m/s";
  return [
    ["incomplete", "Without a complete launch (ball speed, launch angle, spin rate) and so without a flight"],
    ["slow", `Slower than ${least} off the face, where neither fit was measured, and so without a flight`],
    ["impossible", "With a launch that no shot can have, and so without a flight"],
    ["grounded", "Started downwards or nearly so, and so without a flight"],
  ];
};

/** What else a reader must know: what is missing, what is assumed, and what the model does not know. */
export function flightDetails(words: FlightWords): readonly string[] {
  const { before, shots, turf } = words;
  const rowsWhere = (holds: (shot: ModelledShot) => boolean): readonly number[] => shots.flatMap((shot, row) => (holds(shot) ? [row] : []));
  const aimless = words.launches.without.length === 2 ? [] : rowsWhere(({ modelled, isAimKnown }) => typeof modelled !== "string" && !isAimKnown);
  return [
    ...withoutWords(before).flatMap(([why, said]) => {
      const rows = rowsWhere(({ modelled }) => modelled === why);
      return rows.length === 0 ? [] : [`${said}: ${countsByHead(before, rows)}.`];
    }),
    ...(aimless.length === 0 ? [] : [`Without a modelled offline, since the start direction or the spin axis is missing (taken as straight and level for the rest): ${countsByHead(before, aimless)}.`]),
    ...assumedSentence(words),
    ...carrySentences(words),
    ...mirroredSentence(words),
    `The model flies a usual ball over level ground: a ball's own aerodynamics are not known to it and move carry by about 4 % either way${turf === null ? "; what a ball does after it lands is left out" : ""}.`,
  ];
}

function assumedSentence({ launches, airs, wind }: FlightWords): readonly string[] {
  const [first, second] = launches.without;
  const aim = second !== undefined ? `The table has neither start direction nor spin axis: balls are taken to start straight with a level axis${wind.isAcross ? ", so that model_offline is the wind's alone" : ", and nothing is said of their offline"}.` : `The table has no ${inWords(first ?? "")}: ${first === "spin_axis" ? "it is taken as level" : "balls are taken to start straight"}.`;
  const unstated = airs.unstated.map(({ session, missing }) => `${session} (no ${missing.join(", no ")})`);
  return [
    ...(first === undefined ? [] : [aim]),
    ...(unstated.length === 0 ? [] : [`Not all of the air is stated in ${listed(unstated.slice(0, 4))}${unstated.length > 4 ? ` and ${unstated.length - 4} more` : ""}: that of the standard atmosphere stands in for what is missing.`]),
  ];
}

/** What the recorded carry is, as far as that matters beside a modelled one. */
function carrySentences({ before, sessions, airs, wind, isTold }: FlightWords): readonly string[] {
  const recorded = recordedCarry(before);
  if (recorded === null) return ["The table has no carry to hold the modelled one against."];
  const origin = originSentences(recorded, sessions);
  if (isTold) return [`The recorded carry is as it was, the modelled one in ${airs.name}, ${wind.name}: what was told of air and wind is part of the difference.`, ...origin];
  const inOther = sessions.filter(({ carryIs, movedTo }) => carryIs === "in standard air" && movedTo === undefined).map(({ name }) => name);
  return [
    ...origin,
    ...(origin.length === 0 ? [] : ["That the two carries agree is then agreement of two models, and no evidence."]),
    ...(inOther.length === 0 ? [] : [`The recorded carry of ${listed(inOther)} is in standard air: compare it with a flight in that air.`]),
  ];
}

function mirroredSentence({ wind, sessions }: FlightWords): readonly string[] {
  const mirrored = wind.isAcross ? sessions.filter((session) => session.mirrored === true).map(({ name }) => name) : [];
  return mirrored.length === 0 ? [] : [`Directions of ${listed(mirrored)} are mirrored, and the wind goes by them: to the right in this table is to the left where those shots were hit.`];
}

/** The method in one line: fits, air, wind, turf. */
export function flightMethod({ airs, wind, turf }: Pick<FlightWords, "airs" | "wind" | "turf">): string {
  const [fit, second] = aerodynamicFits;
  const ground = turf === null ? "" : `; run on ${turf} by ${turfs[turf].source}`;
  return `Point mass, Runge-Kutta of order 4, from launch to level ground; forces by ${fit!.name}, with ${second!.name} as a second opinion; in ${airs.name}, ${wind.name}${ground}.`;
}
