import { shotColumnNames, shotColumns } from "../../table/shot-columns";
import type { ShotColumn } from "../../table/shot-columns";
import { findColumn } from "../../table/table";
import { inWords, sentence } from "../evidence";
import type { Finding, MisreadRule } from "../rule";
import type { SessionReadings } from "../session-readings";

const checked = shotColumnNames.filter((name) => shotColumns[name].kind === "number" && !["identity", "ratings"].includes(shotColumns[name].group));
const fewestColumns = 3;
const byChance = 0.01; // of a session, that two shots of it agree in everything that was read

/** A row that is another one's once more: a monitor that missed a shot may show the one before. */
export const repeatedRow: MisreadRule = {
  name: "repeated row",
  summary: "All readings of the shot are those of another shot before it to the last digit: the monitor showed that one once more.",
  doubts: checked,
  needs: [],
  tolerance: "Equal in every reading, of three columns and more, where chance would make two such rows in less than one session of a hundred",
  source: "Common practice, no source",
  find: (readings) => {
    const columns = readColumns(readings);
    if (columns.length < fewestColumns) return [];
    const first = new Map<string, number>();
    const found: Finding[] = [];
    for (let i = 0; i < readings.count; i++) {
      const there = columns.filter(({ values }) => Number.isFinite(values[i]!));
      const key = columns.map(({ values }) => values[i]!).join(" ");
      const before = first.get(key);
      if (before === undefined) first.set(key, i);
      else if (there.length >= fewestColumns && chanceOf(readings, there, i) < byChance) found.push(...there.map(({ name }) => repeatedFinding(readings, name, i, before)));
    }
    return found;
  },
};

interface ReadColumn {
  readonly name: ShotColumn;
  readonly values: Float64Array;
}

/** Columns that the export has; what is derived here is equal by itself. */
function readColumns(readings: SessionReadings): readonly ReadColumn[] {
  return checked.flatMap((name) => {
    const origin = findColumn(readings.table, name)?.origin;
    const values = readings.values(name);
    return values === null || origin === "derived" || origin === "computed" ? [] : [{ name, values }];
  });
}

/** About how many pairs of a session agree with the values of one shot in these columns by chance; calculated ones follow from the rest. */
function chanceOf(readings: SessionReadings, columns: readonly ReadColumn[], i: number): number {
  const measured = columns.filter(({ name }) => !readings.isCalculated(name));
  const shares = measured.map(({ values }) => values.reduce((same, value) => (value === values[i]! ? same + 1 : same), 0) / readings.count);
  return shares.reduce((product, share) => product * share, readings.count ** 2);
}

function repeatedFinding(readings: SessionReadings, column: ShotColumn, at: number, before: number): Finding {
  return {
    at,
    column,
    implied: null,
    tolerance: null,
    doubt: "strong",
    evidence: `All readings of shot ${readings.shot[at]!} are those of shot ${readings.shot[before]!} to the last digit: it was shown once more, and the whole shot is doubtful.`,
    witnesses: [],
  };
}

const fewestZeros = 3;
/** Readings in which 0 is a value like any other, so that only several at once say that club, or ball, was not seen. */
const seenTogether: readonly (readonly ShotColumn[])[] = [
  ["angle_of_attack", "club_path", "face_angle", "dynamic_loft", "strike_x", "strike_y"],
  ["launch_angle", "start_direction", "back_spin", "side_spin", "spin_axis"],
];

/** Several readings of one shot that are exactly 0: what was not read, written as a number. */
export const zeroRow: MisreadRule = {
  name: "zeros",
  summary: "Three readings or more of the club, or of the ball's start, are exactly 0, which several programs write for what was not read.",
  doubts: seenTogether.flat(),
  needs: [],
  tolerance: "Three zeros in one row, where the values about 0 would make such rows in less than one session of a hundred",
  source: "Common practice, no source",
  find: (readings) => seenTogether.flatMap((names) => zerosAmong(readings, names)),
};

function zerosAmong(readings: SessionReadings, names: readonly ShotColumn[]): readonly Finding[] {
  const columns = readColumns(readings).filter(({ name }) => names.includes(name)).map(({ name, values }) => ({ name, values: asExported(readings, name, values) }));
  if (columns.length < fewestZeros) return [];
  const usual = new Map(columns.map(({ name, values }) => [name, shareNearZero(values)]));
  return Array.from({ length: readings.count }, (_, i) => i).flatMap((i) => {
    const zeros = columns.filter(({ values }) => Math.abs(values[i]!) < rounding).map(({ name }) => name);
    if (zeros.length < fewestZeros) return [];
    const expected = zeros.reduce((product, name) => product * usual.get(name)!, readings.count * waysToChoose(zeros.length, columns.length));
    return expected > byChance ? [] : zeros.map((column) => zeroFinding(readings, column, i, zeros));
  });
}

/** In how many ways so many of all can be zeros. */
function waysToChoose(some: number, all: number): number {
  let ways = 1;
  for (let k = 1; k <= some; k++) ways *= (all - some + k) / k;
  return ways;
}

const rounding = 1e-9; // SI, below which a value is 0 but for its conversion

/** Strikes from the monitor's own origin, which is where the 0 of an export is. */
function asExported(readings: SessionReadings, column: ShotColumn, values: Float64Array): Float64Array {
  if (column !== "strike_x" && column !== "strike_y") return values;
  return values.map((value, i) => value + (readings.heads[readings.head[i]!]?.strikeReference[column === "strike_x" ? "x" : "y"] ?? 0) / 1000);
}

/** The share of values that would be 0 were 0 as frequent as its neighbours, one step of the last digit away; at least one shot's. */
function shareNearZero(values: Float64Array): number {
  const there = values.filter(Number.isFinite);
  const sizes = there.map(Math.abs).filter((size) => size > rounding).sort();
  let step = sizes[0] ?? Infinity;
  for (let i = 1; i < sizes.length; i++) if (sizes[i]! - sizes[i - 1]! > rounding) step = Math.min(step, sizes[i]! - sizes[i - 1]!);
  const beside = sizes.filter((size) => size < 1.5 * step).length;
  return Math.max(beside / 2, 1) / there.length;
}

function zeroFinding(readings: SessionReadings, column: ShotColumn, at: number, zeros: readonly ShotColumn[]): Finding {
  const names = zeros.map(inWords);
  return {
    at,
    column,
    implied: null,
    tolerance: null,
    doubt: zeros.length > fewestZeros ? "strong" : "some",
    evidence: sentence(`${names.slice(0, -1).join(", ")} and ${names.at(-1)!} of shot ${readings.shot[at]!} are all exactly 0, which often stands for what was not read.`),
    witnesses: [],
  };
}
