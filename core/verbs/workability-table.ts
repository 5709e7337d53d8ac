import { digitsOfInterval } from "../present/format-number";
import type { MeanContrast } from "../stats/mean-contrast";
import type { GroupSlope, JudgedSlopes, SlopePair } from "../stats/judge-slopes";
import { tQuantile } from "../stats/distributions";
import type { ColumnSchema } from "../table/schema";
import type { Column } from "../table/table";
import { numberColumn, textColumn } from "../table/table";
import type { Unit } from "../units";

/** The slope of one group, with what correcting it for reading errors gives. */
export interface HeadRow extends GroupSlope {
  readonly name: string;
  /** The share of the variance of face-to-path that is no reading error; `NaN` where no error is stated. */
  readonly reliability: number;
  /** `null` where no error is stated or too little is left to correct with. */
  readonly corrected: MeanContrast | null;
}

/** What the rows of a table of workability are made of. */
export interface WorkabilityRows {
  readonly heads: readonly HeadRow[];
  readonly pairs: JudgedSlopes["pairs"];
  readonly margin: number;
  readonly confidence: number;
  /** Whether the strike is taken out, so that only shots of which it is known count. */
  readonly withStrike: boolean;
}

/** One column: its values for the row of a head and for that of a pair. */
type Maker = readonly [
  name: string,
  kind: "text" | Unit | null,
  ofHead: (head: HeadRow, rows: WorkabilityRows) => string | number | null,
  ofPair: (pair: SlopePair, rows: WorkabilityRows) => string | number | null,
];

const makers: readonly Maker[] = [
  ["head", "text", (head) => head.name, (pair, { heads }) => heads[pair.of]!.name],
  ["against", "text", () => null, (pair, { heads }) => heads[pair.against]!.name],
  ["slope", null, (head) => head.slope.difference, () => null],
  ["difference", null, () => null, (pair) => pair.difference],
  ["from", null, (head) => head.interval.from, (pair) => pair.wide.from],
  ["to", null, (head) => head.interval.to, (pair) => pair.wide.to],
  ["from90", null, () => null, (pair) => pair.narrow.from],
  ["to90", null, () => null, (pair) => pair.narrow.to],
  ["margin", null, () => null, (_, { margin }) => margin],
  ["verdict", "text", () => null, (pair) => pair.verdict],
  ["more_shots", null, () => null, (pair) => pair.more?.shots ?? null],
  ["corrected", null, (head) => head.corrected?.difference ?? null, () => null],
  ["corrected_from", null, (head, { confidence }) => correctedInterval(head, confidence)?.from ?? null, () => null],
  ["corrected_to", null, (head, { confidence }) => correctedInterval(head, confidence)?.to ?? null, () => null],
  ["reliability", null, (head) => head.reliability, () => null],
  ["face_to_path_sd", "deg", (head) => head.spread, () => null],
  ["n", null, (head) => head.n, (pair, { heads }) => heads[pair.of]!.n],
  ["n_against", null, () => null, (pair, { heads }) => heads[pair.against]!.n],
  ["stints", null, (head) => head.stints, (pair, { heads }) => heads[pair.of]!.stints],
  ["stints_against", null, () => null, (pair, { heads }) => heads[pair.against]!.stints],
  ["df", null, (head) => head.slope.df, (pair) => pair.df],
  ["p", null, () => null, (pair) => pair.p],
];

/** Columns of slopes and of their differences, which are shown with the same decimals. */
const slopes: ReadonlySet<string> = new Set(["slope", "difference", "from", "to", "from90", "to90", "corrected", "corrected_from", "corrected_to"]);

/** Columns that are there but not shown until asked for. */
export const hiddenWorkability: readonly string[] = ["corrected_from", "corrected_to", "reliability", "df", "p"];

/** The columns of a table of workability; slopes are degrees for a degree, which is a pure number. */
export const workabilitySchema: readonly ColumnSchema[] = makers.map(([name, kind]) => ({
  name,
  kind: kind === "text" ? "text" : "number",
  unit: kind === "text" ? null : kind,
  origin: "computed",
}));

/** One row a head, then one a pair. */
export function workabilityColumns(rows: WorkabilityRows): readonly Column[] {
  const columns = makers.map(([name, kind, ofHead, ofPair]) => {
    const values = [...rows.heads.map((head) => ofHead(head, rows)), ...rows.pairs.map((pair) => ofPair(pair, rows))];
    return kind === "text" ? textColumn(name, values as (string | null)[]) : numberColumn(name, values as (number | null)[], kind);
  });
  const [from, to] = ["from", "to"].map((name) => columns.find((column) => column.name === name));
  const digits = from?.kind === "number" && to?.kind === "number" ? digitsOfInterval(from, to) : null;
  return digits === null ? columns : columns.map((column) => (column.kind === "number" && slopes.has(column.name) ? { ...column, digits } : column));
}

/** The interval of a corrected slope; `null` where there is none. */
export function correctedInterval({ corrected }: HeadRow, confidence: number): { readonly from: number; readonly to: number } | null {
  if (corrected === null || !(corrected.df > 0)) return null;
  const reach = tQuantile((1 + confidence) / 2, corrected.df) * corrected.standardError;
  return { from: corrected.difference - reach, to: corrected.difference + reach };
}
