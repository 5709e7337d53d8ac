import { digitsAsStated, formatNumber, unitLabel } from "../present/format-number";
import type { Window } from "../query/window";
import { isInside } from "../query/window";
import type { WithoutInterval } from "../stats/head-means";
import { headMeans } from "../stats/head-means";
import { leastShots } from "../stats/judge-pair";
import type { Interval } from "../stats/mean-contrast";
import { mean, sampleSd } from "../stats/moments";
import { median } from "../stats/quantile";
import { wilsonInterval } from "../stats/wilson";
import type { NumberColumn, Table } from "../table/table";
import type { Unit } from "../units";
import type { Centred } from "./centred-strikes";
import { shotData } from "./shot-data";
import type { UsedShots } from "./used-shots";

/** What a row tells of a column: where its shots lie, how they scatter, or how many of them are inside a window. */
export type Told = "mean" | "aim" | "spread" | "window" | "low";

/** A line of a scorecard: one thing told of one column, for one group. Numbers are `NaN` where there is none. */
export interface ScoreRow {
  readonly column: NumberColumn;
  readonly told: Told;
  /** What the row is of: the column's name, and what is told where that is not its mean. */
  readonly of: string;
  readonly group: number;
  /** The unit of `typical`, its bounds, `sd`, `centred` and `poor`. */
  readonly unit: Unit | null;
  readonly typical: number;
  readonly interval: Interval;
  /** Why a mean has no interval. */
  readonly without: WithoutInterval | null;
  readonly sd: number;
  readonly median: number;
  readonly centred: number;
  readonly poor: number;
  readonly n: number;
  /** `NaN`, as is `nPoor`, where the table does not tell where the face was hit. */
  readonly nCentred: number;
  readonly nPoor: number;
  readonly stints: number;
  /** How many of the n a share counts; `NaN` for what is no share. */
  readonly count: number;
  /** Below which a spin is low, in the column's unit; `NaN` for any other row. */
  readonly limit: number;
}

/** Below this share of the head's own median a spin is low unless told otherwise. Our own choice, no source. */
export const lowSpinShare = 0.8;

/** What is asked of a scorecard. */
export interface Asked {
  readonly columns: readonly NumberColumn[];
  readonly windows: readonly Window[];
  /** A spin below this is low, in the unit of the column; `null` for `lowSpinShare` of each group's own median. */
  readonly lowSpin: number | null;
  readonly confidence: number;
}

const noInterval: Interval = { from: Number.NaN, to: Number.NaN };

/** All rows, by column, what is told of it, and group. */
export function scoreRows(table: Table, used: UsedShots, centred: readonly Centred[] | null, asked: Asked, checkpoint: () => void): readonly ScoreRow[] {
  return asked.columns.flatMap((column) => {
    checkpoint();
    const shots = used.groups.map((_, group) => shotsOf(column, used, centred, group));
    const means = headMeans(shotData(table, column, used), used.stint !== null, asked.confidence);
    const rows = (of: string, told: Told, row: (group: Shots, i: number) => Partial<ScoreRow>): readonly ScoreRow[] =>
      shots.map((own, group) => ({ ...blank(own, column, group), stints: means[group]!.stints, told, of, ...row(own, group) }));
    const share = (told: Told, of: string, holds: (own: Shots) => (value: number) => boolean) =>
      rows(of, told, (own) => shareOf(own, holds(own), asked.confidence));
    const isAimed = column.name === "offline";
    const low = (own: Shots): number => asked.lowSpin ?? lowSpinShare * median(own.all);
    return [
      ...rows(isAimed ? `${column.name} (aim)` : column.name, isAimed ? "aim" : "mean", (own, group) => {
        const { interval, without } = means[group]!;
        return { ...across(own, mean), interval, without, sd: sampleSd(own.all), median: median(own.all) };
      }),
      ...(isAimed ? rows(`${column.name} (spread)`, "spread", (own) => across(own, sampleSd)) : []),
      ...(column.name === "spin_rate"
        ? share("low", `${column.name} (low)`, (own) => (value) => value < low(own)).map((row) => ({ ...row, limit: low(shots[row.group]!) }))
        : []),
      ...asked.windows.filter((window) => window.column === column.name).flatMap((window) => share("window", `${column.name} (${windowInWords(window)})`, () => (value) => isInside(value, window))),
    ];
  });
}

/** The values of one group, and those of its centred and its poor strikes; `null` where these cannot be told apart. */
interface Shots {
  readonly all: Float64Array;
  readonly centred: Float64Array | null;
  readonly poor: Float64Array | null;
}

function shotsOf(column: NumberColumn, used: UsedShots, centred: readonly Centred[] | null, group: number): Shots {
  const own = Array.from(used.rows.keys()).filter((i) => used.group[i] === group && !Number.isNaN(column.values[used.rows[i]!]!));
  const values = (some: readonly number[]): Float64Array => Float64Array.from(some, (i) => column.values[used.rows[i]!]!);
  const struck = (where: boolean): Float64Array | null => (centred === null ? null : values(own.filter((i) => centred[i] === where)));
  return { all: values(own), centred: struck(true), poor: struck(false) };
}

function blank(own: Shots, column: NumberColumn, group: number): Omit<ScoreRow, "of" | "told" | "stints"> {
  const none = Number.NaN;
  return {
    column,
    group,
    unit: column.unit,
    typical: none,
    interval: noInterval,
    without: null,
    sd: none,
    median: none,
    centred: none,
    poor: none,
    n: own.all.length,
    nCentred: own.centred?.length ?? none,
    nPoor: own.poor?.length ?? none,
    count: none,
    limit: none,
  };
}

/** The same number of all shots, of the centred and of the poor ones. */
function across({ all, centred, poor }: Shots, number: (values: Float64Array) => number): Pick<ScoreRow, "typical" | "centred" | "poor"> {
  const of = (values: Float64Array | null): number => (values === null ? Number.NaN : number(values));
  return { typical: of(all), centred: of(centred), poor: of(poor) };
}

/** The share of shots for which something holds, in %, with Wilson's interval from 5 shots on. */
function shareOf(own: Shots, holds: (value: number) => boolean, confidence: number): Partial<ScoreRow> {
  const percent = (values: Float64Array): number => (values.length === 0 ? Number.NaN : (100 * values.filter(holds).length) / values.length);
  const count = own.all.filter(holds).length;
  const { from, to } = wilsonInterval(count, own.all.length, confidence);
  const interval = own.all.length < leastShots ? noInterval : { from: 100 * from, to: 100 * to };
  return { ...across(own, percent), unit: "%", interval, count };
}

/** `14 to 18°`, `from 90 ft`, `up to 4500 rpm`. */
export function windowInWords({ from, to, unit }: Window): string {
  const label = unit === null ? "" : unit === "deg" ? "°" : ` ${unitLabel(unit)}`;
  const number = (value: number): string => formatNumber(value, digitsAsStated(value));
  if (from === null) return `up to ${number(to!)}${label}`;
  return to === null ? `from ${number(from)}${label}` : `${number(from)} to ${number(to)}${label}`;
}
