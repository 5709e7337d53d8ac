import { digitsForColumn, formatNumber, unitLabel } from "../present/format-number";
import { notesOf } from "../present/present-table";
import { shotColumnFacts } from "../table/shot-columns";
import type { Chart, Column, NumberColumn, Table } from "../table/table";
import type { Drawn } from "./drawn-rows";
import { fieldName, groupField, inWords } from "./field-name";
import type { ChartHints, ChartSpec } from "./fit-spec";
import { textWidth } from "./text-width";

/** The title of an axis or a legend: the column in words, with its unit once. */
export function columnTitle(column: Pick<Column, "name"> & { readonly unit?: NumberColumn["unit"] }): string {
  const unit = column.unit ?? null;
  return unit === null ? inWords(column.name) : `${inWords(column.name)} (${unitLabel(unit)})`;
}

/** The title of an axis across the page, with the words for both ends where it has them: `← left · offline (yd) · right →`. */
export function acrossTitle(column: NumberColumn): string {
  const direction = shotColumnFacts(column.name)?.direction ?? null;
  return direction === null ? columnTitle(column) : `← ${direction[1]} · ${columnTitle(column)} · ${direction[0]} →`;
}

/** The column in words as a sentence begins: `Ball speed`. */
export function asSubject(column: string): string {
  const words = inWords(column);
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** Colour and shape of a group column: two channels, one legend. One group needs no legend, and the first no channels. */
export function groupChannels(drawn: Drawn, by: string | null): ChartSpec {
  if (by === null || drawn.by === null || drawn.groups.length === 0) return {};
  const labels = drawn.groups.map((group) => group.label);
  if (labels.length === 1 && labels[0] === drawn.marked[0]) return {};
  const scale = { domain: drawn.marked };
  const legend = labels.length === 1 ? null : { symbolOpacity: 1, symbolSize: 70, values: labels };
  const channel = { field: fieldName(drawn.by), type: "nominal", title: inWords(by), scale, legend };
  return { color: channel, shape: channel };
}

/** The same channels for a layer whose data the chart derives, with the group of a row under `groupField`. */
export function ofDerived(channels: ChartSpec): ChartSpec {
  return Object.fromEntries(Object.entries(channels).map(([channel, definition]) => [channel, { ...(definition as object), field: groupField }]));
}

/** The channels for a layer that another layer's legend explains; to be used with `ownLegends`. */
export function withoutLegends(channels: ChartSpec): ChartSpec {
  return Object.fromEntries(Object.entries(channels).map(([channel, definition]) => [channel, { ...(definition as object), legend: null }]));
}

/** What makes one layer's legend the only one, without dashes of lines around the shapes of its points. */
export const ownLegends: ChartSpec = { legend: { color: "independent", shape: "independent", strokeDash: "independent" } };

/** Pixels of the longest label in the legend of the groups. */
export function legendLabel(drawn: Drawn): number {
  return Math.max(20, ...drawn.groups.map((group) => textWidth(group.label, 11)));
}

/** Tooltips of the given columns of the drawn table, numbers with the digits and the unit of their column. */
export function tooltips(table: Table): readonly ChartSpec[] {
  return table.columns.map((column) => ({
    field: fieldName(column.name),
    title: columnTitle(column),
    ...(column.kind === "number"
      ? { type: "quantitative", format: `.${digitsForColumn(column)}f` }
      : { type: "nominal" }),
  }));
}

/** The range of some numbers in words: `142.1 to 171.3 yd`. */
export function rangeInWords(column: NumberColumn): string {
  const digits = digitsForColumn(column);
  const [least, most] = extent(column.values);
  const unit = column.unit === null ? "" : ` ${unitLabel(column.unit)}`;
  if (least === most) return `${formatNumber(least, digits)}${unit}`;
  return `${formatNumber(least, digits)} to ${formatNumber(most, digits)}${unit}`;
}

/** The least and the greatest of some numbers, `NaN` skipped; infinities the wrong way round when there are none. */
export function extent(values: Iterable<number>): readonly [number, number] {
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    if (value < least) least = value;
    if (value > most) most = value;
  }
  return [least, most];
}

/** The groups in words with their counts: `Heron (30), Wren (29)`; cut after eight. */
export function groupsInWords(drawn: Drawn): string {
  const named = drawn.groups.filter((group) => group.label !== "").map((group) => `${group.label} (${group.rows.length})`);
  return named.length > 8 ? `${named.slice(0, 8).join(", ")} and ${named.length - 8} more` : named.join(", ");
}

/** How many rows are not drawn and why, as a sentence; empty when all are. */
export function leftOut(drawn: Drawn, numbers: readonly string[]): string {
  const count = drawn.of - drawn.table.rowCount;
  if (count === 0) return "";
  return `${count} of ${drawn.of} ${drawn.noun} not drawn: no ${numbers.map(inWords).join(" or no ")}.`;
}

/** A title with what a reader must know below it; empty parts are left out. */
export function titled(text: string, table: Table, ...below: readonly string[]): ChartSpec {
  const subtitle = [...below, ...notesOf(table)].filter((part) => part !== "");
  return subtitle.length === 0 ? { text } : { text, subtitle };
}

/** A chart of the given parts, with its size hints. */
export function makeChart(spec: ChartSpec, hints: ChartHints, table: Table, sentences: readonly string[]): Chart {
  const description = [...sentences, ...notesOf(table)].filter((part) => part !== "").join(" ");
  return { type: "chart", spec: { ...spec, usermeta: { fairstrike: hints } }, table, description };
}

/** A chart that says why nothing is drawn: what is honest where there is nothing to see. */
export function emptyChart(text: string, why: string, table: Table): Chart {
  const spec = {
    title: titled(text, table),
    height: 80,
    layer: [{ mark: { type: "text", style: "remark", fontSize: 12 }, data: { values: [{ why }] }, encoding: { text: { field: "why" } } }],
  };
  return makeChart(spec, {}, table, [/[.?!]$/.test(text) ? text : `${text}.`, why]);
}
