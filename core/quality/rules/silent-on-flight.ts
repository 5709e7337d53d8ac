import { leastLaunchSpeed } from "../../flight/aerodynamics";
import { shotColumns, shotColumnNames } from "../../table/shot-columns";
import type { ShotColumn } from "../../table/shot-columns";
import { isEvidence, inWords, sentence, silentWhereCalculated } from "../evidence";
import type { SessionReadings } from "../session-readings";

/**
 * Why rules that hold the flight against the launch tell nothing, the same sentence for all of them: the flight was
 * calculated from the launch, a part of the launch was calculated, or no ball was as fast as the model goes.
 */
export function silentOnFlight(readings: SessionReadings, columns: readonly ShotColumn[]): string | null {
  if (columns.some((column) => readings.values(column) === null)) return null;
  const speeds = readings.values("ball_speed");
  if (speeds !== null && !speeds.some((speed) => speed >= leastLaunchSpeed))
    return `No ball was as fast as ${readings.say("ball_speed", leastLaunchSpeed)}, and slower ones no model of the flight was measured for: rules that hold the flight against the launch tell nothing.`;
  const flight = columns.filter((column) => shotColumns[column].group === "flight" && !isEvidence(readings, column));
  if (flight.length === 0) return silentWhereCalculated(readings, columns);
  const calculated = shotColumnNames.filter((column) => shotColumns[column].group === "flight" && readings.values(column) !== null && !isEvidence(readings, column));
  const names = calculated.map(inWords);
  const list = names.length === 1 ? `${names[0]!} is` : `${names.slice(0, -1).join(", ")} and ${names.at(-1)!} are`;
  return `${sentence(list)} calculated from the launch here, so that agreement of the two is no evidence: nothing of the launch is checked by them.`;
}
