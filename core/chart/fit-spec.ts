import { cut } from "../present/show-value";
import { textWidth } from "./text-width";

/** A Vega-Lite specification as plain JSON. */
export type ChartSpec = Readonly<Record<string, unknown>>;

/** What a chart says about its own size, in `usermeta.fairstrike` of its specification. */
export interface ChartHints {
  /** Height of the plot for one pixel of width, where both axes have one scale. */
  readonly heightPerWidth?: number;
  /** Pixels beyond which the plot does not grow in height; its width follows. */
  readonly tallest?: number;
  /** Pixels that a panel of several should have at least. */
  readonly panelWidth?: number;
  /** Pixels of the longest label in the legend. */
  readonly legendLabel?: number;
}

/** Pixels that a line of text takes, in type of `size` pixels. */
export type MeasureText = (line: string, size: number, isBold: boolean) => number;

const spacing = 24;
const narrowest = 120;
/** Pixels beyond which a label in a legend is cut, what its symbol takes, and what stands between two columns. */
const longestLegendLabel = 400;
const legendSymbol = 24;
const legendPadding = 14;

/**
 * The specification with its sizes set for `width` pixels in all, of which `margins` go to axes and their titles.
 *
 * @param measure how wide text is where the chart is shown; estimated unless given.
 *
 * Widths and heights that the specification states are kept. Titles are broken into lines that fit, legends into
 * columns, and panels into rows.
 */
export function fitSpec(spec: ChartSpec, width: number, margins: number, measure: MeasureText = textWidth): ChartSpec {
  const hints = hintsOf(spec);
  const rows = rowsOf(spec);
  const room = Math.max(narrowest, width - margins);
  const sized = sizeView(spec, room, { hints, rows, measure });
  const fitted: Record<string, unknown> = { ...sized };
  delete fitted["usermeta"];
  if (spec["title"] !== undefined) fitted["title"] = wrapTitle(spec["title"], width - 8, measure);
  const config = (spec["config"] ?? {}) as ChartSpec;
  // A legend stands above the plot and begins where the plot does.
  const labelLimit = Math.min(longestLegendLabel, room - legendSymbol);
  fitted["config"] = { ...config, legend: { columns: legendColumns(room, Math.min(labelLimit, hints.legendLabel ?? 80)), labelLimit } };
  return fitted;
}

/** The size hints of a specification; empty when it has none. What is no number above 0 hints at nothing. */
export function hintsOf(spec: ChartSpec): ChartHints {
  const { fairstrike } = (spec["usermeta"] ?? {}) as { readonly fairstrike?: unknown };
  if (typeof fairstrike !== "object" || fairstrike === null) return {};
  const given = fairstrike as Readonly<Record<string, unknown>>;
  return Object.fromEntries(hintNames.flatMap((name) => (isSize(given[name]) ? [[name, given[name]]] : [])));
}

const hintNames = ["heightPerWidth", "tallest", "panelWidth", "legendLabel"] as const satisfies readonly (keyof ChartHints)[];

function isSize(value: unknown): value is number {
  return typeof value === "number" && Number.isFinite(value) && value > 0;
}

/** What the sizes of a specification's views hang on, beside the room that they have. */
interface Fitting {
  readonly hints: ChartHints;
  /** The inlined rows of the whole specification. */
  readonly rows: readonly ChartSpec[];
  readonly measure: MeasureText;
}

function sizeView(spec: ChartSpec, room: number, fitting: Fitting): ChartSpec {
  const { hints, rows, measure } = fitting;
  const panels = spec["concat"] ?? spec["hconcat"];
  if (Array.isArray(panels)) {
    const least = hints.panelWidth ?? (spec["concat"] === undefined ? 0 : 240);
    const most = spec["columns"] === undefined ? panels.length : Math.min(panels.length, Number(spec["columns"]));
    const besideEachOther = least === 0 ? most : Math.floor((room + spacing) / (least + spacing));
    const columns = spec["concat"] === undefined ? panels.length : Math.max(1, Math.min(most, besideEachOther));
    // Each further panel has an axis of its own, which takes about as much again as the space between them.
    const each = (room - (columns - 1) * spacing * 2) / columns;
    const views = panels.map((panel: ChartSpec) => {
      const view = sizeView(panel, Math.max(narrowest / 2, each), fitting);
      return panel["title"] === undefined ? view : { ...view, title: wrapTitle(panel["title"], Number(view["width"] ?? each), measure) };
    });
    return spec["concat"] === undefined
      ? { ...spec, hconcat: views, spacing }
      : { ...spec, concat: views, columns, spacing };
  }
  if (Array.isArray(spec["vconcat"]))
    return { ...spec, vconcat: spec["vconcat"].map((view: ChartSpec) => sizeView(view, room, fitting)), spacing };
  if (spec["facet"] !== undefined) return sizeFacet(spec, room, fitting);
  return sizeEncodedPanels(spec, room, rows) ?? sizeUnit(spec, room, hints);
}

function sizeUnit(spec: ChartSpec, room: number, hints: ChartHints): ChartSpec {
  if (spec["width"] !== undefined) return spec;
  if (hints.heightPerWidth === undefined) return { ...spec, width: Math.floor(room) };
  const width = Math.floor(Math.min(room, (hints.tallest ?? Number.POSITIVE_INFINITY) / hints.heightPerWidth));
  return { ...spec, width, height: Math.round(width * hints.heightPerWidth) };
}

/** Least width of a panel whose number comes from the data. */
const panelWidth = 150;

/** A facet: its panels get the room that their number, read from the data, leaves to each. */
function sizeFacet(spec: ChartSpec, room: number, fitting: Fitting): ChartSpec {
  const facet = spec["facet"] as ChartSpec;
  const inside = spec["spec"] as ChartSpec;
  const isGrid = facet["row"] !== undefined || facet["column"] !== undefined;
  const count = isGrid ? countValues(facet["column"], fitting.rows) : countValues(facet, fitting.rows);
  const columns = isGrid ? count : columnsFor(count, room, facet["columns"] ?? spec["columns"]);
  const view = sizeView(inside, shareOf(room, columns), fitting);
  return isGrid ? { ...spec, spec: view } : { ...spec, spec: view, columns };
}

/** Panels that the encoding itself makes; `undefined` when it makes none. */
function sizeEncodedPanels(spec: ChartSpec, room: number, rows: readonly ChartSpec[]): ChartSpec | undefined {
  const encoding = (spec["encoding"] ?? {}) as ChartSpec;
  const { facet, row, column } = encoding;
  if (facet === undefined && row === undefined && column === undefined) return undefined;
  if (spec["width"] !== undefined) return spec;
  const count = countValues(facet ?? column, rows);
  const columns = facet === undefined ? count : columnsFor(count, room, (facet as ChartSpec)["columns"]);
  const width = Math.floor(shareOf(room, columns));
  return { ...spec, width, ...(facet === undefined ? {} : { encoding: { ...encoding, facet: { ...(facet as ChartSpec), columns } } }) };
}

function columnsFor(count: number, room: number, told: unknown): number {
  return typeof told === "number" ? told : Math.max(1, Math.min(count, Math.floor(room / panelWidth)));
}

function shareOf(room: number, columns: number): number {
  return Math.max(narrowest / 2, (room - (columns - 1) * spacing) / columns);
}

function countValues(channel: unknown, rows: readonly ChartSpec[]): number {
  const field = (channel as ChartSpec | undefined)?.["field"];
  return typeof field === "string" ? Math.max(1, new Set(rows.map((row) => row[field])).size) : 1;
}

/** The inlined rows of a specification. */
function rowsOf(spec: ChartSpec): readonly ChartSpec[] {
  const { values } = (spec["data"] ?? {}) as { readonly values?: unknown };
  return Array.isArray(values) ? (values as ChartSpec[]) : [];
}

function legendColumns(room: number, label: number): number {
  return Math.max(1, Math.floor((room + legendPadding) / (label + legendSymbol + legendPadding)));
}

function wrapTitle(title: unknown, width: number, measure: MeasureText): unknown {
  const parts = (typeof title === "string" || Array.isArray(title) ? { text: title } : title) as ChartSpec;
  const text = wrapAll(parts["text"], (line) => measure(line, 13, true) <= width);
  const subtitle = wrapAll(parts["subtitle"], (line) => measure(line, 11, false) <= width);
  return { ...parts, ...(text.length === 0 ? {} : { text }), ...(subtitle.length === 0 ? {} : { subtitle }) };
}

function wrapAll(text: unknown, fits: (line: string) => boolean): string[] {
  const lines = text === undefined ? [] : Array.isArray(text) ? text : [text];
  return lines.flatMap((line) => wrapWords(String(line), fits));
}

/** The text in lines that fit, broken at spaces; a word that does not fit a line by itself is cut. */
export function wrapWords(text: string, fits: (line: string) => boolean): string[] {
  const lines: string[] = [];
  for (const word of text.split(/\s+/u).filter((part) => part !== "")) {
    const last = lines.at(-1);
    if (last !== undefined && fits(`${last} ${word}`)) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(cutToFit(word, fits));
  }
  return lines;
}

function cutToFit(word: string, fits: (line: string) => boolean): string {
  let kept = cut(word, 200);
  while (kept.length > 8 && !fits(kept)) kept = cut(kept, Math.ceil(kept.length * 0.9) - 1);
  return kept;
}
