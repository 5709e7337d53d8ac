import { digitsFor, formatMeasure, unitLabel } from "../present/format-number";
import { sampleSd } from "../stats/moments";
import type { Chart, NumberColumn, Table } from "../table/table";
import { asSubject, emptyChart, extent, makeChart, ownLegends, titled, tooltips } from "./chart-parts";
import { chartRows } from "./chart-data";
import { drawnRows, numbersOf } from "./drawn-rows";
import { groupField, harmless, inWords } from "./field-name";
import type { ChartSpec } from "./fit-spec";

/** Pixels of one group's strip, its words included. */
const stripHeight = 74;

/** The part of a strip that its words take, from the top, and where points begin and end, in shares of it. */
const pointsFrom = 0.34;
const pointsTo = 0.8;
const barAt = 0.9;

/**
 * How each group scatters in some columns: a strip of its shots about its own mean, in hitting order from top to bottom,
 * above a bar of one standard deviation to either side.
 *
 * @param tables one a column, the residuals under the column's name, with the group column and what tooltips show.
 * @param columns the names of these columns, in the same order.
 * @param groups in the order in which they are shown.
 */
export function buildResiduals(tables: readonly Table[], columns: readonly string[], by: string, groups: readonly string[]): Chart {
  const title = columns.length === 1 ? `Scatter of ${inWords(columns[0]!)}, by ${inWords(by)}` : `Scatter, by ${inWords(by)}`;
  const first = tables[0]!;
  if (tables.every((table) => table.rowCount === 0)) return emptyChart(title, "There are no shots.", first);
  const key = "Shots about their own mean, in hitting order from top to bottom. Bars: one standard deviation to either side.";
  const panels = tables.map((table, i) => panelOf(table, columns[i]!, by, groups));
  const spec = {
    title: titled(title, first, key),
    ...(panels.length === 1 ? panels[0]!.spec : { vconcat: panels.map((panel, i) => ({ title: { text: asSubject(columns[i]!), fontSize: 12, offset: 4 }, ...panel.spec })) }),
  };
  return makeChart(spec, {}, first, [`${title}.`, ...panels.map((panel) => panel.words)]);
}

function panelOf(table: Table, column: string, by: string, groups: readonly string[]): { readonly spec: ChartSpec; readonly words: string } {
  const drawn = drawnRows(table, { numbers: [column], by, also: table.columns.map(({ name }) => name) });
  const values = numbersOf(drawn.table, column);
  const rows = chartRows(drawn.table);
  const measured = groups.map((group, place) => {
    const own = drawn.groups.find(({ label }) => label === harmless(group))?.rows ?? [];
    return { group, place, own, sd: sampleSd(own.map((row) => values.values[row]!)) };
  });
  const digits = Math.min(3, ...measured.filter(({ sd }) => sd > 0).map(({ sd, own }) => digitsFor(sd / Math.sqrt(2 * (own.length - 1)))));
  const strips = measured.map((each) => ({ ...each, label: labelOf(each, digits, values) }));
  const points = strips.flatMap(({ own, place, group }) =>
    own.map((row, i) => ({ ...rows[row]!, [groupField]: harmless(group), x: values.values[row]!, y: place + pointsFrom + (own.length < 2 ? 0.5 : i / (own.length - 1)) * (pointsTo - pointsFrom) })),
  );
  const bars = strips.filter(({ sd }) => sd > 0).map(({ group, place, sd }) => ({ [groupField]: harmless(group), from: -sd, to: sd, y: place + barAt }));
  const labels = strips.map(({ label, place }) => ({ label, y: place + 0.05 }));
  const [least, most] = extent([...values.values, ...bars.flatMap(({ from, to }) => [from, to])]);
  const reach = Math.max(-least, most, 1e-9) * 1.06;
  const unit = values.unit === null ? "" : ` (${unitLabel(values.unit)})`;
  const x = { type: "quantitative", title: `${inWords(column)} from the ${inWords(by)}'s mean${unit}`, scale: { domain: [-reach, reach], nice: false, zero: false }, axis: { tickCount: 7 } };
  const y = { type: "quantitative", axis: null, scale: { domain: [strips.length, 0], nice: false, zero: false } };
  const { color, shape } = channelsOf(groups);
  return {
    spec: {
      height: stripHeight * strips.length,
      resolve: ownLegends,
      layer: [
        {
          // Only beside the points, so that no line runs through words.
          data: { values: strips.map(({ place }) => ({ x: 0, y: place + pointsFrom - 0.04, end: place + 1 })) },
          mark: { type: "rule", style: "reference" },
          encoding: { x: { ...x, field: "x" }, y: { ...y, field: "y" }, y2: { field: "end" } },
        },
        {
          data: { values: points },
          mark: { type: "point" },
          encoding: { x: { ...x, field: "x" }, y: { ...y, field: "y" }, ...color, ...shape, tooltip: tooltips(drawn.table) },
        },
        { data: { values: bars }, mark: { type: "rule", strokeWidth: 5 }, encoding: { x: { ...x, field: "from" }, x2: { field: "to" }, y: { ...y, field: "y" }, ...color } },
        {
          data: { values: labels },
          mark: { type: "text", style: "label", fontWeight: 600, align: "left", baseline: "top", fontSize: 12 },
          encoding: { x: { value: 0 }, y: { ...y, field: "y" }, text: { field: "label" } },
        },
      ],
    },
    words: `${asSubject(column)}: ${strips.map(({ label }) => label).join("; ")}.`,
  };
}

/** Colour and shape of each group, without a legend since the strips are named. */
function channelsOf(groups: readonly string[]): { readonly color: ChartSpec; readonly shape: ChartSpec } {
  if (groups.length < 2) return { color: {}, shape: {} };
  const channel = { field: groupField, type: "nominal", scale: { domain: [...groups].map(harmless).sort() }, legend: null };
  return { color: { color: channel }, shape: { shape: channel } };
}

function labelOf({ group, own, sd }: { group: string; own: readonly number[]; sd: number }, digits: number, column: NumberColumn): string {
  const count = `${own.length} ${own.length === 1 ? "shot" : "shots"}`;
  return sd > 0 ? `${group}: SD ${formatMeasure(sd, digits, column.unit)}, ${count}` : `${group}: ${count}`;
}
