import { expect, test } from "vitest";
import type { Point } from "../../../core/chart/ellipse";
import { meanPoint, nextPointEllipse } from "../../../core/chart/ellipse";
import { chord, faceOutline } from "../../../core/chart/face-outline";

/** n points of a regular polygon, scaled so that both sample variances are 1 and there is no covariance. */
function circle(n: number): Point[] {
  const radius = Math.sqrt((2 * (n - 1)) / n);
  return Array.from({ length: n }, (_, i) => ({ x: radius * Math.cos((2 * Math.PI * i) / n), y: radius * Math.sin((2 * Math.PI * i) / n) }));
}

test("the ellipse that holds the next point has the size of the closed form", () => {
  // 2(n² − 1)/(n(n − 2)) · F(0.95; 2, 18) with F = 3.554557 (tables of F, two and eighteen degrees of freedom).
  const edge = nextPointEllipse(circle(20))!;
  for (const { x, y } of edge) expect(x * x + y * y).toBeCloseTo((2 * 399 * 3.554557) / 360, 4);
  expect(edge[0]!.x).toBeCloseTo(edge.at(-1)!.x, 10);
});

test("the ellipse follows shift, scale and correlation of its points", () => {
  const plain = nextPointEllipse(circle(12))!;
  const moved = nextPointEllipse(circle(12).map(({ x, y }) => ({ x: 5 + 3 * x, y: 2 + x + y })))!;
  // Both are images of one circle: the moved edge, moved back, lies on the plain circle.
  const radius = plain[0]!.x;
  for (const { x, y } of moved) {
    const u = (x - 5) / 3;
    const v = y - 2 - u;
    expect(Math.hypot(u, v)).toBeCloseTo(radius, 9);
  }
});

test("too few points, or points on a line, have no ellipse", () => {
  expect(nextPointEllipse(circle(5))).toBeNull();
  expect(nextPointEllipse(circle(6))).not.toBeNull();
  expect(nextPointEllipse(Array.from({ length: 9 }, (_, i) => ({ x: i, y: 2 * i })))).toBeNull();
  expect(nextPointEllipse(Array.from({ length: 9 }, () => ({ x: 1, y: 1 })))).toBeNull();
});

test("the mean of points", () => {
  expect(meanPoint([{ x: 1, y: 2 }, { x: 3, y: 6 }])).toEqual({ x: 2, y: 4 });
});

test("a line across the face ends at its edge", () => {
  const square = [{ x: -1, y: -1 }, { x: 1, y: -1 }, { x: 1, y: 1 }, { x: -1, y: 1 }, { x: -1, y: -1 }];
  expect(chord(square, "x", 0.5)).toEqual([-1, 1]);
  expect(chord(square, "y", 0)).toEqual([-1, 1]);
  expect(chord(square, "y", 2)).toBeNull();
  for (const kind of ["iron", "wedge", "wood"] as const) {
    expect(faceOutline(kind)[0]).toEqual(faceOutline(kind).at(-1));
    expect(chord(faceOutline(kind), "x", 0)).not.toBeNull();
  }
});
