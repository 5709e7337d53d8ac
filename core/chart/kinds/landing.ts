import type { ChartKind } from "../../query/vocabulary";
import type { Chart, Table } from "../../table/table";
import { columnTitle, acrossTitle, emptyChart, extent, groupChannels, groupsInWords, leftOut, legendLabel, makeChart, ofDerived, ownLegends, rangeInWords, titled, tooltips, withoutLegends } from "../chart-parts";
import type { Drawn } from "../drawn-rows";
import { drawnRows, numbersOf } from "../drawn-rows";
import type { Point } from "../ellipse";
import { meanPoint, nextPointEllipse } from "../ellipse";
import { groupField, inWords } from "../field-name";
import { groupOption, tooMany, whatGroups } from "../kind-options";

const numbers = ["offline", "carry"] as const;

/** Where shots landed, as the player sees it: the target line goes up the page, and both axes have one scale. */
export const landing: ChartKind = {
  name: "landing",
  help: {
    summary: "Where shots landed, as the player sees it, with each group's mean and the ellipse that holds its next shot with 95 %.",
    example: 'chart.landing(shots, { by: "head" })',
  },
  needs: numbers,
  options: { by: groupOption },
  build: (table, options, context) => {
    const refusal = tooMany(table, context);
    return refusal ?? buildLanding(table, whatGroups(table, options));
  },
};

function buildLanding(table: Table, by: string | null): Chart {
  const drawn = drawnRows(table, { numbers, by, also: ["session", "shot", "head"] });
  const title = by === null ? "Where the shots landed" : `Where the shots landed, by ${inWords(by)}`;
  const missing = leftOut(drawn, numbers);
  if (drawn.table.rowCount === 0) return emptyChart(title, missing === "" ? "There are no shots." : missing, drawn.table);

  const offline = numbersOf(drawn.table, "offline");
  const carry = numbersOf(drawn.table, "carry");
  const pointsOf = (rows: readonly number[]): Point[] => rows.map((row) => ({ x: offline.values[row]!, y: carry.values[row]! }));
  const means = drawn.groups.map(({ label, rows }) => ({ [groupField]: label, ...meanPoint(pointsOf(rows)) }));
  const edges = drawn.groups.flatMap(({ label, rows }) =>
    (nextPointEllipse(pointsOf(rows)) ?? []).map((point, order) => ({ [groupField]: label, ...point, order })),
  );
  const frame = frameOf([...pointsOf(drawn.table.rowCount === 0 ? [] : [...offline.values.keys()]), ...edges]);
  const channels = groupChannels(drawn, by);
  const axis = { tickMinStep: stepOf(frame.x[1] - frame.x[0]) };
  const x = { type: "quantitative", scale: { domain: frame.x, nice: false, zero: false }, axis, title: acrossTitle(offline) };
  const y = { type: "quantitative", scale: { domain: frame.y, nice: false, zero: false }, axis, title: columnTitle(carry) };
  const unexplained = ofDerived(withoutLegends(channels));
  const { color } = unexplained;
  const spec = {
    title: titled(title, table, ellipseNote(drawn, edges.length > 0), missing),
    layer: [
      {
        data: { values: [{ line: 0 }] },
        mark: { type: "rule", style: "reference" },
        encoding: { x: { ...x, field: "line" } },
      },
      {
        data: { values: edges },
        mark: { type: "line", style: "group line", interpolate: "linear" },
        encoding: {
          x: { ...x, field: "x" },
          y: { ...y, field: "y" },
          order: { field: "order" },
          ...(color === undefined ? {} : { color, strokeDash: color }),
        },
      },
      {
        mark: { type: "point" },
        encoding: { x: { ...x, field: "offline" }, y: { ...y, field: "carry" }, ...channels, tooltip: tooltips(drawn.table) },
      },
      {
        data: { values: means },
        mark: { type: "point", style: "mean", size: 150 },
        encoding: { x: { ...x, field: "x" }, y: { ...y, field: "y" }, ...unexplained },
      },
    ],
    resolve: ownLegends,
  };
  const heightPerWidth = (frame.y[1] - frame.y[0]) / (frame.x[1] - frame.x[0]);
  return makeChart(spec, { heightPerWidth, tallest: 460, legendLabel: legendLabel(drawn) }, drawn.table, [
    `Where ${drawn.table.rowCount} ${drawn.noun} landed${by === null ? "" : `, by ${inWords(by)}: ${groupsInWords(drawn)}`}.`,
    `Carry ${rangeInWords(carry)}, offline ${rangeInWords(offline)} (positive is right).`,
    missing,
  ]);
}

function ellipseNote(drawn: Drawn, hasEllipses: boolean): string {
  const mean = drawn.groups.length > 1 ? "Outlined marks: group means." : "Outlined mark: the mean.";
  return hasEllipses ? `${mean} Ellipses hold the next shot with 95 %.` : mean;
}

/**
 * The part of the ground that is shown: the target line in the middle, a margin around every point, and neither side
 * more than 1.4 times the other, so that one scale for both leaves no thin strip.
 */
function frameOf(points: readonly Point[]): { readonly x: readonly [number, number]; readonly y: readonly [number, number] } {
  const [left, right] = extent(points.map((point) => point.x));
  const [near, far] = extent(points.map((point) => point.y));
  const most = 1.4;
  let half = Math.max(Math.abs(left), Math.abs(right), 1) * 1.08;
  let depth = Math.max((far - near) * 1.12, 2);
  half = Math.max(half, depth / most / 2);
  depth = Math.max(depth, (2 * half) / most);
  const middle = (near + far) / 2;
  return { x: [-half, half], y: [middle - depth / 2, middle + depth / 2] };
}

/** A round step, the same for both axes, that makes about eight of a span. */
function stepOf(span: number): number {
  const size = 10 ** Math.floor(Math.log10(span / 8));
  return size * ([1, 2, 5, 10].find((times) => (times * size * 12) >= span) ?? 10);
}
