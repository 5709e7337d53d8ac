import type { PairShots } from "./comparison";
import type { JointTest } from "./kenward-roger";
import type { Interval, MeanContrast } from "./mean-contrast";
import type { SessionDifferences } from "./session-differences";
import type { ChosenForm } from "./strike-surface";

/** Which differences are compared: what happened, or what would have if all had been hit in the same places. */
export type Strikes = "as struck" | "same";

/** How the strikes of a pair were made the same. */
export interface StrikeAdjustment {
  readonly form: ChosenForm["form"];
  readonly because: ChosenForm["because"];
  /** How well the strikes of the heads cover one another. */
  readonly overlap: "whole" | "restricted" | "refused";
  /** Shots whose strikes are kept as the common ones, of `shots`. */
  readonly kept: number;
  readonly shots: number;
  /** Standardised differences of the pair's strikes, across and up. */
  readonly across: number;
  readonly up: number;
  /** The smallest and the largest difference that forms of the surface give by least squares, in the unit of the values. */
  readonly forms: Interval;
}

/**
 * What two methods say of one pair: the mean of group `of` less that of group `against`, in the unit of the values.
 *
 * The contrast is that of the model; `check` is that of the second method. `NaN` and `null` where there is none.
 */
export interface PairEstimate extends PairShots, MeanContrast {
  readonly strikes: Strikes;
  readonly check: MeanContrast | null;
  /** How many groups are compared with one another at once, for the critical value. */
  readonly familySize: number;
  /** Whether the scatter of the groups fitted together differs so much that the check is the better interval. */
  readonly isUneven: boolean;
  /** Session by session; `null` for a pair of one session, and where that is not determined. */
  readonly bySession: SessionDifferences | null;
  /** Only for `same`; `null` where the shots are too few for it too. */
  readonly adjustment: StrikeAdjustment | null;
}

/** All pairs with what concerns them together. */
export interface Comparison {
  /** Each later group against each earlier one. */
  readonly pairs: readonly PairEstimate[];
  /** The test that all groups are alike, where all were fitted together and have the shots for a verdict; `null` elsewhere. */
  readonly allAlike: JointTest | null;
  /** What one session's trend adds from its first shot to its last; `null` for several sessions, where pairs were fitted apart, and where no pair has the shots for a verdict. */
  readonly trend: MeanContrast | null;
  /** Whether a bend of the trend was taken out too. */
  readonly bends: boolean;
}
