import { faceShare } from "../flight/d-plane";
import { launchRatio, usualAttack } from "../flight/usual-delivery";
import type { HeadBuild, HeadKind } from "../session/session-facts";
import { median, medianAbsoluteDeviation } from "../stats/quantile";
import { robustRegression } from "../stats/robust-regression";
import type { ShotColumn } from "../table/shot-columns";
import { evidenceOf } from "./evidence";
import { headKindAt } from "./head-of-shot";
import type { SessionReadings } from "./session-readings";

const deg = Math.PI / 180;

/** What the ball says of the face of one shot, after taking out what all shots share. Radians; `NaN` where it says nothing. */
export interface DirectionWitness {
  readonly face: number;
  readonly path: number;
  /** Share of the face in the start direction. */
  readonly share: number;
  /** The face that start direction and path imply, and a standard deviation of the face read about it. */
  readonly fromStart: number;
  readonly fromStartError: number;
  /** The face that spin axis, strike and path imply, likewise. */
  readonly fromAxis: number;
  readonly fromAxisError: number;
  /** Both together, weighted. */
  readonly together: number;
  readonly togetherError: number;
  /** A standard deviation of the difference of the two. */
  readonly apartError: number;
  /** The start direction that face and path imply, and a standard deviation of the one read about it. */
  readonly start: number;
  readonly startError: number;
  /** The path that face and spin axis imply, and how far start direction and face are from it, in standard deviations. */
  readonly pathFromAxis: number;
  readonly pathMisfit: number;
  /** Tilt of the spin axis that the face which start direction implies would give. */
  readonly axisFromStart: number;
  /** Turn of the face that the axis implies for a tilt of the axis. */
  readonly facePerTilt: number;
}

/** What a session says of faces: one witness a shot, and the constant offsets taken out. */
export interface SessionDirections {
  readonly shots: readonly DirectionWitness[];
  /** Sentences on offsets that all shots share, where they are large. */
  readonly offsets: readonly string[];
}

const usualAttackError = 2.5 * deg; // where it is not read; common practice, no source
const shareError = 0.08; // of the face share from head to head: the scatter that Wood, Henrikson & Broadie 2018 give
const usualStrike = 0.008; // m, one standard deviation of strikes where they are not read
/** Tilt of the spin axis for a strike to the toe, rad for a m: a rigid head whose centre of mass is 4, 8 or 14 mm deep. */
const gearByDesign: Readonly<Record<string, number>> = { blade: 0.13, cavity: 0.23, hollow: 0.38 };
const gearByKind: Readonly<Record<HeadKind, number>> = { iron: 0.25, wedge: 0.15, wood: 0.6 }; // degrees for a mm; common practice, no source
const gearError: Readonly<Record<HeadKind, number>> = { iron: 0.15, wedge: 0.1, wood: 0.4 };
const shotsForOffset = 30; // of a session, from which what all shots share counts as alignment
const shotsForHead = 15; // of a head, for an offset and a gear effect of its own
const largeOffset = 2 * deg;
const perMm = deg * 1000; // rad for a m

const known = new WeakMap<SessionReadings, SessionDirections>();

/** What start direction and spin axis say of the face of every shot. */
export function directionsOf(readings: SessionReadings): SessionDirections {
  let found = known.get(readings);
  if (found === undefined) {
    found = compareDirections(readings);
    known.set(readings, found);
  }
  return found;
}

/** The readings of one shot that matter here, and what follows from them before anything is taken out. */
interface Geometry {
  readonly face: number;
  readonly path: number;
  readonly start: number;
  readonly toe: number;
  readonly share: number;
  readonly fromStart: number;
  readonly fromAxis: number;
  /** Turn of the implied face for a tilt of the axis. */
  readonly facePerTilt: number;
  readonly gear: number;
  readonly errors: Errors;
}

interface Errors {
  readonly face: number;
  readonly path: number;
  /** Of the implied faces, the path's share left out. */
  readonly fromStart: number;
  readonly fromAxis: number;
}

function compareDirections(readings: SessionReadings): SessionDirections {
  const geometry = Array.from({ length: readings.count }, (_, i) => geometryAt(readings, i));
  const start = shared(readings, geometry, (shot) => shot.face - shot.fromStart);
  const axis = shared(readings, geometry, (shot) => shot.face - shot.fromAxis);
  const shots = geometry.map((shot, i) => witnessOf(shot, start.at(i), axis.at(i)));
  const widening = [widen(shots.map((shot) => (shot.face - shot.fromStart) / shot.fromStartError)), widen(shots.map((shot) => (shot.face - shot.fromAxis) / shot.fromAxisError)), widen(shots.map((shot) => (shot.face - shot.together) / shot.togetherError)), widen(shots.map((shot) => (shot.fromStart - shot.fromAxis) / shot.apartError))] as const;
  return {
    shots: shots.map((shot) => ({
      ...shot,
      fromStartError: shot.fromStartError * widening[0],
      startError: shot.startError * widening[0],
      fromAxisError: shot.fromAxisError * widening[1],
      togetherError: shot.togetherError * widening[2],
      apartError: shot.apartError * widening[3],
      pathMisfit: shot.pathMisfit / widening[0],
    })),
    offsets: offsetSentences(readings, geometry, start, axis),
  };
}

/** By how much readings scatter more than their errors say: at least 1, and 1 where shots are too few to tell. */
function widen(standardised: readonly number[]): number {
  const there = standardised.filter(Number.isFinite);
  return there.length < shotsForOffset ? 1 : Math.max(1, medianAbsoluteDeviation(there));
}

function geometryAt(readings: SessionReadings, i: number): Geometry {
  const at = (column: ShotColumn): number => evidenceOf(readings, column)?.[i] ?? Number.NaN;
  const kind = headKindAt(readings, i);
  const [face, path, start, axis, launch] = [at("face_angle"), at("club_path"), at("start_direction"), at("spin_axis"), at("launch_angle")];
  const read = at("angle_of_attack");
  const attack = Number.isFinite(read) ? read : usualAttack[kind];
  const loft = Math.max(3 * deg, (launch - attack) / launchRatio[kind]);
  const loftError = Math.hypot(readings.error("launch_angle", launch), Number.isFinite(read) ? readings.error("angle_of_attack", read) : usualAttackError) / launchRatio[kind];
  const share = Number.isFinite(loft) ? faceShare(loft) : { iron: 0.69, wedge: 0.61, wood: 0.76 }[kind];
  const gear = gearOf(readings.heads[readings.head[i]!], kind) * perMm;
  const strike = at("strike_x");
  const toe = Number.isFinite(strike) ? strike : 0;
  // The tilt is read about the direction of launch; the face follows from the one about the horizon.
  const tilt = Math.asin(Math.sin(axis + gear * toe) * Math.cos(launch));
  const facePerTilt = Math.sin(loft) / Math.cos(attack + loft);
  const turn = Math.asin(Math.max(-1, Math.min(1, Math.tan(tilt) * facePerTilt)));
  const apart = face - path;
  const toeError = Number.isFinite(strike) ? Math.hypot(gear * readings.error("strike_x", strike), gearError[kind] * perMm * Math.abs(strike)) : gear * usualStrike;
  return {
    face,
    path,
    start,
    toe,
    share,
    fromStart: (start - (1 - share) * path) / share,
    fromAxis: path + turn,
    facePerTilt,
    gear,
    errors: {
      face: readings.error("face_angle", face),
      path: readings.error("club_path", path),
      fromStart: Math.hypot(readings.error("start_direction", start), shareError * (Number.isFinite(apart) ? apart : 0)) / share,
      fromAxis: Math.hypot(facePerTilt * readings.error("spin_axis", axis), facePerTilt * toeError, (turn * loftError) / loft),
    },
  };
}

function gearOf(head: HeadBuild | undefined, kind: HeadKind): number {
  const design = kind === "iron" ? Object.keys(gearByDesign).find((name) => head?.design?.toLowerCase().includes(name)) : undefined;
  return design === undefined ? gearByKind[kind] : gearByDesign[design]!;
}

/** What all shots of a session, or of a head, share of a difference: an offset, and its change for a strike to the toe. */
interface Shared {
  readonly at: (i: number) => number;
  /** The offset by head where a head has its own, else one for all under −1. */
  readonly offsets: ReadonlyMap<number, { readonly offset: number; readonly count: number }>;
}

function shared(readings: SessionReadings, geometry: readonly Geometry[], difference: (shot: Geometry) => number): Shared {
  const all = geometry.map((shot, i) => ({ i, head: readings.head[i]!, toe: shot.toe, off: difference(shot) })).filter(({ off }) => Number.isFinite(off));
  const offsets = new Map<number, { offset: number; count: number; slope: number }>();
  if (all.length >= shotsForOffset) {
    offsets.set(-1, { offset: median(all.map(({ off }) => off)), count: all.length, slope: 0 });
    for (const head of new Set(all.map((shot) => shot.head))) {
      const own = all.filter((shot) => shot.head === head);
      if (head < 0 || own.length < shotsForHead) continue;
      const toes = Float64Array.from(own, ({ toe }) => Math.max(-0.02, Math.min(0.02, toe)));
      const fit = robustRegression([toes.map(() => 1), toes], Float64Array.from(own, ({ off }) => off));
      if (fit === null) offsets.set(head, { offset: median(own.map(({ off }) => off)), count: own.length, slope: 0 });
      else offsets.set(head, { offset: fit.coefficients[0]!, count: own.length, slope: fit.coefficients[1]! });
    }
  }
  return {
    at: (i) => {
      const of = offsets.get(readings.head[i]!) ?? offsets.get(-1);
      return of === undefined ? 0 : of.offset + of.slope * geometry[i]!.toe;
    },
    offsets,
  };
}

function witnessOf(shot: Geometry, startOffset: number, axisOffset: number): DirectionWitness {
  const { face, path, share, errors } = shot;
  const fromStart = shot.fromStart + startOffset;
  const fromAxis = shot.fromAxis + axisOffset;
  // The path enters both witnesses, with opposite signs, so that part of its error cancels.
  const pathInStart = (-(1 - share) / share) * errors.path;
  const fromStartError = Math.hypot(errors.fromStart, pathInStart);
  const fromAxisError = Math.hypot(errors.fromAxis, errors.path);
  const weight = 1 / fromStartError ** 2 / (1 / fromStartError ** 2 + 1 / fromAxisError ** 2);
  const together = weight * fromStart + (1 - weight) * fromAxis;
  const ownError = Math.hypot(weight * errors.fromStart, (1 - weight) * errors.fromAxis, weight * pathInStart + (1 - weight) * errors.path);
  const start = share * (face - startOffset) + (1 - share) * path;
  const pathFromAxis = face - (fromAxis - path);
  const startOfThat = share * (face - startOffset) + (1 - share) * pathFromAxis;
  const pathError = Math.hypot(share * errors.fromStart, errors.face, (1 - share) * errors.fromAxis);
  return {
    face,
    path,
    share,
    fromStart,
    fromStartError: Math.hypot(fromStartError, errors.face),
    fromAxis,
    fromAxisError: Math.hypot(fromAxisError, errors.face),
    together,
    togetherError: Math.hypot(ownError, errors.face),
    apartError: Math.hypot(errors.fromStart, errors.fromAxis, errors.path - pathInStart),
    start,
    startError: share * Math.hypot(fromStartError, errors.face),
    pathFromAxis,
    pathMisfit: Math.abs(shot.start - startOfThat) / pathError,
    axisFromStart: Math.atan(Math.sin(fromStart - axisOffset - path) / shot.facePerTilt) - shot.gear * shot.toe,
    facePerTilt: shot.facePerTilt,
  };
}

/** On offsets above 2° that all shots share: alignment, or a reference, rather than misreads. */
function offsetSentences(readings: SessionReadings, geometry: readonly Geometry[], start: Shared, axis: Shared): readonly string[] {
  const sentences: string[] = [];
  const size = (offset: number): string => `${readings.saySize("face_angle", offset)} ${offset > 0 ? "more open" : "more closed"}`;
  for (const [head, { offset, count }] of start.offsets) {
    if (head < 0 && start.offsets.size > 1) continue;
    const other = axis.offsets.get(head)?.offset;
    const whose = head < 0 ? "" : ` of ${readings.heads[head]!.name}`;
    // A path that is off moves the face that the start implies one way and the one that the axis implies the other way.
    const share = median(geometry.filter((_, i) => head < 0 || readings.head[i] === head).map((shot) => shot.share));
    const pathOff = other === undefined ? 0 : share * (offset - other);
    const faceOff = other === undefined ? offset : other + pathOff;
    const tail = `in all ${count} shots: a matter of alignment or reference rather than of misreads, so single shots are judged after taking it out.`;
    if (Math.abs(faceOff) > largeOffset) sentences.push(`Face angle${whose} reads about ${size(faceOff)} than the ball's start${other === undefined ? " implies" : " and curve imply"}, ${tail}`);
    if (Math.abs(pathOff) > 1.5 * largeOffset)
      sentences.push(`Club path${whose} reads about ${readings.saySize("club_path", pathOff)} ${pathOff > 0 === (readings.facts.hand === "right") ? "farther right" : "farther left"} than start and curve imply, ${tail}`);
  }
  return sentences;
}
