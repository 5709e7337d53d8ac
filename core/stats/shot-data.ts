import type { ComparisonData } from "./comparison";

/** The shots that a model is fitted to: columns of equal length, in hitting order within each session. */
export interface ShotData extends ComparisonData {
  /**
   * When each shot was hit, 0 for the first and 1 for the last shot used of its session, by rank; all 0 where the order
   * is not known.
   */
  readonly time: Float64Array;
  /**
   * Where the face was hit, in mm from the head's strike reference, + toe and + up, none missing; `null` when a model
   * without strikes is wanted or the table has no strikes.
   */
  readonly strike: { readonly x: Float64Array; readonly y: Float64Array } | null;
}
