import { headDefaults } from "../../session/head-defaults";
import { headName, sentence, silentWhereCalculated } from "../evidence";
import { headKindAt, levelsByHead, strikeDistanceAt } from "../head-of-shot";
import type { Finding, MisreadRule } from "../rule";
import type { SessionReadings } from "../session-readings";
import { misreadSpeed, ratioResiduals } from "../speed-witnesses";

const suspectAt = 3.5; // scales: B. Iglewicz, D. C. Hoaglin, How to Detect and Handle Outliers (1993)
const beyondDoubt = 6; // scales
const leastShare = 0.04; // of the ratio, below which a speed is not worth doubting. Common practice, no source

/**
 * A speed ratio unlike the head's other shots, strike and launch taken into account.
 *
 * A mishit has a low ratio because its ball is slow: it is never doubted unless a measured flight says that the ball was
 * not slow. A ratio above the others' has no such excuse.
 */
export const speedRatioOfHead: MisreadRule = {
  name: "speed ratio of the head",
  summary: "Ball speed over club speed is compared with the head's other shots, with the strike and the launch taken into account; a slow ball alone is a mishit.",
  doubts: ["club_speed", "ball_speed"],
  needs: ["club_speed", "ball_speed"],
  tolerance: "3.5 robust standard deviations and 4 % of the ratio; beyond doubt at 6; wider for strikes away from the middle",
  source: "Robust residuals at 3.5: Iglewicz & Hoaglin 1993; the rest common practice, no source",
  find: (readings) => {
    const residuals = ratioResiduals(readings);
    if (residuals === null) return [];
    const ofHead = levelsByHead(readings, readings.values("club_speed")!);
    const found: Finding[] = [];
    for (let i = 0; i < readings.count; i++) {
      const [off, tolerance] = [residuals.off[i]!, residuals.scale[i]!];
      const z = Math.abs(off) / tolerance;
      if (!(z > suspectAt) || Math.abs(Math.expm1(off)) < leastShare) continue;
      const finding = findingAt(readings, i, { off, allowed: suspectAt * tolerance, isFar: z > beyondDoubt, usualClub: ofHead(i).centre });
      if (finding !== null) found.push(finding);
    }
    return found;
  },
  silent: (readings) => silentWhereCalculated(readings, ["club_speed", "ball_speed"]),
};

/**
 * True where the strike may explain the ratio: any low one (turf, the edge of the face), and a high one where the strike
 * read is poor, since a wrong strike implies a wrong ratio.
 */
function mayBeStrike(readings: SessionReadings, i: number, off: number): boolean {
  return off < 0 || strikeDistanceAt(readings, i) * 1000 > headDefaults[headKindAt(readings, i)].standardMiss.x;
}

interface OddRatio {
  /** Natural logarithm of the ratio over the one implied. */
  readonly off: number;
  /** How large that may be. */
  readonly allowed: number;
  readonly isFar: boolean;
  /** The median of the head's club speeds. */
  readonly usualClub: number;
}

function findingAt(readings: SessionReadings, i: number, { off, allowed, isFar, usualClub }: OddRatio): Finding | null {
  const [club, ball] = [readings.values("club_speed")![i]!, readings.values("ball_speed")![i]!];
  const excess = Math.exp(off);
  const { column, says, isSure } = misreadSpeed(readings, i, excess);
  const slowBall = off < 0 && column === "ball_speed";
  if (slowBall && !isSure) return null;
  // What the strike may explain is a misread of the club only where the implied speed is nearer to the head's usual one.
  if (column === "club_speed" && mayBeStrike(readings, i, off) && !(Math.abs(club * excess - usualClub) < Math.abs(club - usualClub))) return null;
  const usual = ball / club / excess;
  const implied = column === "club_speed" ? ball / usual : club * usual;
  const [value, tolerance] = column === "club_speed" ? [club, implied * Math.expm1(allowed)] : [ball, implied * Math.expm1(allowed)];
  return {
    at: i,
    column,
    implied,
    tolerance,
    doubt: isFar && (isSure || off > 0) ? "strong" : "some",
    evidence: `${sentence(column.replace("_", " "))} ${readings.say(column, value)} makes a speed ratio of ${(ball / club).toFixed(2)}; the other shots with ${headName(readings, i)} imply ${usual.toFixed(2)} for this strike and launch, so ${readings.say(column, implied)} ± ${readings.saySize(column, tolerance)}. ${says}`,
    witnesses: [{ name: "speed ratio of the head", implied }],
  };
}
