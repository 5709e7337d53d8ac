import { expect, test } from "vitest";
import { correctedSlope } from "../../../core/stats/attenuation";
import { autocorrelation, effectiveCount } from "../../../core/stats/autocorrelation";
import { pearsonCorrelation, spearmanCorrelation } from "../../../core/stats/correlation";
import { kendallTau } from "../../../core/stats/kendall";
import { familyInterval } from "../../../core/stats/simultaneous";
import { regressionLine } from "../../../core/stats/regression-line";
import { bestSplit } from "../../../core/stats/step-change";
import { theilSen } from "../../../core/stats/theil-sen";
import { checksOf, expectClose } from "./check-values";

interface DriftExpected {
  readonly acf: readonly number[];
  readonly nEffAR1: number;
  readonly kendallTauB: number;
  readonly kendallZ: number;
  readonly kendallP: number;
  readonly theilSen: number;
  readonly olsSlope: number;
  readonly bestMeanShiftAfter: number;
  readonly bestMeanShiftF: number;
}

test.each(checksOf<{ x: readonly number[] }, { lags: number }, DriftExpected>("autocorrelation-drift"))("$id", ({ data: { x }, args, expected }) => {
  const time = x.map((_, i) => i + 1);
  const acf = autocorrelation(x, args.lags);
  expected.acf.forEach((wanted, lag) => expectClose(acf[lag]!, wanted, 1e-9, 1e-10, `lag ${lag + 1}`));
  expectClose(effectiveCount(x.length, acf[0]!), expected.nEffAR1, 1e-9);
  const kendall = kendallTau(time, x);
  expectClose(kendall.tau, expected.kendallTauB, 1e-9);
  expectClose(kendall.z, expected.kendallZ, 1e-9);
  expectClose(kendall.p, expected.kendallP, 1e-9);
  expectClose(theilSen(time, x), expected.theilSen, 1e-9);
  expectClose(regressionLine(time, x).difference, expected.olsSlope, 1e-9);
  const split = bestSplit(x)!;
  expect(split.after).toBe(expected.bestMeanShiftAfter);
  expectClose(split.f, expected.bestMeanShiftF, 1e-9);
});

interface SlopeExpected {
  readonly pearson: number;
  readonly pearsonCI: readonly [number, number];
  readonly pearsonP: number;
  readonly spearman: number;
  readonly olsSlope: number;
  readonly olsSlopeCI: readonly [number, number];
  readonly "attenuationCorrectedAtReliability0.8": number;
}

test.each(checksOf<{ x: readonly number[]; y: readonly number[] }, unknown, SlopeExpected>("correlation-slope"))("$id", ({ data: { x, y }, expected }) => {
  const pearson = pearsonCorrelation(x, y, 0.95);
  expectClose(pearson.r, expected.pearson, 1e-9);
  expectClose(pearson.interval.from, expected.pearsonCI[0], 1e-9);
  expectClose(pearson.interval.to, expected.pearsonCI[1], 1e-9);
  expectClose(pearson.p, expected.pearsonP, 1e-9);
  expectClose(spearmanCorrelation(x, y), expected.spearman, 1e-9);
  const line = regressionLine(x, y);
  expectClose(line.difference, expected.olsSlope, 1e-9);
  const { from, to } = familyInterval(line, 2, 0.95);
  expectClose(from, expected.olsSlopeCI[0], 1e-9);
  expectClose(to, expected.olsSlopeCI[1], 1e-9);
  expectClose(correctedSlope(line, 0.8, Infinity).difference, expected["attenuationCorrectedAtReliability0.8"], 1e-9);
});
