import { leavesBetweenBlocks } from "./block-cross-products";
import type { BlockData, LinearFit } from "./linear-fit";
import { addOuter, dot, product } from "./matrix";
import { hasScatter, projectOn, solveUpper, solveUpperTransposed, thinQr } from "./qr";
import { symmetricEigen } from "./symmetric-eigen";

/** An eigenvalue of I − H_bb below this counts as 0: a block alone determines something. */
const leastEigenvalue = 1e-10;

/**
 * Ordinary least squares with standard errors from the blocks: CR2 with Satterthwaite's df, clusters = blocks.
 *
 * The residuals of a block are multiplied by A_b = (I − H_bb)^(−1/2), which makes the variance unbiased where
 * observations are independent and alike; where they aren't, blocks may depend within themselves in whatever way. A
 * direction that one block alone determines has no residual and adds nothing (the pseudo-inverse), so that a head hit
 * in one stint gets too small a standard error. With H = QQ' everything is of order p or of a block's size.
 *
 * @returns `null` when the columns are linearly dependent, when N ≤ p, and when the columns take up all that differs
 *   between blocks. Values without residual scatter give contrasts with standard error 0 and df `NaN`.
 * Sources: R. M. Bell, D. F. McCaffrey, Survey Methodology 28 (2002) 169; J. E. Pustejovsky, E. Tipton, J. Bus. Econ.
 * Stat. 36 (2018) 672, with the identity as working model.
 */
export function fitClusterRobust(data: BlockData): LinearFit | null {
  const { columns, value } = data;
  const qr = value.length > columns.length ? thinQr(columns) : null;
  if (qr === null || !leavesBetweenBlocks(qr.q, data.block, data.blockCount)) return null;
  const { effects, residuals } = projectOn(qr.q, value);
  const order = columns.length;
  const scattered = hasScatter(residuals, value);
  const blocks = blockRows(data).map((rows) => adjustedBlock(qr.q, residuals, rows));
  return {
    coefficients: solveUpper(qr.r, effects),
    residuals,
    contrast: (weights) => {
      const l = solveUpperTransposed(qr.r, weights);
      let variance = 0;
      for (const { score } of blocks) variance += dot(score, l) ** 2;
      return {
        difference: dot(l, effects),
        standardError: scattered ? Math.sqrt(variance) : 0,
        df: scattered && variance > 0 ? satterthwaiteDf(blocks, l, order) : Number.NaN,
      };
    },
  };
}

/** One block's rows of Q after the adjustment. */
interface AdjustedBlock {
  /** Q_b, row by row. */
  readonly q: Float64Array;
  /** A_bQ_b, row by row. */
  readonly adjusted: Float64Array;
  /** Q_b'A_be_b. */
  readonly score: Float64Array;
}

function blockRows({ block, blockCount }: BlockData): readonly (readonly number[])[] {
  const rows = Array.from({ length: blockCount }, (): number[] => []);
  block.forEach((b, row) => rows[b]!.push(row));
  return rows;
}

function adjustedBlock(columns: readonly Float64Array[], residuals: Float64Array, rows: readonly number[]): AdjustedBlock {
  const order = columns.length;
  const q = Float64Array.from(rows.flatMap((row) => columns.map((column) => column[row]!)));
  const adjusted = rows.length <= order ? adjustedByRows(q, rows.length, order) : adjustedByColumns(q, rows.length, order);
  const score = new Float64Array(order);
  rows.forEach((row, i) => {
    for (let j = 0; j < order; j++) score[j]! += adjusted[i * order + j]! * residuals[row]!;
  });
  return { q, adjusted, score };
}

/** f(Q_bQ_b')Q_b with f(d) = (1 − d)^(−1/2), by the eigenvalues of Q_bQ_b', of the order of the block's size. */
function adjustedByRows(q: Float64Array, size: number, order: number): Float64Array {
  const hat = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) hat[i * size + j] = dot(q.subarray(i * order, (i + 1) * order), q.subarray(j * order, (j + 1) * order));
  }
  return product(inverseRoot(hat, size), q, size, size, order);
}

/** The same as Q_b f(Q_b'Q_b), by the eigenvalues of Q_b'Q_b, of the order of the columns. */
function adjustedByColumns(q: Float64Array, size: number, order: number): Float64Array {
  const gram = new Float64Array(order * order);
  for (let i = 0; i < size; i++) addOuter(gram, q.subarray(i * order, (i + 1) * order), 1);
  return product(q, inverseRoot(gram, order), size, order, order);
}

/** (I − M)^(−1/2) of a symmetric matrix M; a direction in which I − M is 0 is left out. */
function inverseRoot(matrix: Float64Array, order: number): Float64Array {
  const { values, vectors } = symmetricEigen(matrix, order);
  const root = new Float64Array(order * order);
  values.forEach((value, k) => {
    const left = 1 - value;
    if (left < leastEigenvalue) return;
    addOuter(root, Float64Array.from({ length: order }, (_, i) => vectors[i * order + k]!), 1 / Math.sqrt(left));
  });
  return root;
}

/**
 * tr(K'K)²/tr((K'K)²), K of one column (I − H)_b A_bQ_b l a block.
 *
 * With a_b = A_bQ_b l and c_b = Q_b'a_b the entries of K'K are δ_bc a_b'a_b − c_b'c_c, and Σ (c_b'c_c)² over all pairs
 * is the sum of squares of Σ c_b c_b', so that no pair of blocks need be gone through.
 */
function satterthwaiteDf(blocks: readonly AdjustedBlock[], l: Float64Array, order: number): number {
  const all = new Float64Array(order * order);
  let trace = 0;
  let squares = 0;
  for (const { q, adjusted } of blocks) {
    const c = new Float64Array(order);
    let own = 0;
    for (let at = 0; at < q.length; at += order) {
      const a = dot(adjusted.subarray(at, at + order), l);
      own += a * a;
      for (let j = 0; j < order; j++) c[j]! += a * q[at + j]!;
    }
    const shared = dot(c, c);
    trace += own - shared;
    squares += own * own - 2 * own * shared;
    addOuter(all, c, 1);
  }
  return trace ** 2 / (squares + dot(all, all));
}
