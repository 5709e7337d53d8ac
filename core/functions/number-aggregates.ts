import type { Aggregate } from "../query/vocabulary";
import { mean, sampleSd, sum } from "../stats/moments";
import { median, medianAbsoluteDeviation, quantile } from "../stats/quantile";
import { eachGroup, groupNumbers } from "./group-values";

/** Aggregates of a column of numbers; missing values are left out, and a group that has too few gives a missing value. */
export const numberAggregates: readonly Aggregate[] = [
  statistic("mean", "The arithmetic mean; it needs one value.", 'shots.groupby("head").rollup({ carry: op.mean("carry") })', mean),
  statistic(
    "sd",
    "The standard deviation of a sample, with divisor n − 1; it needs two values.",
    'shots.groupby("head").rollup({ spread: op.sd("carry") })',
    sampleSd,
  ),
  statistic("median", "The median: half of the values are below it.", 'shots.groupby("head").rollup({ typical: op.median("carry") })', median),
  {
    ...statistic("quantile", "", "", median),
    help: {
      summary: "The value below which a share of the values lies, between order statistics by a straight line (type 7 of Hyndman and Fan).",
      example: 'shots.groupby("head").rollup({ long: op.quantile("carry", 0.9) })',
    },
    numbers: [{ name: "share", least: 0, most: 1 }],
    compute: (column, groups, groupCount, [share]) =>
      eachGroup(groupNumbers(numbersOf(column), groups, groupCount), (values) => quantile(values, share!)),
  },
  statistic(
    "mad",
    "The median absolute deviation from the median, times 1.4826 so that it estimates the sd of normal values.",
    'shots.groupby("head").rollup({ spread: op.mad("carry") })',
    medianAbsoluteDeviation,
  ),
  statistic("min", "The least value.", 'shots.groupby("head").rollup({ shortest: op.min("carry") })', (values) =>
    values.reduce((least, value) => (value >= least ? least : value), Number.NaN),
  ),
  statistic("max", "The greatest value.", 'shots.groupby("head").rollup({ longest: op.max("carry") })', (values) =>
    values.reduce((greatest, value) => (value <= greatest ? greatest : value), Number.NaN),
  ),
  statistic(
    "sum",
    "The sum, with the rounding errors of the additions carried along; it needs one value.",
    'shots.groupby("head").rollup({ all: op.sum("carry") })',
    (values) => (values.length === 0 ? Number.NaN : sum(values)),
  ),
];

/** An aggregate that keeps the column's unit. */
function statistic(name: string, summary: string, example: string, compute: (values: Float64Array) => number): Aggregate {
  return {
    name,
    help: { summary, example },
    of: "number",
    numbers: [],
    type: (column) => ({ kind: "number", unit: column?.unit ?? null }),
    compute: (column, groups, groupCount) => eachGroup(groupNumbers(numbersOf(column), groups, groupCount), compute),
  };
}

function numbersOf(column: Parameters<Aggregate["compute"]>[0]): Float64Array {
  if (column?.kind !== "number") throw new TypeError("this aggregate takes a column of numbers");
  return column.values;
}
