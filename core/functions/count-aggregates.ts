import type { Aggregate } from "../query/vocabulary";
import type { Column } from "../table/table";

const pureNumber = { kind: "number", unit: null } as const;

/** Aggregates that count rows, or take one value as it is. */
export const countAggregates: readonly Aggregate[] = [
  {
    name: "count",
    help: { summary: "How many rows there are.", example: 'shots.groupby("head").rollup({ shots: op.count() })' },
    of: "none",
    numbers: [],
    type: () => pureNumber,
    compute: (_, groups, groupCount) => countRows(groups, groupCount, () => true),
  },
  {
    name: "count_present",
    help: { summary: "How many values are there, missing ones left out.", example: 'shots.groupby("head").rollup({ n: op.count_present("carry") })' },
    of: "any",
    numbers: [],
    type: () => pureNumber,
    compute: (column, groups, groupCount) => countRows(groups, groupCount, (row) => !isMissing(column!, row)),
  },
  {
    name: "count_missing",
    help: { summary: "How many values are missing.", example: 'shots.groupby("head").rollup({ lost: op.count_missing("spin_rate") })' },
    of: "any",
    numbers: [],
    type: () => pureNumber,
    compute: (column, groups, groupCount) => countRows(groups, groupCount, (row) => isMissing(column!, row)),
  },
  {
    name: "distinct",
    help: { summary: "How many different values there are, missing ones left out.", example: "shots.rollup({ heads: op.distinct(\"head\") })" },
    of: "any",
    numbers: [],
    type: () => pureNumber,
    compute: (column, groups, groupCount) => {
      const seen = Array.from({ length: groupCount }, () => new Set<number>());
      const codes = codesOf(column!);
      groups.forEach((group, row) => {
        if (group >= 0 && !isMissing(column!, row)) seen[group]!.add(codes[row]!);
      });
      return Float64Array.from(seen, (values) => values.size);
    },
  },
  {
    name: "first",
    help: { summary: "The first value that is not missing.", example: 'shots.groupby("head").rollup({ ball: op.first("ball") })' },
    of: "any",
    numbers: [],
    type: (column) => ({ kind: column?.kind ?? "number", unit: column?.unit ?? null }),
    compute: (column, groups, groupCount) => {
      const rows = new Int32Array(groupCount).fill(-1);
      groups.forEach((group, row) => {
        if (group >= 0 && rows[group]! < 0 && !isMissing(column!, row)) rows[group] = row;
      });
      const codes = codesOf(column!);
      if (column!.kind !== "text") return Float64Array.from(rows, (row) => (row < 0 ? Number.NaN : codes[row]!));
      const taken = [...new Set(Array.from(rows, (row) => (row < 0 ? -1 : codes[row]!)))].filter((code) => code >= 0);
      const renumbered = new Map(taken.map((code, index) => [code, index]));
      const { labels } = column!;
      return { codes: Int32Array.from(rows, (row) => (row < 0 ? -1 : renumbered.get(codes[row]!)!)), labels: taken.map((code) => labels[code]!) };
    },
  },
];

function countRows(groups: Int32Array, groupCount: number, counts: (row: number) => boolean): Float64Array {
  const result = new Float64Array(groupCount);
  for (let row = 0; row < groups.length; row++) if (groups[row]! >= 0 && counts(row)) result[groups[row]!]!++;
  return result;
}

function codesOf(column: Column): ArrayLike<number> {
  return column.kind === "text" ? column.codes : column.values;
}

function isMissing(column: Column, row: number): boolean {
  switch (column.kind) {
    case "number":
      return Number.isNaN(column.values[row]!);
    case "text":
      return column.codes[row]! < 0;
    case "truth":
      return column.values[row]! < 0;
  }
}
