import { formatNumber } from "../present/format-number";
import type { Field, RingPoint, SampledField } from "./contours";
import { linesOn, ringArea, ringsAbove, roundLevels, sampleField } from "./contours";
import type { Point } from "./ellipse";
import type { ChartSpec } from "./fit-spec";

/** Levels that contours are drawn at over all faces of a picture, at most. */
const mostLevels = 6;

/** Where contours are looked for, in mm from the strike reference: no strike is farther out. */
const frame = { x: [-60, 60], y: [-48, 48], step: 2 } as const;

/** The stretches that the levels part all values into, lowest first, each with its name: `below 1`, `1 to 2`, `2 or more`. */
export interface Bands {
  /** From low to high; none where all values are alike. */
  readonly levels: readonly number[];
  readonly names: readonly string[];
}

/** The contours of one face; the places are in mm. */
export interface FaceContours {
  /** Closed rings, the larger first, to be painted one over the other, each with the band that is inside its edge. */
  readonly areas: readonly { readonly ring: readonly Point[]; readonly band: string }[];
  readonly lines: readonly { readonly line: readonly Point[]; readonly level: number }[];
  /** The level of a line, where there is room for it on the line. */
  readonly labels: readonly (Point & { readonly label: string })[];
}

/** The values over a face at the nodes that contours are drawn from. */
export function sampleFace(field: Field): SampledField {
  return sampleField(field, frame);
}

/** Bands at round levels for all the faces of a picture, so that one colour means one loss on each. */
export function bandsOf(least: number, most: number): Bands {
  const levels = roundLevels(least, most, mostLevels);
  const said = levels.map((level) => levelInWords(levels, level));
  if (levels.length === 0) return { levels, names: ["everywhere the same"] };
  return { levels, names: [`below ${said[0]!}`, ...said.slice(1).map((level, i) => `${said[i]!} to ${level}`), `${said.at(-1)!} or more`] };
}

/**
 * The contours of a face at the levels of its bands.
 *
 * @param taken where other words or marks stand, which the names of the lines keep away from.
 */
export function contoursOf(field: SampledField, { levels, names }: Bands, taken: readonly Point[]): FaceContours {
  const rings = [Number.NEGATIVE_INFINITY, ...levels].flatMap((level, place) => ringsAbove(field, level).map((ring) => ({ level, place, ring, area: ringArea(ring) }))).filter(({ area }) => Math.abs(area) >= leastArea);
  const areas = [...rings]
    .sort((a, b) => Math.abs(b.area) - Math.abs(a.area) || a.place - b.place)
    .map(({ ring, place, area }) => ({ ring: ring.map(rounded), band: names[area < 0 ? place - 1 : place]! }));
  const lines = rings.filter(({ place }) => place > 0).flatMap(({ ring, level }) => linesOn(ring).filter((line) => line.length * frame.step >= leastLine).map((line) => ({ line: line.map(rounded), level })));
  const labels: (Point & { readonly label: string })[] = [];
  // The longest line of a level is named first, the others only where there is room left.
  for (const { line, level } of [...lines].sort((a, b) => b.line.length - a.line.length)) {
    if (line.length * frame.step < leastNamed) continue;
    const place = places.map((share) => line[Math.floor(share * (line.length - 1))]!).find((at) => ![...taken, ...labels].some((other) => isNear(at, other)));
    if (place !== undefined) labels.push({ ...place, label: levelInWords(levels, level) });
  }
  return { areas, lines, labels };
}

/** Area of a ring, in mm², below which it is a speck, smaller than the mark of a strike. */
const leastArea = 6;
/** Length of a line, in mm, below which it is not drawn, as where a level runs along the edge of what is told; and not named. */
const leastLine = 6;
const leastNamed = 12;
/** Where along a line its name may stand, the best place first. */
const places = [0.5, 0.35, 0.65, 0.2, 0.8, 0.08, 0.92];

/** True for places so near each other, in mm, that words at both would touch where a face is drawn 230 pixels wide. */
function isNear(a: Point, b: Point): boolean {
  return Math.abs(a.x - b.x) < 9 && Math.abs(a.y - b.y) < 6;
}

function rounded({ x, y }: Point | RingPoint): Point {
  return { x: Number(x.toFixed(1)), y: Number(y.toFixed(1)) };
}

function levelInWords(levels: readonly number[], level: number): string {
  return formatNumber(level, Math.max(...levels.map((each) => String(Number(each.toPrecision(6))).split(".")[1]?.length ?? 0)));
}

/** Layers of contours on the scales `x` and `y` of a face, tints below lines; `color` names the bands in a field `band`. */
export function contourLayers({ areas, lines }: FaceContours, x: ChartSpec, y: ChartSpec, color: ChartSpec): ChartSpec[] {
  if (areas.length === 0) return [];
  const order = { field: "order" };
  const detail = { field: "part" };
  const zero = lines.filter(({ level }) => level === 0);
  const drawn = lines.filter(({ level }) => level !== 0);
  const pointsOf = (parts: typeof lines): object[] => parts.flatMap(({ line }, part) => line.map((point, at) => ({ ...point, part, order: at })));
  return [
    {
      data: { values: areas.flatMap(({ ring, band }, part) => ring.map((point, at) => ({ ...point, part, band, order: at }))) },
      mark: { type: "line", filled: true, strokeWidth: 0, interpolate: "linear", aria: false },
      encoding: { x, y, order, detail, color },
    },
    ...[{ parts: drawn, style: "grid" }, { parts: zero, style: "reference" }].map(({ parts, style }) => ({
      data: { values: pointsOf(parts) },
      mark: { type: "line", style, strokeWidth: 1, interpolate: "linear", aria: false },
      encoding: { x, y, order, detail },
    })),
  ];
}
