import * as fc from "fast-check";
import { expect, test } from "vitest";
import type { Point } from "../../../core/stats/ellipses";
import { ellipseAxes, ellipseEdge, isFlat, logArea, pointCloud, principalVariances, squaredDistance, squaredRadius } from "../../../core/stats/ellipses";
import { hotelling } from "../../../core/stats/hotelling";
import { minimumCovarianceDeterminant } from "../../../core/stats/mcd";
import { smallSampleFactor } from "../../../core/stats/mcd-factors";
import { checksOf, expectClose, normals } from "./check-values";

interface Plane {
  readonly x: readonly number[];
  readonly y: readonly number[];
}

const pointsOf = ({ x, y }: Plane): Point[] => x.map((value, i) => ({ x: value, y: y[i]! }));

test("centre, covariance, axes, radii, areas and distances of an ellipse agree with R", () => {
  interface Ellipse {
    readonly center: readonly [number, number];
    readonly cov: readonly [number, number, number, number];
    readonly corr: number;
    readonly eigenvalues: readonly [number, number];
    readonly majorAxisAngleDeg: number;
    readonly k2Chi: number;
    readonly k2PredictionF: number;
    readonly k2MeanF: number;
    readonly semiAxesChi: readonly [number, number];
    readonly areaChi: number;
    readonly areaPrediction: number;
    readonly mahalanobis2: readonly number[];
  }
  for (const { id, data, args, expected } of checksOf<Plane, { coverage: number }, Ellipse>("bivariate-ellipse")) {
    const points = pointsOf(data);
    const cloud = pointCloud(points);
    const close = (actual: number, wanted: number, what: string) => expectClose(actual, wanted, 1e-9, 0, `${id} ${what}`);
    close(cloud.centre.x, expected.center[0], "x");
    close(cloud.centre.y, expected.center[1], "y");
    close(cloud.xx, expected.cov[0], "xx");
    close(cloud.xy, expected.cov[1], "xy");
    close(cloud.yy, expected.cov[3], "yy");
    close(cloud.xy / Math.sqrt(cloud.xx * cloud.yy), expected.corr, "correlation");
    principalVariances(cloud).forEach((variance, i) => close(variance, expected.eigenvalues[i]!, "eigenvalue"));
    const k2 = { chi: squaredRadius("population", cloud.n, args.coverage), next: squaredRadius("next shot", cloud.n, args.coverage) };
    close(k2.chi, expected.k2Chi, "population");
    close(k2.next, expected.k2PredictionF, "next shot");
    close(squaredRadius("mean point", cloud.n, args.coverage), expected.k2MeanF, "mean point");
    const axes = ellipseAxes(cloud, k2.chi);
    close(axes.angle, expected.majorAxisAngleDeg, "angle");
    close(axes.semiMajor, expected.semiAxesChi[0], "major");
    close(axes.semiMinor, expected.semiAxesChi[1], "minor");
    close(axes.area, expected.areaChi, "area");
    close(ellipseAxes(cloud, k2.next).area, expected.areaPrediction, "area of the next shot");
    points.forEach((point, i) => close(squaredDistance(cloud, point), expected.mahalanobis2[i]!, `distance ${i}`));
  }
});

test("the radii of the three ellipses of 20 shots", () => {
  // 5.99, 7.88 and 0.375: −2 ln 0.05, and 2·399/360 and 2·19/360 times F(0.95; 2, 18) = 3.554557 of the tables.
  expectClose(squaredRadius("population", 20, 0.95), 5.991465, 1e-6);
  expectClose(squaredRadius("next shot", 20, 0.95), (2 * 399 * 3.554557) / 360, 1e-6);
  expectClose(squaredRadius("mean point", 20, 0.95), (2 * 19 * 3.554557) / 360, 1e-6);
});

const cloudOfPoints = fc
  .array(fc.tuple(fc.integer({ min: -200, max: 200 }), fc.integer({ min: -200, max: 200 })), { minLength: 6, maxLength: 25 })
  .map((list) => list.map(([x, y]): Point => ({ x: x / 10, y: y / 10 })))
  .filter((points) => !isFlat(pointCloud(points)) && Math.min(...principalVariances(pointCloud(points))) > 0.5);

test("turning the points turns the ellipse and leaves its area and axes as they are", () => {
  fc.assert(
    fc.property(cloudOfPoints, fc.double({ min: -180, max: 180, noNaN: true }), (points, degrees) => {
      const angle = (degrees * Math.PI) / 180;
      const turned = points.map(({ x, y }) => ({ x: x * Math.cos(angle) - y * Math.sin(angle) + 7, y: x * Math.sin(angle) + y * Math.cos(angle) - 3 }));
      const [plain, other] = [points, turned].map((each) => ellipseAxes(pointCloud(each), 6));
      expectClose(other!.area, plain!.area, 1e-8);
      expectClose(other!.semiMajor, plain!.semiMajor, 1e-9);
      expectClose(other!.semiMinor, plain!.semiMinor, 1e-8);
      expectClose(logArea(turned), logArea(points), 1e-8, 1e-8);
    }),
    { seed: 71 },
  );
});

test("every point of the edge lies at the radius, and the edge is closed", () => {
  fc.assert(
    fc.property(cloudOfPoints, (points) => {
      const cloud = pointCloud(points);
      const edge = ellipseEdge(cloud, 7.5);
      for (const point of edge) expectClose(squaredDistance(cloud, point), 7.5, 1e-7);
      expectClose(edge[0]!.x, edge.at(-1)!.x, 1e-9, 1e-9);
    }),
    { seed: 72 },
  );
});

test("the logarithm of the area counts scale twice, and points on a line have none", () => {
  const points = [0, 1, 2, 3, 4, 5, 6].map((i) => ({ x: i, y: (i * i) % 5 }));
  expectClose(logArea(points.map(({ x, y }) => ({ x: 3 * x, y: 3 * y }))) - logArea(points), 2 * Math.log(3), 1e-12);
  expect(logArea(points.map(({ x }) => ({ x, y: 2 * x })))).toBeNaN();
  expect(logArea(points.slice(0, 2))).toBeNaN();
});

test("Hotelling's T² of two centres and the ratio of the ellipses' areas agree with R", () => {
  interface Centres {
    readonly T2: number;
    readonly F: number;
    readonly df: readonly [number, number];
    readonly p: number;
    readonly logDetRatio: number;
    readonly areaRatio: number;
  }
  for (const { id, data, expected } of checksOf<Plane & { group: string[] }, never, Centres>("hotelling-two-sample")) {
    const names = [...new Set(data.group)];
    const [first, second] = names.map((name) => pointsOf(data).filter((_, i) => data.group[i] === name));
    const found = hotelling(first!, second!);
    expectClose(found.t2, expected.T2, 1e-9, 0, id);
    expectClose(found.f, expected.F, 1e-9, 0, id);
    expect(found.df).toEqual(expected.df);
    expectClose(found.p, expected.p, 1e-9, 0, id);
    const logRatio = logArea(first!) - logArea(second!);
    expectClose(2 * logRatio, expected.logDetRatio, 1e-9, 0, id);
    expectClose(Math.exp(logRatio), expected.areaRatio, 1e-9, 0, id);
  }
});

test("Hotelling's T² is the same from either side, and asks for five points", () => {
  const points = (count: number, shift: number, seed: number): Point[] => {
    const normal = normals(seed);
    return Array.from({ length: count }, () => ({ x: shift + normal(), y: normal() }));
  };
  const [a, b] = [points(7, 0, 1), points(9, 1, 2)];
  expectClose(hotelling(a, b).t2, hotelling(b, a).t2, 1e-10);
  expect(hotelling(points(2, 0, 3), points(1, 0, 4)).p).toBeNaN();
});

interface Mcd {
  readonly bestSubset: readonly number[];
  readonly rawLogDetOfSubsetCov: number;
  readonly subsetMean: readonly number[];
  readonly rawCenter: readonly number[];
  readonly center: readonly number[];
  readonly cov: readonly number[];
  readonly rawCov: readonly number[];
  readonly rawCnp2: readonly [number, number];
  readonly cnp2: readonly [number, number];
  readonly robustDistance2: readonly number[];
  readonly flagged975: readonly number[];
}

test("the minimum covariance determinant agrees with an exact search in R", () => {
  for (const { id, data, args, expected } of checksOf<{ columns: number[][] }, { alpha: number; h: number }, Mcd>("mcd")) {
    const found = minimumCovarianceDeterminant(data.columns, { share: args.alpha })!;
    const close = (actual: readonly number[], wanted: readonly number[], what: string) => {
      expect(actual.length).toBe(wanted.length);
      actual.forEach((value, i) => expectClose(value, wanted[i]!, 1e-8, 0, `${id} ${what} ${i}`));
    };
    expect(found.subset.map((place) => place + 1)).toEqual(expected.bestSubset);
    expect(found.subset.length).toBe(args.h);
    close([found.logDeterminant], [expected.rawLogDetOfSubsetCov], "determinant");
    close(found.rawCentre, expected.rawCenter, "raw centre");
    close(found.rawCentre, expected.subsetMean, "subset mean");
    close(found.centre, expected.center, "centre");
    close(found.rawCovariance.flat(), expected.rawCov, "raw covariance");
    close(found.covariance.flat(), expected.cov, "covariance");
    close(found.rawFactors, expected.rawCnp2, "raw factors");
    close(found.factors, expected.cnp2, "factors");
    close(found.distances, expected.robustDistance2, "distances");
    expect(found.far.map((place) => place + 1)).toEqual(expected.flagged975);
  }
});

test("a third of far points moves the robust cloud little, and they are found", () => {
  const normal = normals(11);
  const [x, y] = [Array.from({ length: 60 }, (_, i) => normal() + (i % 3 === 0 ? 40 : 0)), Array.from({ length: 60 }, () => normal())];
  const found = minimumCovarianceDeterminant([x, y], { share: 0.5 })!;
  expect(Math.abs(found.centre[0]!)).toBeLessThan(1);
  expect(found.covariance[0]![0]!).toBeLessThan(3);
  expect(found.far.filter((place) => place % 3 === 0).length).toBe(20);
});

test("many points start from subsets drawn by chance, the same ones each time", () => {
  const normal = normals(12);
  const columns = [0, 1].map(() => Array.from({ length: 120 }, () => normal()));
  expect(minimumCovarianceDeterminant(columns, { seed: 4 })).toEqual(minimumCovarianceDeterminant(columns, { seed: 4 }));
  const all = minimumCovarianceDeterminant(columns, { share: 1 })!;
  expect(all.rawFactors[0]).toBe(1);
});

test("points on a line, and too few of them, have no robust cloud", () => {
  const line = Array.from({ length: 12 }, (_, i) => i);
  expect(minimumCovarianceDeterminant([line, line.map((i) => 2 * i)])).toBeNull();
  expect(minimumCovarianceDeterminant([[1, 2, 3], [3, 1, 2]])).toBeNull();
  expect(minimumCovarianceDeterminant([line])).toBeNull();
});

test("the small-sample factors are near 1 for many points, and above it", () => {
  for (const round of ["first", "second"] as const) {
    for (const p of [2, 3, 4]) {
      expect(smallSampleFactor(p, 20, 0.5, round)).toBeGreaterThan(smallSampleFactor(p, 200, 0.5, round));
      expect(smallSampleFactor(p, 5000, 0.75, round)).toBeLessThan(1.02);
      expect(smallSampleFactor(p, 50, 1, round)).toBeCloseTo(1, 12);
    }
  }
});
