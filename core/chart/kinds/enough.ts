import { digitsAsStated, formatMeasure, formatNumber, formatShare } from "../../present/format-number";
import type { ChartKind } from "../../query/vocabulary";
import { mostByHitting } from "../../stats/more-stints";
import type { PairOutlook, PowerPoint } from "../../stats/plan-pairs";
import { powersWith } from "../../stats/plan-pairs";
import type { Chart, Table } from "../../table/table";
import { findColumn, valueAt } from "../../table/table";
import { emptyChart, makeChart, titled } from "../chart-parts";
import { numbersOf } from "../drawn-rows";
import { inWords } from "../field-name";
import { tooMany } from "../kind-options";
import { textWidth } from "../text-width";

const needed = ["margin", "shots_to_see", "shots_to_show", "n", "n_against", "standard_error", "df", "stints_worth", "shots_per_stint", "compared", "hit_in_turn", "shots_for_verdict", "confidence", "power"] as const;

/** The power of a question against the shots that it takes: the picture of `enough`. */
export const enough: ChartKind = {
  name: "enough",
  help: {
    summary: "How surely a question is settled with so many shots: the power to find a difference of the margin and to show that there is none, with the shots in hand marked.",
    example: 'chart.enough(shots.enough({ of: "carry", by: "head" }))',
  },
  needs: needed,
  tableOf: "enough",
  options: {},
  build: (table, _options, context) => tooMany(table, context) ?? buildEnough(table),
};

/** Places along a curve, more than an eye can tell from a smooth one. */
const places = 36;

/** Shots beyond which the axis does not go: no session is that long. */
const mostDrawn = 1000;

/**
 * The picture of a table with the columns of `enough`: two curves for the pair that needs most, those of the other pairs
 * lie to the left of them.
 */
export function buildEnough(table: Table): Chart {
  const title = "How many shots are enough?";
  const row = rowThatNeedsMost(table);
  if (row === null) return emptyChart(title, table.rowCount === 0 ? "There is no pair to plan for." : "No pair can be planned for from these shots.", table);

  const outlook = outlookIn(table, row);
  const unit = numbersOf(table, "margin").unit;
  const margin = formatMeasure(outlook.margin, digitsAsStated(outlook.margin), unit);
  const [toSee, toShow, forVerdict] = [numberIn(table, "shots_to_see", row), numberIn(table, "shots_to_show", row), numberIn(table, "shots_for_verdict", row)];
  const isVerdictPossible = forVerdict <= outlook.shots;
  // Where the stints are too few for a verdict, none can be found however little the shots scatter.
  const points = curve(outlook, Math.max(toSee, toShow)).filter(({ shots }) => isVerdictPossible || shots >= forVerdict);
  const [see, show] = [`find ${margin}`, `rule ${margin} out`];
  const lines = points.flatMap(({ shots, toSee, toShow }) => [
    { shots, power: toSee, question: see },
    { shots, power: toShow, question: show },
  ]);
  const now = powersWith(outlook, outlook.stints)!;
  const marks = [
    { shots: now.shots, power: isVerdictPossible ? now.toSee : 0, question: see },
    { shots: now.shots, power: isVerdictPossible ? now.toShow : 0, question: show },
  ];
  const last = points.at(-1)!.shots;
  const x = { type: "quantitative", title: "shots with each of the two, in all", scale: { domain: [0, last], nice: false, zero: true }, axis: { grid: false, format: "d", tickMinStep: 1, tickCount: 6 } };
  const y = { type: "quantitative", title: "power", scale: { domain: [0, 1] }, axis: { format: ".0%", tickCount: 5 } };
  const channel = { field: "question", type: "nominal", title: null, scale: { domain: [see, show] } };
  const spec = {
    title: titled(title, table, subtitle(table, row, outlook)),
    height: 240,
    layer: [
      { data: { values: [{ at: outlook.power }] }, mark: { type: "rule", style: "reference" }, encoding: { y: { ...y, field: "at" } } },
      { data: { values: [{ at: now.shots }] }, mark: { type: "rule", style: "reference" }, encoding: { x: { ...x, field: "at" } } },
      { data: { values: lines }, mark: { type: "line", style: "group line", strokeWidth: 2.5, interpolate: "monotone" }, encoding: { x: { ...x, field: "shots" }, y: { ...y, field: "power" }, color: channel, strokeDash: channel } },
      {
        data: { values: marks },
        mark: { type: "point", style: "mean", size: 80 },
        encoding: { x: { ...x, field: "shots" }, y: { ...y, field: "power" }, color: { ...channel, legend: null }, shape: { ...channel, legend: null } },
      },
      {
        data: { values: [{ at: now.shots, text: `${formatNumber(now.shots, 0)} in hand` }] },
        mark: { type: "text", style: "label", align: now.shots > last / 2 ? "right" : "left", dx: now.shots > last / 2 ? -5 : 5, baseline: "middle" },
        encoding: { x: { ...x, field: "at" }, y: { ...y, datum: clearOf([now.toSee, now.toShow, outlook.power]) }, text: { field: "text" } },
      },
    ],
    resolve: { legend: { color: "independent", shape: "independent", strokeDash: "independent" } },
  };
  return makeChart(spec, { legendLabel: Math.max(textWidth(see, 11), textWidth(show, 11)) }, table, [
    `${title} ${subtitle(table, row, outlook)}`,
    isVerdictPossible
      ? `With the ${formatNumber(now.shots, 0)} shots in hand the power is ${percent(now.toSee)} to find a difference of ${margin} and ${percent(now.toShow)} to rule one out where there is none.`
      : `The ${formatNumber(now.shots, 0)} shots in hand are in too few stints for a verdict, which takes ${forVerdict} shots with each.`,
    `A power of ${formatShare(outlook.power)} takes ${[toSee, toShow].map(inWordsOf).join(" and ")} shots with each in all, in whole stints.`,
  ]);
}

/** A height for a label beside the shots in hand: high up, where curves come later only, unless they are there already. */
function clearOf(lines: readonly number[]): number {
  const room = (height: number): number => Math.min(...lines.map((line) => Math.abs(line - height)));
  return [0.92, 0.06, 0.34].find((height) => room(height) > 0.06) ?? 0.5;
}

/** Of the rows that have a plan the one that takes most shots, of several the one whose difference is known least. */
function rowThatNeedsMost(table: Table): number | null {
  return plannedRows(table).sort((a, b) => needs(table, b) - needs(table, a) || numberIn(table, "standard_error", b) - numberIn(table, "standard_error", a))[0] ?? null;
}

/** Whether another pair needs fewer shots. */
function needsMost(table: Table, row: number): boolean {
  return plannedRows(table).some((other) => needs(table, other) < needs(table, row));
}

function plannedRows(table: Table): number[] {
  return Array.from({ length: table.rowCount }, (_, row) => row).filter((row) => needed.every((name) => !Number.isNaN(numberIn(table, name, row))));
}

function needs(table: Table, row: number): number {
  return Math.max(numberIn(table, "shots_to_see", row), numberIn(table, "shots_to_show", row));
}

function outlookIn(table: Table, row: number): PairOutlook {
  const number = (name: (typeof needed)[number]): number => numberIn(table, name, row);
  return {
    standardError: number("standard_error"),
    df: number("df"),
    stints: number("stints_worth"),
    shotsPerStint: number("shots_per_stint"),
    heads: number("hit_in_turn"),
    familySize: number("compared"),
    margin: number("margin"),
    confidence: number("confidence"),
    power: number("power"),
    shots: Math.min(number("n"), number("n_against")),
  };
}

/** Powers from the fewest stints that have a standard error to a quarter more than are needed. */
function curve(outlook: PairOutlook, enoughShots: number): readonly PowerPoint[] {
  const most = Math.min(mostDrawn, Math.max(enoughShots, outlook.shots) * 1.25 + outlook.shotsPerStint);
  const last = outlook.stints + (most - outlook.shots) / outlook.shotsPerStint;
  const least = outlook.stints * (1 - (outlook.df - 1) / (outlook.df + outlook.heads + 1));
  // Rounding must not take the first place below the one degree of freedom that it has.
  const stints = Array.from({ length: places + 1 }, (_, i) => least * (1 + 1e-9) + ((last - least) * i) / places);
  return stints.flatMap((each) => powersWith(outlook, each) ?? []);
}

function subtitle(table: Table, row: number, outlook: PairOutlook): string {
  const text = (name: string): string | null => {
    const column = findColumn(table, name);
    return column?.kind === "text" ? (valueAt(column, row) as string | null) : null;
  };
  const pair = [text("head"), text("against")].filter((part) => part !== null).join(" and ");
  const of = text("of");
  const question = `${pair === "" ? "" : pair}${needsMost(table, row) ? `${pair === "" ? "The" : ", the"} pair that needs most` : ""}${of === null ? "" : `${pair === "" ? "" : ", "}${inWords(of)}`}`;
  return `${question}. Dashed lines: the shots in hand, and a power of ${formatShare(outlook.power)}.`;
}

function numberIn(table: Table, name: string, row: number): number {
  return numbersOf(table, name).values[row]!;
}

/** Shots as they are told: nobody hits more than 10 000 for one question. */
function inWordsOf(shots: number): string {
  return shots > mostByHitting ? "more than 10 000" : `about ${shots}`;
}

function percent(share: number): string {
  return `${formatNumber(100 * share, 0)} %`;
}
