import { aerodynamicFits } from "../../flight/aerodynamics";
import type { Air } from "../../flight/air";
import type { Launch } from "../../flight/launch";
import { neededForLaunch, whyWithoutFlight } from "../../flight/modelled-flight";
import { formatMeasure, formatShare, unitLabel } from "../../present/format-number";
import type { ChartKind, RunContext } from "../../query/vocabulary";
import { mean } from "../../stats/moments";
import { shapeOf } from "../../table/schema";
import type { Chart, Table } from "../../table/table";
import { findColumn, makeTable, numberColumn, summaryOf, textColumn } from "../../table/table";
import type { Unit } from "../../units";
import { convert, isConvertible, unitFor } from "../../units";
import { lackedForLaunch, launchesOf } from "../../verbs/flight-shots";
import type { NamedWind, RowAirs } from "../../verbs/flight-surroundings";
import { airsOf, windOf } from "../../verbs/flight-surroundings";
import type { Refused } from "../../verbs/verb-problem";
import { refuse } from "../../verbs/verb-problem";
import { emptyChart, extent, groupChannels, leftOut, legendLabel, makeChart, ofDerived, ownLegends, titled, withoutLegends } from "../chart-parts";
import type { Drawn } from "../drawn-rows";
import { drawnRows } from "../drawn-rows";
import { groupField, inWords } from "../field-name";
import type { ChartSpec } from "../fit-spec";
import type { BandPoint, PathPoint } from "../flight-paths";
import { bandShare, heightBand, offlineBand, pathOf } from "../flight-paths";
import { groupOption, tooMany, whatGroups } from "../kind-options";
import { pooledShots } from "../pooled-shots";

/** Modelled flights from the side and from above: the picture of `flight`. */
export const flight: ChartKind = {
  name: "flight",
  help: {
    summary: "Modelled flights from the side and from above: the flight of each head's mean launch, with a band for the middle 80 % of its single shots.",
    example: 'chart.flight(shots, { by: "head" })',
  },
  needs: neededForLaunch,
  options: { by: groupOption },
  build: (table, options, context) => tooMany(table, context) ?? buildFlights(table, whatGroups(table, options), context),
};

/** What the flights of a picture go through; the air of each row's session and still air unless given. */
export interface FlightScene {
  readonly airsOf: (table: Table) => RowAirs | Refused;
  readonly wind: NamedWind;
}

const usualScene: FlightScene = { airsOf, wind: windOf({}) };

/** Flights that the bands of one picture are made of, and of one group; more shots are taken at even steps. */
const most = { all: 3000, group: 200 };

/** Flights below which a group gets no band. Common practice, no source. */
const leastBand = 5;

/** The flights of the shots of a table, by group, through a scene. */
export function buildFlights(table: Table, by: string | null, context: Pick<RunContext, "checkpoint" | "units">, scene: FlightScene = usualScene): Chart | Refused {
  const lacking = lackedForLaunch(shapeOf(table).columns);
  if (lacking.length > 0) return refuse(null, "trade.no-flight", { missing: lacking });
  const drawn = drawnRows(table, { numbers: neededForLaunch, by, also: ["start_direction", "spin_axis", "carry", "session", "shot", "head"] });
  const title = `Modelled flights${by === null ? "" : `, by ${inWords(by)}`}`;
  const missing = leftOut(drawn, neededForLaunch);
  if (drawn.table.rowCount === 0) return emptyChart(title, missing === "" ? "There are no shots." : missing, drawn.table);
  const airs = scene.airsOf(drawn.table);
  if ("type" in airs) return airs;

  const flown = flightsOf(drawn, airs, scene, context);
  const groups = flown.filter((group) => group.path.length > 0);
  const grounded = flown.reduce((count, group) => count + group.without, 0);
  const remarks = remarksOf(flown, drawn, grounded);
  if (groups.length === 0) return emptyChart(title, [...remarks, missing].filter((part) => part !== "").join(" "), drawn.table);
  const unit = unitOf(table, context);
  const key = `${groups.length > 1 ? `Lines: the flight of each ${inWords(by ?? "group")}'s mean launch` : drawn.table.rowCount === 1 ? "Line: the flight of the launch" : "Line: the flight of the mean launch"}.${groups.some((group) => group.heights.length > 0) ? ` Bands: the middle ${formatShare(bandShare)} of single shots at each distance.` : ""}`;
  const model = `Model: ${aerodynamicFits[0]!.name}; in ${airs.name}, ${scene.wind.name}. Height and side are drawn larger than distance.`;
  const spec = {
    title: titled(title, table, key, model, ...remarks, missing),
    vconcat: [sideView(groups, drawn, by, unit), topView(groups, drawn, by, unit)],
  };
  const behind = tableOf(groups, table, drawn, by, unit);
  return makeChart(spec, { legendLabel: legendLabel(drawn) }, behind, [
    `${title}: height and side against distance${drawn.table.rowCount === 1 ? "" : ", of each mean launch"}.`,
    ...groups.slice(0, 8).map((group) => groupInWords(group, unit)),
    bandsInWords(groups),
    model,
    ...remarks,
    missing,
  ]);
}

/** The flights of one group, m. */
interface GroupFlights {
  readonly label: string;
  /** Shots that fly. */
  readonly count: number;
  /** Shots with a launch that has no modelled flight. */
  readonly without: number;
  readonly meanLaunch: Launch;
  /** Of the mean launch; empty when there is none. */
  readonly path: readonly PathPoint[];
  readonly heights: readonly BandPoint[];
  readonly sides: readonly BandPoint[];
  /** True where the bands are of a part of the shots. */
  readonly isSampled: boolean;
  readonly isPooled: boolean;
}

function flightsOf(drawn: Drawn, airs: RowAirs, { wind }: FlightScene, { checkpoint }: Pick<RunContext, "checkpoint">): readonly GroupFlights[] {
  const { launchAt } = launchesOf(drawn.table);
  const pooled = pooledShots(drawn);
  const mostHere = mostIn(drawn.groups.length);
  return drawn.groups.map(({ label, rows }) => {
    checkpoint();
    const fit = rows.filter((row) => whyWithoutFlight(launchAt(row)) === null);
    const isPooled = pooled.groups.has(label);
    const single = isPooled || fit.length < leastBand ? [] : evenly(fit, mostHere);
    const paths = single.map((row) => {
      checkpoint();
      return pathOf(launchAt(row), airs.airAt(row), wind.wind);
    });
    const meanLaunch = meanOf(fit.map(launchAt));
    const air = meanAir(fit.map(airs.airAt));
    const flying = paths.filter((path) => path.length > 0);
    const path = fit.length === 0 ? [] : pathOf(meanLaunch, air, wind.wind);
    const hasBand = flying.length >= leastBand;
    return {
      label,
      count: fit.length,
      without: rows.length - fit.length + paths.length - flying.length,
      meanLaunch,
      path,
      heights: hasBand ? heightBand(flying) : [],
      sides: hasBand ? offlineBand(flying) : [],
      isSampled: hasBand && single.length < fit.length,
      isPooled,
    };
  });
}

/** Shots of one group that a band is made of, where there are so many groups. */
function mostIn(groups: number): number {
  return Math.max(leastBand, Math.min(most.group, Math.floor(most.all / groups)));
}

/** As many items as `count` at even steps, the first among them; all where there are no more. */
function evenly<T>(items: readonly T[], count: number): readonly T[] {
  return items.length <= count ? items : Array.from({ length: count }, (_, i) => items[Math.floor((i * items.length) / count)]!);
}

function meanOf(launches: readonly Launch[]): Launch {
  const of = (part: keyof Launch): number => mean(launches.map((launch) => launch[part]));
  return { speed: of("speed"), launchAngle: of("launchAngle"), startDirection: of("startDirection"), spinRate: of("spinRate"), spinAxis: of("spinAxis") };
}

/** Shots of one group may be of sessions in different air. */
function meanAir(airs: readonly Air[]): Air {
  return { density: mean(airs.map(({ density }) => density)), viscosity: mean(airs.map(({ viscosity }) => viscosity)) };
}

/** The unit of every length of the picture: that of the table's carry, else the notebook's. */
function unitOf(table: Table, { units }: Pick<RunContext, "units">): Unit {
  const carry = findColumn(table, "carry");
  return carry?.kind === "number" && carry.unit !== null && isConvertible(carry.unit, "m") ? carry.unit : unitFor("distance", units);
}

function sideView(groups: readonly GroupFlights[], drawn: Drawn, by: string | null, unit: Unit): ChartSpec {
  const highest = Math.max(...groups.flatMap(({ path, heights }) => [...path.map(({ height }) => height), ...heights.map(({ high }) => high)]));
  const y = { type: "quantitative", title: `height (${unitLabel(unit)})`, scale: { domain: [0, inUnit(highest, unit) * 1.06], nice: false, zero: true }, axis: { tickCount: 4 } };
  const apex = ({ path }: GroupFlights): PathPoint => path.reduce((best, point) => (point.height > best.height ? point : best));
  return {
    title: viewTitle("From the side"),
    height: 150,
    ...layers({ groups, drawn, by, unit, y, of: "height", band: "heights", markAt: apex, hasLegend: true }),
  };
}

function topView(groups: readonly GroupFlights[], drawn: Drawn, by: string | null, unit: Unit): ChartSpec {
  const [least, greatest] = extent(groups.flatMap(({ path, sides }) => [...path.map(({ offline }) => offline), ...sides.flatMap(({ low, high }) => [low, high])]));
  const half = Math.max(inUnit(Math.max(-least, greatest), unit) * 1.12, 4);
  // Seen from above with the target to the right of the page, what is right of the target line lies lower.
  const scale = { domain: [-half, half], nice: false, zero: false, reverse: true };
  const y = { type: "quantitative", title: `← right · offline (${unitLabel(unit)}) · left →`, scale, axis: { tickCount: 5 } };
  return {
    title: viewTitle("From above"),
    height: 150,
    ...layers({ groups, drawn, by, unit, y, of: "offline", band: "sides", markAt: ({ path }) => path.at(-1)!, hasLegend: false }),
  };
}

function viewTitle(text: string): ChartSpec {
  return { text, fontSize: 12, offset: 4, frame: "group" };
}

interface View {
  readonly groups: readonly GroupFlights[];
  readonly drawn: Drawn;
  readonly by: string | null;
  readonly unit: Unit;
  readonly y: ChartSpec;
  readonly of: "height" | "offline";
  readonly band: "heights" | "sides";
  /** Where the mark of a group stands on its path. */
  readonly markAt: (group: GroupFlights) => PathPoint;
  readonly hasLegend: boolean;
}

function layers({ groups, drawn, by, unit, y, of, band, markAt, hasLegend }: View): ChartSpec {
  const channels = ofDerived(groupChannels(drawn, by));
  const quiet = withoutLegends(channels);
  const { color } = quiet;
  const farthest = Math.max(...groups.flatMap((group) => [group.path.at(-1)!.distance, ...group.heights.map(({ distance }) => distance)]));
  const x = { type: "quantitative", title: `distance (${unitLabel(unit)})`, scale: { domain: [0, inUnit(farthest, unit) * 1.03], nice: false, zero: true } };
  const point = (label: string, { distance, height, offline }: PathPoint, order: number) => ({
    [groupField]: label,
    distance: inUnit(distance, unit),
    at: inUnit(of === "height" ? height : offline, unit),
    order,
  });
  const colour = color === undefined ? {} : { color };
  const dash = color === undefined ? {} : { color, strokeDash: color };
  return {
    layer: [
      {
        data: { values: [{ line: 0 }] },
        mark: { type: "rule", style: of === "height" ? "grid" : "reference" },
        encoding: { y: { ...y, field: "line" } },
      },
      {
        data: { values: groups.flatMap(({ label, ...group }) => group[band].map(({ distance, low, high }) => ({ [groupField]: label, distance: inUnit(distance, unit), low: inUnit(low, unit), high: inUnit(high, unit) }))) },
        mark: { type: "area", opacity: 0.16, line: false },
        encoding: { x: { ...x, field: "distance" }, y: { ...y, field: "low" }, y2: { field: "high" }, ...colour },
      },
      {
        data: { values: groups.flatMap(({ label, path }) => path.map((each, order) => point(label, each, order))) },
        mark: { type: "line", style: "group line", interpolate: "linear" },
        encoding: { x: { ...x, field: "distance" }, y: { ...y, field: "at" }, order: { field: "order" }, ...dash },
      },
      {
        data: { values: groups.map((group) => point(group.label, markAt(group), 0)) },
        mark: { type: "point", style: "mean", size: 70 },
        encoding: { x: { ...x, field: "distance" }, y: { ...y, field: "at" }, ...(hasLegend ? channels : quiet) },
      },
    ],
    resolve: ownLegends,
  };
}

function inUnit(metres: number, unit: Unit): number {
  return convert(metres, "m", unit);
}

function remarksOf(flown: readonly GroupFlights[], drawn: Drawn, without: number): readonly string[] {
  const pooled = pooledShots(drawn);
  const named = (groups: readonly GroupFlights[]): string => {
    const labels = groups.map(({ label }) => label).filter((label) => label !== "");
    return labels.length === 0 ? "" : ` for ${labels.slice(0, 6).join(", ")}${labels.length > 6 ? ` and ${labels.length - 6} more` : ""}`;
  };
  const bare = flown.filter(({ heights, path, isPooled }) => path.length > 0 && heights.length === 0 && !isPooled);
  const still = flown.filter(({ path }) => path.length === 0);
  const cut = flown.filter(({ isSampled }) => isSampled);
  const absent = (["start_direction", "spin_axis"] as const).filter((name) => findColumn(drawn.table, name)?.kind !== "number").map(inWords);
  return [
    pooled.players,
    pooled.repeats,
    flown.some(({ isPooled }) => isPooled) ? `No band${named(flown.filter(({ isPooled }) => isPooled))} from such shots.` : "",
    bare.length === 0 || drawn.of === 1 ? "" : `No band${named(bare)}: fewer than ${leastBand} shots.`,
    still.length === 0 ? "" : `No flight${named(still)}: no launch that can be modelled.`,
    cut.length === 0 ? "" : `The band${cut.length === 1 ? " is" : "s are"} of ${mostIn(flown.length)} shots${named(cut)}, taken at even steps.`,
    absent.length === 0 ? "" : `No ${absent.join(" and no ")}: taken as ${absent.length === 2 ? "straight and level" : absent[0] === "spin axis" ? "level" : "straight"}.`,
    without === 0 ? "" : `${without} ${without === 1 ? "shot has" : "shots have"} a launch too slow, or not possible, for the model.`,
  ].filter((part) => part !== "");
}

function bandsInWords(groups: readonly GroupFlights[]): string {
  if (groups.every(({ heights }) => heights.length === 0)) return "";
  return `The bands hold the middle ${formatShare(bandShare)} of the single shots' flights at each distance: of the height with landed balls on the ground, of the side with landed balls where they landed, up to where half have landed.`;
}

function groupInWords({ label, count, path }: GroupFlights, unit: Unit): string {
  const landing = path.at(-1)!;
  const shown = (metres: number): string => formatMeasure(inUnit(metres, unit), 1, unit);
  const side = Number(inUnit(Math.abs(landing.offline), unit).toFixed(1)) === 0 ? "on the target line" : `${shown(Math.abs(landing.offline))} ${landing.offline > 0 ? "right" : "left"}`;
  const highest = Math.max(...path.map(({ height }) => height));
  return `${label === "" ? "All together" : label} (${count} ${count === 1 ? "flight" : "flights"}): carries ${shown(Math.hypot(landing.distance, landing.offline))}, ${shown(highest)} high, lands ${side}.`;
}

/** What is drawn, a row a group: the mean launch and its flight. */
function tableOf(groups: readonly GroupFlights[], table: Table, drawn: Drawn, by: string | null, unit: Unit): Table {
  const { columns, without } = launchesOf(drawn.table);
  const parts = { ball_speed: "speed", launch_angle: "launchAngle", spin_rate: "spinRate", start_direction: "startDirection", spin_axis: "spinAxis" } as const;
  const coherent = { ball_speed: "m/s", launch_angle: "rad", spin_rate: "rad/s", start_direction: "rad", spin_axis: "rad" } as const;
  const launch = (Object.keys(parts) as (keyof typeof parts)[]).filter((name) => !without.some((each) => each === name)).map((name) => {
    const own = columns.find((column) => column.name === name)!.unit!;
    return numberColumn(name, groups.map(({ meanLaunch }) => convert(meanLaunch[parts[name]], coherent[name], own)), own);
  });
  const length = (name: string, of: (path: readonly PathPoint[]) => number) => numberColumn(name, groups.map(({ path }) => inUnit(of(path), unit)), unit);
  return makeTable(
    [
      ...(by === null ? [] : [textColumn(drawn.by ?? by, groups.map(({ label }) => label))]),
      numberColumn("n", groups.map(({ count }) => count)),
      ...launch,
      length("model_carry", (path) => Math.hypot(path.at(-1)!.distance, path.at(-1)!.offline)),
      length("model_offline", (path) => path.at(-1)!.offline),
      length("model_peak_height", (path) => Math.max(...path.map(({ height }) => height))),
    ],
    groups.length,
    summaryOf(table),
  );
}
