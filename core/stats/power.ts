import { normalCdf } from "./distributions";
import { noncentralTCdf } from "./noncentral-t";
import { meanOverScale } from "./scaled-chi";

/** A comparison that is planned: what will be known about its standard error, and how it will be judged. */
export interface Plan {
  /** The true standard error of the difference, above 0, in its unit. */
  readonly standardError: number;
  /** Degrees of freedom with which it will be estimated, at least 1. */
  readonly df: number;
  /** How many estimated standard errors the interval goes on either side. */
  readonly critical: number;
}

/**
 * Probability that the interval will leave out 0 when the true difference is `difference`.
 *
 * Both ends count, as in a two-sided test. Source: noncentral t, D. B. Owen, Technometrics 10 (1968) 445.
 */
export function powerToSee(difference: number, plan: Plan): number {
  const noncentrality = Math.abs(difference) / plan.standardError;
  return 1 - noncentralTCdf(plan.critical, plan.df, noncentrality) + noncentralTCdf(-plan.critical, plan.df, noncentrality);
}

/**
 * Probability that the interval will lie inside ±`margin` when the true difference is `difference`.
 *
 * Integrated over the sampling distribution of the estimated standard error.
 * Source: D. J. Schuirmann, J. Pharmacokinetics and Biopharmaceutics 15 (1987) 657; K. F. Phillips, the same 18 (1990)
 * 137.
 */
export function powerOfEquivalence(margin: number, plan: Plan, difference = 0): number {
  const { standardError, df, critical } = plan;
  const reach = margin / standardError;
  const shift = difference / standardError;
  const widest = reach / critical;
  return meanOverScale(
    df,
    (scale) => normalCdf(reach - shift - critical * scale) - normalCdf(critical * scale - reach - shift),
    widest,
  );
}
