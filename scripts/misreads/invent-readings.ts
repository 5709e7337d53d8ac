import type { Air } from "../../core/flight/air";
import { standardAirs } from "../../core/flight/air";
import type { Delivery } from "../../core/flight/d-plane";
import type { HeadBody } from "../../core/flight/impact";
import { impact } from "../../core/flight/impact";
import type { Flight } from "../../core/flight/simulate";
import { flightOfReading } from "../../core/quality/reading-flight";
import { usualReadingErrors } from "../../core/quality/reading-errors";
import { headDefaults } from "../../core/session/head-defaults";
import type { HeadBuild, HeadKind, SessionFacts } from "../../core/session/session-facts";
import { seededRandom, shuffle } from "../../core/stats/random";
import type { ShotColumn } from "../../core/table/shot-columns";
import type { Column, Table } from "../../core/table/table";
import { makeTable, numberColumn, textColumn } from "../../core/table/table";
import type { Unit } from "../../core/units";
import { units } from "../../core/units";

/** What is true of one invented head, and of how it is swung. Angles in degrees, speeds in mph. */
export interface InventedHead {
  readonly name: string;
  readonly kind: HeadKind;
  readonly design: string;
  readonly loft: number;
  readonly clubSpeed: number;
  readonly angleOfAttack: number;
  readonly dynamicLoft: number;
  readonly body: HeadBody;
  readonly restitution: number;
}

/** Values that the monitor is to misread: of a column, for some shots, from what it would have read. Table units. */
export interface PlantedFault {
  readonly column: ShotColumn;
  /** Numbers of shots, from 1. */
  readonly shots: readonly number[];
  readonly misread: (reading: number, shot: number) => number;
}

/** How to invent a session; whatever is left out has the value named. */
export interface ReadingsPlan {
  readonly seed: number;
  /** The three irons. */
  readonly heads?: readonly InventedHead[];
  /** 150, spread evenly. */
  readonly shots?: number;
  /** Shots in a stint; 6. */
  readonly stint?: number;
  /** mm, one standard deviation of strikes to the toe and up the face; 7 and 7. */
  readonly strikeScatter?: readonly [toe: number, high: number];
  /** mm from the strike reference, the middle of the strikes; 0 and 0. */
  readonly strikeMean?: readonly [toe: number, high: number];
  /** Columns that the monitor calculates, by the default fit, from its own readings; none. */
  readonly calculated?: readonly ShotColumn[];
  /** Columns that are not in the table; none. */
  readonly without?: readonly ShotColumn[];
  /** Planted before anything is calculated from the reading. */
  readonly faults?: readonly PlantedFault[];
  readonly hand?: "right" | "left";
  readonly air?: Air;
  /** Turns the delivery of one shot: for a draw that was asked for, or a session aimed aside. */
  readonly deliver?: (delivery: Delivery, shot: number) => Delivery;
  readonly facts?: Partial<SessionFacts>;
}

/** An invented session. `strikeDistance` is the true one, in mm, by row. */
export interface InventedReadings {
  readonly table: Table;
  readonly strikeDistance: readonly number[];
}

const deg = Math.PI / 180;
const mph = 0.44704;
const gramSquareCentimetre = 1e-7;

/** A head's body from its mass in g, its inertias about heel-toe and the vertical in g·cm², and its depth in mm. */
function bodyOf(mass: number, heelToToe: number, upTheFace: number, depth: number): HeadBody {
  const inertia = [heelToToe, upTheFace, (heelToToe + upTheFace) * 0.9].map((each) => each * gramSquareCentimetre);
  return { mass: mass / 1000, inertia: [inertia[0]!, inertia[1]!, inertia[2]!], depth: depth / 1000 };
}

/** Three irons of 34°: plausible bodies, from no source. */
export const threeIrons: readonly InventedHead[] = [
  { name: "Wren", kind: "iron", design: "blade", loft: 34, clubSpeed: 96, angleOfAttack: -4, dynamicLoft: 24.5, body: bodyOf(270, 600, 2200, 4), restitution: 0.78 },
  { name: "Heron", kind: "iron", design: "cavity", loft: 34, clubSpeed: 96.5, angleOfAttack: -4, dynamicLoft: 24, body: bodyOf(268, 750, 2700, 8), restitution: 0.79 },
  { name: "Plover", kind: "iron", design: "hollow", loft: 34, clubSpeed: 97, angleOfAttack: -3.8, dynamicLoft: 23.5, body: bodyOf(265, 850, 2900, 14), restitution: 0.815 },
];

/** Wedges of 46, 52 and 58°. */
export const threeWedges: readonly InventedHead[] = [
  { name: "Wren 46", kind: "wedge", design: "blade", loft: 46, clubSpeed: 86, angleOfAttack: -5, dynamicLoft: 35, body: bodyOf(295, 700, 2500, 4), restitution: 0.78 },
  { name: "Wren 52", kind: "wedge", design: "blade", loft: 52, clubSpeed: 82, angleOfAttack: -5.5, dynamicLoft: 40, body: bodyOf(300, 750, 2500, 3), restitution: 0.78 },
  { name: "Wren 58", kind: "wedge", design: "blade", loft: 58, clubSpeed: 76, angleOfAttack: -6, dynamicLoft: 47, body: bodyOf(305, 800, 2500, 2), restitution: 0.78 },
];

/** Three drivers. Their faces are flat here, so that their gear effect is the strongest there may be. */
export const threeDrivers: readonly InventedHead[] = [
  { name: "Wren 9", kind: "wood", design: "driver", loft: 9, clubSpeed: 110, angleOfAttack: 1, dynamicLoft: 12.5, body: bodyOf(203, 2850, 4600, 34), restitution: 0.82 },
  { name: "Heron 10", kind: "wood", design: "driver", loft: 10, clubSpeed: 109, angleOfAttack: 0.5, dynamicLoft: 13.5, body: bodyOf(203, 3200, 5000, 36), restitution: 0.825 },
  { name: "Plover 11", kind: "wood", design: "driver", loft: 11, clubSpeed: 108, angleOfAttack: 0, dynamicLoft: 14, body: bodyOf(204, 3600, 5400, 40), restitution: 0.825 },
];

/** Standard deviations from shot to shot of one player, and those that a stint shares; mph and degrees. From no source. */
const scatter = { clubSpeed: 1.2, stintSpeed: 0.5, angleOfAttack: 1, clubPath: 2, faceToPath: 2, dynamicLoft: 1.2 };
const tangentialRestitution = 0.15;
const flightError = { carry: 0.007, total: 0.01, peak_height: 0.02, flight_time: 0.01, landing_speed: 0.01 } as const; // shares
const turbulence = 0.006; // share by which real flights of one launch differ

/** The unit in which each column is written. */
const columnUnits = {
  club_speed: "mph", angle_of_attack: "deg", club_path: "deg", face_angle: "deg", dynamic_loft: "deg",
  strike_x: "mm", strike_y: "mm",
  ball_speed: "mph", launch_angle: "deg", start_direction: "deg", spin_rate: "rpm", spin_axis: "deg",
  carry: "yd", offline: "yd", peak_height: "ft", descent_angle: "deg", flight_time: "s",
} as const satisfies Partial<Record<ShotColumn, Unit>>;
type ReadColumn = keyof typeof columnUnits;
const columnNames = Object.keys(columnUnits) as readonly ReadColumn[];
const flightColumns: readonly ReadColumn[] = ["carry", "offline", "peak_height", "descent_angle", "flight_time"];
const mirroredColumns: readonly ReadColumn[] = ["club_path", "face_angle", "start_direction", "spin_axis", "offline"];

type Reading = Record<ReadColumn, number>;

/**
 * Shots of which the truth is known: an impact in three dimensions, a flight, and readings of both with the usual errors.
 * Synthetic, every one of them; a planted fault is a misread of the values named.
 */
export function inventReadings(plan: ReadingsPlan): InventedReadings {
  const { heads = threeIrons, shots = 150, air = standardAirs["sea level"] } = plan;
  const random = seededRandom(plan.seed);
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const order = stintsOf(heads.length, shots, plan.stint ?? 6, random);
  const readings: Reading[] = [];
  const strikeDistance: number[] = [];
  let shared = 0;
  order.forEach(({ head, isFirst }, i) => {
    if (isFirst) shared = scatter.stintSpeed * normal();
    const { reading, distance } = readShot(heads[head]!, plan, { shot: i + 1, shared, normal, air });
    for (const fault of plan.faults ?? []) {
      const column = fault.column as ReadColumn;
      if (fault.shots.includes(i + 1)) reading[column] = si(column, fault.misread(reading[column] / units[columnUnits[column]].factor, i + 1));
    }
    const seen = flightOf(reading, air);
    for (const column of flightColumns) if (plan.calculated?.includes(column)) reading[column] = seen[column]!;
    readings.push(reading);
    strikeDistance.push(distance);
  });
  return { table: tableOf(plan, heads, order.map(({ head }) => head), readings), strikeDistance };
}

interface ShotContext {
  readonly shot: number;
  readonly shared: number;
  readonly normal: () => number;
  readonly air: Air;
}

function readShot(head: InventedHead, plan: ReadingsPlan, { shot, shared, normal, air }: ShotContext): { readonly reading: Reading; readonly distance: number } {
  const [toeSd, highSd] = plan.strikeScatter ?? [7, 7];
  const [toeMean, highMean] = plan.strikeMean ?? [0, 0];
  const strike = { toe: (toeMean + toeSd * normal()) / 1000, high: (highMean + highSd * normal()) / 1000 };
  const clubPath = scatter.clubPath * normal() * deg;
  const swung: Delivery = {
    clubSpeed: (head.clubSpeed + shared + scatter.clubSpeed * normal()) * mph,
    angleOfAttack: (head.angleOfAttack + scatter.angleOfAttack * normal()) * deg,
    clubPath,
    faceAngle: clubPath + scatter.faceToPath * normal() * deg,
    dynamicLoft: (head.dynamicLoft + scatter.dynamicLoft * normal()) * deg,
  };
  const delivery = plan.deliver?.(swung, shot) ?? swung;
  const { launch } = impact({ delivery, head: head.body, strike, contact: { restitution: head.restitution, tangentialRestitution } });
  const flown = flightOfReading(launch, { air });
  const error = (column: ReadColumn, value: number): number => {
    const usual = usualReadingErrors[column as ShotColumn];
    if (usual === undefined) return 0;
    return normal() * (usual.unit === "%" ? (value * usual.value) / 100 : usual.value * units[usual.unit].factor);
  };
  const wobble = 1 + turbulence * normal();
  const truth: Reading = {
    club_speed: delivery.clubSpeed,
    angle_of_attack: delivery.angleOfAttack,
    club_path: delivery.clubPath,
    face_angle: delivery.faceAngle,
    dynamic_loft: delivery.dynamicLoft,
    strike_x: strike.toe,
    strike_y: strike.high,
    ball_speed: launch.speed,
    launch_angle: launch.launchAngle,
    start_direction: launch.startDirection,
    spin_rate: launch.spinRate,
    spin_axis: launch.spinAxis,
    carry: flown.carry * wobble * (1 + flightError.carry * normal()),
    offline: flown.offline + 0.006 * flown.carry * normal(),
    peak_height: flown.peakHeight * wobble * (1 + flightError.peak_height * normal()),
    descent_angle: flown.descentAngle + 0.7 * deg * normal(),
    flight_time: flown.flightTime * (1 + flightError.flight_time * normal()),
  };
  const reading = { ...truth };
  for (const column of columnNames) reading[column] = si(column, (truth[column] + error(column, truth[column])) / units[columnUnits[column]].factor);
  return { reading, distance: Math.hypot(strike.toe, strike.high) * 1000 };
}

/** A value as written with the decimals of its unit, in SI. */
function si(column: ReadColumn, written: number): number {
  const digits = columnUnits[column] === "rpm" ? 0 : columnUnits[column] === "s" ? 2 : 1;
  return Number(written.toFixed(digits)) * units[columnUnits[column]].factor;
}

function flightOf(reading: Reading, air: Air): Partial<Reading> {
  const flight: Flight = flightOfReading(
    { speed: reading.ball_speed, launchAngle: reading.launch_angle, startDirection: reading.start_direction, spinRate: reading.spin_rate, spinAxis: reading.spin_axis },
    { air },
  );
  return { carry: flight.carry, offline: flight.offline, peak_height: flight.peakHeight, descent_angle: flight.descentAngle, flight_time: flight.flightTime };
}

/** The head of each shot, stint by stint, each pass through the heads in a random order. */
function stintsOf(heads: number, shots: number, length: number, random: () => number): readonly { readonly head: number; readonly isFirst: boolean }[] {
  const order: { head: number; isFirst: boolean }[] = [];
  while (order.length < shots) {
    const pass = Array.from({ length: heads }, (_, head) => head);
    shuffle(pass, random);
    // A head that ends one pass does not begin the next: that would be one stint.
    if (pass[0] === order.at(-1)?.head) pass.push(pass.shift()!);
    for (const head of pass) for (let i = 0; i < length; i++) order.push({ head, isFirst: i === 0 });
  }
  return order.slice(0, shots);
}

function tableOf(plan: ReadingsPlan, heads: readonly InventedHead[], order: readonly number[], readings: readonly Reading[]): Table {
  const { hand = "right", calculated = [], without = [] } = plan;
  const builds = heads.map(
    ({ name, kind, design, loft }): HeadBuild => ({ name, kind, design, loft: { value: loft, unit: "deg" }, strikeReference: headDefaults[kind].strikeReference }),
  );
  const facts: SessionFacts = {
    name: "invented", file: "invented.session.yaml", date: null, synthetic: true, player: "P1", hand, orderKnown: true,
    calculated, carryIs: "as played", air: {}, ball: null, heads: builds, shotCount: readings.length, setAside: [], margins: {},
    ...plan.facts,
  };
  let stint = 0;
  const columns: Column[] = [
    textColumn("session", order.map(() => facts.name), "stated"),
    numberColumn("shot", order.map((_, i) => i + 1), null, "stated"),
    textColumn("head", order.map((head) => heads[head]!.name), "stated"),
    textColumn("player", order.map(() => "P1"), "stated"),
    numberColumn("stint", order.map((head, i) => (head === order[i - 1] ? stint : ++stint)), null, "derived"),
    textColumn("intent", order.map(() => "stock"), "stated"),
  ];
  for (const name of columnNames) {
    if (without.includes(name)) continue;
    const sign = hand === "left" && mirroredColumns.includes(name) ? -1 : 1;
    const values = readings.map((reading) => (sign * reading[name]) / units[columnUnits[name]].factor);
    columns.push(numberColumn(name, values, columnUnits[name], calculated.includes(name) ? "calculated" : "measured"));
  }
  return makeTable(columns, readings.length, { sessions: [facts] });
}
