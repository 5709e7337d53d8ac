import type { Air } from "../../core/flight/air";
import type { Delivery } from "../../core/flight/d-plane";
import type { Launch } from "../../core/flight/launch";
import type { Flight } from "../../core/flight/simulate";
import { simulateFlight } from "../../core/flight/simulate";
import type { Wind } from "../../core/flight/wind";
import { stillAir, uniformWind } from "../../core/flight/wind";
import type { HeadName, Strike } from "./heads";
import { heads, strikeBall } from "./heads";
import type { Random } from "./random";
import type { Tester } from "./tester";
import { newMood, swing } from "./tester";

/** A stint to hit: one head, a number of shots. */
export interface Stint {
  readonly head: HeadName;
  readonly shots: number;
}

/** What happened at one shot, before any monitor reads it. SI and radians. */
export interface TrueShot {
  /** From 1, in hitting order. */
  readonly shot: number;
  readonly head: HeadName;
  readonly delivery: Delivery;
  readonly strike: Strike;
  readonly launch: Launch;
  readonly flight: Flight;
}

/** Where a session is hit. */
export interface Place {
  readonly air: Air;
  /** m/s, mean wind downrange and to the right; it changes from stint to stint and from shot to shot. */
  readonly wind: { readonly downrange: number; readonly right: number; readonly gusts: number } | null;
}

/** Hits the stints in order. */
export function hitSession(stints: readonly Stint[], tester: Tester, place: Place, random: Random): TrueShot[] {
  const swings = random.fork();
  const weather = random.fork();
  const total = stints.reduce((sum, stint) => sum + stint.shots, 0);
  const shots: TrueShot[] = [];
  for (const { head, shots: count } of stints) {
    const mood = newMood(swings);
    const stintWind = windOf(place, weather, 1);
    for (let i = 0; i < count; i++) {
      const progress = shots.length / (total - 1);
      const { delivery, strike } = swing(tester, heads[head], mood, progress, swings);
      const launch = strikeBall(heads[head], delivery, strike);
      const gust = windOf(place, weather, 0.5);
      const wind: Wind = place.wind === null ? stillAir : uniformWind(stintWind.downrange + gust.downrange, stintWind.right + gust.right);
      shots.push({ shot: shots.length + 1, head, delivery, strike, launch, flight: simulateFlight(launch, { air: place.air, wind }) });
    }
  }
  return shots;
}

/** The mean wind (whole for a stint, none for a shot) with a gust of `share` of its usual size. */
function windOf(place: Place, random: Random, share: number): { downrange: number; right: number } {
  if (place.wind === null) return { downrange: 0, right: 0 };
  const { downrange, right, gusts } = place.wind;
  const mean = share === 1 ? 1 : 0;
  return { downrange: mean * downrange + random.normal(share * gusts), right: mean * right + random.normal(share * gusts) };
}

/** The stints of passes, each a word of heads' initials, as in `WHP HPW`. */
export function stintsOf(passes: string, shots: number): Stint[] {
  const initials: Readonly<Record<string, HeadName>> = { W: "Wren", H: "Heron", P: "Plover" };
  return passes.replaceAll(" ", "").split("").map((initial) => ({ head: initials[initial]!, shots }));
}
