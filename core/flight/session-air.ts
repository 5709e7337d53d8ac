import type { SessionFacts } from "../session/session-facts";
import type { Measure, Unit } from "../units";
import { convert } from "../units";
import type { Air, AirConditions } from "./air";
import { airOf, standardAirs } from "./air";

/** The air of a session as far as it states it. */
export interface SessionAir {
  /** The air as flights need it; standard air at sea level where the session states nothing. */
  readonly air: Air;
  /** True when the session states the temperature, and its pressure or altitude: enough to move a carry to other air. */
  readonly isStated: boolean;
  /** What would have to be stated for that: `temperature`, `pressure or altitude`, `usable humidity`; empty when `isStated`. */
  readonly missing: readonly string[];
}

/** The conditions of air that a person can state. */
export type StatedAir = SessionFacts["air"];

/** One condition of air: its coherent unit, and between which bounds it is taken for one, in a unit that people use. */
interface ConditionFacts {
  readonly coherent: Unit;
  readonly unit: Unit;
  readonly low: number;
  readonly high: number;
}

/** What can be stated of air. Bounds are those of weather and of places where people play. Common practice, no source. */
export const airConditions: Readonly<Record<keyof StatedAir, ConditionFacts>> = {
  temperature: { coherent: "K", unit: "degC", low: -40, high: 60 },
  pressure: { coherent: "Pa", unit: "hPa", low: 500, high: 1100 },
  humidity: { coherent: "%", unit: "%", low: 0, high: 100 },
  altitude: { coherent: "m", unit: "m", low: -500, high: 5000 },
};

const usualTemperature = 288.15; // K, the standard atmosphere's at sea level, where only something else is stated

/**
 * The air that the flights of a session are in: the one to which they were moved, else the one they were hit in.
 *
 * @example airOfSession({ air: {} }).isStated // false
 */
export function airOfSession(session: Pick<SessionFacts, "air" | "movedTo">): SessionAir {
  return session.movedTo === undefined ? airAsHit(session) : { air: session.movedTo.air, isStated: true, missing: [] };
}

/**
 * The air in which a session was hit, as it states it.
 *
 * A stated pressure is that of the place and wins over a stated altitude; humidity is one half where it is not stated.
 * A session that leaves out temperature, or both pressure and altitude, has the standard atmosphere's in their place and
 * is not `isStated`; nor is one that states a value that no air has, which counts as not stated.
 */
export function airAsHit({ air: stated }: Pick<SessionFacts, "air">): SessionAir {
  const unusable = (Object.keys(airConditions) as (keyof StatedAir)[]).filter((name) => stated[name] !== undefined && !isUsable(name, stated[name]));
  const usable: StatedAir = Object.fromEntries(Object.entries(stated).filter(([name]) => !unusable.includes(name as keyof StatedAir)));
  const hasPressure = stated.pressure !== undefined || stated.altitude !== undefined;
  const missing = [
    ...(stated.temperature === undefined ? ["temperature"] : []),
    ...(hasPressure ? [] : ["pressure or altitude"]),
    ...unusable.map((name) => `usable ${name}`),
  ];
  const { temperature, pressure, altitude } = usable;
  if (temperature === undefined && pressure === undefined && altitude === undefined) return { air: standardAirs["sea level"], isStated: false, missing };
  return { air: airFrom(usable), isStated: missing.length === 0, missing };
}

/** The air under stated conditions, each of which must be usable. */
export function airFrom({ temperature, pressure, humidity, altitude }: StatedAir): Air {
  const conditions: AirConditions = {
    temperature: temperature === undefined ? usualTemperature : coherent("temperature", temperature),
    ...(pressure === undefined ? {} : { pressure: coherent("pressure", pressure) }),
    ...(altitude === undefined ? {} : { altitude: coherent("altitude", altitude) }),
    ...(humidity === undefined ? {} : { humidity: coherent("humidity", humidity) / 100 }),
  };
  return airOf(conditions);
}

/** True for a condition that air can have. */
export function isUsable(name: keyof StatedAir, { value, unit }: Measure): boolean {
  const { unit: own, low, high } = airConditions[name];
  const converted = convert(value, unit, own);
  return converted >= low && converted <= high;
}

function coherent(name: keyof StatedAir, { value, unit }: Measure): number {
  return convert(value, unit, airConditions[name].coherent);
}
