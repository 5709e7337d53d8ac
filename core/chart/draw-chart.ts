import type { LoggerInterface, Mark, Spec } from "vega";
import * as vega from "vega";
import { expressionInterpreter } from "vega-interpreter";
import type { TopLevelSpec } from "vega-lite";
import { compile } from "vega-lite";
import type { ChartSpec, MeasureText } from "./fit-spec";
import { fitSpec } from "./fit-spec";
import { textWidth } from "./text-width";
import type { ChartTheme } from "./themes";
import { chartConfig } from "./themes";

/** What Vega measures text with; it is not in its types. */
interface TextMetrics {
  width: (item: { readonly font?: string; readonly fontSize?: number; readonly fontWeight?: string | number }, line: string) => number;
}

const { textMetrics } = vega as unknown as { readonly textMetrics: TextMetrics };

/** Pixels that axes commonly take; what they take of a chart is measured. */
const usualMargins = 64;
/** Pixels by which labels at the ends of an axis may stick out otherwise once the plot has another width. */
const reserve = 5;

/** Loads nothing, whatever a specification asks for, and makes every link empty. */
const closedLoader = {
  load: () => Promise.reject(new Error("charts load nothing: their data are inlined")),
  // It must give an empty link and not fail: a failure here is an unhandled rejection, which ends a process.
  sanitize: () => Promise.resolve({ href: "" }),
  http: () => Promise.reject(new Error("charts load nothing: their data are inlined")),
  file: () => Promise.reject(new Error("charts load nothing: their data are inlined")),
};

/**
 * The Vega specification of a Vega-Lite specification with the configuration of a theme.
 *
 * @param warn is told what Vega-Lite finds odd; such things stop nothing.
 */
export function compileChart(spec: ChartSpec, config: ChartSpec, warn: (message: string) => void = () => {}): Spec {
  return compile(copyOf(spec) as unknown as TopLevelSpec, { config: copyOf(config), logger: loggerOf(warn) }).spec;
}

/** Vega-Lite writes to the console unless it is given a logger. */
function loggerOf(warn: (message: string) => void): LoggerInterface {
  function tell(this: LoggerInterface, ...parts: readonly unknown[]): LoggerInterface {
    warn(parts.map(String).join(" "));
    return this;
  }
  function ignore(this: LoggerInterface): LoggerInterface {
    return this;
  }
  return { level: ignore, warn: tell, error: tell, info: ignore, debug: ignore };
}

/**
 * A view of a compiled chart, not drawn yet: `renderer` is `svg` where there is a page to draw on, else `none`.
 *
 * Expressions are interpreted, never compiled to code, and nothing can be loaded. Whoever gets it calls `finalize`.
 */
export function makeView(spec: Spec, renderer: "svg" | "none"): vega.View {
  return new vega.View(vega.parse(spec, undefined, { ast: true }), {
    expr: expressionInterpreter,
    loader: closedLoader,
    renderer,
    logLevel: 0,
  });
}

/**
 * The chart compiled so that it is `width` pixels wide, axes, legends and titles included.
 *
 * A plot whose size the specification states, or whose panels come from the data, may be wider.
 */
export async function compileToFit(spec: ChartSpec, theme: ChartTheme, width: number): Promise<Spec> {
  const config = chartConfig(theme);
  const measure: MeasureText = (line, fontSize, isBold) =>
    textMetrics.width({ font: theme.font, fontSize, fontWeight: isBold ? 600 : 400 }, line);
  // Titles and legends are fitted by themselves; what the axes take is known only once they are laid out.
  const { title: _title, ...plain } = fitSpec(spec, width, usualMargins, measure);
  const taken = await measureWidth(withoutLegends(compileChart(plain, config)));
  return compileChart(fitSpec(spec, width, Math.max(0, usualMargins + reserve + Math.ceil(taken - width)), measure), config);
}

/**
 * The chart as the text of an SVG document, laid out without a screen; the same chart gives the same bytes each time.
 *
 * Text is measured by estimate, with or without a canvas at hand, so that every machine gives the same layout.
 */
export async function chartSvg(spec: ChartSpec, theme: ChartTheme, width: number): Promise<string> {
  if (estimating++ === 0) measured = textMetrics.width;
  textMetrics.width = (item, line) => textWidth(line, item.fontSize ?? 11, item.fontWeight === "bold" || Number(item.fontWeight) > 500);
  let view: vega.View | null = null;
  try {
    view = makeView(await compileToFit(spec, theme, width), "none");
    // Vega numbers clip paths and gradients through the life of a program.
    vega.resetSVGDefIds();
    return await view.toSVG();
  } finally {
    view?.finalize();
    if (--estimating === 0) textMetrics.width = measured;
  }
}

/** How many charts are being drawn with estimated text, and what measures text otherwise: charts on a page go on being measured. */
let estimating = 0;
let measured = textMetrics.width;

/** The view without its legends and without those of the views in it, which a specification may ask for by itself. */
function withoutLegends<View extends Spec | Mark>(view: View): View {
  const { legends: _legends, marks, ...rest } = view as View & { legends?: unknown; marks?: readonly Mark[] };
  return { ...rest, ...(marks === undefined ? {} : { marks: marks.map(withoutLegends) }) } as View;
}

async function measureWidth(spec: Spec): Promise<number> {
  const view = makeView(spec, "none");
  try {
    const text = await view.toSVG();
    return Number(/\bwidth="([\d.]+)"/.exec(text)?.[1] ?? 0);
  } finally {
    view.finalize();
  }
}

/** Vega-Lite and Vega mark what they are given; a payload must stay as it came. */
function copyOf<T>(value: T): T {
  return JSON.parse(JSON.stringify(value)) as T;
}
