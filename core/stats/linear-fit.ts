import type { MeanContrast } from "./mean-contrast";

/** What a linear model is fitted to: N observations in blocks, and the columns that are to explain them. */
export interface BlockData {
  /** p columns of N numbers each, none missing; the model has no other constant than these columns make. */
  readonly columns: readonly Float64Array[];
  /** N numbers, none missing. */
  readonly value: Float64Array;
  /** For each observation the number of its block, 0 to `blockCount` − 1; every block has an observation. */
  readonly block: Int32Array;
  readonly blockCount: number;
}

/** A fitted linear model, whichever way its uncertainty was found. */
export interface LinearFit {
  /** One a column, in the unit of the values for one of the column. */
  readonly coefficients: Float64Array;
  /** Values less what the columns explain, in the unit of the values. */
  readonly residuals: Float64Array;
  /** The weighted sum of the coefficients, with its standard error and df; one weight a column. */
  readonly contrast: (weights: ArrayLike<number>) => MeanContrast;
}
