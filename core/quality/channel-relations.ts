import { aerodynamicFits } from "../flight/aerodynamics";
import type { Launch } from "../flight/launch";
import { flightOfReading } from "./reading-flight";
import type { HeadKind } from "../session/session-facts";
import { median, medianAbsoluteDeviation } from "../stats/quantile";
import { robustRegression } from "../stats/robust-regression";
import type { ShotColumn } from "../table/shot-columns";
import { launchRatio } from "../flight/usual-delivery";
import { directionsOf } from "./direction-witnesses";
import { evidenceOf } from "./evidence";
import type { FlightColumn } from "./flight-residuals";
import { flightResiduals } from "./flight-residuals";
import { headKindAt, strikeTerms } from "./head-of-shot";
import type { SessionReadings } from "./session-readings";

/** One equation between readings of a shot: what one is less what the others imply. */
export interface Relation {
  /** By reading: 0 where they agree, up to a level of the head's own; `NaN` where one is missing. */
  readonly off: Float64Array;
  /** By how much `off` grows when a column reads one unit more: SI, or a natural logarithm for a column of shares. */
  readonly moves: Moves;
}

/** One number a column that matters. */
export type Moves = Readonly<Partial<Record<ShotColumn, number>>>;

/** Relations that share columns, so that which of them break tells which column is off. */
export interface RelationFamily {
  readonly relations: readonly Relation[];
  /** Columns that may be to blame, the likelier first where nothing tells. */
  readonly columns: readonly ShotColumn[];
  /** Relations, by number, that a real change of the shots breaks as a misread of the column would, when no other does. */
  readonly realChange: Partial<Record<ShotColumn, number>>;
}

/** Columns whose errors are shares of the value. */
export function isShare(column: ShotColumn): boolean {
  return column === "club_speed" || column === "ball_speed" || column === "spin_rate" || column === "carry";
}

/** What the readings of a session say of one another, without columns that were calculated. */
export function relationFamilies(readings: SessionReadings): readonly RelationFamily[] {
  return [directionFamily(readings), launchFamily(readings)].filter(({ relations }) => relations.length > 0);
}

/** Face, path, start direction and spin axis. */
function directionFamily(readings: SessionReadings): RelationFamily {
  const { shots } = directionsOf(readings);
  const share = median(shots.map((shot) => shot.share));
  const relations = [
    present({ off: Float64Array.from(shots, (shot) => shot.face - shot.fromStart), moves: { face_angle: 1, start_direction: -1 / share, club_path: (1 - share) / share } }),
    present({ off: Float64Array.from(shots, (shot) => shot.face - shot.fromAxis), moves: { face_angle: 1, spin_axis: -median(shots.map((shot) => shot.facePerTilt)), club_path: -1 } }),
  ].filter((relation) => relation !== null);
  const blamed: readonly ShotColumn[] = ["face_angle", "club_path", "start_direction", "spin_axis"];
  return { relations, columns: blamed.filter((column) => relations.some(({ moves }) => column in moves)), realChange: {} };
}

/** Speeds, launch, spin and flight. */
function launchFamily(readings: SessionReadings): RelationFamily {
  const of = (column: ShotColumn): Float64Array | null => evidenceOf(readings, column);
  const logOf = (column: ShotColumn): Float64Array | null => of(column)?.map((value) => (value > 0 ? Math.log(value) : Number.NaN)) ?? null;
  const [x, x2, y, y2] = strikeTerms(readings);
  const [club, ball, spin, launch, loft, attack] = [logOf("club_speed"), logOf("ball_speed"), logOf("spin_rate"), of("launch_angle"), of("dynamic_loft"), of("angle_of_attack")];
  const explain = (column: ShotColumn | null, values: Float64Array | null | undefined) => ({ column, values: values ?? null });
  const strike = [x, x2, y, y2].map((values) => explain(null, values));
  const ofSpin = fitted(readings, spin, { spin_rate: 1 }, [explain("launch_angle", launch), explain("angle_of_attack", attack), explain("dynamic_loft", loft), explain("club_speed", club ?? ball), explain(null, y)]);
  const relations = [
    ball === null || club === null ? null : fitted(readings, ball.map((value, i) => value - club[i]!), { ball_speed: 1, club_speed: -1 }, [...strike, explain("launch_angle", launch), explain("angle_of_attack", attack)]),
    ofSpin,
    loft === null || launch === null ? null : fitted(readings, launch.map((value, i) => value - launchOf(readings, i, loft[i]!, attack?.[i])), { launch_angle: 1, dynamic_loft: -launchRatio.iron }, [explain(null, y), explain(null, y2)]),
    ...(["carry", "peak_height", "descent_angle"] as const).map((column) => flown(readings, column)),
  ].filter((relation) => relation !== null);
  const blamed: readonly ShotColumn[] = ["club_speed", "ball_speed", "spin_rate", "launch_angle", "dynamic_loft", "carry"];
  return {
    relations,
    columns: blamed.filter((column) => relations.some(({ moves }) => Math.abs(moves[column] ?? 0) > 0)),
    // A wet face or ball takes spin off without a misread.
    realChange: ofSpin === null ? {} : { spin_rate: relations.indexOf(ofSpin) },
  };
}

/** The launch that dynamic loft and angle of attack give: not by regression, whose slope errors of the loft would flatten. */
function launchOf(readings: SessionReadings, i: number, loft: number, attack = 0): number {
  const ratio = launchRatio[headKindAt(readings, i)];
  return ratio * loft + (1 - ratio) * attack;
}

const fewest = 16; // readings: two stretches of 8

function present(relation: Relation): Relation | null {
  return relation.off.filter(Number.isFinite).length < fewest ? null : relation;
}

/** A column's values beside those of a flight's launch; nothing where it was calculated. */
function flown(readings: SessionReadings, column: FlightColumn): Relation | null {
  if (evidenceOf(readings, column) === null) return null;
  const relation = present({ off: Float64Array.from(flightResiduals(readings, column), ({ off }) => off), moves: {} });
  if (relation === null) return null;
  const usual = (name: ShotColumn): number => median(readings.values(name) ?? []);
  const launch: Launch = { speed: usual("ball_speed"), launchAngle: usual("launch_angle"), startDirection: 0, spinRate: usual("spin_rate"), spinAxis: 0 };
  const change = (more: Partial<Launch>): number => simulated(readings, column, { ...launch, ...more }) - simulated(readings, column, launch);
  return {
    off: relation.off,
    moves: {
      ...(column === "carry" ? { carry: 1 } : {}),
      ball_speed: -change({ speed: launch.speed * Math.exp(step) }) / step,
      spin_rate: -change({ spinRate: launch.spinRate * Math.exp(step) }) / step,
      launch_angle: -change({ launchAngle: launch.launchAngle + step }) / step,
    },
  };
}

const step = 0.02; // of a logarithm, or rad

function simulated(readings: SessionReadings, column: FlightColumn, launch: Launch): number {
  const flight = flightOfReading(launch, { air: readings.air.air, fit: aerodynamicFits[0]! });
  if (column === "descent_angle") return flight.descentAngle;
  return Math.log(column === "carry" ? flight.carry : flight.peakHeight);
}

interface Explaining {
  /** The column whose misread would move the prediction; `null` for one that is never blamed. */
  readonly column: ShotColumn | null;
  readonly values: Float64Array | null;
}

const farthest = 4; // scales from the median at which an odd explaining value is held, as in `predictions.ts`
const rowsForColumn = 5;

/**
 * A reading less what head and other readings imply, by robust regression with slopes that heads of one kind share.
 * What an explaining column moves is minus its slope, that of the kind with the most shots.
 */
function fitted(readings: SessionReadings, target: Float64Array | null, own: Moves, explaining: readonly Explaining[]): Relation | null {
  if (target === null) return null;
  const used = explaining.filter((each): each is Explaining & { readonly values: Float64Array } => each.values !== null && countOf(each.values) >= countOf(target) / 2);
  const off = new Float64Array(target.length).fill(Number.NaN);
  const kinds = new Map<HeadKind, number[]>();
  target.forEach((value, i) => {
    if (!Number.isFinite(value) || used.some(({ values }) => !Number.isFinite(values[i]!))) return;
    const kind = headKindAt(readings, i);
    kinds.set(kind, [...(kinds.get(kind) ?? []), i]);
  });
  let moves = own;
  let most = 0;
  for (const rows of kinds.values()) {
    const heads = [...new Set(rows.map((i) => readings.head[i]!))];
    if (rows.length < rowsForColumn * (heads.length + used.length)) continue;
    const levels = heads.map((head) => Float64Array.from(rows, (i) => (readings.head[i] === head ? 1 : 0)));
    const columns = used.map(({ column, values }) => ({ column, ...held(Float64Array.from(rows, (i) => values[i]!)) })).filter(({ values }) => values.some((value) => value !== values[0]));
    const fit = robustRegression([...levels, ...columns.map(({ values }) => values)], Float64Array.from(rows, (i) => target[i]!));
    if (fit === null) continue;
    rows.forEach((i, place) => (off[i] = fit.residuals[place]!));
    if (rows.length <= most) continue;
    most = rows.length;
    const slopes = columns.flatMap(({ column, scale }, j) => (column === null ? [] : [[column, -fit.coefficients[heads.length + j]! / scale] as const]));
    moves = { ...Object.fromEntries(slopes), ...own };
  }
  return present({ off, moves });
}

function countOf(values: Float64Array): number {
  return values.reduce((count, value) => count + (Number.isFinite(value) ? 1 : 0), 0);
}

function held(values: Float64Array): { readonly values: Float64Array; readonly scale: number } {
  const centre = median(values);
  const scale = medianAbsoluteDeviation(values) || 1;
  return { values: values.map((value) => Math.max(-farthest, Math.min(farthest, (value - centre) / scale))), scale };
}
