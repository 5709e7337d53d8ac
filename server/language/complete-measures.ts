import { headDefaults } from "../../core/session/head-defaults";
import type { ColumnSchema, Schema } from "../../core/table/schema";
import type { NotebookView } from "./notebook-view";
import type { Offer } from "./query-offers";

/** An option that is a measure in the unit of the column `of`. */
export interface MeasureOption {
  readonly option: string;
  readonly help: string;
  readonly of: string;
}

/** Measures of a column: the notebook's margin, or the usual one where that is wanted, and the option's own example or one of the column's unit. */
export function measureOffers({ option, help, of }: MeasureOption, { columns }: Schema, { notebook }: NotebookView): readonly Offer[] {
  const unit = columns.find(({ name }) => name === of)?.unit ?? null;
  const { margins } = notebook.front;
  const own = Object.hasOwn(margins, of) ? margins[of]! : null;
  const usual = Object.hasOwn(headDefaults.iron.margins, of) ? headDefaults.iron.margins[of]! : null;
  const offers = new Map<string, string>();
  if (option === "margin" && own !== null) offers.set(`${own.value} ${own.unit}`, `the notebook's margin of ${of}`);
  else if (option === "margin" && usual !== null && usual.unit === unit) offers.set(`${usual.value} ${unit}`, `the usual margin of ${of}`);
  const example = option === "margin" ? null : exampleIn(help);
  const plain = example !== null && example.unit === unit ? example.text : `1 ${unit}`;
  if (unit !== null && !offers.has(plain)) offers.set(plain, `in the unit of ${of}`);
  return [...offers].map(([label, detail]) => ({ label, kind: "unit", insert: label, detail }));
}

/** Windows of a column: the middle of what it holds, where that is known. */
export function windowOffers({ name, unit, range }: ColumnSchema): readonly Offer[] {
  const [from, to] = range !== undefined && range.high > range.low ? middleOf(range) : [10, 20];
  const last = unit === null ? "" : ` ${unit}`;
  return [`${from} to ${to}${last}`, `from ${from}${last}`, `up to ${to}${last}`].map((label) => ({ label, kind: "unit", insert: label, detail: `a window of ${name}` }));
}

/** The measure that the help of an option names as an example. */
function exampleIn(help: string): { readonly text: string; readonly unit: string } | null {
  const found = /such as "(?<text>[\d.]+ (?<unit>[^"]+))"/u.exec(help)?.groups;
  return found === undefined ? null : { text: found["text"]!, unit: found["unit"]! };
}

/** A quarter of the way in from either end, in round numbers that differ. */
function middleOf({ low, high }: { readonly low: number; readonly high: number }): readonly [from: number, to: number] {
  const quarter = (high - low) / 4;
  const digits = Math.min(10, Math.max(0, -Math.floor(Math.log10(quarter))));
  const round = (value: number): number => Number(value.toFixed(digits));
  return [round(low + quarter), round(high - quarter)];
}
