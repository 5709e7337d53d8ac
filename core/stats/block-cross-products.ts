import { addOuter } from "./matrix";

/** The share of the rows that must be left between blocks for their scatter to be known at all. */
const leastBetween = 1e-9;

/** Sums of squares and products of p columns X and one column y. */
export interface CrossProducts {
  /** X'X, p × p. */
  readonly x: Float64Array;
  /** X'y, p numbers. */
  readonly xy: Float64Array;
  readonly yy: number;
}

/** What blocks of one size have between them: Σ s s'/m over the blocks, with a block's sums s over its m rows. */
export interface BlocksOfSize {
  readonly size: number;
  readonly count: number;
  readonly between: CrossProducts;
}

/**
 * The cross-products of columns, parted into those within blocks and those between them.
 *
 * All that a model with one level a block needs of its rows: a matrix that has the value f on a block's common part and
 * 1 on the rest gives X'f(H)X = within + Σ f(m) between(m), over the sizes m that blocks have. The part within is summed
 * from deviations, not as a difference, so that columns constant in a block lose no digits.
 */
export interface BlockCrossProducts {
  readonly rows: number;
  readonly blocks: number;
  readonly within: CrossProducts;
  readonly sizes: readonly BlocksOfSize[];
}

/**
 * The cross-products of columns and one column `y`, within and between blocks.
 *
 * @param block for each row the number of its block, 0 to `blockCount` − 1, none empty.
 */
export function blockCrossProducts(
  columns: readonly Float64Array[],
  y: Float64Array,
  block: Int32Array,
  blockCount: number,
): BlockCrossProducts {
  const width = columns.length + 1;
  const size = new Int32Array(blockCount);
  const sums = new Float64Array(blockCount * width);
  for (let row = 0; row < y.length; row++) {
    const at = block[row]!;
    size[at]!++;
    for (let j = 0; j < width; j++) sums[at * width + j]! += (columns[j] ?? y)[row]!;
  }
  const within = new Float64Array(width * width);
  const deviations = new Float64Array(width);
  for (let row = 0; row < y.length; row++) {
    const at = block[row]!;
    for (let j = 0; j < width; j++) deviations[j] = (columns[j] ?? y)[row]! - sums[at * width + j]! / size[at]!;
    addOuter(within, deviations, 1);
  }
  const sizes = [...new Set(size)].map((m) => {
    const between = new Float64Array(width * width);
    let count = 0;
    for (let b = 0; b < blockCount; b++) {
      if (size[b] !== m) continue;
      count++;
      addOuter(between, sums.subarray(b * width, (b + 1) * width), 1 / m);
    }
    return { size: m, count, between: parted(between, width) };
  });
  return { rows: y.length, blocks: blockCount, within: parted(within, width), sizes };
}

/** `within` times the part within blocks, and the part between blocks of each size times its own weight. */
export function weighted(products: BlockCrossProducts, within: number, between: (size: number) => number): CrossProducts {
  const x = products.within.x.map((value) => within * value);
  const xy = products.within.xy.map((value) => within * value);
  let yy = within * products.within.yy;
  for (const part of products.sizes) {
    const weight = between(part.size);
    for (let i = 0; i < x.length; i++) x[i]! += weight * part.between.x[i]!;
    for (let i = 0; i < xy.length; i++) xy[i]! += weight * part.between.xy[i]!;
    yy += weight * part.between.yy;
  }
  return { x, xy, yy };
}

/**
 * Whether anything that differs between blocks is left over by the columns: the trace of Z'(I − QQ')Z is above 0.
 *
 * @param q orthonormal columns.
 */
export function leavesBetweenBlocks(q: readonly Float64Array[], block: Int32Array, blockCount: number): boolean {
  let left = block.length;
  for (const column of q) {
    const sums = new Float64Array(blockCount);
    column.forEach((value, row) => (sums[block[row]!]! += value));
    for (const sum of sums) left -= sum * sum;
  }
  return left > leastBetween * block.length;
}

/** The products of all columns, the last of them y, told apart. */
function parted(products: Float64Array, width: number): CrossProducts {
  const order = width - 1;
  const x = new Float64Array(order * order);
  for (let i = 0; i < order; i++) x.set(products.subarray(i * width, i * width + order), i * order);
  return { x, xy: products.slice(order * width, order * width + order), yy: products[width * width - 1]! };
}
