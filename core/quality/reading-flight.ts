import type { Launch } from "../flight/launch";
import { simulateFlight, type Flight, type FlightConditions } from "../flight/simulate";

/**
 * The flight of a launch that a monitor read, as readings are held against: in steps of 0.04 s, a quarter as many as usual.
 *
 * A carry differs by less than a millimetre from that of finer steps, where a monitor's own error is decimetres; what is read
 * of a session is simulated thousands of times over. Missing values and results as in `simulateFlight`.
 */
export function flightOfReading(launch: Launch, conditions: FlightConditions = {}): Flight {
  return simulateFlight(launch, { timeStep: 0.04, ...conditions });
}
