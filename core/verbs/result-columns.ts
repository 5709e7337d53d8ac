// One table of data: longer than a file of code should be.

type Meanings = Readonly<Record<string, string>>;

/** What columns mean in the tables of several verbs. */
const shared: Meanings = {
  head: "the one that the row is about; of a pair, the one that the other is taken from",
  against: "the other of the pair",
  of: "the column that the row is about",
  unit: "the unit of the row's numbers",
  difference: "head less against, in the unit of the column compared",
  from: "lower bound of the interval, 95 % unless told; of several pairs for all of them at once",
  to: "upper bound of the interval, 95 % unless told; of several pairs for all of them at once",
  from90: "lower bound of the 90 % interval, which decides whether two are equivalent",
  to90: "upper bound of the 90 % interval, which decides whether two are equivalent",
  margin: "the largest difference that does not matter, chosen before looking",
  verdict:
    "what the intervals say: different by more than the margin, different, different but too small to matter, practically equivalent, undecided, or no verdict",
  more_shots: "about how many more shots with each would settle the question",
  n: "shots with a value that were used",
  n_against: "the same count for the other of the pair",
  stints: "runs of consecutive shots with one head that the shots come from; missing where the hitting order is not known",
  stints_against: "the same count for the other of the pair",
  df: "degrees of freedom of the interval: roughly how many independent pieces of information it rests on",
  p: "how often chance alone would show a difference at least as large, were there none; the interval tells more",
  strikes: "as struck: what happened, wherever the face was hit; same: what the heads would have done had all been hit in the same places",
};

const summary: Meanings = {
  missing: "shots without a value, which are in no number of the row",
  mean: "arithmetic mean",
  sd: "standard deviation, with divisor n − 1",
  median: "half of the values are below it",
  q1: "lower quartile: a quarter of the values are below it",
  q3: "upper quartile: three quarters of the values are below it",
  mad: "median absolute deviation from the median, times 1.4826, so that it estimates the standard deviation of normal values",
  trimmed_mean: "mean without the lowest and the highest 10 % of the values",
  min: "least value",
  max: "greatest value",
  from: "lower bound of the interval of the mean, 95 % unless told",
  to: "upper bound of the interval of the mean, 95 % unless told",
};

const forgiveness: Meanings = {
  place: "where the face is hit: a standard miss in one direction, or the common strikes, those of all heads together",
  x: "the place across the face from the strike reference, positive to the toe",
  y: "the place up the face from the strike reference, positive high",
  loss: "what is lost there against the head's own centre",
  difference: "loss of head less loss of against, over the common strikes",
  from: "lower bound of the interval of the loss or the difference, 95 % unless told",
  to: "upper bound of the interval of the loss or the difference, 95 % unless told",
  margin: "the largest difference of two losses that does not matter",
  retention: "what is left there, as a share of the value at the head's own centre",
  retention_from: "lower bound of the interval of the share",
  retention_to: "upper bound of the interval of the share",
  n_near: "shots that fell near the place",
};

const drift: Meanings = {
  session: "the session that the row is about",
  change: "change of the column from the first shot used to the last, whichever head was hit",
  from: "lower bound of the interval of the change, 95 % unless told",
  to: "upper bound of the interval of the change, 95 % unless told",
  theil_sen: "the same change by the median of the slopes of all pairs of shots, which few odd shots do not move",
  kendall: "rank correlation of the column with the hitting order: 1 for always rising, −1 for always falling",
  p: "how often chance alone would show a change at least as large, were there none; the interval tells more",
  alike: "whether all heads are seen to change alike",
  verdict: "what the intervals say about the change",
};

const enough: Meanings = {
  margin: "the difference worth finding, chosen before looking",
  detectable: "the smallest true difference that the shots in hand would find, with the power asked for",
  power_now: "probability with which the shots in hand would find a true difference of the margin",
  shots_to_see: "shots with each, those in hand among them, that would find a difference of the margin",
  shots_to_show: "shots with each, those in hand among them, that would show two equal heads to be within the margin",
  more_from: "lower end of the range of more_shots, since the scatter itself is only estimated",
  more_to: "upper end of the range of more_shots, since the scatter itself is only estimated",
  shots_independent: "shots with each by the rule of thumb for independent shots, as if stints did not matter",
  standard_error: "standard error of the difference with the shots in hand",
  stints_worth: "stints of each that the plan goes on from",
  shots_per_stint: "shots in each stint yet to be hit",
  compared: "how many are compared at once, which the interval allows for",
  hit_in_turn: "how many are hit in turn",
  shots_for_verdict: "the fewest shots with each that any verdict asks for",
  confidence: "confidence of the interval, 0 to 1",
  power: "probability with which the question is to be settled, 0 to 1",
};

const workability: Meanings = {
  slope: "degrees by which a degree of face-to-path tilts the spin axis",
  difference: "slope of head less slope of against",
  from: "lower bound of the interval of the slope or the difference, 95 % unless told",
  to: "upper bound of the interval of the slope or the difference, 95 % unless told",
  margin: "the largest difference of slopes that does not matter",
  corrected: "the slope with the stated reading errors of face and path allowed for, which make it look flatter",
  corrected_from: "lower bound of the interval of the corrected slope",
  corrected_to: "upper bound of the interval of the corrected slope",
  reliability: "share of the variance of face-to-path that is no reading error, 0 to 1",
  face_to_path_sd: "standard deviation of face-to-path: how widely the delivery was varied",
};

const spread: Meanings = {
  ratio: "standard deviation of head divided by that of against; for the ellipse the ratio of areas",
  from: "lower bound of the interval of the ratio, with long tails allowed for",
  to: "upper bound of the interval of the ratio, with long tails allowed for",
  from_stints: "lower bound of the interval of the ratio by leaving out stint after stint",
  to_stints: "upper bound of the interval of the ratio by leaving out stint after stint",
  sd: "standard deviation of head, about its own mean",
  sd_against: "standard deviation of against, about its own mean",
  detectable: "the smallest true ratio that so many shots would find",
  p: "how often chance alone would show a ratio at least as far from 1, were both alike; the interval tells more",
};

const loftOnly: Meanings = {
  loft_difference: "stated loft of head less that of against",
  measured: "head less against as measured, in the unit of the row",
  from: "lower bound of the interval of the measured difference",
  to: "upper bound of the interval of the measured difference",
  loft_only: "what the difference of lofts alone would do, by the impact of rigid bodies",
  loft_only_low: "lower end of that over plausible heads and both fits of flight",
  loft_only_high: "upper end of that over plausible heads and both fits of flight",
  left_over: "measured less loft only: heads, strikes and swing together",
  left_over_from: "lower bound of what is left over, of interval and range of the model together",
  left_over_to: "upper bound of what is left over, of interval and range of the model together",
  verdict: "whether loft alone may be all there is to the measured difference",
};

const flight: Meanings = {
  model_carry: "carry of the modelled flight",
  model_carry_spread: "how far the carries of the two fits of lift and drag are apart",
  model_offline: "where the modelled flight lands, beside the target line",
  model_peak_height: "greatest height of the modelled flight",
  model_descent_angle: "angle at which the modelled flight lands",
  model_flight_time: "time in the air of the modelled flight",
  model_landing_speed: "speed of the ball when the modelled flight lands",
  model_total: "carry of the modelled flight and its run on the turf named",
  model_turf: "the turf on which model_total holds",
};

const suspects: Meanings = {
  session: "the session of the shot",
  shot: "the shot's number",
  head: "the head that was hit",
  column: "the column whose value is doubted or set aside",
  recorded: "the value as the monitor recorded it, in the row's unit",
  implied: "what other readings make of it, in the row's unit; missing where they only say that it cannot be",
  tolerance: "how far from what is implied a value may be, in the row's unit",
  rule: "the rule that doubts it",
  state: "suspect, or set aside by a person in the session file",
  doubt: "strong for what cannot be or is far beyond its tolerance, some for what is worth a look",
  evidence: "what speaks against it, in a sentence",
};

/** Meanings by verb; what a verb does not say of its own is as in all. */
const byVerb: Readonly<Record<string, Meanings>> = {
  describe: summary,
  scorecard: {
    ...summary,
    of: "the column that the row is about, and what is told of it where that is not its mean",
    typical: "mean; for rows of windows the share of shots inside",
    from: "lower bound of the interval of typical",
    to: "upper bound of the interval of typical",
    centred: "the same as typical, from strikes in the centre zone alone",
    n_centred: "shots struck in the centre zone",
    poor: "the same as typical, from strikes outside the centre zone",
    n_poor: "shots struck outside the centre zone",
  },
  compare: {},
  forgiveness,
  drift,
  enough,
  workability,
  spread,
  loftOnly,
  standardAir: { carry_spread: "how far the two fits of lift and drag are apart in the moved carry" },
  putBack: {},
  flight,
  suspects,
};

/** What a column means in the table that a verb of the trade gives; `null` for one that the verb passes on or does not know. */
export function resultColumnMeaning(verb: string, column: string): string | null {
  const own = Object.hasOwn(byVerb, verb) ? byVerb[verb]! : null;
  if (own === null) return null;
  if (Object.hasOwn(own, column)) return own[column]!;
  return passesOn.has(verb) || !Object.hasOwn(shared, column) ? null : shared[column]!;
}

/** True for a verb of the trade after which the rows are still the shots. */
export function givesShotsAgain(verb: string): boolean {
  return passesOn.has(verb);
}

/** Verbs that give the shots again, whose columns keep what they mean. */
const passesOn: ReadonlySet<string> = new Set(["standardAir", "putBack", "flight"]);
