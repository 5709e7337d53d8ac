import type { Point } from "./ellipse";

/** The part of a plane that contours are looked for in, and how far apart its nodes are, all in one unit. */
export interface Frame {
  readonly x: readonly [least: number, most: number];
  readonly y: readonly [least: number, most: number];
  readonly step: number;
}

/** A value over a part of a plane. */
export interface Field {
  /** True where the value is told. */
  readonly isTold: (x: number, y: number) => boolean;
  /** The value at a place where it is told. */
  readonly valueAt: (x: number, y: number) => number;
}

/** A field with its values at the nodes of a frame, row by row from below; `NaN` where none is told, and all around the edge. */
export interface SampledField extends Field {
  readonly frame: Frame;
  readonly across: number;
  readonly up: number;
  readonly values: Float64Array;
}

/** A point of a ring; `isCut` where it lies on the edge of what is told, and not on the level. */
export interface RingPoint extends Point {
  readonly isCut: boolean;
}

/** The field with its values at the nodes of a frame. Its edge counts as not told, so that every ring is closed. */
export function sampleField(field: Field, frame: Frame): SampledField {
  const across = Math.floor((frame.x[1] - frame.x[0]) / frame.step + 1e-9) + 1;
  const up = Math.floor((frame.y[1] - frame.y[0]) / frame.step + 1e-9) + 1;
  const values = Float64Array.from({ length: across * up }, (_, node) => {
    const [i, j] = [node % across, Math.floor(node / across)];
    if (i === 0 || j === 0 || i === across - 1 || j === up - 1) return Number.NaN;
    const [x, y] = [frame.x[0] + i * frame.step, frame.y[0] + j * frame.step];
    return field.isTold(x, y) ? field.valueAt(x, y) : Number.NaN;
  });
  return { ...field, frame, across, up, values };
}

/** Corners of a square of nodes, and its sides, anticlockwise from the lower left: side k runs from corner k to corner k + 1. */
const corners = [[0, 0], [1, 0], [1, 1], [0, 1]] as const;

/**
 * The edges of the part of a field that is told and at `level` or above: closed rings, anticlockwise around it and
 * clockwise around its holes. Marching squares; where both diagonals are possible the part is taken to be in two.
 *
 * @param level `-Infinity` gives the edge of what is told.
 */
export function ringsAbove(field: SampledField, level: number): RingPoint[][] {
  const { across, up, values } = field;
  const isIn = (node: number): boolean => values[node]! >= level;
  const next = new Map<number, number>();
  const points = new Map<number, RingPoint>();
  for (let j = 0; j < up - 1; j++) {
    for (let i = 0; i < across - 1; i++) {
      const nodes = corners.map(([right, above]) => (j + above) * across + i + right);
      for (let k = 0; k < 4; k++) {
        if (!isIn(nodes[k]!) || isIn(nodes[(k + 1) % 4]!)) continue;
        let first = k;
        while (isIn(nodes[(first + 3) % 4]!)) first = (first + 3) % 4;
        const leaves = sideOf(nodes, k);
        next.set(leaves, sideOf(nodes, (first + 3) % 4));
        points.set(leaves, crossing(field, level, nodes[k]!, nodes[(k + 1) % 4]!));
      }
    }
  }
  return closedRings(next, points);
}

/** A number for a side that is the same in both squares that have it: its lower or left node, twice, and 1 for an upright one. */
function sideOf(nodes: readonly number[], side: number): number {
  const [a, b] = [nodes[side]!, nodes[(side + 1) % 4]!];
  return 2 * Math.min(a, b) + (side % 2);
}

/** Where the side from a node inside to one outside leaves the part. */
function crossing({ frame, across, values, isTold, valueAt }: SampledField, level: number, inside: number, outside: number): RingPoint {
  const placeOf = (node: number): Point => ({ x: frame.x[0] + (node % across) * frame.step, y: frame.y[0] + Math.floor(node / across) * frame.step });
  const [from, to] = [placeOf(inside), placeOf(outside)];
  const along = (share: number): Point => ({ x: from.x + share * (to.x - from.x), y: from.y + share * (to.y - from.y) });
  const [high, low] = [values[inside]!, values[outside]!];
  if (!Number.isNaN(low)) return { ...along((high - level) / (high - low)), isCut: false };
  // The edge of what is told is known only by asking: twelve halvings find it to a thousandth of a step.
  let [told, untold] = [0, 1];
  for (let halving = 0; halving < 12; halving++) {
    const middle = (told + untold) / 2;
    const { x, y } = along(middle);
    if (isTold(x, y)) told = middle;
    else untold = middle;
  }
  const edge = along(told);
  const atEdge = told === 0 ? high : valueAt(edge.x, edge.y);
  return atEdge >= level ? { ...edge, isCut: true } : { ...along((told * (high - level)) / (high - atEdge)), isCut: false };
}

function closedRings(next: ReadonlyMap<number, number>, points: ReadonlyMap<number, RingPoint>): RingPoint[][] {
  const seen = new Set<number>();
  const rings: RingPoint[][] = [];
  for (const start of next.keys()) {
    if (seen.has(start)) continue;
    const ring: RingPoint[] = [];
    for (let side = start; !seen.has(side); side = next.get(side)!) {
      seen.add(side);
      ring.push(points.get(side)!);
    }
    rings.push(ring);
  }
  return rings;
}

/** The area in a ring, below 0 for one that runs clockwise. */
export function ringArea(ring: readonly Point[]): number {
  return ring.reduce((sum, { x, y }, i) => {
    const to = ring[(i + 1) % ring.length]!;
    return sum + (x * to.y - to.x * y) / 2;
  }, 0);
}

/** The parts of a ring that lie on its level: open lines, or the whole ring, closed, where nothing cuts it. */
export function linesOn(ring: readonly RingPoint[]): Point[][] {
  const cut = ring.findIndex((point) => point.isCut);
  if (cut < 0) return [[...ring, ring[0]!]];
  const lines: Point[][] = [[]];
  for (const point of [...ring.slice(cut), ...ring.slice(0, cut)]) {
    if (!point.isCut) lines.at(-1)!.push(point);
    else if (lines.at(-1)!.length > 0) lines.push([]);
  }
  return lines.filter((line) => line.length > 1);
}

/** Round levels, 1, 2 or 5 times a power of ten apart, between `least` and `most`: at most `count` of them. */
export function roundLevels(least: number, most: number, count: number): number[] {
  const span = most - least;
  if (!(span > 0)) return [];
  const size = 10 ** Math.floor(Math.log10(span / count));
  const levelsOf = (times: number): number[] => {
    const first = Math.floor(least / (times * size)) + 1;
    const length = Math.max(0, Math.ceil(most / (times * size)) - first);
    return Array.from({ length }, (_, i) => Number(((first + i) * times * size).toPrecision(12)));
  };
  return [1, 2, 5, 10].map(levelsOf).find((levels) => levels.length <= count) ?? [];
}
