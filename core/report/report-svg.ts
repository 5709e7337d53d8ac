import { chartSvg } from "../chart/draw-chart";
import { lightTheme } from "../chart/themes";
import type { ChartPayload } from "../present/payload";
import { element, escapeHtml, visible, type Html } from "./html-text";

/** Pixels of a chart's width in a report: what fits on a page of paper at the size of its text. */
const chartWidth = 640;

/**
 * A chart as an SVG element for the middle of a page, or `null` when it cannot be drawn.
 *
 * Its own names begin with `id`, so that no other chart of the page is meant by them. What it shows is said once, by
 * title and description, and not mark by mark.
 */
export async function reportSvg(chart: ChartPayload, title: string, id: string): Promise<Html | null> {
  const drawn = await chartSvg(chart.spec, lightTheme, chartWidth).catch(() => null);
  if (drawn === null) return null;
  const said = `${element("title", { id: `${id}-title` }, escapeHtml(title))}${element("desc", { id: `${id}-desc` }, escapeHtml(chart.description))}`;
  let isFirst = true;
  return visible(drawn)
    .replace(/^<\?xml[^>]*\?>\s*|<!DOCTYPE[^>]*>\s*/giu, "")
    .replaceAll(/<[a-z](?:[^<>"]|"[^"]*")*>/giu, (tag) => {
      const own = withOwnNames(tag, id);
      if (!isFirst) return own;
      isFirst = false;
      return `${own.replace(/^<svg\b/u, `<svg role="img" aria-labelledby="${id}-title" aria-describedby="${id}-desc"`)}${said}`;
    });
}

/** A start tag with names and references of this chart alone, and without what is said of single marks. */
function withOwnNames(tag: string, id: string): string {
  return tag.replaceAll(/\s([a-z][a-z0-9:-]*)="([^"]*)"/giu, (whole, name: string, value: string) => {
    if (/^(?:aria-[a-z]+|role)$/u.test(name)) return "";
    if (name === "id") return ` id="${id}-${value}"`;
    if (/url\(#/u.test(value) && /^(?:clip-path|fill|stroke|mask|filter)$/u.test(name)) return ` ${name}="${value.replaceAll(/url\(#/gu, `url(#${id}-`)}"`;
    if (/^(?:xlink:)?href$/u.test(name)) return value.startsWith("#") ? ` ${name}="#${id}-${value.slice(1)}"` : "";
    return /^(?:d|transform|[xy][12]?|d[xy]|c[xy]|r|width|height|viewBox|offset)$/u.test(name) ? ` ${name}="${rounded(value)}"` : whole;
  });
}

/** Lengths to a thousandth of a pixel: their last digits are another on each machine. */
function rounded(value: string): string {
  return value.replaceAll(/-?\d+(?:\.\d+)?(?:e[-+]?\d+)?/gu, (number) => String(Math.round(Number(number) * 1000) / 1000 + 0));
}
