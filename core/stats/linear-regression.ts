import { fUpperTail } from "./distributions";
import type { LinearFit } from "./linear-fit";
import { dot } from "./matrix";
import { mean } from "./moments";
import { hasScatter, projectOn, solveUpper, solveUpperTransposed, thinQr } from "./qr";

/** A linear model fitted by ordinary least squares, as if the observations were independent. */
export interface LinearRegression extends LinearFit {
  /** One a coefficient. */
  readonly standardErrors: Float64Array;
  /**
   * One a column: its square is the sum of squares by which this column lessens the residual one, after those before
   * it. Sums of them make the sequential analysis of variance.
   */
  readonly effects: Float64Array;
  readonly residualSumOfSquares: number;
  readonly residualDf: number;
  /** `NaN` without degrees of freedom. */
  readonly residualVariance: number;
  /** About the mean of the values where the columns can make a constant, about 0 where they can't. */
  readonly modelSumOfSquares: number;
  readonly modelDf: number;
  readonly rSquared: number;
  readonly adjustedRSquared: number;
  readonly f: number;
  readonly p: number;
}

/**
 * Ordinary least squares by QR, or `null` when the columns are linearly dependent or more than the values.
 *
 * Standard errors, df and p are those of independent observations; shots of one stint are not.
 *
 * @param columns p columns of N numbers, none missing; there is no other constant than these make.
 * @param value N numbers.
 * @returns what N = p leaves undetermined is `NaN`.
 * @example linearRegression([Float64Array.of(1, 1, 1), Float64Array.of(0, 1, 2)], Float64Array.of(1, 3, 5)) // 1, 2
 */
export function linearRegression(columns: readonly Float64Array[], value: Float64Array): LinearRegression | null {
  const qr = thinQr(columns);
  if (qr === null) return null;
  const { effects, residuals } = projectOn(qr.q, value);
  const coefficients = solveUpper(qr.r, effects);
  const residualDf = value.length - columns.length;
  const residualSumOfSquares = dot(residuals, residuals);
  const residualVariance = residualDf > 0 ? residualSumOfSquares / residualDf : Number.NaN;
  const scattered = hasScatter(residuals, value);
  const contrast: LinearFit["contrast"] = (weights) => {
    const l = solveUpperTransposed(qr.r, weights);
    return {
      difference: dot(l, effects),
      standardError: Math.sqrt(residualVariance * dot(l, l)),
      df: residualDf > 0 && scattered ? residualDf : Number.NaN,
    };
  };
  const standardErrors = coefficients.map((_, j) => contrast(coefficients.map((_, i) => (i === j ? 1 : 0))).standardError);
  return {
    coefficients,
    residuals,
    contrast,
    standardErrors,
    effects,
    residualSumOfSquares,
    residualDf,
    residualVariance,
    ...modelShare(qr.q, value, residuals, residualSumOfSquares),
  };
}

function modelShare(q: readonly Float64Array[], value: Float64Array, residuals: Float64Array, residualSumOfSquares: number) {
  const ones = new Float64Array(value.length).fill(1);
  const hasConstant = !hasScatter(projectOn(q, ones).residuals, ones);
  const origin = hasConstant ? mean(value) : 0;
  const explained = value.map((v, i) => v - residuals[i]! - origin);
  const modelSumOfSquares = dot(explained, explained);
  const modelDf = q.length - (hasConstant ? 1 : 0);
  const residualDf = value.length - q.length;
  const rSquared = modelSumOfSquares / (modelSumOfSquares + residualSumOfSquares);
  const f = modelSumOfSquares / modelDf / (residualSumOfSquares / residualDf);
  const hasTest = modelDf > 0 && residualDf > 0 && hasScatter(residuals, value);
  return {
    modelSumOfSquares,
    modelDf,
    rSquared,
    adjustedRSquared: 1 - ((1 - rSquared) * (modelDf + residualDf)) / residualDf,
    f: hasTest ? f : Number.NaN,
    p: hasTest ? fUpperTail(f, modelDf, residualDf) : Number.NaN,
  };
}
