import { median } from "../../stats/quantile";
import { shotColumnNames, shotColumns } from "../../table/shot-columns";
import type { ShotColumn } from "../../table/shot-columns";
import { findColumn } from "../../table/table";
import { inWords, sentence } from "../evidence";
import type { Finding, MisreadRule } from "../rule";
import type { SessionReadings } from "../session-readings";

const shortestRun = 4; // shots
const sureRun = 6; // shots
const usualSteps = 5; // resolutions from shot to shot, below which equal values are no wonder

const checked = shotColumnNames.filter((name) => shotColumns[name].kind === "number" && !["identity", "ratings"].includes(shotColumns[name].group));

/** The same value to the last digit several times running, in a column that otherwise never stands still. */
export const stuckReading: MisreadRule = {
  name: "stuck reading",
  summary: "The same value to the last digit in four shots running, in a column that usually steps by more than five of its last digits.",
  doubts: checked,
  needs: [],
  tolerance: "Four equal values running; the first may be right and is not doubted; beyond doubt from six",
  source: "Common practice, no source",
  find: (readings) => checked.flatMap((column) => findIn(readings, column)),
};

function findIn(readings: SessionReadings, column: ShotColumn): readonly Finding[] {
  const values = readings.values(column);
  const origin = findColumn(readings.table, column)?.origin;
  // A column derived here is stuck only when its parts are.
  if (values === null || origin === "derived" || origin === "computed") return [];
  const order = Array.from(values.keys()).filter((i) => Number.isFinite(values[i]!));
  const steps = order.slice(1).map((i, place) => Math.abs(values[i]! - values[order[place]!]!));
  if (steps.length < shortestRun || !(median(steps) > usualSteps * resolutionOf(values))) return [];
  const found: Finding[] = [];
  for (let start = 0, end = 0; start < order.length; start = end) {
    for (end = start + 1; end < order.length && values[order[end]!] === values[order[start]!]; end++);
    if (end - start >= shortestRun) found.push(...order.slice(start + 1, end).map((at) => findingAt(readings, column, { at, length: end - start, first: order[start]! })));
  }
  return found;
}

interface Run {
  readonly at: number;
  readonly length: number;
  readonly first: number;
}

function findingAt(readings: SessionReadings, column: ShotColumn, { at, length, first }: Run): Finding {
  return {
    at,
    column,
    implied: null,
    tolerance: null,
    doubt: length >= sureRun ? "strong" : "some",
    evidence: `${sentence(inWords(column))} ${readings.say(column, readings.values(column)![at]!)} is the same to the last digit in ${length} shots running, from shot ${readings.shot[first]!}, while it usually changes with every shot.`,
    witnesses: [],
  };
}

/** The smallest step between values of the column that differ: its last digit. */
function resolutionOf(values: Float64Array): number {
  const sorted = values.filter(Number.isFinite).sort();
  let least = Infinity;
  for (let i = 1; i < sorted.length; i++) {
    const step = sorted[i]! - sorted[i - 1]!;
    if (step > 1e-9 * Math.abs(sorted[i]!)) least = Math.min(least, step);
  }
  return least;
}
