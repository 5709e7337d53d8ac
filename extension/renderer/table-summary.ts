import type { PayloadColumn, TablePayload } from "../../core/present/payload";
import { cut, inert, showValue } from "../../core/present/show-value";
import { summariseColumn, type ColumnSummary } from "../../core/results/summarise-column";
import { numberColumn, textColumn, truthColumn } from "../../core/table/table";
import { makeElement } from "./make-element";
import { countInWords } from "./table-pager";

/** The summaries of a table all of whose rows are there. */
export function summariesHere(table: TablePayload): readonly ColumnSummary[] {
  return table.columns.map(({ name, kind }, index) => {
    const values = table.rows.map((row) => row[index] ?? null);
    if (kind === "number") return summariseColumn(numberColumn(name, values.map((value) => (typeof value === "number" ? value : null))));
    if (kind === "truth") return summariseColumn(truthColumn(name, values.map((value) => (typeof value === "boolean" ? value : null))));
    return summariseColumn(textColumn(name, values.map((value) => (typeof value === "string" ? value : null))));
  });
}

/** What stands under the head of a column: range or most frequent texts, missing values, and bars. */
export function makeSummaryCell(summary: ColumnSummary, column: PayloadColumn, isFirst: boolean): HTMLElement {
  const { missing, empty, least, most, distinct, counts, names } = summary;
  const shown = (value: number): string => showValue(value, column, []);
  const missingText = missing === 0 ? "none missing" : `${countInWords(missing)} missing`;
  const lines =
    least === null || most === null
      ? [...(distinct === null ? [] : [`${countInWords(distinct)} distinct`]), ...names.slice(0, 3).map((name, at) => `${nameOf(name)}: ${countInWords(counts[at] ?? 0)}`)]
      : [`${shown(least)} to ${shown(most)}`];
  const parts = [...lines, ...(empty > 0 && !names.slice(0, 3).includes("") ? [`${countInWords(empty)} empty`] : []), missingText];
  const bars = least === null || most === null ? [] : [makeBars(counts, `Rows in ${counts.length} equal parts from ${shown(least)} to ${shown(most)}: ${counts.join(", ")}`)];
  const classes = `fairstrike-summary${column.kind === "number" ? " fairstrike-number" : ""}${isFirst ? " fairstrike-first" : ""}`;
  return makeElement("td", classes, {}, ...bars, ...parts.map((text) => makeElement("div", "", {}, text)));
}

function nameOf(name: string): string {
  return name === "" ? "empty text" : cut(inert(name), 16);
}

/** Bars of the counts, the highest as high as there is room; one that is not empty is seen. */
function makeBars(counts: readonly number[], label: string): Node {
  const [width, height] = [6, 20];
  const highest = Math.max(...counts);
  const svg = makeSvg("svg", { role: "img", "aria-label": label, width: counts.length * width, height, viewBox: `0 0 ${counts.length * width} ${height}` });
  counts.forEach((count, at) => {
    const bar = count === 0 ? 0 : Math.max(1, (height * count) / highest);
    svg.append(makeSvg("rect", { x: at * width, y: height - bar, width: width - 1, height: bar, fill: "currentColor" }));
  });
  return svg;
}

function makeSvg(tag: "svg" | "rect", attributes: Readonly<Record<string, string | number>>): SVGElement {
  const element = document.createElementNS("http://www.w3.org/2000/svg", tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, String(value));
  return element;
}
