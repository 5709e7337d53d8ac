import type { Limits } from "../limits";
import { shown } from "../problem-kind";
import type { Checked, Problem } from "../problem";
import { hasError, problem } from "../problem";
import { notesOf } from "../present/present-table";
import type { Chart, Column, NumberColumn, Table } from "../table/table";
import { findColumn, makeTable, valueAt } from "../table/table";
import type { TextRange } from "../text-position";
import type { CheckedChart } from "./check-chart";
import type { ChannelFacts } from "./check-encoding";
import { isRecord, panelChannels } from "./check-encoding";
import type { UnitFacts } from "./check-view";
import { emptyChart, extent, makeChart } from "./chart-parts";
import { fieldName, inWords } from "./field-name";
import type { ChartSpec } from "./fit-spec";
import { mostRows } from "./row-growth";
import { textWidth } from "./text-width";

/** Fewest rows that a box, an error bar or a mean should stand for. Common practice, no source. */
const fewRows = 5;
const mostBins = 500;

/**
 * The chart that a checked specification makes of a table, with what only the data can tell: too many marks or panels,
 * rows that cannot be drawn, summaries of too few rows.
 *
 * A table with nothing to draw gives a chart that says so. Missing values are not drawn and are counted.
 *
 * @param description of the cell's first line; `null` when it has none.
 * @param range where in the cell's text problems are said to be.
 */
export function drawTable(checked: CheckedChart, table: Table, description: string | null, limits: Limits, range: TextRange): Checked<Chart | null> {
  const problems: Problem[] = [...tooMuch(checked, table, limits, range), ...tooFew(checked, table, range)];
  if (hasError(problems)) return { value: null, problems };
  const columns = checked.columns.flatMap((name) => findColumn(table, name) ?? []);
  const drawn = makeTable(columns, table.rowCount, table);
  const words = [description, checked.description].find((each) => each !== null && each.trim() !== "") ?? checked.generated;
  const missing = notDrawn(checked, table);
  problems.push(...missing.map(({ count, because }) => problem("chart.not-drawn", { count, of: table.rowCount, because }, range)));
  const all = missing.find(({ count }) => count === table.rowCount);
  if (table.rowCount === 0) return { value: emptyChart(words, "The table has no rows.", drawn), problems };
  if (all !== undefined) return { value: emptyChart(words, `None of ${table.rowCount} rows can be drawn: ${all.because}.`, drawn), problems };
  const spec = withNotes(withoutFaultyLogs(checked), table);
  const sentences = missing.map(({ count, because }) => `${count} of ${table.rowCount} rows are not drawn: ${because}.`);
  return { value: makeChart(spec, { legendLabel: longestLabel(checked, table) }, drawn, [words, ...sentences]), problems };
}

function tooMuch(checked: CheckedChart, table: Table, limits: Limits, range: TextRange): Problem[] {
  const problems: Problem[] = [];
  const marks = Math.max(table.rowCount, checked.units.reduce((sum, unit) => sum + mostRows(unit.growth, table), 0));
  if (marks > limits.marks) problems.push(problem("chart.too-many-marks", { count: marks, most: limits.marks }, range));
  for (const unit of checked.units) {
    const panels = unit.channels.filter((each) => panelChannels.includes(each.channel));
    const count = panels.reduce((product, each) => product * Math.max(1, distinct(plainColumn(each, table))), 1);
    if (count > limits.panels) problems.push(problem("chart.too-many-panels", { count, most: limits.panels }, range));
    for (const channel of unit.channels) {
      const column = plainColumn(channel, table);
      if (channel.binStep === null || column?.kind !== "number") continue;
      const [least, most] = extent(column.values.filter((value) => !Number.isNaN(value)));
      const bins = Math.ceil((most - least) / channel.binStep);
      if (bins > mostBins) problems.push(problem("chart.beyond-limit", { count: bins, what: "bins", most: mostBins }, range));
    }
  }
  return problems;
}

/** Rows that have no place in a plot, a cause at a time; the first plot that leaves rows out tells. */
function notDrawn(checked: CheckedChart, table: Table): { readonly count: number; readonly because: string }[] {
  for (const unit of checked.units) {
    const places = unit.channels.filter(({ channel, type, isAggregate }) => /^[xy]$/.test(channel) && type === "quantitative" && !isAggregate);
    const columns = places.flatMap((place) => {
      const column = plainColumn(place, table);
      return column?.kind === "number" ? [{ place, column }] : [];
    });
    const causes = [
      { rows: rowsWhere(table, columns, (value) => Number.isNaN(value)), because: `no ${columns.map(({ column }) => inWords(column.name)).join(" or no ")}` },
      { rows: rowsWhere(table, columns.filter(({ place }) => place.isLog), (value) => value <= 0), because: "a logarithmic scale shows nothing at 0 or below" },
    ];
    const found = causes.filter((cause) => cause.rows > 0).map(({ rows, because }) => ({ count: rows, because }));
    if (found.length > 0) return found;
  }
  return [];
}

function rowsWhere(table: Table, columns: readonly { readonly column: NumberColumn }[], holds: (value: number) => boolean): number {
  let count = 0;
  for (let row = 0; row < table.rowCount; row++) if (columns.some(({ column }) => holds(column.values[row]!))) count++;
  return count;
}

/** Groups that a box, an error bar or an average stands for and that have hardly any rows. */
function tooFew(checked: CheckedChart, table: Table, range: TextRange): Problem[] {
  for (const unit of checked.units) {
    if (!isSummary(unit)) continue;
    const groups = unit.channels.filter((each) => !each.isAggregate && (each.type !== "quantitative" || each.isBinned) && plainColumn(each, table)?.kind === "text");
    const columns = groups.map((each) => plainColumn(each, table)!);
    const counts = new Map<string, number>();
    for (let row = 0; row < table.rowCount; row++) {
      const key = columns.map((column) => String(valueAt(column, row) ?? "missing")).join(", ");
      counts.set(key, (counts.get(key) ?? 0) + 1);
    }
    const [least] = [...counts].sort((a, b) => a[1] - b[1]);
    if (least !== undefined && least[1] < fewRows) return [problem("chart.few-rows", { count: least[1], group: least[0] === "" ? "the table" : shown(least[0]) }, range)];
  }
  return [];
}

function isSummary(unit: UnitFacts): boolean {
  return ["boxplot", "errorbar", "errorband"].includes(unit.mark) || unit.channels.some((each) => each.isAggregate && each.column !== null);
}

/** The table's own column behind a channel; `undefined` where a transform stands between. */
function plainColumn(channel: ChannelFacts, table: Table): Column | undefined {
  return channel.isPlain && channel.column !== null ? findColumn(table, channel.column) : undefined;
}

function distinct(column: Column | undefined): number {
  if (column === undefined) return 1;
  return new Set<number>(column.kind === "text" ? column.codes : column.values).size;
}

function longestLabel(checked: CheckedChart, table: Table): number {
  const inLegend = checked.units.flatMap((unit) => unit.channels).filter(({ channel }) => /^(?:color|fill|stroke|shape|strokeDash|size|opacity)$/.test(channel));
  const labels = inLegend.flatMap((channel) => {
    const column = plainColumn(channel, table);
    return column?.kind === "text" ? column.labels : [];
  });
  return Math.max(40, ...labels.slice(0, 60).map((label) => textWidth(label, 11)));
}

/** Values that a logarithmic scale cannot place are taken out before Vega sees them; they are counted elsewhere. */
function withoutFaultyLogs(checked: CheckedChart): ChartSpec {
  const columns = new Set(
    checked.units.flatMap((unit) => unit.channels.filter((each) => each.isLog && each.isPlain && !each.isAggregate && each.column !== null).map((each) => each.column!)),
  );
  if (columns.size === 0) return checked.spec;
  const filters = [...columns].map((column) => ({ filter: { field: fieldName(column), gt: 0 } }));
  return { ...checked.spec, transform: [...filters, ...((checked.spec["transform"] as unknown[] | undefined) ?? [])] };
}

/** What a reader must know of the data goes below the title, or in its place where there is none. */
function withNotes(spec: ChartSpec, table: Table): ChartSpec {
  const notes = notesOf(table);
  if (notes.length === 0) return spec;
  const { title } = spec;
  if (title === undefined || title === null) return { ...spec, title: { text: notes, fontSize: 11, fontWeight: "normal" } };
  const parts = isRecord(title) ? title : { text: title };
  return { ...spec, title: { ...parts, subtitle: [...[parts["subtitle"] ?? []].flat(), ...notes] } };
}
