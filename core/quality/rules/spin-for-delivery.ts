import { launchRatio } from "../../flight/usual-delivery";
import type { HeadKind } from "../../session/session-facts";
import { evidenceOf } from "../evidence";
import { headKindAt } from "../head-of-shot";
import { flightSays, measuredFlight } from "../measured-flight";
import type { Finding, MisreadRule } from "../rule";
import type { SessionReadings } from "../session-readings";

const deg = Math.PI / 180;
const mph = 0.44704; // m/s
const rpm = (2 * Math.PI) / 60;
const leastLoft = 7 * deg; // of spin, below which the errors of the angles leave nothing to judge by

/** rpm for a mph of club speed and the sine of the spin loft: suspect outside the inner two, impossible above the last. */
interface SpinLimits {
  readonly low: number;
  readonly usual: number;
  readonly high: number;
  readonly impossible: number;
}

/**
 * A ball that rolls off the face has 136, one that springs back along it up to twice as much. Gear effect takes spin from a
 * wood's high strikes and gives it to low ones; a wedge loses it where the ball slides.
 */
const limits: Readonly<Record<HeadKind, SpinLimits>> = {
  iron: { low: 80, usual: 160, high: 250, impossible: 320 },
  wedge: { low: 55, usual: 150, high: 260, impossible: 320 },
  wood: { low: 25, usual: 140, high: 330, impossible: 450 },
};
const needs = ["spin_rate", "club_speed", "launch_angle", "angle_of_attack"] as const;

/** Spin that club speed and spin loft do not make. */
export const spinForDelivery: MisreadRule = {
  name: "spin for the delivery",
  summary: "Spin grows with club speed and with the sine of the spin loft; limits go by kind of head.",
  doubts: ["spin_rate"],
  needs,
  tolerance: "rpm for a mph and the sine of the spin loft: 80 to 250 for an iron, 55 to 260 for a wedge, 25 to 330 for a wood, each widened by the errors of the angles; beyond doubt above 320, a wood's above 450",
  source: "136 for a rolling ball: Penner 2001, Am. J. Phys. 69:563; twice that for one that springs back along the face: Cross & Nathan 2007, Am. J. Phys. 75:658; limits common practice, no source",
  find: (readings) => {
    const [spin, club, launch, attack] = [evidenceOf(readings, "spin_rate"), evidenceOf(readings, "club_speed"), evidenceOf(readings, "launch_angle"), evidenceOf(readings, "angle_of_attack")];
    if (spin === null || club === null || launch === null || attack === null) return [];
    return Array.from(spin, (read, i) => findingAt(readings, i, { read, club: club[i]!, launch: launch[i]!, attack: attack[i]! })).filter((found) => found !== null);
  },
};

interface Delivered {
  readonly read: number;
  readonly club: number;
  readonly launch: number;
  readonly attack: number;
}

function findingAt(readings: SessionReadings, i: number, { read, club, launch, attack }: Delivered): Finding | null {
  const kind = headKindAt(readings, i);
  const { low, usual, high, impossible } = limits[kind];
  const loft = (launch - attack) / launchRatio[kind];
  if (!(loft > leastLoft)) return null;
  const loftError = (2 * Math.hypot(readings.error("launch_angle", launch), readings.error("angle_of_attack", attack))) / launchRatio[kind];
  const made = (perSine: number, spinLoft: number): number => perSine * rpm * (club / mph) * Math.sin(Math.max(0, spinLoft));
  const [least, most] = [made(low, loft - loftError), made(high, loft + loftError)];
  if (!(read < least || read > most)) return null;
  const expected = made(usual, loft);
  const says = flightSays(measuredFlight(readings), i, { spinRate: expected });
  // The flight confirms the spin: a flyer, or a head that spins more than others.
  if (says === "as read") return null;
  return {
    at: i,
    column: "spin_rate",
    implied: expected,
    tolerance: Math.max(expected - least, most - expected),
    doubt: read > made(impossible, loft + loftError) ? "strong" : "some",
    evidence: `Spin rate ${readings.say("spin_rate", read)} is ${read < least ? "less" : "more"} than ${kind === "iron" ? "an" : "a"} ${kind} makes of club speed ${readings.say("club_speed", club)} and a spin loft near ${readings.say("launch_angle", loft)}: ${readings.say("spin_rate", least)} to ${readings.say("spin_rate", most)}.`,
    witnesses: [{ name: "club speed and spin loft", implied: expected }],
  };
}
