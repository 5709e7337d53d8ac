import { digitsByRow } from "../../present/digits-by-row";
import { formatMeasure, formatNumber, unitLabel } from "../../present/format-number";
import type { DoubtedStretch, Suspect } from "../../quality/suspect";
import type { ChartKind } from "../../query/vocabulary";
import { parseUnit } from "../../units";
import type { Chart, Table } from "../../table/table";
import { findColumn, valueAt } from "../../table/table";
import { asSubject, emptyChart, extent, makeChart, titled } from "../chart-parts";
import { numbersOf } from "../drawn-rows";
import { inWords } from "../field-name";
import { tooMany } from "../kind-options";

/** Doubtful values beside what other readings imply: the picture of `suspects`. */
export const suspects: ChartKind = {
  name: "suspects",
  help: {
    summary: "Doubtful values, each beside what other readings of the shot imply and the tolerance.",
    example: "chart.suspects(shots.suspects())",
  },
  needs: ["shot", "column", "recorded", "implied", "tolerance"],
  tableOf: "suspects",
  options: {},
  build: (table, _options, context) => tooMany(table, context) ?? buildSuspects(table),
};

/** What the picture can show beyond the rows of the table. */
export interface SuspectExtras {
  /** For each row what single readings imply, in the row's unit. */
  readonly witnesses: readonly Suspect["witnesses"][];
  readonly stretches: readonly DoubtedStretch[];
}

const mostDrawn = 12;
const mostStretches = 6;
/** Tolerances from what is implied at which a farther mark is held. */
const farthest = 5;
const size = { line: 14, heading: 16, bar: 16, gap: 10 };
/** Characters of a line and of a heading that fit a chart of 300 pixels. */
const longestLine = 38;
const longestHeading = 32;
const marks = ["recorded", "implied", "farther out"] as const;

interface Mark {
  readonly kind: (typeof marks)[number];
  readonly at: number;
  readonly x: number;
  readonly label: string;
}

interface DrawnRow {
  readonly heading: string;
  readonly words: string;
  readonly headingAt: number;
  readonly wordsAt: number;
  readonly top: number;
  readonly bottom: number;
  readonly marks: readonly Mark[];
  readonly hasBand: boolean;
}

/**
 * The picture of a table of doubtful values (the columns of `suspects`): for each the recorded value and what single
 * readings imply, in tolerances from what they imply together; below, for a column that is off in a part of a session,
 * its course through the session with that part shaded.
 */
export function buildSuspects(table: Table, extras: SuspectExtras = { witnesses: [], stretches: [] }): Chart {
  const title = "Doubtful values and what other readings imply";
  const stretches = extras.stretches.slice(0, mostStretches);
  const chosen = chosenRows(table, stretches);
  const rows = place(chosen.map((row) => describe(table, row, extras.witnesses[row] ?? [])));
  if (rows.length === 0 && stretches.length === 0) return emptyChart(title, table.rowCount === 0 ? "No value is doubted." : "All doubtful values are set aside.", table);
  const left = suspectRows(table).length - chosen.length;
  const key = [
    rows.length === 0 ? "" : "Circles: recorded. Squares: what single readings imply. Shaded: within the tolerance of what they imply together.",
    rows.some((row) => row.marks.some(({ kind }) => kind === "farther out")) ? `Triangles: recorded, ${farthest} tolerances out or more.` : "",
    rows.length > 0 && left > 0 ? `${rows.length} of ${rows.length + left} doubtful values are drawn, those with an implied value and the strongest doubts first.` : "",
  ];
  const panels = [...(rows.length === 0 ? [] : [rowsPanel(rows)]), ...stretches.map((stretch) => stretchPanel(stretch, unitIn(table, stretch.column), isSeveral(table)))];
  const spec = { title: titled(title, table, ...key), ...(panels.length === 1 ? panels[0] : { vconcat: panels, resolve: { scale: { color: "independent", shape: "independent" } } }) };
  return makeChart(spec, {}, table, [
    `${title}: ${rows.length === 1 ? "one value" : `${rows.length} values`}.`,
    ...rows.map((row) => `${row.heading}; ${row.words}.`.replaceAll("\n", " ")),
    ...stretches.map((stretch) => stretch.sentence),
  ]);
}

function textAt(table: Table, name: string, row: number): string | null {
  const column = findColumn(table, name);
  return column?.kind === "text" ? (valueAt(column, row) as string | null) : null;
}

/** Rows that no person has set aside. */
function suspectRows(table: Table): readonly number[] {
  return Array.from({ length: table.rowCount }, (_, row) => row).filter((row) => textAt(table, "state", row) !== "set aside");
}

/** The rows drawn: those of a stretch that has its own panel last, the strongest doubts first, in the table's order. */
function chosenRows(table: Table, stretches: readonly DoubtedStretch[]): readonly number[] {
  const [recorded, implied, tolerance, shot] = [numbersOf(table, "recorded"), numbersOf(table, "implied"), numbersOf(table, "tolerance"), numbersOf(table, "shot")];
  const isInStretch = (row: number): boolean =>
    stretches.some(({ session, column, from, to }) => textAt(table, "column", row) === column && (textAt(table, "session", row) ?? session) === session && shot.values[row]! >= from && shot.values[row]! <= to);
  const rank = (row: number): number => {
    const excess = Math.abs(recorded.values[row]! - implied.values[row]!) / tolerance.values[row]!;
    // Where nothing is implied there is nothing to draw beside the value.
    if (Number.isNaN(excess)) return -1;
    return (textAt(table, "doubt", row) === "strong" ? 1e6 : 0) + Math.min(excess, 1e5);
  };
  // Every reading of a repeated row is doubted for the same reason: one of them tells it.
  const told = new Set<string>();
  const isTold = (row: number): boolean => {
    const key = `${textAt(table, "session", row) ?? ""} ${shot.values[row]!}`;
    return rank(row) < 0 && (told.has(key) || !told.add(key));
  };
  return suspectRows(table)
    .filter((row) => !isInStretch(row) && !isTold(row))
    .sort((a, b) => rank(b) - rank(a))
    .slice(0, mostDrawn)
    .sort((a, b) => a - b);
}

function isSeveral(table: Table): boolean {
  return table.sessions.length > 1;
}

function unitIn(table: Table, column: string): ReturnType<typeof parseUnit> | null {
  const row = Array.from({ length: table.rowCount }, (_, each) => each).find((each) => textAt(table, "column", each) === column);
  const label = row === undefined ? null : textAt(table, "unit", row);
  return label === null ? null : (parseUnit(label) ?? null);
}

/** What stands above a row and which marks are on it, before it has a place. */
function describe(table: Table, row: number, witnesses: Suspect["witnesses"]): Pick<DrawnRow, "heading" | "words" | "marks" | "hasBand"> {
  const column = textAt(table, "column", row) ?? "";
  const unit = parseUnit(textAt(table, "unit", row) ?? "") ?? null;
  const [recorded, implied, tolerance] = (["recorded", "implied", "tolerance"] as const).map((name) => numbersOf(table, name).values[row]!) as [number, number, number];
  const digits = digitsByRow(table).get(numbersOf(table, "recorded"))?.digits[column] ?? (unit === "rpm" ? 0 : 1);
  const head = textAt(table, "head", row);
  const shot = `shot ${numbersOf(table, "shot").values[row]!}`;
  const where = [isSeveral(table) ? textAt(table, "session", row) : null, shot, head].filter((part) => part !== null).join(", ");
  const say = (value: number): string => formatMeasure(value, digits, unit);
  const others = Number.isNaN(implied) ? "the others say that it cannot be" : `the others imply ${Number.isNaN(tolerance) ? say(implied) : `${formatNumber(implied, digits)} ± ${say(tolerance)}`}`;
  // A sole reading that implies what all do says nothing more.
  const single = witnesses.length < 2 ? [] : witnesses.slice(0, 3).map(({ name, implied: value }) => `${name} ${say(value)}`);
  const known = [implied, tolerance].every(Number.isFinite) && tolerance > 0;
  const at = (value: number): number => (value - implied) / tolerance;
  const held = (value: number): number => Math.max(-farthest, Math.min(farthest, at(value)));
  const isFar = Math.abs(at(recorded)) > farthest;
  return {
    heading: folded(`${asSubject(where)}: ${inWords(column)} ${say(recorded)}`, longestHeading).join("\n"),
    words: [others, ...(single.length === 0 ? [] : [single.join(", ")])].flatMap((line) => folded(line)).join("\n"),
    hasBand: known,
    marks: known
      ? [
          ...witnesses.map(({ name, implied: value }): Mark => ({ kind: "implied", at: 0, x: held(value), label: `${name}: ${say(value)}` })),
          { kind: isFar ? "farther out" : "recorded", at: 0, x: held(recorded), label: `recorded: ${say(recorded)}` },
        ]
      : [],
  };
}

/** A line cut at a mark, or else at a space, where it is too long for a narrow chart. */
function folded(line: string, longest = longestLine): readonly string[] {
  if (line.length <= longest) return [line];
  const cut = [": ", ", ", "; ", " "].map((mark) => line.lastIndexOf(mark, longest) + mark.length - 1).find((place) => place > longest / 3);
  return cut === undefined ? [line] : [line.slice(0, cut), ...folded(line.slice(cut).trim(), longest)];
}

function place(described: readonly Pick<DrawnRow, "heading" | "words" | "marks" | "hasBand">[]): readonly DrawnRow[] {
  let down = 0;
  return described.map((row) => {
    const headingAt = down;
    down += size.heading * row.heading.split("\n").length;
    const wordsAt = down;
    down += size.line * row.words.split("\n").length;
    const top = down + 2;
    if (row.hasBand) down += size.bar + 2;
    const bottom = down;
    down += size.gap;
    return { ...row, headingAt, wordsAt, top, bottom, marks: row.marks.map((mark) => ({ ...mark, at: (top + bottom) / 2 })) };
  });
}

function rowsPanel(rows: readonly DrawnRow[]): object {
  const height = rows.at(-1)!.bottom + size.gap;
  const all = rows.flatMap((row) => row.marks);
  const reach = Math.max(2, ...all.map(({ x }) => Math.abs(x))) * 1.08;
  const banded = rows.filter((row) => row.hasBand).map(({ top, bottom }) => ({ top, bottom, low: -1, high: 1 }));
  const x = {
    type: "quantitative",
    title: "tolerances from what others imply",
    scale: { domain: [-reach, reach], nice: false, zero: true },
    axis: { grid: false, tickCount: 5, tickMinStep: 1, format: "d" },
  };
  const y = (field: string): object => ({ field, type: "quantitative", axis: null, scale: { domain: [0, height], reverse: true, zero: false, nice: false } });
  const channel = { field: "kind", type: "nominal", title: null, legend: null };
  const colour = { field: "colour", type: "nominal", title: null, scale: { domain: [marks[0], marks[1]] }, legend: null };
  const shape = { ...channel, scale: { domain: [...marks], range: ["circle", "square", "triangle-right"] } };
  const points = all.map((mark) => ({ ...mark, colour: mark.kind === "farther out" ? marks[0] : mark.kind }));
  const text = rows.map(({ heading, words, headingAt, wordsAt }) => ({ heading, words, headingAt, wordsAt }));
  return {
    height,
    layer: [
      { data: { values: banded }, mark: { type: "rect", style: "margin" }, encoding: { x: { ...x, field: "low" }, x2: { field: "high" }, y: y("top"), y2: { field: "bottom" } } },
      { data: { values: banded }, mark: { type: "rule", style: "reference" }, encoding: { x: { ...x, datum: 0 }, y: y("top"), y2: { field: "bottom" } } },
      {
        data: { values: points },
        mark: { type: "point", style: "mean", size: 55 },
        encoding: { x: { ...x, field: "x" }, y: y("at"), color: colour, shape, tooltip: [{ field: "label", type: "nominal", title: "value" }] },
      },
      {
        data: { values: text },
        mark: { type: "text", style: "label", fontWeight: 600, align: "left", baseline: "top", fontSize: 12, lineBreak: "\n", lineHeight: size.heading },
        encoding: { x: { value: 0 }, y: y("headingAt"), text: { field: "heading" } },
      },
      {
        data: { values: text },
        mark: { type: "text", style: "label", align: "left", baseline: "top", lineBreak: "\n", lineHeight: size.line },
        encoding: { x: { value: 0 }, y: y("wordsAt"), text: { field: "words" } },
      },
    ],
  };
}

/** The course of a column that is off in a part of a session, with that part shaded and both levels drawn. */
function stretchPanel({ session, column, from, to, bias, course }: DoubtedStretch, unit: ReturnType<typeof unitIn>, isNamed: boolean): object {
  const [first, last] = extent(course.map(({ shot }) => shot));
  const [least, most] = extent([0, bias, ...course.map(({ off }) => off)]);
  const pad = (most - least) * 0.06 || 1;
  const x = { type: "quantitative", title: "shot", scale: { domain: [first - 1, last + 1], nice: false, zero: false }, axis: { grid: false, format: "d", tickMinStep: 1 } };
  const y = { type: "quantitative", title: `off the others${unit === null || unit === undefined ? "" : ` (${unitLabel(unit)})`}`, scale: { domain: [least - pad, most + pad], zero: false, nice: false } };
  const kinds = ["in the part", "elsewhere"];
  const points = course.map(({ shot, off }) => ({ shot, off, part: shot >= from && shot <= to ? kinds[0] : kinds[1] }));
  const levels = [...(first < from ? [{ start: first - 0.5, end: from - 0.5, level: 0 }] : []), { start: from - 0.5, end: to + 0.5, level: bias }, ...(last > to ? [{ start: to + 0.5, end: last + 0.5, level: 0 }] : [])];
  const channel = { field: "part", type: "nominal", title: null, scale: { domain: kinds }, legend: null };
  const name = `${isNamed ? `${session}: ` : ""}${isNamed ? inWords(column) : asSubject(column)} off in shots ${from} to ${to}`;
  return {
    title: { text: name, subtitle: ["Lines: the median there, and elsewhere."], fontSize: 12, offset: 4 },
    height: 170,
    layer: [
      { data: { values: [{ start: from - 0.5, end: to + 0.5 }] }, mark: { type: "rect", style: "band" }, encoding: { x: { ...x, field: "start" }, x2: { field: "end" } } },
      {
        data: { values: points },
        mark: { type: "point" },
        encoding: { x: { ...x, field: "shot" }, y: { ...y, field: "off" }, color: channel, shape: channel, tooltip: [{ field: "shot", type: "quantitative", title: "shot" }, { field: "off", type: "quantitative", title: "off the others", format: ".1f" }] },
      },
      { data: { values: levels }, mark: { type: "rule", strokeWidth: 2.5 }, encoding: { x: { ...x, field: "start" }, x2: { field: "end" }, y: { ...y, field: "level" } } },
    ],
  };
}
