import { greatestSpeedRatio } from "../../flight/centred-impact";
import { headDefaults } from "../../session/head-defaults";
import type { HeadKind } from "../../session/session-facts";
import { evidenceOf, sentence, silentWhereCalculated } from "../evidence";
import { headKindAt } from "../head-of-shot";
import type { Finding, MisreadRule } from "../rule";
import type { SessionReadings } from "../session-readings";
import { misreadSpeed, ratioError } from "../speed-witnesses";

const deg = Math.PI / 180;
const loftMargin = 3 * deg; // by which the spin loft may be less than it seems
/** Share of the way from path to face at which balls launch: Wood, Henrikson & Broadie 2018, Proceedings 2(6):249; the greatest plausible. */
const launchRatio: Readonly<Record<HeadKind, number>> = { iron: 0.8, wedge: 0.8, wood: 0.83 };
const headMass: Readonly<Record<HeadKind, number>> = { iron: 0.31, wedge: 0.31, wood: 0.23 }; // kg, heavy ones; common practice, no source

/** No impact gives more ball speed for a club speed than a heavy head with the liveliest face at the least spin loft. */
export const speedRatioBound: MisreadRule = {
  name: "greatest speed ratio",
  summary: "Ball speed over club speed cannot be above what the liveliest face gives at this launch and angle of attack.",
  doubts: ["club_speed", "ball_speed"],
  needs: ["club_speed", "ball_speed"],
  tolerance: "The bound for a spin loft 3° less than launch and angle of attack imply, and 1.56 for an iron or wedge, 1.52 for a wood; beyond doubt when above by three reading errors",
  source: "Rigid-body impact as in Penner 2001, Am. J. Phys. 69:563, with head mass 0.31 kg (0.23 kg for a wood) and restitution 0.845; the fixed limits are common practice, no source",
  find: (readings) => {
    const [club, ball] = [evidenceOf(readings, "club_speed"), evidenceOf(readings, "ball_speed")];
    if (club === null || ball === null) return [];
    return Array.from({ length: readings.count }, (_, i) => findingAt(readings, i, { club: club[i]!, ball: ball[i]! })).filter((found) => found !== null);
  },
  silent: (readings) => silentWhereCalculated(readings, ["club_speed", "ball_speed"]),
};

function findingAt(readings: SessionReadings, i: number, { club, ball }: { readonly club: number; readonly ball: number }): Finding | null {
  const kind = headKindAt(readings, i);
  const loft = leastSpinLoft(readings, i, kind);
  const limit = headDefaults[kind].speedRatio[1];
  const bound = Math.min(limit, Number.isFinite(loft) ? greatestSpeedRatio(loft, headMass[kind]) : limit);
  const ratio = ball / club;
  if (!(ratio > bound)) return null;
  const { column, says } = misreadSpeed(readings, i, ratio / bound);
  const implied = column === "club_speed" ? ball / bound : club * bound;
  const [doubted, other] = column === "club_speed" ? (["club_speed", "ball_speed"] as const) : (["ball_speed", "club_speed"] as const);
  const most = column === "club_speed" ? "needs a club speed of at least" : "allows a ball speed of at most";
  const doubt = ratio > bound * (1 + 3 * ratioError(readings, i)) ? "strong" : "some";
  return {
    at: i,
    column,
    implied,
    tolerance: null,
    doubt,
    evidence: `${sentence(doubted.replace("_", " "))} ${readings.say(doubted, column === "club_speed" ? club : ball)} makes a speed ratio of ${ratio.toFixed(2)}, and no ${kind} gives more than ${bound.toFixed(2)} here: ${other.replace("_", " ")} ${readings.say(other, column === "club_speed" ? ball : club)} ${most} ${readings.say(column, implied)}. ${says}`,
    witnesses: [{ name: "limit of the speed ratio", implied }],
  };
}

/** The least spin loft that is plausible for a shot, never below 0; `NaN` without a launch angle. */
function leastSpinLoft(readings: SessionReadings, i: number, kind: HeadKind): number {
  const at = (column: "launch_angle" | "angle_of_attack" | "dynamic_loft"): number => evidenceOf(readings, column)?.[i] ?? Number.NaN;
  const [launch, attack, loft] = [at("launch_angle"), at("angle_of_attack"), at("dynamic_loft")];
  const known = [(launch - attack) / launchRatio[kind], loft - attack].filter(Number.isFinite);
  // Without an angle of attack only what launches higher than 2° surely met some loft.
  const least = known.length > 0 ? Math.min(...known) : (launch - 2 * deg) / 0.85;
  const margin = Math.max(loftMargin, 2 * Math.hypot(readings.error("launch_angle", launch), Number.isFinite(attack) ? readings.error("angle_of_attack", attack) : 0));
  return Math.max(0, least - margin);
}
