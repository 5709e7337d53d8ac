import { formatMeasure } from "../../core/present/format-number";
import type { Bound, Choice } from "../../core/query/narrow-allowed";
import { foundText } from "../../core/query/narrow-bound";
import type { Wanted } from "../../core/query/narrow-edits";
import type { Facet } from "../../core/query/narrow-facets";
import type { Unit } from "../../core/units";

/** What is wanted of a column while nothing is changed. */
export function wantedAsItIs(facet: Facet): Wanted {
  const { column } = facet;
  const missing = facet.missing?.isTicked ?? false;
  if (facet.kind === "range") return { kind: "range", column, low: facet.low, high: facet.high, missing };
  return { kind: "choice", column, values: facet.values.filter(({ isTicked }) => isTicked).map(({ value }) => value), missing };
}

/** What is wanted of a column in which every row is kept. */
export function wantedAll(facet: Facet): Wanted {
  const { column } = facet;
  if (facet.kind === "range") return { kind: "range", column, low: null, high: null, missing: true };
  return { kind: "choice", column, values: facet.values.map(({ value }) => value), missing: true };
}

/** True where what is wanted of a column leaves rows out. */
export function isNarrowed(facet: Facet, wanted: Wanted): boolean {
  if (facet.missing !== null && !wanted.missing) return true;
  if (wanted.kind === "range") return wanted.low !== null || wanted.high !== null;
  return facet.kind === "choice" && wanted.values.length < facet.values.length;
}

/** A value as an item of a list. */
export function valueLabel(value: Choice): string {
  const text = String(value);
  return text.trim() === "" ? JSON.stringify(text) : text;
}

/** `1 shot`, `32 shots`; empty where they were not counted. */
export function shotCount(count: number | null): string {
  return count === null ? "" : `${count} ${count === 1 ? "shot" : "shots"}`;
}

/** What is wanted of a column, in words. */
export function wantedText(facet: Facet, wanted: Wanted): string {
  if (facet.kind === "range" && wanted.kind === "range") return rangeText(facet, wanted);
  if (facet.kind !== "choice" || wanted.kind !== "choice") return "";
  const ticked = [...facet.values.filter(({ value }) => wanted.values.includes(value)).map(({ value }) => valueLabel(value)), ...(facet.missing !== null && wanted.missing ? ["no value"] : [])];
  const all = facet.values.length + (facet.missing === null ? 0 : 1);
  if (ticked.length === all) return `all ${all}: ${shortList(ticked)}`;
  return `only ${shortList(ticked)}`;
}

/** Names that are listed before the rest are counted. */
const mostListed = 4;

function shortList(names: readonly string[]): string {
  return names.length <= mostListed ? names.join(", ") : `${names.slice(0, mostListed - 1).join(", ")} and ${names.length - mostListed + 1} more`;
}

function rangeText({ found, unit, missing }: Extract<Facet, { kind: "range" }>, wanted: Extract<Wanted, { kind: "range" }>): string {
  const { low, high } = wanted;
  const leftOut = missing !== null && !wanted.missing && low === null && high === null ? "only shots with a value" : "";
  if (low === null && high === null) return [leftOut, found === null ? "" : `found ${foundText(found, unit)}`].filter((part) => part !== "").join(", ");
  const withMissing = missing !== null && wanted.missing ? ", or no value" : "";
  return `only ${endsText(low, high, unit)}${withMissing}`;
}

function endsText(low: Bound | null, high: Bound | null, unit: Unit | null): string {
  const number = ({ value }: Bound, of: Unit | null): string => formatMeasure(value, decimals(value), of);
  if (low !== null && high !== null && low.strict !== true && high.strict !== true) return `${number(low, null)} to ${number(high, unit)}`;
  const ends = [
    ...(low === null ? [] : [`${low.strict === true ? "above" : "from"} ${number(low, unit)}`]),
    ...(high === null ? [] : [`${high.strict === true ? "below" : "up to"} ${number(high, unit)}`]),
  ];
  return ends.join(", ");
}

/** The decimals that a number is written with. */
function decimals(value: number): number {
  return /\.(\d+)$/u.exec(String(value))?.[1]?.length ?? 0;
}
