import type { HeadKind } from "../session/session-facts";
import type { Point } from "./ellipse";
import type { ChartSpec } from "./fit-spec";

/**
 * A sketch of the face of each kind of head, in mm from the strike reference, + to the toe and + up, for orientation
 * only: no head's true edge. Sizes are common ones, no source.
 */
const corners: Record<HeadKind, readonly (readonly [x: number, y: number])[]> = {
  iron: [
    [-36, -9], [-31, -14], [-15, -17.5], [4, -18.5], [22, -17], [34, -11.5], [40, 1], [42, 16], [41, 28], [37, 34],
    [31, 34.5], [18, 27.5], [0, 20], [-18, 13], [-32, 8], [-38, 2],
  ],
  wedge: [
    [-36, -8], [-31, -14], [-14, -18.5], [5, -20], [24, -18], [36, -11], [42, 3], [44, 20], [42, 34], [36, 41],
    [29, 41], [15, 32.5], [-2, 23], [-18, 15.5], [-32, 9.5], [-38, 3],
  ],
  wood: [
    [-50, -4], [-44, -15], [-28, -23], [-8, -27], [12, -27], [32, -23], [46, -14], [53, -2], [52, 10], [44, 19],
    [28, 25], [8, 28], [-14, 27], [-32, 21], [-45, 12], [-50, 4],
  ],
};

/** The sketched edge of a face, a closed line through 16 points. */
export function faceOutline(kind: HeadKind): Point[] {
  const points = corners[kind].map(([x, y]) => ({ x, y }));
  return [...points, points[0]!];
}

/** Where the line across the face at `x` (or up it, at `y`) enters and leaves the outline; `null` where it misses it. */
export function chord(outline: readonly Point[], along: "x" | "y", at: number): readonly [number, number] | null {
  const other = along === "x" ? "y" : "x";
  const crossings = outline.slice(1).flatMap((to, index) => {
    const from = outline[index]!;
    if (from[along] === to[along] || from[along] < at === to[along] < at) return [];
    return [from[other] + ((at - from[along]) / (to[along] - from[along])) * (to[other] - from[other])];
  });
  return crossings.length < 2 ? null : [Math.min(...crossings), Math.max(...crossings)];
}

/** Layers of a cross at the strike reference, on the scales `x` and `y` of a face. */
export function strikeCross(x: ChartSpec, y: ChartSpec): ChartSpec[] {
  const arm = 3;
  const mark = { type: "rule", style: "grid", strokeOpacity: 0.9, strokeWidth: 1.5 };
  return [
    { data: { values: [{ x: -arm, to: arm, y: 0 }] }, mark, encoding: { x, x2: { field: "to" }, y } },
    { data: { values: [{ x: 0, y: -arm, to: arm }] }, mark, encoding: { x, y, y2: { field: "to" } } },
  ];
}
