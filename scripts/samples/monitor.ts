import type { Air } from "../../core/flight/air";
import type { Launch } from "../../core/flight/launch";
import type { Flight } from "../../core/flight/simulate";
import { simulateFlight } from "../../core/flight/simulate";
import { degree, millimetre, yard } from "./golf-units";
import type { Strike } from "./heads";
import type { Random } from "./random";
import type { TrueShot } from "./session-plan";

/** What an invented monitor shows for one shot, before it is written; SI and radians, `null` where it saw nothing. */
export interface Reading {
  readonly shot: number;
  readonly head: string;
  readonly clubSpeed: number | null;
  readonly attack: number | null;
  readonly path: number | null;
  readonly face: number | null;
  readonly loft: number | null;
  /** From the origin half-way up the face, not from the strike reference. */
  readonly strike: Strike | null;
  readonly launch: Launch;
  readonly flight: Flight;
  /** m */
  readonly total: number;
}

/** Reading errors: standard deviations, as shares of the value (speeds, spin) or in SI. */
export interface ReadingErrors {
  readonly ballSpeed: number;
  readonly clubSpeed: number;
  readonly launchAngle: number;
  readonly startDirection: number;
  readonly spinRate: number;
  readonly spinAxis: number;
  readonly attack: number;
  readonly path: number;
  readonly face: number;
  readonly loft: number;
  readonly strike: number;
}

/** The reading errors of all sessions; each session file states them. Plausible assumptions: no source. */
export const readingErrors: ReadingErrors = {
  ballSpeed: 0.005,
  clubSpeed: 0.015,
  launchAngle: 0.3 * degree,
  startDirection: 0.4 * degree,
  spinRate: 0.02,
  spinAxis: 1 * degree,
  attack: 0.7 * degree,
  path: 0.9 * degree,
  face: 0.9 * degree,
  loft: 0.9 * degree,
  strike: 1.2 * millimetre,
};

/** How far below the monitor's origin a centred strike lies on these irons, in m. */
export const strikeReferenceDrop = 9 * millimetre;

/** Misreads put in on purpose, by shot: what the value is multiplied by, or what is added to it. */
export interface Misreads {
  readonly clubSpeed?: Readonly<Record<number, number>>;
  readonly spinRate?: Readonly<Record<number, number>>;
  /** rad */
  readonly face?: Readonly<Record<number, number>>;
  /** rad */
  readonly startDirection?: Readonly<Record<number, number>>;
  /** Shots of which the club was not seen. */
  readonly clubUnseen?: readonly number[];
}

/** What a monitor shows of a shot, with its reading errors and misreads. */
export function readShot(shot: TrueShot, errors: ReadingErrors, misreads: Misreads, random: Random): Reading {
  const { delivery, launch, strike } = shot;
  const share = (value: number, error: number): number => value * (1 + random.normal(error));
  const near = (value: number, error: number): number => value + random.normal(error);
  const read: Launch = {
    speed: share(launch.speed, errors.ballSpeed),
    launchAngle: near(launch.launchAngle, errors.launchAngle),
    startDirection: near(launch.startDirection, errors.startDirection) + (misreads.startDirection?.[shot.shot] ?? 0),
    spinRate: share(launch.spinRate, errors.spinRate) * (misreads.spinRate?.[shot.shot] ?? 1),
    spinAxis: near(launch.spinAxis, errors.spinAxis),
  };
  const club = {
    clubSpeed: share(delivery.clubSpeed, errors.clubSpeed) * (misreads.clubSpeed?.[shot.shot] ?? 1),
    attack: near(delivery.angleOfAttack, errors.attack),
    path: near(delivery.clubPath, errors.path),
    face: near(delivery.faceAngle, errors.face) + (misreads.face?.[shot.shot] ?? 0),
    loft: near(delivery.dynamicLoft, errors.loft),
    strike: { x: near(strike.x, errors.strike), y: near(strike.y, errors.strike) - strikeReferenceDrop },
  };
  const unseen = { clubSpeed: null, attack: null, path: null, face: null, loft: null, strike: null };
  const seen = misreads.clubUnseen?.includes(shot.shot) === true ? unseen : club;
  return { shot: shot.shot, head: shot.head, ...seen, launch: read, flight: shot.flight, total: shot.flight.carry + runOf(shot.flight) };
}

/** The same reading from a monitor that does not see the flight but calculates it from what it read of the launch. */
export function withCalculatedFlight(reading: Reading, air: Air): Reading {
  const flight = simulateFlight(reading.launch, { air });
  return { ...reading, flight, total: flight.carry + runOf(flight) };
}

/** The run after landing in m: 9 yd at a descent of 45°, a yard less for each degree more. Invented. */
function runOf(flight: Flight): number {
  return Math.max(0, 9 - (flight.descentAngle / degree - 45)) * yard;
}
