import { groupField } from "./field-name";
import type { ChartSpec } from "./fit-spec";

/** A fitted trend over the shots of one session. */
export interface TrendLine {
  readonly session: string;
  /** The group whose line it is; `null` for the one line of all. */
  readonly group: string | null;
  /** By shot number, ascending; `from` and `to` are `null` where no band is drawn. In the unit of what is followed. */
  readonly points: readonly { readonly shot: number; readonly level: number; readonly from: number | null; readonly to: number | null }[];
}

/** Trends to draw, and what a reader must know of them, in sentences. */
export interface FittedTrends {
  /** The column that is followed, whichever form of it is drawn; `null` for the one drawn. */
  readonly subject: string | null;
  readonly lines: readonly TrendLine[];
  readonly remarks: readonly string[];
}

/** Nothing to draw beside the shots. */
export const noTrends: FittedTrends = { subject: null, lines: [], remarks: [] };

/** Every number of the lines, which the axis must reach. */
export function trendValues(lines: readonly TrendLine[]): readonly number[] {
  return lines.flatMap(({ points }) => points.flatMap(({ level, from, to }) => [level, from ?? level, to ?? level]));
}

/**
 * The layers of the trends of one session: the band with its edges, and the lines above it. Lines of groups have the
 * groups' colours and their names at the end.
 */
export function trendLayers(lines: readonly TrendLine[], x: ChartSpec, y: ChartSpec, colour: ChartSpec): readonly ChartSpec[] {
  if (lines.length === 0) return [];
  const points = lines.flatMap(({ group, points: own }) => own.map((point) => ({ [groupField]: group ?? "", ...point })));
  const band = points.filter((point) => point.from !== null);
  const ofGroups = lines.some((line) => line.group !== null);
  const shot = { ...x, field: "shot" };
  const detail = { field: groupField, type: "nominal" };
  const edge = (field: "from" | "to"): ChartSpec => ({
    data: { values: band },
    mark: { type: "line", style: "outline", strokeDash: [5, 3] },
    encoding: { x: shot, y: { ...y, field }, detail },
  });
  const line = { data: { values: points }, encoding: { x: shot, y: { ...y, field: "level" }, detail, ...(ofGroups ? colour : {}) } };
  const bandLayers = [
    { data: { values: band }, mark: { type: "area", style: "band" }, encoding: { x: shot, y: { ...y, field: "from" }, y2: { field: "to" }, detail } },
    edge("from"),
    edge("to"),
  ];
  const ends = lines.map(({ group, points: own }) => ({ [groupField]: group ?? "", ...own.at(-1)! }));
  return [
    ...(band.length === 0 ? [] : bandLayers),
    { ...line, mark: ofGroups ? { type: "line", style: "group line" } : { type: "line", style: "outline", strokeWidth: 2.5, strokeOpacity: 1 } },
    ...(ofGroups
      ? [{ data: { values: ends }, mark: { type: "text", style: "label", align: "right", dy: -8, fontWeight: 600 }, encoding: { x: shot, y: { ...y, field: "level" }, text: { field: groupField } } }]
      : []),
  ];
}
