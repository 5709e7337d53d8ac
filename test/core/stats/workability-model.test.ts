import { expect, test } from "vitest";
import { fitBlockModel } from "../../../core/stats/block-model";
import { fUpperTail } from "../../../core/stats/distributions";
import { linearRegression } from "../../../core/stats/linear-regression";
import type { SlopeData } from "../../../core/stats/workability-model";
import { onlyGroups, shareExplained, slopeModel } from "../../../core/stats/workability-model";
import { checksOf, expectClose, normals } from "./check-values";

interface Session {
  readonly csv: string;
}

/** The session of the check values: spin tilt along face angle less club path, by head, with the strike beside it. */
function session101(): { readonly data: SlopeData; readonly expected: Record<string, number | readonly number[]> } {
  const check = checksOf<never, never, { workability: Record<string, number | readonly number[]> }>("whole-session")[0]!;
  const { csv, block, heads } = check as unknown as Session & { block: readonly number[]; heads: readonly string[] };
  const [header, ...lines] = csv.trim().split("\n").map((line) => line.split(","));
  const read = (name: string): Float64Array => {
    const place = header!.findIndex((title) => title.startsWith(name));
    return Float64Array.from(lines, (line) => Number(line[place]));
  };
  const path = read("Club path");
  return {
    expected: check.expected.workability,
    data: {
      groupCount: heads.length,
      group: Int32Array.from(lines, (line) => heads.indexOf(line[1]!)),
      session: new Int32Array(lines.length),
      stint: Float64Array.from(block),
      time: Float64Array.from(lines, (_, i) => i / (lines.length - 1)),
      value: read("Spin tilt"),
      strike: null,
      along: read("Face angle").map((face, i) => face - path[i]!),
      beside: read("Strike toe-heel"),
    },
  };
}

const withoutTrend = (data: SlopeData): SlopeData => ({ ...data, time: data.time.map(() => 0) });

function slopesOf(data: SlopeData): readonly number[] {
  const model = slopeModel(data);
  const fit = linearRegression(model.columns, model.value)!;
  return Array.from({ length: data.groupCount }, (_, g) => fit.contrast(model.slopeOf(g)).difference);
}

function checkSlopes(actual: readonly number[], wanted: unknown): void {
  (wanted as readonly number[]).forEach((slope, g) => expectClose(actual[g]!, slope, 1e-9, 0, `slope ${g}`));
}

test("the slopes of each head, nothing taken out, agree with R", () => {
  const { data, expected } = session101();
  checkSlopes(slopesOf(withoutTrend({ ...data, beside: null })), expected["slopeByHeadNoAdjust"]);
});

test("the slopes of each head by itself, with the strike taken out, agree with R", () => {
  const { data, expected } = session101();
  checkSlopes([0, 1, 2].flatMap((g) => slopesOf(withoutTrend(onlyGroups(data, [g])))), expected["slopeAdjustedForX"]);
});

test("whether the slopes differ at all, nothing taken out, agrees with R", () => {
  const { data, expected } = session101();
  const model = slopeModel(withoutTrend({ ...data, beside: null }));
  const apart = linearRegression(model.columns, model.value)!;
  // One slope for all heads: their columns added up.
  const common = data.along.map((_, i) => [3, 4, 5].reduce((total, j) => total + model.columns[j]![i]!, 0));
  const alike = linearRegression([...model.columns.slice(0, 3), common], model.value)!;
  const f = (alike.residualSumOfSquares - apart.residualSumOfSquares) / 2 / apart.residualVariance;
  expectClose(f, expected["interactionF"] as number, 1e-9);
  expectClose(fUpperTail(f, 2, apart.residualDf), expected["interactionP"] as number, 1e-9);
  // Kenward and Roger's test of the same with a level of its own for each stint is that of independent shots here.
  const block = fitBlockModel(model)!;
  const difference = (of: number, against: number) => model.slopeOf(of).map((weight, j) => weight - model.slopeOf(against)[j]!);
  const joint = block.jointTest([difference(1, 0), difference(2, 0)]);
  expect(joint.dfNumerator).toBe(2);
  expect(Math.abs(joint.f - f)).toBeLessThan(0.5);
});

/** Two heads hit in turn with slopes 4 and 5, a gear effect of −0.3 a millimetre, and strike along with face-to-path. */
function invented(scatter = 1, seed = 2): SlopeData {
  const normal = normals(seed);
  const n = 240;
  const group = Int32Array.from({ length: n }, (_, i) => Math.floor(i / 4) % 2);
  const along = Float64Array.from({ length: n }, () => 2.5 * normal());
  const beside = along.map((value) => value + 6 * normal());
  return {
    groupCount: 2,
    group,
    session: new Int32Array(n),
    stint: Float64Array.from({ length: n }, (_, i) => Math.floor(i / 4)),
    time: Float64Array.from({ length: n }, (_, i) => i / (n - 1)),
    value: along.map((value, i) => 1 + (4 + group[i]!) * value - 0.3 * beside[i]! + scatter * normal()),
    strike: null,
    along,
    beside,
  };
}

test("the true slopes lie in their intervals, and without the strike they are off by its effect", () => {
  const data = invented();
  const model = slopeModel(data);
  const fit = fitBlockModel(model)!;
  [4, 5].forEach((truth, g) => {
    const { difference, standardError } = fit.contrast(model.slopeOf(g));
    expect(Math.abs(difference - truth)).toBeLessThan(2.5 * standardError);
  });
  // The strike goes along with face-to-path by 1 mm a degree, so that its −0.3 passes for slope.
  const [first] = slopesOf({ ...data, beside: null });
  expectClose(first!, 3.7, 0, 0.2);
});

test("the value expected at a place lies on the line of the group", () => {
  const data = invented(0);
  const model = slopeModel(data);
  const fit = linearRegression(model.columns, model.value)!;
  const at = (along: number) => fit.contrast(model.valueAt(1, along)).difference;
  expectClose(at(3) - at(2), 5, 1e-9);
  const middle = data.beside!.reduce((total, value) => total + value, 0) / data.value.length;
  expectClose(at(0), 1 - 0.3 * middle, 1e-9, 1e-9);
});

test("a reading worked out from the others is explained by them, one that was read is not", () => {
  const data = invented();
  const face = data.along.map((value, i) => value + (i % 7));
  const path = face.map((value, i) => value - data.along[i]!);
  const computed = data.along.map((value, i) => 4.5 * value - 0.2 * data.beside![i]!);
  expectClose(shareExplained([face, path, data.beside!], computed), 1, 1e-9);
  expect(shareExplained([face, path, data.beside!], data.value)).toBeLessThan(0.99);
  expect(shareExplained([face, path], Float64Array.of(1, 2, 3))).toBeNaN();
});
