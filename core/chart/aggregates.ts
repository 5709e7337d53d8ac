/** What a chart's check needs to know of a statistic of many rows. */
interface AggregateFacts {
  /** How it is written before the column in a title. */
  readonly words: string;
  /** Whether its result has the unit of its column. */
  readonly keepsUnit: boolean;
  /** Whether it can be taken of text and truth values. */
  readonly takesAnyKind: boolean;
}

const ofNumbers = (words: string, keepsUnit: boolean): AggregateFacts => ({ words, keepsUnit, takesAnyKind: false });
const ofAny = (words: string): AggregateFacts => ({ words, keepsUnit: false, takesAnyKind: true });

/** The aggregates of Vega-Lite that are taken. Those that resample (`ci0`, `ci1`) are left out: their randomness has no seed. */
const aggregates: Readonly<Record<string, AggregateFacts>> = {
  count: ofAny("count"),
  valid: ofAny("values of"),
  missing: ofAny("missing values of"),
  distinct: ofAny("distinct values of"),
  sum: ofNumbers("sum of", true),
  product: ofNumbers("product of", false),
  mean: ofNumbers("mean", true),
  average: ofNumbers("mean", true),
  variance: ofNumbers("variance of", false),
  variancep: ofNumbers("variance of", false),
  stdev: ofNumbers("SD of", true),
  stdevp: ofNumbers("SD of", true),
  stderr: ofNumbers("standard error of", true),
  median: ofNumbers("median", true),
  q1: ofNumbers("lower quartile of", true),
  q3: ofNumbers("upper quartile of", true),
  min: ofNumbers("least", true),
  max: ofNumbers("greatest", true),
};

/** Operations of a window that are no aggregates, and whether they give a value of their column as it is. */
const windowOperations: Readonly<Record<string, boolean>> = {
  row_number: false, rank: false, dense_rank: false, percent_rank: false, cume_dist: false, ntile: false,
  lag: true, lead: true, first_value: true, last_value: true, nth_value: true,
};

/** Names of the aggregates that are taken. */
export const aggregateNames: readonly string[] = Object.keys(aggregates);

/** Names of what can be taken in a window: the aggregates, and what only a window has. */
export const windowNames: readonly string[] = [...Object.keys(windowOperations), ...aggregateNames];

/** True for an aggregate or an operation of a window whose result has the unit of its column. */
export function keepsUnit(name: string): boolean {
  return factsOf(name)?.keepsUnit ?? (Object.hasOwn(windowOperations, name) && windowOperations[name]!);
}

/** True for an aggregate that can be taken of text and truth values. */
export function takesAnyKind(name: string): boolean {
  return factsOf(name)?.takesAnyKind ?? false;
}

/** An aggregate as it is written before a column: `median`, `sum of`; an unknown one under its name. */
export function aggregateInWords(name: string): string {
  return factsOf(name)?.words ?? name;
}

function factsOf(name: string): AggregateFacts | undefined {
  return Object.hasOwn(aggregates, name) ? aggregates[name] : undefined;
}
