import type { ChartKind } from "../../query/vocabulary";
import type { Chart, Table } from "../../table/table";
import { findColumn } from "../../table/table";
import type { ChartSpec } from "../fit-spec";
import { asSubject, columnTitle, emptyChart, extent, groupChannels, groupsInWords, leftOut, legendLabel, makeChart, ofDerived, ownLegends, rangeInWords, titled, tooltips, withoutLegends } from "../chart-parts";
import type { Drawn } from "../drawn-rows";
import { drawnRows, inOrder, numbersOf } from "../drawn-rows";
import { fieldName, groupField, inWords } from "../field-name";
import type { FittedTrends, TrendLine } from "../trend-layers";
import { noTrends, trendLayers, trendValues } from "../trend-layers";
import { pooledShots } from "../pooled-shots";
import { groupOption, tooMany, tooManyPanels, whatGroups } from "../kind-options";

/** A value over the shots in hitting order, with the stints and their means: what the tester did while the heads changed. */
export const order: ChartKind = {
  name: "order",
  help: {
    summary: "A value over the shots in hitting order, stint by stint with the mean of each: did the tester change, or the head?",
    example: 'chart.order(shots, { of: "carry" })',
  },
  needs: ["shot"],
  options: {
    of: { kind: "column", of: "number", required: true, help: "The value to follow." },
    by: groupOption,
  },
  build: (table, options, context) => {
    const of = options["of"];
    if (typeof of !== "string") throw new TypeError("order needs the option of");
    const by = whatGroups(table, options);
    const drawn = drawnRows(table, { numbers: ["shot", of], by, also: ["session", "head", "stint"] });
    const sessions = sessionsOf(drawn);
    return tooMany(table, context) ?? tooManyPanels(sessions.length, context) ?? buildOrder(table, drawn, of, by, sessions);
  },
};

/**
 * The same with fitted trends: the picture of `drift`.
 *
 * @param table shots with the columns shot, `of` and `by`, and session, stint and head where they are told apart by them.
 * @param fitted lines in the unit of `of`, and what a reader must know of them.
 */
export function buildTrends(table: Table, of: string, by: string, fitted: FittedTrends): Chart {
  const drawn = drawnRows(table, { numbers: ["shot", of], by, also: ["session", "head", "stint"] });
  return buildOrder(table, drawn, of, by, sessionsOf(drawn), fitted);
}

interface Stint {
  readonly from: number;
  readonly to: number;
  readonly mean: number;
  readonly [group: string]: number | string;
}

function buildOrder(table: Table, drawn: Drawn, of: string, by: string | null, sessions: readonly string[], fitted: FittedTrends = noTrends): Chart {
  const value = numbersOf(drawn.table, of);
  const subject = fitted.subject ?? of;
  const title = `${asSubject(subject)} in hitting order`;
  const missing = leftOut(drawn, [subject]);
  if (drawn.table.rowCount === 0) return emptyChart(title, missing === "" ? "There are no shots." : missing, drawn.table);

  const stints = stintsOf(drawn, of);
  const { repeats } = pooledShots(drawn);
  const unknown = table.sessions.some((session) => !session.orderKnown);
  const [least, most] = extent([...value.values, ...trendValues(fitted.lines)]);
  const pad = (most - least) * 0.06 || 1;
  const y = { type: "quantitative", title: columnTitle(value), scale: { domain: [least - pad, most + pad], zero: false } };
  const panels = sessions.map((session) => ({
    session,
    spec: sessionPanel(drawn, by, y, of, session, stints.filter((stint) => stint["session"] === session), fitted.lines.filter((line) => line.session === session)),
  }));
  const spec = {
    title: titled(
      title,
      table,
      stints.length > 0 ? `Shaded: every other stint. ${fitted.lines.length > 0 ? "Short lines" : "Lines"}: the mean of each stint.` : "",
      ...fitted.remarks,
      unknown ? "The hitting order is not known: shots are in the order of the file." : "",
      repeats,
      missing,
    ),
    ...(panels.length === 1
      ? panels[0]!.spec
      : { vconcat: panels.map(({ session, spec: panel }) => ({ title: { text: session, fontSize: 12, offset: 4 }, ...panel })) }),
  };
  return makeChart(spec, { legendLabel: legendLabel(drawn) }, drawn.table, [
    `${asSubject(subject)} of ${drawn.table.rowCount} shots in hitting order${by === null || drawn.groups.length < 2 ? "" : `, by ${inWords(by)}: ${groupsInWords(drawn)}`}.`,
    `From ${rangeInWords(value)}${stints.length === 0 ? "" : `, in ${stints.length} ${stints.length === 1 ? "stint" : "stints"}`}.`,
    ...fitted.remarks,
    repeats,
    missing,
  ]);
}

function sessionPanel(
  drawn: Drawn,
  by: string | null,
  y: ChartSpec,
  of: string,
  session: string,
  stints: readonly Stint[],
  lines: readonly TrendLine[],
): ChartSpec {
  const shot = numbersOf(drawn.table, "shot");
  const [first, last] = extent(shot.values);
  const x = { type: "quantitative", title: "shot", scale: { domain: [first - 1, last + 1], nice: false, zero: false }, axis: { grid: false, format: "d", tickMinStep: 1 } };
  const channels = groupChannels(drawn, by);
  const { color } = ofDerived(withoutLegends(channels));
  const only = findColumn(drawn.table, "session") === undefined ? {} : { transform: [{ filter: { field: "session", equal: session } }] };
  return {
    height: 240,
    resolve: ownLegends,
    layer: [
      {
        data: { values: stints.filter((_, index) => index % 2 === 1) },
        mark: { type: "rect", style: "band" },
        encoding: { x: { ...x, field: "from" }, x2: { field: "to" } },
      },
      {
        ...only,
        mark: { type: "point" },
        encoding: { x: { ...x, field: "shot" }, y: { ...y, field: fieldName(of) }, ...channels, tooltip: tooltips(drawn.table) },
      },
      {
        data: { values: stints },
        mark: { type: "rule", strokeWidth: 2.5 },
        encoding: { x: { ...x, field: "from" }, x2: { field: "to" }, y: { ...y, field: "mean" }, ...(color === undefined ? {} : { color }) },
      },
      ...trendLayers(lines, x, y, color === undefined ? {} : { color }),
    ],
  };
}

/** Each stint's first and last shot, half a shot wider on both sides, and the mean of its drawn values. */
function stintsOf(drawn: Drawn, of: string): Stint[] {
  const stint = findColumn(drawn.table, "stint");
  if (stint?.kind !== "number") return [];
  const shot = numbersOf(drawn.table, "shot");
  const value = numbersOf(drawn.table, of);
  const label = labelReader(drawn, drawn.by);
  const session = labelReader(drawn, "session");
  const found = new Map<string, { session: string; label: string; shots: number[]; values: number[] }>();
  for (let row = 0; row < drawn.table.rowCount; row++) {
    const number = stint.values[row]!;
    if (Number.isNaN(number)) continue;
    const key = JSON.stringify([session(row), number, label(row)]);
    const known = found.get(key) ?? { session: session(row), label: label(row), shots: [], values: [] };
    known.shots.push(shot.values[row]!);
    known.values.push(value.values[row]!);
    found.set(key, known);
  }
  return [...found.values()]
    .map(({ session: name, label: group, shots, values }) => {
      const [first, last] = extent(shots);
      const mean = values.reduce((sum, each) => sum + each, 0) / values.length;
      return { [groupField]: group, session: name, from: first - 0.5, to: last + 0.5, mean };
    })
    .sort((a, b) => a.from - b.from);
}

function sessionsOf(drawn: Drawn): string[] {
  const session = labelReader(drawn, "session");
  const names = new Set(Array.from({ length: drawn.table.rowCount }, (_, row) => session(row)));
  return [...names].sort(inOrder);
}

function labelReader(drawn: Drawn, name: string | null): (row: number) => string {
  const column = name === null ? undefined : findColumn(drawn.table, name);
  if (column?.kind !== "text") return () => "";
  return (row) => column.labels[column.codes[row]!] ?? "";
}
