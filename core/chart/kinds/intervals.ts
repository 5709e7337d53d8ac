import { digitsAsStated, digitsForColumn, digitsOfInterval, formatMeasure, formatNumber, formatShare } from "../../present/format-number";
import type { ChartKind } from "../../query/vocabulary";
import type { Chart, NumberColumn, Table } from "../../table/table";
import { findColumn, valueAt } from "../../table/table";
import { emptyChart, extent, makeChart, titled } from "../chart-parts";
import { numbersOf } from "../drawn-rows";
import { inWords } from "../field-name";
import { wrapWords } from "../fit-spec";
import { tooMany } from "../kind-options";
import { textWidth } from "../text-width";

/** Estimates with their intervals, one below another: the picture of `compare`. */
export const intervals: ChartKind = {
  name: "intervals",
  help: {
    summary: "Differences with their intervals against zero and the margin, each with its verdict in words.",
    example: 'chart.intervals(shots.compare({ of: "carry", by: "head" }))',
  },
  needs: ["difference", "from", "to"],
  tableOf: "compare",
  options: {},
  build: (table, _options, context) => tooMany(table, context) ?? buildIntervals(table),
};

/** A row as it is drawn; what is missing is `null`. */
interface Bar {
  /** The pair, and the column where rows are of several: what stands once above rows that follow one another. */
  readonly pair: string;
  /** The pair with its kind of strikes: how sentences name the row. */
  readonly label: string;
  readonly words: string;
  readonly strikes: string;
  readonly difference: number | null;
  readonly from: number | null;
  readonly to: number | null;
  readonly from90: number | null;
  readonly to90: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

/** A bar with its place, in pixels from the top of the plot. */
interface PlacedBar extends Bar {
  /** What stands in bold above it; empty for a further row of the same pair. */
  readonly heading: string;
  readonly headingAt: number;
  readonly text: string;
  readonly wordsAt: number;
  readonly barAt: number;
  readonly top: number;
  readonly bottom: number;
}

/** Pixels of the type of a heading and of words, and what a line of either may take, so that nothing is cut at 300 pixels. */
const type = { heading: 12, words: 11 };
const widestLine = 264;

/** Pixels of a heading, of a line of words, of a bar with the room around it, and between pairs. */
const size = { heading: 17, line: 14, bar: 27, gap: 8 };

/**
 * The picture of a table of differences (the columns of `compare`): a row a difference, thin bars for the
 * interval `from` to `to` and thick ones for the 90 % interval, the margin shaded, the verdict in words above each. Rows
 * of one pair stand together below its name.
 *
 * @param confidence of the interval `from` to `to`, 0..1; the table's report tells it unless given. Without either the
 * chart says "the interval" and no number.
 */
export function buildIntervals(table: Table, confidence = table.report?.confidence): Chart {
  const difference = numbersOf(table, "difference");
  const of = soleText(table, "of");
  const title = of === null ? "Differences" : `Differences in ${inWords(of)}`;
  if (table.rowCount === 0) return emptyChart(title, "There is no pair to compare.", table);

  const bars = barsOf(table, difference);
  const { placed, height } = place(bars);
  const x = { type: "quantitative", title: axisTitle(difference, of), scale: { domain: reach(bars), zero: true }, axis: { grid: false, tickCount: 7 } };
  const at = (field: string): object => ({ field, type: "quantitative", axis: null, scale: { domain: [0, height], reverse: true, zero: false, nice: false } });
  const kinds = [...new Set(bars.map((each) => each.strikes))].sort();
  const scale = { domain: kinds };
  const colour = kinds.length < 2 ? {} : { color: { field: "strikes", type: "nominal", scale, legend: null } };
  const shape = kinds.length < 2 ? {} : { shape: { field: "strikes", type: "nominal", scale, legend: null } };
  const spec = {
    title: titled(title, table, keyInWords(bars, difference, confidence)),
    height,
    layer: [
      {
        data: { values: placed.filter((each) => each.low !== null) },
        mark: { type: "rect", style: "margin" },
        encoding: { x: { ...x, field: "low" }, x2: { field: "high" }, y: at("top"), y2: { field: "bottom" } },
      },
      {
        data: { values: placed },
        mark: { type: "rule", style: "reference" },
        encoding: { x: { ...x, datum: 0 }, y: at("top"), y2: { field: "bottom" } },
      },
      {
        data: { values: placed.filter((each) => each.from !== null) },
        mark: { type: "rule", strokeWidth: 1.5 },
        encoding: { x: { ...x, field: "from" }, x2: { field: "to" }, y: at("barAt"), ...colour },
      },
      {
        data: { values: placed.filter((each) => each.from90 !== null) },
        mark: { type: "rule", strokeWidth: 5 },
        encoding: { x: { ...x, field: "from90" }, x2: { field: "to90" }, y: at("barAt"), ...colour },
      },
      {
        data: { values: placed.filter((each) => each.difference !== null) },
        mark: { type: "point", style: "mean", size: 70 },
        encoding: { x: { ...x, field: "difference" }, y: at("barAt"), ...colour, ...shape },
      },
      {
        data: { values: placed.filter((each) => each.heading !== "") },
        mark: { type: "text", style: "label", fontWeight: 600, align: "left", baseline: "top", fontSize: type.heading, lineBreak: "\n", lineHeight: size.heading - 2 },
        encoding: { x: { value: 0 }, y: at("headingAt"), text: { field: "heading" } },
      },
      {
        data: { values: placed },
        mark: { type: "text", style: "label", align: "left", baseline: "top", lineBreak: "\n", lineHeight: size.line },
        encoding: { x: { value: 0 }, y: at("wordsAt"), text: { field: "text" } },
      },
    ],
  };
  return makeChart(spec, {}, table, [
    `${title}: ${bars.length === 1 ? "one pair" : `${bars.length} rows`}.`,
    ...bars.slice(0, 12).map((each) => `${each.label}: ${each.words}.`),
  ]);
}

/** The bars one below another, each with its words above it and each pair with its name above its first. */
function place(bars: readonly Bar[]): { readonly placed: readonly PlacedBar[]; readonly height: number } {
  const isSingle = bars.every((bar, i) => i === 0 || bar.pair !== bars[i - 1]!.pair);
  const texts = bars.map((bar) => (isSingle || bar.strikes === "" ? bar.words : `${strikesInWords(bar.strikes)}: ${bar.words}`));
  let down = 0;
  const placed = bars.map((bar, i): PlacedBar => {
    const isFirst = i === 0 || bar.pair !== bars[i - 1]!.pair;
    if (isFirst && i > 0) down += size.gap;
    const headingAt = down;
    const heading = isFirst ? breakPair(isSingle ? bar.label : bar.pair) : "";
    if (isFirst) down += size.heading * heading.split("\n").length;
    const wordsAt = down;
    const whole = texts[i]!;
    const text = textWidth(whole, type.words) > widestLine ? whole.slice(0, whole.length - bar.words.length) + bar.words.replace(": ", ":\n") : whole;
    down += size.line * text.split("\n").length;
    const top = down + 3;
    down += size.bar;
    const bottom = down - 5;
    return { ...bar, heading, headingAt, text, wordsAt, barAt: (top + bottom) / 2, top, bottom };
  });
  return { placed, height: down };
}

/** A pair whose names are too long for a line, in lines of which the one with the minus begins anew. */
function breakPair(pair: string): string {
  const fits = (line: string): boolean => textWidth(line, type.heading, true) <= widestLine;
  return fits(pair) ? pair : pair.split(/ (?=\u2212 )/u).flatMap((name) => wrapWords(name, fits)).join("\n");
}

function strikesInWords(strikes: string): string {
  return strikes === "same" ? "same strikes" : strikes;
}

function barsOf(table: Table, difference: NumberColumn): Bar[] {
  const from = numbersOf(table, "from");
  const to = numbersOf(table, "to");
  const digits = digitsOfInterval(from, to) ?? digitsForColumn(difference);
  const text = (name: string, row: number): string | null => {
    const column = findColumn(table, name);
    return column?.kind === "text" ? (valueAt(column, row) as string | null) : null;
  };
  const number = (name: string, row: number): number | null => {
    const column = findColumn(table, name);
    return column?.kind === "number" ? (valueAt(column, row) as number | null) : null;
  };
  const several = soleText(table, "of") === null;
  return Array.from({ length: table.rowCount }, (_, row): Bar => {
    const heads = [text("head", row), text("against", row)].filter((part) => part !== null).join(" \u2212 ");
    const strikes = text("strikes", row);
    const pair = [heads === "" ? `row ${row + 1}` : heads, several ? text("of", row) : null].filter((part) => part !== null).join(", ");
    const margin = number("margin", row);
    const interval =
      number("from", row) === null || number("to", row) === null
        ? "no interval"
        : `${formatNumber(from.values[row]!, digits)} to ${formatNumber(to.values[row]!, digits)}`;
    const shown = number("difference", row);
    const numbers = shown === null ? "no difference" : `${formatMeasure(shown, digits, difference.unit)} (${interval})`;
    const verdict = text("verdict", row);
    return {
      pair,
      label: strikes === null ? pair : `${pair}, ${strikesInWords(strikes)}`,
      words: verdict === null ? numbers : `${numbers}: ${verdict}`,
      strikes: strikes ?? "",
      difference: shown,
      ...bounds("from", "to", number("from", row), number("to", row)),
      ...bounds("from90", "to90", number("from90", row), number("to90", row)),
      ...bounds("low", "high", margin === null ? null : -Math.abs(margin), margin === null ? null : Math.abs(margin)),
    } as Bar;
  });
}

/** Both bounds, or neither: half an interval is none. */
function bounds(low: string, high: string, from: number | null, to: number | null): Record<string, number | null> {
  return from === null || to === null ? { [low]: null, [high]: null } : { [low]: from, [high]: to };
}

/** What is shown of the axis: every bar, zero and the margin, with room at both ends. */
function reach(bars: readonly Bar[]): readonly [number, number] {
  const ends = bars.flatMap((bar) => [bar.difference, bar.from, bar.to, bar.from90, bar.to90, bar.low, bar.high]);
  const [least, most] = extent([0, ...ends.filter((end) => end !== null)]);
  const pad = (most - least) * 0.05 || 1;
  return [least - pad, most + pad];
}

function axisTitle(difference: NumberColumn, of: string | null): string {
  const unit = difference.unit === null ? "" : ` (${difference.unit})`;
  return of === null ? `difference${unit}` : `difference in ${inWords(of)}${unit}`;
}

function keyInWords(bars: readonly Bar[], difference: NumberColumn, confidence: number | undefined): string {
  const margins = new Set(bars.flatMap((bar) => (bar.high === null ? [] : [bar.high])));
  const [margin] = margins;
  const parts = [
    bars.some((bar) => bar.from !== null) ? `Thin bars: ${confidence === undefined ? "the interval" : `${formatShare(confidence)} interval`}.` : "",
    bars.some((bar) => bar.from90 !== null) ? "Thick bars: 90 % interval." : "",
    margin === undefined ? "" : margins.size > 1 ? "Shaded: within the margin." : `Shaded: within the margin of ${formatMeasure(margin, digitsAsStated(margin), difference.unit)}.`,
  ];
  return parts.filter((part) => part !== "").join(" ");
}

/** The one value of a text column; `null` when there is no such column or it has several. */
function soleText(table: Table, name: string): string | null {
  const column = findColumn(table, name);
  if (column?.kind !== "text") return null;
  const codes = new Set(column.codes);
  const [code] = codes;
  return codes.size === 1 && code !== undefined && code >= 0 ? column.labels[code]! : null;
}
