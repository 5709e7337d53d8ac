import { columnTitle, emptyChart, extent, makeChart, titled } from "../chart/chart-parts";
import { formatShare } from "../present/format-number";
import type { Chart, Table } from "../table/table";
import type { LoftRow } from "./loft-only-table";

/** Pixels of the name of a pair, of its two bars, and between pairs. */
const size = { name: 16, bar: 13, gap: 7 };

const kinds = ["measured", "loft alone"] as const;

interface Bar {
  readonly kind: (typeof kinds)[number];
  readonly value: number | null;
  readonly from: number | null;
  readonly to: number | null;
  readonly at: number;
}

/**
 * The measured difference of each pair with its interval, above what the lofts alone would do with the model's range: a
 * panel a column, since each has its own unit.
 */
export function loftOnlyPicture(rows: readonly LoftRow[], table: Table, confidence: number): Chart {
  const title = "Loft alone beside what was measured";
  if (rows.length === 0) return emptyChart(title, "No pair has stated lofts that differ.", table);
  const columns = [...new Set(rows.map((row) => row.column))];
  const panels = columns.map((column) => panelOf(rows.filter((row) => row.column === column)));
  const hasInterval = rows.some((row) => !Number.isNaN(row.pair.wide.from));
  const measured = hasInterval ? `Circles: measured difference, ${formatShare(confidence)} interval.` : "Circles: measured difference, without an interval.";
  const key = `${measured} Squares: what the stated lofts alone would do, over the range of the model.`;
  const spec = { title: titled(title, table, key), vconcat: panels };
  return makeChart(spec, {}, table, [
    `${title}: ${rows.length === 1 ? "one row" : `${rows.length} rows`}.`,
    ...rows.slice(0, 12).map((row) => `${row.head} \u2212 ${row.against}, ${columnTitle(row.column)}: ${row.verdict}.`),
  ]);
}

function panelOf(rows: readonly LoftRow[]): object {
  const step = size.name + 2 * size.bar + size.gap;
  const bars = rows.flatMap((row, i): Bar[] => [
    { kind: "measured", value: known(row.pair.shown.difference), from: known(row.pair.wide.from), to: known(row.pair.wide.to), at: i * step + size.name + size.bar / 2 },
    { kind: "loft alone", value: known(row.loftOnly.usual), from: known(row.loftOnly.low), to: known(row.loftOnly.high), at: i * step + size.name + size.bar * 1.5 },
  ]);
  const names = rows.map((row, i) => ({ at: i * step, top: i * step + size.name, bottom: i * step + size.name + 2 * size.bar, name: `${row.head} \u2212 ${row.against}` }));
  const height = rows.length * step;
  const [least, most] = extent([0, ...bars.flatMap((bar) => [bar.value, bar.from, bar.to].filter((end) => end !== null))]);
  const pad = (most - least) * 0.05 || 1;
  const x = { type: "quantitative", title: `difference in ${columnTitle(rows[0]!.column)}`, scale: { domain: [least - pad, most + pad], zero: true, nice: false }, axis: { grid: false, tickCount: 6 } };
  const y = { field: "at", type: "quantitative", axis: null, scale: { domain: [0, height], reverse: true, zero: false, nice: false } };
  const channel = { field: "kind", type: "nominal", title: null, scale: { domain: kinds }, legend: null };
  return {
    height,
    layer: [
      { data: { values: names }, mark: { type: "rule", style: "reference" }, encoding: { x: { ...x, datum: 0 }, y: { ...y, field: "top" }, y2: { field: "bottom" } } },
      {
        data: { values: bars.filter((bar) => bar.from !== null && bar.to !== null) },
        mark: { type: "rule", strokeWidth: 2 },
        encoding: { x: { ...x, field: "from" }, x2: { field: "to" }, y, color: channel },
      },
      {
        data: { values: bars.filter((bar) => bar.value !== null) },
        mark: { type: "point", style: "mean", size: 60 },
        encoding: { x: { ...x, field: "value" }, y, color: channel, shape: channel },
      },
      {
        data: { values: names },
        mark: { type: "text", style: "label", align: "left", baseline: "top" },
        encoding: { x: { value: 0 }, y, text: { field: "name" } },
      },
    ],
  };
}

function known(value: number): number | null {
  return Number.isNaN(value) ? null : value;
}
