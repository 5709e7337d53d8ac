import { shotColumnNames, shotColumns } from "../../table/shot-columns";
import type { ShotColumn } from "../../table/shot-columns";
import { units } from "../../units";
import { inWords, sentence } from "../evidence";
import type { Finding, MisreadRule } from "../rule";
import type { SessionReadings } from "../session-readings";

const checked = shotColumnNames.filter((name) => shotColumns[name].kind === "number" && !["identity", "ratings"].includes(shotColumns[name].group) && name !== "speed_ratio");

/** A value that no shot has. The speed ratio, which is not read but follows from two speeds, has rules of its own. */
export const implausibleValue: MisreadRule = {
  name: "implausible value",
  summary: "The value is outside what any shot gives in this column; 0 often stands for what was not read.",
  doubts: checked,
  needs: [],
  tolerance: "The column's plausible range, or the session's own under `plausible`",
  source: "Common practice, no source",
  find: (readings) => checked.flatMap((column) => findIn(readings, column)),
};

function findIn(readings: SessionReadings, column: ShotColumn): readonly Finding[] {
  const values = readings.values(column);
  const limits = limitsOf(readings, column);
  // A derived value is implausible when a part of it is, which is doubted itself.
  if (values === null || limits === null || readings.table.columns.find(({ name }) => name === column)?.origin === "derived") return [];
  const [low, high] = limits;
  const found: Finding[] = [];
  values.forEach((value, at) => {
    const fromOrigin = value + originOf(readings, column, at);
    if (!(fromOrigin < low || fromOrigin > high)) return;
    const zero = value === 0 && low > 0 ? "; 0 often stands for what was not read" : "";
    const beyond = fromOrigin < low ? `below ${readings.say(column, low)}` : `above ${readings.say(column, high)}`;
    found.push({ at, column, implied: null, tolerance: null, doubt: "strong", evidence: `${sentence(inWords(column))} ${readings.say(column, value)} is ${beyond}, which no shot is${zero}.`, witnesses: [] });
  });
  return found;
}

/** What a strike has to be moved by to count from the monitor's own origin, as its limits do; 0 for any other column. */
function originOf(readings: SessionReadings, column: ShotColumn, at: number): number {
  const reference = readings.heads[readings.head[at]!]?.strikeReference;
  if (column === "strike_x") return (reference?.x ?? 0) / 1000;
  return column === "strike_y" ? (reference?.y ?? 0) / 1000 : 0;
}

/** The limits in SI and the right-hander's frame. */
function limitsOf(readings: SessionReadings, column: ShotColumn): readonly [number, number] | null {
  const stated = readings.facts.plausible?.[column];
  if (stated === undefined) return shotColumns[column].range;
  const coherent = (value: number): number => (stated.unit === null ? value : value * units[stated.unit].factor);
  const limits = [coherent(stated.low), coherent(stated.high)] as const;
  const isTurned = readings.facts.hand === "left" && shotColumns[column].mirrored;
  return isTurned ? [-limits[1], -limits[0]] : limits;
}
