import type { BlockCrossProducts } from "./block-cross-products";
import { weighted } from "./block-cross-products";
import { fUpperTail } from "./distributions";
import { bilinear, dot, invertPositive, product, timesVector, traceOfProduct } from "./matrix";

/** Below this share of what it could be, the information on the two variances cannot be told from that on one. */
const leastApart = 1e-9;

/** A test that several weighted sums of the coefficients are all 0. */
export interface JointTest {
  readonly f: number;
  readonly dfNumerator: number;
  readonly dfDenominator: number;
  readonly p: number;
}

/**
 * Covariances of the coefficients of a model with one level a block, in units of the residual variance.
 *
 * Written with the columns of Q, p × p each, row by row.
 */
export interface SmallSample {
  /** C = (X'H⁻¹X)⁻¹, as if the variance ratio were known. */
  readonly plain: Float64Array;
  /** C with what the estimated ratio adds to it. */
  readonly adjusted: Float64Array;
  /** C X'H⁻¹VᵢH⁻¹X C for V₁ = I and V₂ = ZZ'. */
  readonly changes: readonly [Float64Array, Float64Array];
  /** Inverse of the matrix of tr(P Vᵢ P Vⱼ): entries 11, 12 and 22. */
  readonly inverse: readonly [number, number, number];
}

/**
 * Whether the rows tell the level of a block from the scatter in it.
 *
 * They don't where each block is one row. Whether they do is the same for every variance ratio, so that it is asked at 0.
 *
 * @param products of orthonormal columns.
 */
export function tellsBlocksApart(products: BlockCrossProducts): boolean {
  const identity = weighted(products, 1, () => 1).x;
  const [rows, both, blocks] = blockForms(products, 0, identity).information;
  return rows * blocks - both * both > leastApart * rows * blocks;
}

/**
 * The small-sample covariance of the coefficients.
 *
 * @param plain C at `ratio`.
 * @param apart whether two variances are estimated; else the ratio is held at its value.
 * Source: M. G. Kenward, J. H. Roger, Biometrics 53 (1997) 983, equations 3 to 6, with the expected information; the
 * second derivatives of V are 0.
 */
export function smallSample(products: BlockCrossProducts, ratio: number, plain: Float64Array, apart: boolean): SmallSample {
  const order = products.within.xy.length;
  const { first, second, changes, information } = blockForms(products, ratio, plain);
  const [t11, t12, t22] = information;
  const determinant = t11 * t22 - t12 * t12;
  const inverse = apart ? ([t22 / determinant, -t12 / determinant, t11 / determinant] as const) : ([1 / t11, 0, 0] as const);
  const [own, block] = [sandwich(first[0], plain, order), sandwich(first[1], plain, order)];
  const mixed = product(product(first[0], plain, order), first[1], order);
  const sum = new Float64Array(order * order);
  for (let i = 0; i < order; i++) {
    for (let j = 0; j < order; j++) {
      const at = i * order + j;
      // Entry 12 of the sum over both variances comes with its transpose, 21.
      sum[at] =
        inverse[0] * (second[0][at]! - own[at]!) +
        inverse[1] * (2 * second[1][at]! - mixed[at]! - mixed[j * order + i]!) +
        inverse[2] * (second[2][at]! - block[at]!);
    }
  }
  const added = sandwich(plain, sum, order);
  return { plain, adjusted: plain.map((c, at) => c + 4 * added[at]!), changes, inverse };
}

interface BlockForms {
  /** X'H⁻¹VᵢH⁻¹X. */
  readonly first: readonly [Float64Array, Float64Array];
  /** X'H⁻¹VᵢH⁻¹VⱼH⁻¹X: entries 11, 12 and 22. */
  readonly second: readonly [Float64Array, Float64Array, Float64Array];
  /** C X'H⁻¹VᵢH⁻¹X C. */
  readonly changes: readonly [Float64Array, Float64Array];
  /** tr(P Vᵢ P Vⱼ), P of residual variance 1: entries 11, 12 and 22. */
  readonly information: readonly [number, number, number];
}

/**
 * All forms that V₁ = I and V₂ = ZZ' make. On what the m rows of a block have in common H⁻¹ is 1/(1 + λm) and ZZ' is m,
 * on the rest they are 1 and 0, so that each form is one of the cross-products within and between blocks.
 */
function blockForms(products: BlockCrossProducts, ratio: number, plain: Float64Array): BlockForms {
  const order = products.within.xy.length;
  const share = (m: number): number => 1 / (1 + ratio * m);
  const first = [weighted(products, 1, (m) => share(m) ** 2).x, weighted(products, 0, (m) => m * share(m) ** 2).x] as const;
  const second = [
    weighted(products, 1, (m) => share(m) ** 3).x,
    weighted(products, 0, (m) => m * share(m) ** 3).x,
    weighted(products, 0, (m) => m * m * share(m) ** 3).x,
  ] as const;
  const changes = [sandwich(plain, first[0], order), sandwich(plain, first[1], order)] as const;
  let [rows, both, blocks] = [products.rows - products.blocks, 0, 0];
  for (const { size, count } of products.sizes) {
    rows += count * share(size) ** 2;
    both += count * size * share(size) ** 2;
    blocks += count * (size * share(size)) ** 2;
  }
  const information = [
    rows - 2 * traceOfProduct(plain, second[0]) + traceOfProduct(changes[0], first[0]),
    both - 2 * traceOfProduct(plain, second[1]) + traceOfProduct(changes[0], first[1]),
    blocks - 2 * traceOfProduct(plain, second[2]) + traceOfProduct(changes[1], first[1]),
  ] as const;
  return { first, second, changes, information };
}

/** Degrees of freedom of one weighted sum of the coefficients; weights written with the columns of Q. */
export function contrastDf({ plain, changes, inverse }: SmallSample, weights: Float64Array): number {
  const [a, b] = changes.map((change) => bilinear(change, weights, weights));
  return bilinear(plain, weights, weights) ** 2 / twoByTwo(inverse, a! * a!, a! * b!, b! * b!);
}

/**
 * The scaled F of several weighted sums of the coefficients.
 *
 * @param weights rows of weights, linearly independent, written with the columns of Q.
 * @param values the sums, in units of the residual standard deviation.
 * @returns `NaN` where the df leave F without a mean: about 2 or fewer for several sums.
 * Source: Kenward and Roger 1997, section 3.
 */
export function scaledF(sample: SmallSample, weights: readonly Float64Array[], values: Float64Array): JointTest {
  const count = weights.length;
  const among = (form: Float64Array): Float64Array =>
    Float64Array.from(weights.flatMap((row) => weights.map((other) => bilinear(form, row, other))));
  const plain = invertPositive(among(sample.plain), count);
  const adjusted = invertPositive(among(sample.adjusted), count);
  if (count === 0 || plain === null || adjusted === null) return { f: Number.NaN, dfNumerator: count, dfDenominator: Number.NaN, p: Number.NaN };
  const [a, b] = sample.changes.map((change) => product(plain.inverse, among(change), count));
  const [traceA, traceB] = [trace(a!, count), trace(b!, count)];
  const a1 = 2 * twoByTwo(sample.inverse, traceA * traceA, traceA * traceB, traceB * traceB);
  const a2 =
    2 *
    twoByTwo(
      sample.inverse,
      trace(product(a!, a!, count), count),
      trace(product(a!, b!, count), count),
      trace(product(b!, b!, count), count),
    );
  const { scale, df } = scaleAndDf(count, a1, a2);
  const f = (scale * dot(values, timesVector(adjusted.inverse, values))) / count;
  return { f, dfNumerator: count, dfDenominator: df, p: df > 0 && !Number.isNaN(f) ? fUpperTail(f, count, df) : Number.NaN };
}

/** λ and m of Kenward and Roger's section 3, from their A₁ and A₂ for ℓ sums. */
function scaleAndDf(count: number, a1: number, a2: number): { scale: number; df: number } {
  if (count === 1) return { scale: 1, df: 2 / a2 };
  const b = (a1 + 6 * a2) / (2 * count);
  const g = ((count + 1) * a1 - (count + 4) * a2) / ((count + 2) * a2);
  const below = 3 * count + 2 * (1 - g);
  const mean = 1 / (1 - a2 / count);
  const variance = ((2 / count) * (1 + (g / below) * b)) / ((1 - ((count - g) / below) * b) ** 2 * (1 - ((count + 2 - g) / below) * b));
  const df = 4 + (count + 2) / ((count * variance) / (2 * mean * mean) - 1);
  const scale = df / (mean * (df - 2));
  return mean > 0 && df > 2 ? { scale, df } : { scale: Number.NaN, df: Number.NaN };
}

function twoByTwo([t11, t12, t22]: readonly [number, number, number], first: number, mixed: number, last: number): number {
  return t11 * first + 2 * t12 * mixed + t22 * last;
}

function trace(a: Float64Array, order: number): number {
  let total = 0;
  for (let i = 0; i < order; i++) total += a[i * order + i]!;
  return total;
}

/** CBC. */
function sandwich(c: Float64Array, b: Float64Array, order: number): Float64Array {
  return product(product(c, b, order), c, order);
}
