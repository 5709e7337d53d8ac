import type { Interval, MeanContrast } from "./mean-contrast";
import type { Verdict } from "./verdict";

/** The two intervals of one difference by one method. */
export interface Intervals {
  /** Of the chosen confidence (95 %), for whether there is a difference. */
  readonly wide: Interval;
  /** Of 90 %, for whether it is too small to matter. */
  readonly narrow: Interval;
}

/** What two methods say of one difference together. */
export interface AgreedVerdict {
  readonly verdict: Verdict;
  /** True when either method alone would give a verdict, and the other supports nothing of it. */
  readonly dependsOnMethod: boolean;
}

/** What may be claimed of a difference. Every verdict is a set of these. */
type Claim = "more" | "less" | "beyond the margin" | "inside the margin";

/**
 * The verdict that both methods support: what the intervals of each allow to be claimed is compared, and only what both
 * allow is kept. Intervals that are missing allow nothing.
 *
 * @param first the intervals of the method that the comparison is by.
 * @param second those of the method that checks it.
 * @param margin what is too small to matter, above 0, in the unit of the intervals.
 * @throws {RangeError} when `margin` is not above 0.
 */
export function agreedVerdict(first: Intervals, second: Intervals, margin: number): AgreedVerdict {
  if (!(margin > 0)) throw new RangeError(`a margin is above 0, not ${margin}`);
  if (Number.isNaN(first.wide.from + first.narrow.from)) return { verdict: "no verdict", dependsOnMethod: false };
  const own = claimsOf(first, margin);
  const supported = claimsOf(second, margin);
  const both = new Set([...own].filter((claim) => supported.has(claim)));
  const verdict = verdictFor(both);
  return { verdict, dependsOnMethod: verdict === "undecided" && own.size + supported.size > 0 };
}

/**
 * Which of two estimates of one difference has the larger standard error: what leaves it undecided is settled when that one
 * is. The first where the second has none that can be counted on (df below 1).
 */
export function lessCertain(first: MeanContrast, second: MeanContrast | null): MeanContrast {
  return second !== null && second.df >= 1 && second.standardError > first.standardError ? second : first;
}

function claimsOf({ wide, narrow }: Intervals, margin: number): ReadonlySet<Claim> {
  const claims = new Set<Claim>();
  if (wide.from > 0) claims.add("more");
  if (wide.to < 0) claims.add("less");
  if (wide.from > margin || wide.to < -margin) claims.add("beyond the margin");
  if (narrow.from > -margin && narrow.to < margin) claims.add("inside the margin");
  return claims;
}

function verdictFor(claims: ReadonlySet<Claim>): Verdict {
  const differs = claims.has("more") || claims.has("less");
  if (!differs) return claims.has("inside the margin") ? "practically equivalent" : "undecided";
  if (claims.has("beyond the margin")) return "different by more than the margin";
  return claims.has("inside the margin") ? "different but too small to matter" : "different";
}
