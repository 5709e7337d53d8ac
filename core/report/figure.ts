import type { ChartSpec } from "../chart/fit-spec";
import { chartSvg } from "../chart/draw-chart";
import { contrastTheme, darkTheme, lightTheme, type ChartTheme } from "../chart/themes";
import type { ChartPayload } from "../present/payload";
import { element, escapeHtml, visible } from "./html-text";

/** The looks that a figure can be asked for. */
export const figureThemes = { light: lightTheme, dark: darkTheme, contrast: contrastTheme } as const;

/** The name of a figure's looks. */
export type FigureTheme = keyof typeof figureThemes;

/** What lies behind a figure: its theme's background, or nothing, with an edge around words so that they show on any. */
export type FigureBackground = "solid" | "transparent";

/** How a figure is drawn. */
export interface FigureForm {
  readonly theme: ChartTheme;
  readonly background: FigureBackground;
  /** Pixels of the whole figure; without a height it is as high as the chart. */
  readonly width: number;
  readonly height?: number;
}

/** A figure that was drawn. */
export interface Figure {
  readonly svg: string;
  /** What keeps it from being read, and what would help; `null` when nothing does. */
  readonly warning: string | null;
}

/** Pixels that a figure may be wide or high, least and most. */
export const figureSizes = { least: 120, most: 7680 } as const;

/** Widths at which a chart is laid out for a figure of a fixed size; the one that fills it with the largest type is taken. */
const layoutWidths = [480, 640, 800, 960, 1200];

/** Pixels around a chart in a figure of a fixed size, of 1000 of its height. */
const rim = 25;

/**
 * A chart as the text of an SVG document that stands alone: exactly of the size asked for, with title and description in
 * it, fonts named with fallbacks, and no outside resource. The same chart and form give the same bytes.
 *
 * @param title what the figure is called where the chart has no title of its own.
 * @throws {Error} when the chart cannot be drawn.
 */
export async function drawFigure(chart: ChartPayload, title: string, form: FigureForm): Promise<Figure> {
  const { theme, background, width } = form;
  const drawn = form.height === undefined ? await layOut(chart.spec, theme, width) : await bestLayout(chart.spec, theme, width, form.height);
  const height = form.height ?? drawn.height * Math.min(1, width / drawn.width);
  const margin = form.height === undefined ? 0 : (form.height * rim) / 1000;
  const scale = Math.min((width - 2 * margin) / drawn.width, (height - 2 * margin) / drawn.height);
  const place = { x: (width - drawn.width * scale) / 2, y: (height - drawn.height * scale) / 2, width: drawn.width * scale, height: drawn.height * scale };
  const whole = { width: String(Math.round(width)), height: String(Math.round(height)) };
  const within = Object.entries(place).map(([name, value]) => `${name}="${Number(value.toFixed(2))}"`).join(" ");
  const marks = drawn.svg.replace(/^<svg\b[^>]*>/u, `<svg ${within} viewBox="0 0 ${drawn.width} ${drawn.height}" fill="none" stroke-miterlimit="10">`);
  const svg = `${element(
    "svg",
    { xmlns: "http://www.w3.org/2000/svg", "xmlns:xlink": "http://www.w3.org/1999/xlink", ...whole, viewBox: `0 0 ${whole.width} ${whole.height}`, role: "img", "aria-labelledby": "title", "aria-describedby": "desc" },
    "\n",
    element("title", { id: "title" }, escapeHtml(titleOf(chart, title))),
    "\n",
    element("desc", { id: "desc" }, escapeHtml(figureWords(chart))),
    "\n",
    background === "solid" ? `${element("rect", { ...whole, fill: theme.background })}\n` : "",
    background === "solid" ? marks : edged(marks, theme.background),
    "\n",
  )}\n`;
  return { svg, warning: tooSmall(scale) };
}

/** Pixels of type below which nobody reads a picture. */
const leastType = 9;

/** What is wrong with a figure drawn at `scale`, and what would help; `null` when its words can be read. */
function tooSmall(scale: number): string | null {
  const type = 11 * scale;
  if (type >= leastType) return null;
  return `the words of this figure are ${Math.max(1, Math.round(type))} pixels high, too small to read: save it without a size, in a larger one, or draw fewer heads`;
}

/** The chart's own title in one line, or `otherwise` when it has none: what holds of its data, which may stand above it, is no title. */
function titleOf({ spec: { title }, table }: ChartPayload, otherwise: string): string {
  const text = typeof title === "object" && title !== null && !Array.isArray(title) ? (title as ChartSpec)["text"] : title;
  const words = (Array.isArray(text) ? text : [text]).filter((line) => typeof line === "string" && !table.notes.includes(line)).join(" ");
  return words === "" ? otherwise : words;
}

/** What a figure shows, in words, for those who do not see it: what the chart says, what its table says, and what holds of it. */
export function figureWords({ description, table }: ChartPayload): string {
  const columns = table.columns.filter(({ hidden }) => !hidden).map(({ name, unit }) => (unit === null ? name : `${name} (${unit})`));
  const rows = `Drawn from ${table.row_count} ${table.row_count === 1 ? "row" : "rows"} of ${columns.join(", ")}.`;
  return [description, ...table.sentences, ...(columns.length === 0 ? [] : [rows]), ...(table.method === null ? [] : [`Method: ${table.method}`]), ...table.notes.filter((note) => !description.includes(note))].filter((part) => part !== "").join(" ");
}

interface Laid {
  readonly svg: string;
  readonly width: number;
  readonly height: number;
}

async function layOut(spec: ChartSpec, theme: ChartTheme, width: number): Promise<Laid> {
  const svg = visible(await chartSvg(spec, theme, width));
  const size = /^<svg\b[^>]*?\bwidth="([\d.]+)"[^>]*?\bheight="([\d.]+)"/u.exec(svg);
  if (size === null) throw new Error("the chart has no size");
  return { svg, width: Number(size[1]), height: Number(size[2]) };
}

async function bestLayout(spec: ChartSpec, theme: ChartTheme, width: number, height: number): Promise<Laid> {
  let best: Laid | null = null;
  const scaleOf = (laid: Laid): number => Math.min(width / laid.width, height / laid.height);
  for (const each of layoutWidths) {
    const laid = await layOut(spec, theme, each);
    if (best === null || scaleOf(laid) > scaleOf(best)) best = laid;
  }
  return best!;
}

/** The drawing with an edge in `colour` around its words, below their letters, and along both sides of its lines. */
function edged(svg: string, colour: string): string {
  return svg
    .replaceAll(/<text\b(?![^>]*\bstroke=)/gu, `<text stroke="${escapeHtml(colour)}" stroke-width="3" stroke-linejoin="round" paint-order="stroke"`)
    .replaceAll(/<(?:path|line)\b[^>]*\bstroke="[^>]*\/>/gu, (line) => (isFaint(line) ? line : edgeOf(line, escapeHtml(colour)) + line));
}

/** True for what needs no edge: shapes, which have one, and lines that are to stand back, as grids are. */
function isFaint(line: string): boolean {
  const opacity = (name: string): number => Number(new RegExp(`\\s${name}="([\\d.]+)"`, "u").exec(line)?.[1] ?? 1);
  return /\sfill="(?!none|transparent)/u.test(line) || opacity("opacity") * opacity("stroke-opacity") < 0.5;
}

/** A line below another, in `colour` and wider, which says nothing and has no gaps. */
function edgeOf(line: string, colour: string): string {
  const width = Number(/\sstroke-width="([\d.]+)"/u.exec(line)?.[1] ?? 1);
  return line
    .replaceAll(/\s(?:aria-[a-z]+|role|stroke-width|stroke-dasharray|stroke-dashoffset)="[^"]*"/gu, "")
    .replace(/\sstroke="[^"]*"/u, ` aria-hidden="true" stroke="${colour}" stroke-width="${width + 2}"`);
}
