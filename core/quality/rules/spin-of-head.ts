import { evidenceOf, headName } from "../evidence";
import { strikeTerms, strikeWidening } from "../head-of-shot";
import { flightSays, measuredFlight } from "../measured-flight";
import { predictionsOf } from "../predictions";
import type { Finding, MisreadRule } from "../rule";
import type { SessionReadings } from "../session-readings";

const suspectAt = 3.5; // scales: B. Iglewicz, D. C. Hoaglin, How to Detect and Handle Outliers (1993)
const flightDecidesAt = 1.5; // scales, from which near half or twice the measured flight is asked
const beyondDoubt = 6; // scales
const nearMultiple = 0.1; // share of half or twice the expected spin
const multipleScales = 3; // scales about half or twice the expected spin, where that is more
const leastShare = 0.2; // of the expected spin, below which a spin is not worth doubting. Common practice, no source

/** What the spin of one shot is, beside what the head's others imply. */
interface OddSpin {
  readonly i: number;
  readonly read: number;
  readonly expected: number;
  readonly scale: number;
  /** `half` or `twice` of what is expected, or neither. */
  readonly multiple: "half" | "twice" | null;
}

const known = new WeakMap<SessionReadings, readonly OddSpin[]>();

/** Shots whose spin is far from what launch, strike and club speed imply with their head. */
function oddSpins(readings: SessionReadings): readonly OddSpin[] {
  let found = known.get(readings);
  if (found === undefined) {
    found = findOddSpins(readings);
    known.set(readings, found);
  }
  return found;
}

function findOddSpins(readings: SessionReadings): readonly OddSpin[] {
  const spin = evidenceOf(readings, "spin_rate");
  if (spin === null) return [];
  const [, , y, y2] = strikeTerms(readings);
  const speed = evidenceOf(readings, "club_speed") ?? evidenceOf(readings, "ball_speed");
  const explaining = [evidenceOf(readings, "launch_angle"), y!, y2!, evidenceOf(readings, "angle_of_attack"), evidenceOf(readings, "dynamic_loft"), speed];
  const { predicted, scale } = predictionsOf(readings, spin, explaining, { widening: (i) => strikeWidening(readings, i) });
  const flights = measuredFlight(readings);
  const odd: OddSpin[] = [];
  for (let i = 0; i < readings.count; i++) {
    const [read, expected] = [spin[i]!, predicted[i]!];
    const width = Math.max(scale[i]!, readings.error("spin_rate", expected));
    const off = Math.abs(read - expected);
    if (!(expected > 0) || !(off > flightDecidesAt * width) || off < leastShare * expected) continue;
    const near = (factor: number): boolean => Math.abs(read - factor * expected) < Math.max(nearMultiple, (multipleScales * width) / expected) * factor * expected;
    const multiple = near(0.5) ? "half" : near(2) ? "twice" : null;
    // Spins of woods scatter so much that a halved one may be within bounds; near half or twice, the flight decides.
    const isOdd = off > suspectAt * width || (multiple !== null && flightSays(flights, i, { spinRate: expected }) === "as implied");
    if (isOdd) odd.push({ i, read, expected, scale: width, multiple });
  }
  return odd;
}

const needs = ["spin_rate"] as const;
const source = "Robust residuals at 3.5: Iglewicz & Hoaglin 1993; what a flight decides: Naruo, Mizota & Shimozono 2004, Trans. JSME B 70(697):2371; the rest common practice, no source";

/** Spin read at half or twice its value: a seam or a mark counted wrongly. */
export const halvedOrDoubledSpin: MisreadRule = {
  name: "halved or doubled spin",
  summary: "Spin close to half or twice of what the head's other shots imply for this launch and strike; low spin that the measured flight confirms is a flyer.",
  doubts: ["spin_rate"],
  needs,
  tolerance: "10 % of half or twice the expected spin, or 3 of its robust standard deviations where that is more",
  source,
  find: (readings) => oddSpins(readings).flatMap((odd) => (odd.multiple === null ? [] : spinFinding(readings, odd))),
};

/** Spin far from what the head's other shots imply, but neither half nor twice of it. */
export const spinOfHead: MisreadRule = {
  name: "spin of the head",
  summary: "Spin far from what the head's other shots imply for this launch, strike and speed; low spin that the measured flight confirms is a flyer.",
  doubts: ["spin_rate"],
  needs,
  tolerance: "3.5 robust standard deviations and 20 % of the expected spin; beyond doubt at 6 where the measured flight contradicts it",
  source,
  find: (readings) => oddSpins(readings).flatMap((odd) => (odd.multiple === null ? spinFinding(readings, odd) : [])),
};

function spinFinding(readings: SessionReadings, { i, read, expected, scale, multiple }: OddSpin): readonly Finding[] {
  const flights = measuredFlight(readings);
  const says = flightSays(flights, i, { spinRate: expected });
  if (says === "as read") return [];
  const isLow = read < expected;
  // A head gives more spin than it can only by a misread; less spin may be grass or water between face and ball.
  const isFar = multiple !== null || Math.abs(read - expected) > beyondDoubt * scale;
  const tolerance = suspectAt * scale;
  const relation = multiple === null ? "" : multiple === "half" ? "about half of " : "about twice ";
  const flightWords =
    says === "as implied"
      ? "The measured flight agrees with that and not with the spin read."
      : flights === null
        ? `The flight was not measured, so ${isLow ? "a flyer, with grass or water between face and ball," : "a real one"} cannot be told from a misread.`
        : "The measured flight does not tell which is right.";
  return [
    {
      at: i,
      column: "spin_rate",
      implied: expected,
      tolerance,
      doubt: says === "as implied" && isFar ? "strong" : "some",
      evidence: `Spin rate ${readings.say("spin_rate", read)} is ${relation}what the other shots with ${headName(readings, i)} imply for this launch and strike, ${readings.say("spin_rate", expected)} ± ${readings.saySize("spin_rate", tolerance)}. ${flightWords}`.replace("is what", "is far from what"),
      witnesses: [{ name: "the head's other shots", implied: expected }],
    },
  ];
}
