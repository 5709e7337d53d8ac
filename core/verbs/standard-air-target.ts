import type { Air } from "../flight/air";
import { standardAirs } from "../flight/air";
import type { StatedAir } from "../flight/session-air";
import { airAsHit, airConditions, airFrom, isUsable } from "../flight/session-air";
import { formatNumber, unitLabel } from "../present/format-number";
import type { Options, OptionValues } from "../query/vocabulary";
import type { SessionFacts } from "../session/session-facts";
import type { Measure } from "../units";
import { asStated, listed } from "./session-sentences";
import type { Refused } from "./verb-problem";
import { refuse, unknownText } from "./verb-problem";

/** An air, and its name as a sentence has it: `standard air at sea level`. */
export interface NamedAir {
  readonly name: string;
  readonly air: Air;
}

/** How a sentence names the standard airs. */
const namesOfStandard: Record<keyof typeof standardAirs, string> = {
  "sea level": "standard air at sea level",
  "ball test": "the air of ball tests",
};

/** Names that the option `air` always takes. */
const standardNames = Object.keys(standardAirs) as (keyof typeof standardAirs)[];

const conditionNames = ["temperature", "pressure", "humidity", "altitude"] as const satisfies readonly (keyof StatedAir)[];

/** The options that say which air is meant. */
export const airOptions: Options = {
  air: {
    kind: "text",
    required: false,
    help: `${standardNames.map((name) => JSON.stringify(name)).join(" (15 °C, 1013.25 hPa, dry) or ")} (75 °F, 30 inHg, 50 %), or the name of a session for the air it was hit in; "sea level" unless told.`,
  },
  temperature: { kind: "quantity", quantity: "temperature", example: "21 degC", required: false, help: "Temperature of the air meant, in place of a name." },
  pressure: { kind: "quantity", quantity: "pressure", example: "1009 hPa", required: false, help: "Pressure of the place itself, beside a temperature; that of sea level unless this or the altitude is told." },
  humidity: { kind: "quantity", quantity: "share", example: "45 %", required: false, help: "Relative humidity, beside a temperature; 50 % unless told." },
  altitude: { kind: "quantity", quantity: "distance", example: "1500 m", required: false, help: "Altitude of the place, from which the pressure follows, beside a temperature." },
};

/** What is wrong with how the air is told, as far as that does not depend on the table's sessions; `null` when nothing is. */
export function airProblem(values: OptionValues): Refused | null {
  const told = conditionNames.filter((name) => values[name] !== undefined);
  if (told.length === 0) return null;
  if (typeof values["air"] === "string") return refuse("air", "trade.air-told-twice", { air: values["air"], others: told });
  if (values["temperature"] === undefined) return refuse(told[0]!, "trade.air-without-temperature", { told });
  if (values["pressure"] !== undefined && values["altitude"] !== undefined) return refuse("altitude", "trade.pressure-and-altitude", {});
  const impossible = told.find((name) => !isUsable(name, values[name] as Measure));
  if (impossible === undefined) return null;
  const { low, high, unit } = airConditions[impossible];
  const shown = (value: number): string => `${formatNumber(value, 0)} ${unitLabel(unit)}`;
  return refuse(impossible, "trade.impossible-air", { what: impossible, found: asStated(values[impossible] as Measure), low: shown(low), high: shown(high) });
}

/** The air that the options tell, whose use `airProblem` found right; a refusal for a name that is not known or whose air is not. */
export function targetAir(values: OptionValues, sessions: readonly SessionFacts[]): NamedAir | Refused {
  const told = conditionNames.filter((name) => values[name] !== undefined);
  if (told.length > 0) {
    const stated: StatedAir = Object.fromEntries(told.map((name) => [name, values[name] as Measure]));
    return { name: `air of ${conditionsInWords(stated)}`, air: airFrom(stated) };
  }
  const name = typeof values["air"] === "string" ? values["air"] : "sea level";
  const standard = standardNames.find((each) => each === name);
  if (standard !== undefined) return { name: namesOfStandard[standard], air: standardAirs[standard] };
  const session = sessions.find((each) => each.name === name);
  if (session === undefined) return noSuchAir(name, sessions.map((each) => each.name));
  const { air, isStated, missing } = airAsHit(session);
  if (!isStated) return refuse("air", "trade.air-not-stated", { session: session.name, file: session.file, missing });
  return { name: `the air of ${session.name}`, air };
}

/** What is wrong with the name of an air where it is neither that of a standard nor of one of the sessions; `null` where it is one or they are not known. */
export function airNameProblem(values: OptionValues, sessions: readonly string[] | undefined): Refused | null {
  const name = values["air"];
  if (typeof name !== "string" || sessions === undefined || sessions.includes(name) || standardNames.some((each) => each === name)) return null;
  return noSuchAir(name, sessions);
}

function noSuchAir(name: string, sessions: readonly string[]): Refused {
  const candidates = [...standardNames, ...sessions];
  return { type: "refused", problems: [unknownText("air", "trade.no-such-air", { name, candidates }, name, candidates)] };
}

/** Stated conditions for a sentence: `21 °C, 1009 hPa and 45 % humidity`. */
function conditionsInWords({ temperature, pressure, humidity, altitude }: StatedAir): string {
  return listed([
    ...[temperature, pressure].flatMap((each) => (each === undefined ? [] : [asStated(each)])),
    ...(altitude === undefined || pressure !== undefined ? [] : [`${asStated(altitude)} altitude`]),
    ...(altitude === undefined && pressure === undefined ? ["the pressure of sea level"] : []),
    ...(humidity === undefined ? [] : [`${asStated(humidity)} humidity`]),
  ]);
}

/** The density of air for a sentence. */
export function densityInWords({ density }: Pick<Air, "density">): string {
  return `${formatNumber(density, 3)} kg/m³`;
}
