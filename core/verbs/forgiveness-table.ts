import type { HeadLosses, JudgedLosses, LossPair, PlaceLoss } from "../stats/judge-losses";
import type { ColumnSchema } from "../table/schema";
import type { Column, NumberColumn } from "../table/table";
import { numberColumn, textColumn } from "../table/table";
import type { Unit } from "../units";
import { marginColumn } from "./margin-column";

/** What the rows of one table share. */
export interface ForgivenessWords {
  readonly column: NumberColumn;
  /** What the groups are: `head`. */
  readonly by: string;
  readonly groups: readonly string[];
  /** For each group its used shots, those with a known strike, and those with a value of the column. */
  readonly used: readonly { readonly shots: number; readonly struck: number; readonly valued: number }[];
  readonly margin: number;
  readonly confidence: number;
  readonly orderKnown: boolean;
  /** Whether a share of the column means anything: not where a value may lie on either side of 0. */
  readonly isRatio: boolean;
}

/** One row: what a head loses at a place, or by how much two heads differ over the common strikes. */
export type ForgivenessRow = { readonly head: HeadLosses; readonly at: PlaceLoss } | { readonly head: HeadLosses; readonly other: HeadLosses; readonly pair: LossPair };

/** One column: its name, its kind, its value for a loss and for a difference; `null` and `NaN` are missing. */
type Maker = readonly [
  name: string,
  kind: "text" | "count" | "measure" | "mm" | "%",
  ofLoss: (at: PlaceLoss, head: HeadLosses, words: ForgivenessWords) => string | number | null,
  ofPair: (pair: LossPair, head: HeadLosses, other: HeadLosses, words: ForgivenessWords) => string | number | null,
];

const none = (): null => null;
const share = (value: (at: PlaceLoss) => number) => (at: PlaceLoss, _: HeadLosses, words: ForgivenessWords): number => (words.isRatio ? 100 * value(at) : Number.NaN);

const makers: readonly Maker[] = [
  ["head", "text", (_, head, words) => words.groups[head.head]!, (_, head, __, words) => words.groups[head.head]!],
  ["against", "text", none, (_, __, other, words) => words.groups[other.head]!],
  ["of", "text", (_, __, words) => words.column.name, (_, __, ___, words) => words.column.name],
  ["place", "text", (at) => at.place, () => "common strikes"],
  ["x", "mm", (at) => at.at?.x ?? null, none],
  ["y", "mm", (at) => at.at?.y ?? null, none],
  ["loss", "measure", (at) => at.loss.difference, none],
  ["difference", "measure", none, (pair) => pair.difference],
  ["from", "measure", (at) => at.interval.from, (pair) => pair.wide.from],
  ["to", "measure", (at) => at.interval.to, (pair) => pair.wide.to],
  ["from90", "measure", none, (pair) => pair.narrow.from],
  ["to90", "measure", none, (pair) => pair.narrow.to],
  ["margin", "measure", none, (_, __, ___, words) => words.margin],
  ["verdict", "text", none, (pair) => pair.verdict],
  ["more_shots", "count", none, (pair) => pair.more?.shots ?? null],
  ["retention", "%", share((at) => at.retained.share), none],
  ["retention_from", "%", share((at) => at.retained.interval.from), none],
  ["retention_to", "%", share((at) => at.retained.interval.to), none],
  ["n_near", "count", (at) => at.near, none],
  ["n", "count", (_, head) => head.shots, (_, head) => head.shots],
  ["n_against", "count", none, (_, __, other) => other.shots],
  ["stints", "count", (_, head, words) => stintsOf(head, words), (_, head, __, words) => stintsOf(head, words)],
  ["stints_against", "count", none, (_, __, other, words) => stintsOf(other, words)],
  ["df", "count", (at) => (Number.isNaN(at.interval.from) ? null : at.loss.df), (pair) => (Number.isNaN(pair.wide.from) ? null : pair.df)],
  ["p", "count", none, (pair) => pair.p],
];

function stintsOf(head: HeadLosses, words: ForgivenessWords): number {
  return words.orderKnown ? head.stints : Number.NaN;
}

/** What a first look at losses and differences takes; the rest is empty in most rows, or told in the sentences. */
const shown: readonly string[] = ["head", "against", "place", "loss", "difference", "from", "to", "verdict", "n_near", "n"];

/** Columns that are there but not shown until asked for. */
export const hiddenForgiveness: readonly string[] = makers.flatMap(([name]) => (shown.includes(name) ? [] : [name]));

function unitOf(kind: Maker[1], unit: Unit | null): Unit | null {
  return kind === "measure" ? unit : kind === "mm" || kind === "%" ? kind : null;
}

/** The columns of what is lost of a column with unit `unit`. */
export function forgivenessSchema(unit: Unit | null): readonly ColumnSchema[] {
  return makers.map(([name, kind]) => ({ name, kind: kind === "text" ? "text" : "number", unit: unitOf(kind, unit), origin: "computed" }));
}

/** The rows: the losses of each head place by place, then the differences of the pairs. */
export function forgivenessRows({ heads, pairs }: JudgedLosses): readonly ForgivenessRow[] {
  return [
    ...heads.flatMap((head) => head.places.map((at) => ({ head, at }))),
    ...pairs.map((pair) => ({ head: heads[pair.of]!, other: heads[pair.against]!, pair })),
  ];
}

/** The columns of the rows. */
export function forgivenessColumns(rows: readonly ForgivenessRow[], words: ForgivenessWords): readonly Column[] {
  return makers.map(([name, kind, ofLoss, ofPair]) => {
    const values = rows.map((row) => ("at" in row ? ofLoss(row.at, row.head, words) : ofPair(row.pair, row.head, row.other, words)));
    if (name === "margin") return marginColumn(values as (number | null)[], words.column.unit);
    return kind === "text" ? textColumn(name, values as (string | null)[]) : numberColumn(name, values as (number | null)[], unitOf(kind, words.column.unit));
  });
}
