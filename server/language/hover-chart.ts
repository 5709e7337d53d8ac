import { findName } from "../../core/chart/column-scope";
import { propertiesOf } from "../../core/chart/shape-at";
import { inWordsOf } from "../../core/chart/shape";
import { keyHelp, valueHelp } from "../../core/chart/spec-help";
import type { HoverAnswer } from "./answers";
import { chartPlaceAt, columnOf, lastKey, type ChartPlace } from "./chart-place";
import { columnMarkdown, sentence } from "./column-hover";
import { asCode, escaped } from "./markdown";
import type { NotebookView } from "./notebook-view";

/** What the key, mark, operation or column at `offset` in a chart's specification is; `null` where nothing is known of it. */
export function hoverChart(view: NotebookView, cell: number, offset: number): HoverAnswer | null {
  const at = chartPlaceAt(view, cell, offset);
  // Right before a key in quotes the pointer is on it, where a cursor would write another.
  const found = at === null || at.place.token === "none" ? chartPlaceAt(view, cell, offset + 1) : at;
  if (found === null || found.place.token === "none") return null;
  const { from, to } = found.place.replace;
  const markdown = found.place.kind === "key" ? aboutKey(found) : aboutValue(found);
  return markdown === null || offset < from ? null : { from, to, markdown };
}

function aboutKey({ place, shapes }: ChartPlace): string | null {
  const properties = propertiesOf(shapes) ?? {};
  const help = keyHelp(place.written, lastKey(place.path));
  if (help === null || !Object.hasOwn(properties, place.written)) return null;
  return `**${asCode(place.written)}**: ${escaped(help)}\n\n${escaped(sentence(inWordsOf(properties[place.written]!)))}`;
}

function aboutValue(found: ChartPlace): string | null {
  const { place, shapes, scope, schema } = found;
  if (shapes.some((shape) => shape.is === "column")) {
    const name = findName(scope, place.written);
    const known = name === null ? undefined : scope.columns.get(name);
    if (name === null || known === undefined) return null;
    return known.isMade ? columnMarkdown(columnOf(name, found), undefined, "made by a transform of this chart") : columnMarkdown(columnOf(name, found), scope.isPlain ? schema.rowCount : undefined);
  }
  const isChoice = shapes.some((shape) => shape.is === "choice" && shape.of.includes(place.written));
  const help = isChoice ? valueHelp(place.written, lastKey(place.path)) : null;
  return help === null ? null : `**${asCode(place.written)}**: ${escaped(help)}`;
}
