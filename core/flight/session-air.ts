import type { SessionFacts } from "../session/session-facts";
import { convert } from "../units";
import type { Air, AirConditions } from "./air";
import { airOf, standardAirs } from "./air";

/** The air of a session as far as it states it. */
export interface SessionAir {
  /** The air as flights need it; standard air at sea level where the session states nothing. */
  readonly air: Air;
  /** True when the session states the temperature, and its pressure or altitude: enough to move a carry to other air. */
  readonly isStated: boolean;
  /** What would have to be stated for that: `temperature`, `pressure or altitude`; empty when `isStated`. */
  readonly missing: readonly string[];
}

const usualTemperature = 288.15; // K, the standard atmosphere's at sea level, where only something else is stated

/**
 * The air in which a session was hit.
 *
 * A stated pressure is that of the place and wins over a stated altitude; humidity is one half where it is not stated.
 * A session that leaves out temperature, or both pressure and altitude, has the standard atmosphere's in their place and
 * is not `isStated`.
 */
export function airOfSession({ air: stated }: Pick<SessionFacts, "air">): SessionAir {
  const { temperature, pressure, humidity, altitude } = stated;
  if (temperature === undefined && pressure === undefined && altitude === undefined)
    return { air: standardAirs["sea level"], isStated: false, missing: ["temperature", "pressure or altitude"] };
  const conditions: AirConditions = {
    temperature: temperature === undefined ? usualTemperature : convert(temperature.value, temperature.unit, "K"),
    ...(pressure === undefined ? {} : { pressure: convert(pressure.value, pressure.unit, "Pa") }),
    ...(altitude === undefined ? {} : { altitude: convert(altitude.value, altitude.unit, "m") }),
    ...(humidity === undefined ? {} : { humidity: convert(humidity.value, humidity.unit, "%") / 100 }),
  };
  const missing = [
    ...(temperature === undefined ? ["temperature"] : []),
    ...(pressure === undefined && altitude === undefined ? ["pressure or altitude"] : []),
  ];
  return { air: airOf(conditions), isStated: missing.length === 0, missing };
}
