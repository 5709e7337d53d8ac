import { expect, test } from "vitest";
import { mean, sampleSd } from "../../../core/stats/moments";
import { commonStrikes, restrictStrikes } from "../../../core/stats/standardise";
import { strikeSurface } from "../../../core/stats/strike-surface";
import { flattening } from "../../../core/stats/strike-error";
import { largestLeverage, strikeDifferences, strikeOverlap, strikeSupport, strikesNear, strikesOf } from "../../../core/stats/strike-overlap";
import { expectClose } from "./check-values";
import type { InventedStrikes } from "./invented-strikes";
import { inventedStrikes } from "./invented-strikes";
import { session101, sessionShots } from "./session-101";

test("session 101: means, scatter and standardised differences of the strikes", () => {
  const { strike } = session101.expected;
  const data = sessionShots("Ball speed [mph]");
  session101.heads.forEach((_, head) => {
    const { x, y } = strikesOf(data, head);
    expectClose(mean(x), strike.meanX[head]!, 1e-9);
    expectClose(mean(y), strike.meanY[head]!, 1e-9);
    expectClose(sampleSd(x), strike.sdX[head]!, 1e-9);
    expectClose(sampleSd(y), strike.sdY[head]!, 1e-9);
  });
  strikeDifferences(data).forEach((pair, i) => {
    expectClose(pair.x, strike.smdX[i]!, 1e-9);
    expectClose(pair.y, strike.smdY[i]!, 1e-9);
  });
});

function overlapOf(given: Partial<InventedStrikes>) {
  const data = inventedStrikes({ heads: 2, perStint: 3, passes: 10, ...given });
  return strikeOverlap(data, commonStrikes(data));
}

test("heads hit in the same places keep all strikes", () => {
  expect(overlapOf({})).toMatchObject({ state: "whole", kept: 60, shots: 60 });
});

test("heads hit partly elsewhere keep the common region, heads hit quite elsewhere nothing", () => {
  const apart = overlapOf({ aim: [-9, 9] });
  expect(apart.state).toBe("restricted");
  expect(apart.kept).toBeGreaterThan(29);
  expect(apart.kept).toBeLessThan(60);
  expectClose(apart.strikes.weight.reduce((total, weight) => total + weight, 0), 1, 1e-12);
  expect(overlapOf({ aim: [-25, 25] }).state).toBe("refused");
});

test("common strikes give every head the same weight, however often it was hit", () => {
  const data = inventedStrikes({ heads: 2, perStint: 3, passes: 10 });
  const few = { ...data, group: data.group.map((head, i) => (head === 1 && i > 20 ? 0 : head)) };
  const { weight } = commonStrikes(few);
  const total = (head: number): number => weight.reduce((sum, each, i) => sum + (few.group[i] === head ? each : 0), 0);
  expectClose(total(0), 0.5, 1e-12);
  expectClose(total(1), 0.5, 1e-12);
});

test("a head was hit where its strikes lie, and wherever three of its shots are within 6 mm", () => {
  const data = inventedStrikes({ heads: 1, perStint: 3, passes: 10 });
  expect(strikeSupport(data, 0, 0.9)(0, 0)).toBe(true);
  expect(strikeSupport(data, 0, 0.9)(30, 0)).toBe(false);
  const far = { ...data, strike: { x: data.strike!.x.map((x, i) => (i < 3 ? 28 + i : x)), y: data.strike!.y.map((y, i) => (i < 3 ? 1 : y)) } };
  expect(strikesNear(far, 0, 30, 0)).toBe(3);
  expect(strikeSupport(far, 0, 0.5)(30, 0)).toBe(true);
});

test("few strikes, or strikes in a line, are a support only near one another", () => {
  const data = inventedStrikes({ heads: 1, perStint: 1, passes: 4 });
  expect(strikeSupport(data, 0, 0.95)(100, 100)).toBe(false);
  const line = { ...inventedStrikes({ heads: 1, perStint: 3, passes: 10 }) };
  expect(strikeSupport({ ...line, strike: { x: line.strike!.x, y: line.strike!.x } }, 0, 0.95)(60, 60)).toBe(false);
});

test("no strike left makes an empty distribution", () => {
  const data = inventedStrikes({ heads: 1, perStint: 3, passes: 4 });
  expect(restrictStrikes(commonStrikes(data), () => false)).toEqual({ x: new Float64Array(), y: new Float64Array(), weight: new Float64Array() });
});

test("one shot far out has almost all the leverage", () => {
  const data = inventedStrikes({ heads: 2, perStint: 3, passes: 10 });
  const leverageOf = (x: Float64Array): number => largestLeverage(strikeSurface({ ...data, strike: { ...data.strike!, x } }, "shared").columns);
  expect(leverageOf(data.strike!.x)).toBeLessThan(0.7);
  expect(leverageOf(data.strike!.x.map((x, i) => (i === 0 ? 300 : x)))).toBeGreaterThan(0.99);
  expect(leverageOf(data.strike!.x.map(() => 1))).toBeNaN();
});

test("errors of reading a strike flatten a slope by λ and a curve by λ²", () => {
  const of = (error: number) => flattening(error, Math.hypot(8, error));
  expectClose(of(1).linear, 1 / 65, 1e-12);
  expectClose(of(3).linear, 0.123, 0, 1e-3);
  expectClose(of(3).quadratic, 0.231, 0, 1e-3);
  expect(flattening(8, 8)).toEqual({ linear: Number.NaN, quadratic: Number.NaN });
});
