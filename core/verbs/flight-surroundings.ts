import type { Air } from "../flight/air";
import { standardAirs } from "../flight/air";
import { turfs } from "../flight/bounce";
import { airOfSession } from "../flight/session-air";
import type { Wind } from "../flight/wind";
import { logarithmicWind, stillAir, uniformWind } from "../flight/wind";
import type { Option, Options, OptionValues } from "../query/vocabulary";
import type { SessionFacts } from "../session/session-facts";
import type { Table } from "../table/table";
import { findColumn } from "../table/table";
import type { Measure } from "../units";
import { convert } from "../units";
import { asStated, listed } from "./session-sentences";
import { airOptions, airProblem, densityInWords, targetAir } from "./standard-air-target";
import type { Refused } from "./verb-problem";
import { refuse } from "./verb-problem";

/** The name of a turf on which a run can be given. */
export type TurfName = keyof typeof turfs;

/** Names of the turfs. */
const turfNames = Object.keys(turfs) as readonly TurfName[];

const windOptions: Options = {
  wind_along: { kind: "quantity", quantity: "speed", example: "3 m/s", required: false, help: "Wind along the target line: positive is a tail wind, negative a head wind; none unless told." },
  wind_right: { kind: "quantity", quantity: "speed", example: "2 m/s", required: false, help: "Wind across the target line, positive towards the right; none unless told." },
  wind_height: { kind: "quantity", quantity: "distance", example: "2 m", required: false, help: "Height at which the wind was measured, so that it grows with the logarithm of the height; the same wind at every height unless told." },
  roughness: { kind: "quantity", quantity: "distance", example: "0.09 m", required: false, help: "Roughness of the ground for wind that grows with the height; 0.09 m, dense grass, unless told." },
};

const turfOption: Option = {
  kind: "choice",
  choices: turfNames,
  required: false,
  help: `Turf on which the ball runs after it lands: ${turfNames.map((name) => JSON.stringify(name)).join(", ")}. Without it nothing is said of a total.`,
};

/** The options of what a flight flies through and lands on; `airHelp` says what the option air takes. */
export function surroundingOptions(airHelp: string): Options {
  return { ...airOptions, air: { kind: "text", required: false, help: airHelp }, ...windOptions, turf: turfOption };
}

/** Dense grass, m. Source: Naruo & Mizota 2009, Proc. JSME Symp. A-29. */
const usualRoughness: Measure = { value: 0.09, unit: "m" };

/** Beyond these nobody plays, or the law of the wind does not hold. Common practice, no source. */
const windBounds = {
  wind_along: { low: { value: -30, unit: "m/s" }, high: { value: 30, unit: "m/s" } },
  wind_right: { low: { value: -30, unit: "m/s" }, high: { value: 30, unit: "m/s" } },
  wind_height: { low: { value: 0.5, unit: "m" }, high: { value: 100, unit: "m" } },
  roughness: { low: { value: 0.0001, unit: "m" }, high: { value: 2, unit: "m" } },
} as const satisfies Record<string, { readonly low: Measure; readonly high: Measure }>;

/** What is wrong with the air and the wind told, as far as that does not depend on a table's sessions; `null` when nothing is. */
export function surroundingsProblem(values: OptionValues): Refused | null {
  const inAir = airProblem(values);
  if (inAir !== null) return inAir;
  for (const [name, { low, high }] of Object.entries(windBounds)) {
    const told = measureOf(values, name);
    if (told === null) continue;
    const value = convert(told.value, told.unit, low.unit);
    if (!(value >= low.value && value <= high.value)) return refuse(name, "trade.impossible-wind", { what: name.replaceAll("_", " "), found: asStated(told), low: asStated(low), high: asStated(high) });
  }
  const isWindTold = values["wind_along"] !== undefined || values["wind_right"] !== undefined;
  if (values["wind_height"] !== undefined && !isWindTold) return refuse("wind_height", "trade.height-without-wind", { what: "wind height" });
  if (values["roughness"] !== undefined && values["wind_height"] === undefined) return refuse("roughness", "trade.height-without-wind", { what: "roughness" });
  return null;
}

/** A wind, and how a sentence names it. */
export interface NamedWind {
  readonly wind: Wind;
  readonly name: string;
  /** True where it blows across the target line. */
  readonly isAcross: boolean;
}

/** The wind told, whose use `surroundingsProblem` found right; still air unless told. */
export function windOf(values: OptionValues): NamedWind {
  const [along, across, height] = [measureOf(values, "wind_along"), measureOf(values, "wind_right"), measureOf(values, "wind_height")];
  const [downrange, right] = [speedOf(along), speedOf(across)];
  if (downrange === 0 && right === 0) return { wind: stillAir, name: "still air", isAcross: false };
  const parts = [
    ...(downrange === 0 ? [] : [`${downrange > 0 ? "a tail" : "a head"} wind of ${sizeOf(along!)}`]),
    ...(right === 0 ? [] : [`wind of ${sizeOf(across!)} to the ${right > 0 ? "right" : "left"}`]),
  ];
  const name = listed(parts);
  if (height === null) return { wind: uniformWind(downrange, right), name: `${name}, the same at every height`, isAcross: right !== 0 };
  const roughness = measureOf(values, "roughness") ?? usualRoughness;
  const measured = { downrange, right, height: convert(height.value, height.unit, "m"), roughness: convert(roughness.value, roughness.unit, "m") };
  return { wind: logarithmicWind(measured), name: `${name}, measured ${asStated(height)} up and growing with the logarithm of the height over ground of roughness ${asStated(roughness)}`, isAcross: right !== 0 };
}

/** The turf told; `null` where none is. */
export function turfOf(values: OptionValues): TurfName | null {
  return turfNames.find((name) => name === values["turf"]) ?? null;
}

/** The air of each row of a table. */
export interface RowAirs {
  readonly airAt: (row: number) => Air;
  /** For a sentence: `standard air at sea level (1.225 kg/m³)`. */
  readonly name: string;
  /** Sessions of which the air is not stated as a whole, with what is missing. */
  readonly unstated: readonly { readonly session: string; readonly missing: readonly string[] }[];
}

/**
 * The air in which the flights of a table are modelled: the one told, else that of each row's session. Standard air at sea
 * level where neither is known; a refusal where a row does not say which session it is of.
 */
export function airsOf(table: Table, values: OptionValues = {}): RowAirs | Refused {
  const isTold = ["air", "temperature", "pressure", "humidity", "altitude"].some((name) => values[name] !== undefined);
  if (isTold || table.sessions.length === 0) {
    const told = targetAir(values, table.sessions);
    if ("type" in told) return told;
    return { airAt: () => told.air, name: `${told.name} (${densityInWords(told.air)})`, unstated: [] };
  }
  const sessionAt = sessionsByRow(table);
  if (sessionAt === null) return refuse(null, "trade.no-session-column", { sessions: table.sessions.map(({ name }) => name) });
  const airs = table.sessions.map((session) => airOfSession(session));
  const present = new Set(Array.from({ length: table.rowCount }, (_, row) => sessionAt(row)));
  const here = table.sessions.flatMap((session, i) => (present.has(i) ? [{ session, ...airs[i]! }] : []));
  return {
    airAt: (row) => airs[sessionAt(row)]!.air,
    name: airsInWords(here),
    unstated: here.filter(({ isStated }) => !isStated).map(({ session, missing }) => ({ session: session.name, missing })),
  };
}

/** Sessions whose airs are named one by one. */
const mostNamed = 4;

function airsInWords(here: readonly { readonly session: SessionFacts; readonly air: Air; readonly isStated: boolean }[]): string {
  const [first, ...others] = here;
  if (first === undefined) return `standard air at sea level (${densityInWords(standardAirs["sea level"])})`;
  if (here.every(({ isStated }) => !isStated)) return `standard air at sea level (${densityInWords(first.air)})`;
  const nameOf = ({ session, air }: (typeof here)[number]): string => `${session.movedTo?.name ?? `the air of ${session.name}`} (${densityInWords(air)})`;
  if (others.length === 0) return nameOf(first);
  const names = [...new Set(here.map(nameOf))];
  return names.length > mostNamed ? `the air of each of ${here.length} sessions` : listed(names);
}

/** The place of a row's session among the table's; `null` when several are behind it and a row does not say which. */
function sessionsByRow(table: Table): ((row: number) => number) | null {
  if (table.sessions.length === 1) return () => 0;
  const column = findColumn(table, "session");
  if (column?.kind !== "text") return null;
  const places = column.labels.map((label) => table.sessions.findIndex((session) => session.name === label));
  if (column.codes.some((code) => (places[code] ?? -1) < 0)) return null;
  return (row) => places[column.codes[row]!]!;
}

function measureOf(values: OptionValues, name: string): Measure | null {
  const value = values[name];
  return typeof value === "object" && !Array.isArray(value) ? (value as Measure) : null;
}

function speedOf(measure: Measure | null): number {
  return measure === null ? 0 : convert(measure.value, measure.unit, "m/s");
}

function sizeOf(measure: Measure): string {
  return asStated({ ...measure, value: Math.abs(measure.value) });
}
