import type { Chart, Table } from "../table/table";
import { acrossTitle, columnTitle, emptyChart, extent, groupChannels, groupsInWords, leftOut, legendLabel, makeChart, ofDerived, ownLegends, rangeInWords, titled, tooltips, withoutLegends } from "./chart-parts";
import type { Drawn } from "./drawn-rows";
import { drawnRows, numbersOf } from "./drawn-rows";
import type { Point } from "./ellipse";
import { meanPoint } from "./ellipse";
import { groupField, inWords } from "./field-name";
import { pooledInWords, pooledShots } from "./pooled-shots";

/** The columns that say where a shot came down. */
export const groundNumbers = ["offline", "carry"] as const;

/** What a picture of the ground shows besides the shots. */
export interface GroundPicture {
  /** Without the groups: `Where the shots landed`. */
  readonly title: string;
  /** The edge of a group's ellipse, as a closed line; `null` where it gets none. */
  readonly edgeOf: (points: readonly Point[]) => readonly Point[] | null;
  /** What the ellipses hold, said where there are any. */
  readonly ellipses: string;
  /** What else a reader must know, below the title; `bare` are the groups without an ellipse. */
  readonly notes: (bare: readonly string[]) => readonly string[];
}

/**
 * Shots on the ground, as the player sees it: the target line goes up the page, both axes have one scale, and each group
 * has its mean and an ellipse.
 */
export function drawGround(table: Table, by: string | null, { title: plain, edgeOf, ellipses, notes }: GroundPicture): Chart {
  const drawn = drawnRows(table, { numbers: groundNumbers, by, also: ["session", "shot", "head"] });
  const title = by === null ? plain : `${plain}, by ${inWords(by)}`;
  const missing = leftOut(drawn, groundNumbers);
  if (drawn.table.rowCount === 0) return emptyChart(title, missing === "" ? "There are no shots." : missing, drawn.table);

  const offline = numbersOf(drawn.table, "offline");
  const carry = numbersOf(drawn.table, "carry");
  const pointsOf = (rows: readonly number[]): Point[] => rows.map((row) => ({ x: offline.values[row]!, y: carry.values[row]! }));
  const means = drawn.groups.map(({ label, rows }) => ({ [groupField]: label, ...meanPoint(pointsOf(rows)) }));
  const pooled = pooledShots(drawn);
  const outlines = drawn.groups.map(({ label, rows }) => ({ label, edge: pooled.groups.has(label) ? null : edgeOf(pointsOf(rows)) }));
  const edges = outlines.flatMap(({ label, edge }) => (edge ?? []).map((point, order) => ({ [groupField]: label, ...point, order })));
  const said = [...pooledInWords(pooled), ...notes(outlines.filter(({ label, edge }) => edge === null && !pooled.groups.has(label)).map(({ label }) => label))];
  const frame = frameOf([...pointsOf(drawn.table.rowCount === 0 ? [] : [...offline.values.keys()]), ...edges]);
  const channels = groupChannels(drawn, by);
  const axis = { tickMinStep: stepOf(frame.x[1] - frame.x[0]) };
  const x = { type: "quantitative", scale: { domain: frame.x, nice: false, zero: false }, axis, title: acrossTitle(offline) };
  const y = { type: "quantitative", scale: { domain: frame.y, nice: false, zero: false }, axis, title: columnTitle(carry) };
  const unexplained = ofDerived(withoutLegends(channels));
  const { color } = unexplained;
  const spec = {
    title: titled(title, table, ellipseNote(drawn, edges.length > 0 ? ellipses : ""), ...said, missing),
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
    ...(edges.length > 0 ? [ellipses] : []),
    ...said,
    missing,
  ]);
}

function ellipseNote(drawn: Drawn, ellipses: string): string {
  const mean = drawn.groups.length > 1 ? "Outlined marks: group means." : "Outlined mark: the mean.";
  return ellipses === "" ? mean : `${mean} ${ellipses}`;
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
