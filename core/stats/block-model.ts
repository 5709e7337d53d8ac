import type { BlockCrossProducts } from "./block-cross-products";
import { blockCrossProducts, leavesBetweenBlocks, weighted } from "./block-cross-products";
import type { JointTest, SmallSample } from "./kenward-roger";
import { contrastDf, scaledF, smallSample, tellsBlocksApart } from "./kenward-roger";
import type { BlockData, LinearFit } from "./linear-fit";
import { bilinear, dot, invertPositive, timesVector, traceOfProduct } from "./matrix";
import type { ThinQr } from "./qr";
import { hasScatter, projectOn, solveUpper, solveUpperTransposed, thinQr } from "./qr";
import { risingRoot } from "./root";

/** Bounds and step of log(σ_b²/σ²) in the search; smaller ratios are 0. */
const [lowestLog, highestLog, logStep] = [-16, 8, 0.5];

/** A linear model with a level of its own for each stint. Variances are in the squared unit of the values. */
export interface BlockModelFit extends LinearFit {
  /** σ_b², the variance of the stints' levels; exactly 0 where the data ask for none. */
  readonly stintVariance: number;
  /** σ², the variance of shots in their stint. */
  readonly residualVariance: number;
  /** The restricted one, with the columns as they are; `NaN` when nothing scatters. */
  readonly logLikelihood: number;
  /** Φ, p × p, row by row: covariance of the coefficients as if the variances were known. `contrast` goes beyond it. */
  readonly covariance: Float64Array;
  /** One a block: how far its level is predicted to lie from what the columns explain. */
  readonly stintEffects: Float64Array;
  /** Whether several weighted sums of the coefficients are all 0: rows of one weight a column, linearly independent. */
  readonly jointTest: (weights: readonly ArrayLike<number>[]) => JointTest;
}

/**
 * The block model Y = Xβ + u of the stint + e of the shot, by restricted maximum likelihood.
 *
 * u ~ N(0, σ_b²) and e ~ N(0, σ²) are independent. Given λ = σ_b²/σ² all else is of closed form, so that the search is
 * over λ alone. Residuals are what the columns don't explain, the stint's level not taken out. Standard errors and df
 * of contrasts are Kenward and Roger's, at λ = 0 too. Where every stint is one shot the two variances can't be told
 * apart: the fit is then ordinary least squares with N − p df.
 *
 * @returns `null` when the columns are linearly dependent, when N ≤ p, and when the columns take up all that differs
 *   between stints (as with heads hit in one go each), so that nothing says how much stints scatter. Values without any
 *   residual scatter give contrasts with standard error 0 and df `NaN`.
 * Sources: H. D. Patterson, R. Thompson, Biometrika 58 (1971) 545; D. A. Harville, JASA 72 (1977) 320; M. G. Kenward,
 * J. H. Roger, Biometrics 53 (1997) 983.
 */
export function fitBlockModel(data: BlockData): BlockModelFit | null {
  const { columns, value, block, blockCount } = data;
  const qr = value.length > columns.length ? thinQr(columns) : null;
  if (qr === null || !leavesBetweenBlocks(qr.q, block, blockCount)) return null;
  const { effects, residuals } = projectOn(qr.q, value);
  if (!hasScatter(residuals, value)) return withoutScatter(qr, effects, residuals, blockCount);
  const products = blockCrossProducts(qr.q, residuals, block, blockCount);
  const apart = tellsBlocksApart(products);
  const ratio = apart ? likeliestRatio(products) : 0;
  const best = profile(products, ratio);
  const residualVariance = best.squares / (value.length - columns.length);
  const sample = smallSample(products, ratio, best.inverse, apart);
  const inQ = effects.map((effect, j) => effect + best.shift[j]!);
  const left = residuals.map((r, row) => r - qr.q.reduce((total, column, j) => total + column[row]! * best.shift[j]!, 0));
  return {
    coefficients: solveUpper(qr.r, inQ),
    residuals: left,
    stintVariance: ratio * residualVariance,
    residualVariance,
    logLikelihood: best.logLikelihood - logDiagonal(qr),
    covariance: inColumns(qr, best.inverse, residualVariance),
    stintEffects: predictedLevels(left, block, blockCount, ratio),
    ...tests(qr, inQ, sample, residualVariance),
  };
}

interface Profile {
  /** (Q'H⁻¹Q)⁻¹. */
  readonly inverse: Float64Array;
  /** What the weights H⁻¹ change in the coefficients of Q, against ordinary least squares. */
  readonly shift: Float64Array;
  /** r'H⁻¹r. */
  readonly squares: number;
  readonly logLikelihood: number;
  /** Derivative of the log-likelihood by the ratio. */
  readonly score: number;
}

/** Everything that follows from the variance ratio; columns are those of Q, y the residuals of ordinary least squares. */
function profile(products: BlockCrossProducts, ratio: number): Profile {
  const share = (m: number): number => 1 / (1 + ratio * m);
  const { x, xy, yy } = weighted(products, 1, share);
  const inverted = invertPositive(x, xy.length);
  if (inverted === null) throw new RangeError(`the cross-products are singular at the variance ratio ${ratio}`);
  const { inverse, logDeterminant } = inverted;
  const shift = timesVector(inverse, xy);
  const df = products.rows - xy.length;
  const squares = yy - dot(xy, shift);
  const blocks = weighted(products, 0, (m) => m * share(m) ** 2);
  const blockSquares = blocks.yy - 2 * dot(shift, blocks.xy) + bilinear(blocks.x, shift, shift);
  let logH = 0;
  let traceZ = -traceOfProduct(inverse, blocks.x);
  for (const { size, count } of products.sizes) {
    logH += count * Math.log1p(ratio * size);
    traceZ += count * size * share(size);
  }
  return {
    inverse,
    shift,
    squares,
    logLikelihood: -0.5 * (df * (1 + Math.log((2 * Math.PI * squares) / df)) + logH + logDeterminant),
    score: 0.5 * ((df * blockSquares) / squares - traceZ),
  };
}

/**
 * The variance ratio of the largest likelihood: 0, a place where the score turns from above 0 to below, or the upper
 * bound of the search.
 */
function likeliestRatio(products: BlockCrossProducts): number {
  const scoreAt = (log: number): number => profile(products, Math.exp(log)).score;
  const maxima: number[] = [];
  let before = profile(products, 0).score;
  if (before <= 0) maxima.push(0);
  for (let log = lowestLog; log <= highestLog; log += logStep) {
    const here = scoreAt(log);
    const from = log - logStep;
    // Distances from the lower bound are what the search is accurate in, since the logarithm itself may be 0.
    if (before > 0 && here <= 0) maxima.push(log === lowestLog ? 0 : Math.exp(from + risingRoot((d) => -scoreAt(from + d), 0, logStep)));
    before = here;
  }
  if (before > 0) maxima.push(Math.exp(highestLog));
  const likelihoods = maxima.map((ratio) => profile(products, ratio).logLikelihood);
  return maxima[likelihoods.indexOf(Math.max(...likelihoods))] ?? 0;
}

function tests(qr: ThinQr, inQ: Float64Array, sample: SmallSample, residualVariance: number): Pick<BlockModelFit, "contrast" | "jointTest"> {
  return {
    contrast: (weights) => {
      const l = solveUpperTransposed(qr.r, weights);
      return {
        difference: dot(l, inQ),
        standardError: Math.sqrt(residualVariance * bilinear(sample.adjusted, l, l)),
        df: contrastDf(sample, l),
      };
    },
    jointTest: (weights) => {
      const rows = weights.map((row) => solveUpperTransposed(qr.r, row));
      return scaledF(sample, rows, Float64Array.from(rows, (row) => dot(row, inQ) / Math.sqrt(residualVariance)));
    },
  };
}

/** R⁻¹ C R'⁻¹ σ². */
function inColumns(qr: ThinQr, inverse: Float64Array, residualVariance: number): Float64Array {
  const order = qr.q.length;
  const units = Array.from({ length: order }, (_, j) => solveUpperTransposed(qr.r, Float64Array.from({ length: order }, (_, i) => (i === j ? 1 : 0))));
  return Float64Array.from(units.flatMap((row) => units.map((other) => residualVariance * bilinear(inverse, row, other))));
}

/** Σ log of R's diagonal, half the logarithm of |X'X|. */
function logDiagonal({ q, r }: ThinQr): number {
  return q.reduce((total, _, j) => total + Math.log(r[j * q.length + j]!), 0);
}

/** λ/(1 + λm) times a block's residuals summed. */
function predictedLevels(residuals: Float64Array, block: Int32Array, blockCount: number, ratio: number): Float64Array {
  const sums = new Float64Array(blockCount);
  const sizes = new Int32Array(blockCount);
  residuals.forEach((residual, row) => {
    sums[block[row]!]! += residual;
    sizes[block[row]!]!++;
  });
  return sums.map((sum, b) => (ratio * sum) / (1 + ratio * sizes[b]!));
}

/** The values are exactly what the columns make: no scatter to judge anything by. */
function withoutScatter(qr: ThinQr, effects: Float64Array, residuals: Float64Array, blockCount: number): BlockModelFit {
  const order = qr.q.length;
  return {
    coefficients: solveUpper(qr.r, effects),
    residuals,
    stintVariance: 0,
    residualVariance: 0,
    logLikelihood: Number.NaN,
    covariance: new Float64Array(order * order),
    stintEffects: new Float64Array(blockCount),
    contrast: (weights) => ({ difference: dot(solveUpperTransposed(qr.r, weights), effects), standardError: 0, df: Number.NaN }),
    jointTest: (weights) => ({ f: Number.NaN, dfNumerator: weights.length, dfDenominator: Number.NaN, p: Number.NaN }),
  };
}
