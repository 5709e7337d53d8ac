import { buildFlights } from "../chart/kinds/flight";
import { inWords } from "../chart/field-name";
import { aerodynamicFits, leastLaunchSpeed } from "../flight/aerodynamics";
import { turfs } from "../flight/bounce";
import type { Launch } from "../flight/launch";
import type { LaunchColumn, ModelledFlight } from "../flight/modelled-flight";
import { isPossible, launchParts, modelFlight } from "../flight/modelled-flight";
import { digitsForColumn, formatMeasure } from "../present/format-number";
import type { Option, OptionValues, RunContext, SourceKind, VerbProblem, VerbResult } from "../query/vocabulary";
import type { ColumnSchema } from "../table/schema";
import { shotColumns } from "../table/shot-columns";
import type { ShotColumn } from "../table/shot-columns";
import type { Column, NumberColumn } from "../table/table";
import { makeTable, numberColumn, textColumn } from "../table/table";
import type { Measure, Unit, UnitSystem } from "../units";
import { convert, unitFor } from "../units";
import { flightMethod } from "../verbs/flight-sentences";
import type { NamedWind, RowAirs } from "../verbs/flight-surroundings";
import { surroundingOptions, surroundingsProblem, turfOf, windOf } from "../verbs/flight-surroundings";
import { asStated, listed } from "../verbs/session-sentences";
import { densityInWords, targetAir } from "../verbs/standard-air-target";
import { verbProblem } from "../verbs/verb-problem";

const launchOptions = {
  ball_speed: { kind: "quantity", quantity: "speed", example: "130 mph", required: true, help: "Speed of the ball just after impact." },
  launch_angle: { kind: "quantity", quantity: "angle", example: "17 deg", required: true, help: "Angle above the horizon at which the ball starts." },
  spin_rate: { kind: "quantity", quantity: "spin", example: "6200 rpm", required: true, help: "Total spin of the ball after impact." },
  start_direction: { kind: "quantity", quantity: "angle", example: "1 deg", required: false, help: "Angle to the right of the target line at which the ball starts; straight unless told." },
  spin_axis: { kind: "quantity", quantity: "angle", example: "5 deg", required: false, help: "Tilt of the spin axis, positive curves right; level unless told." },
} as const satisfies Record<LaunchColumn, Option>;

const launchNames = Object.keys(launchOptions) as readonly LaunchColumn[];

/** One modelled flight as a table of one row. */
export const flight: SourceKind = {
  name: "flight",
  help: {
    summary: "Makes a table of one modelled flight from how the ball starts, with how far a second fit is from its carry.",
    example: 'flight({ ball_speed: "130 mph", launch_angle: "17 deg", spin_rate: "6200 rpm" })',
  },
  options: { ...launchOptions, ...surroundingOptions('"sea level" (15 °C, 1013.25 hPa, dry) unless told, or "ball test" (75 °F, 30 inHg, 50 %).') },
  infer: (values, units) => ({
    schema: { columns: columnsOf(values, null, units).map(schemaOfColumn), open: false, groupedBy: [], fromShots: false, rowCount: 1 },
    problems: problemsOf(values),
  }),
  run: (values, context) => run(values, context),
};

function problemsOf(values: OptionValues): readonly VerbProblem[] {
  const impossible = launchNames.flatMap((name): readonly VerbProblem[] => {
    const told = values[name] as Measure | undefined;
    const { coherent, unit, low, high } = launchParts[name];
    if (told === undefined || isPossible(name, convert(told.value, told.unit, coherent))) return [];
    const inTold = (bound: number): string => asStated({ value: Number(convert(bound, unit, told.unit).toPrecision(3)), unit: told.unit });
    return [verbProblem(name, "trade.impossible-launch", { what: inWords(name), found: asStated(told), low: inTold(low), high: inTold(high) })];
  });
  const around = surroundingsProblem(values)?.problems ?? [];
  const air = around.length > 0 ? null : targetAir(values, []);
  return [...impossible, ...(impossible.length === 0 ? slowProblem(values) : []), ...around, ...(air !== null && "type" in air ? air.problems : [])];
}

function slowProblem(values: OptionValues): readonly VerbProblem[] {
  const told = values["ball_speed"] as Measure;
  if (convert(told.value, told.unit, "m/s") >= leastLaunchSpeed) return [];
  const least = formatMeasure(Math.ceil(convert(leastLaunchSpeed, "m/s", told.unit) * 10 - 1e-6) / 10, 1, told.unit);
  return [verbProblem("ball_speed", "trade.slow-launch", { found: asStated(told), least })];
}

function run(values: OptionValues, context: RunContext): VerbResult {
  const wrong = problemsOf(values);
  if (wrong.length > 0) return { type: "refused", problems: wrong };
  const air = targetAir(values, []);
  if ("type" in air) return air;
  const [wind, turf] = [windOf(values), turfOf(values)];
  const modelled = modelFlight(launchOf(values), { air: air.air, wind: wind.wind, turf: turf === null ? null : turfs[turf] });
  if (typeof modelled === "string") return { type: "refused", problems: [verbProblem("launch_angle", "trade.grounded", {})] };
  const table = makeTable(columnsOf(values, modelled, context.units), 1);
  const airs: RowAirs = { airAt: () => air.air, name: `${air.name} (${densityInWords(air.air)})`, unstated: [] };
  const picture = buildFlights(table, null, context, { airsOf: () => airs, wind });
  const answer = answerSentences(table.columns, modelled, wind, airs);
  return {
    ...table,
    report: {
      method: flightMethod({ airs, wind, turf }),
      sentences: [...answer, ...detailSentences(values)],
      answer: answer.length,
      hidden: [],
      picture: picture.type === "chart" ? picture : null,
    },
  };
}

function launchOf(values: OptionValues): Launch {
  const valueOf = (name: LaunchColumn): number => {
    const told = values[name] as Measure | undefined;
    return told === undefined ? 0 : convert(told.value, told.unit, launchParts[name].coherent);
  };
  return { speed: valueOf("ball_speed"), launchAngle: valueOf("launch_angle"), spinRate: valueOf("spin_rate"), startDirection: valueOf("start_direction"), spinAxis: valueOf("spin_axis") };
}

/** What is modelled, each with the shot column whose quantity it is, and its SI unit. */
const results: readonly (readonly [name: string, like: ShotColumn, coherent: Unit, value: (modelled: ModelledFlight) => number])[] = [
  ["carry", "carry", "m", (modelled) => modelled.flight.carry],
  ["carry_spread", "carry", "m", (modelled) => modelled.carrySpread],
  ["offline", "offline", "m", (modelled) => modelled.flight.offline],
  ["peak_height", "peak_height", "m", (modelled) => modelled.flight.peakHeight],
  ["descent_angle", "descent_angle", "rad", (modelled) => modelled.flight.descentAngle],
  ["flight_time", "flight_time", "s", (modelled) => modelled.flight.flightTime],
  ["landing_speed", "landing_speed", "m/s", (modelled) => modelled.flight.landingSpeed],
];

/** The columns: the launch as told, then what is modelled; with missing values where nothing was. */
function columnsOf(values: OptionValues, modelled: ModelledFlight | null, units: UnitSystem): readonly Column[] {
  const numbers = (name: string, like: ShotColumn, value: number, coherent: Unit): NumberColumn => {
    const unit = unitFor(shotColumns[like].quantity!, units);
    return numberColumn(name, [convert(value, coherent, unit)], unit);
  };
  const launch = launchNames.flatMap((name) => {
    const told = values[name] as Measure | undefined;
    return told === undefined ? [] : [numbers(name, name, told.value, told.unit)];
  });
  const turf = turfOf(values);
  const total = modelled === null ? Number.NaN : modelled.flight.carry + modelled.run;
  return [
    ...launch,
    ...results.map(([name, like, coherent, value]) => numbers(name, like, modelled === null ? Number.NaN : value(modelled), coherent)),
    ...(turf === null ? [] : [numbers("model_total", "total", total, "m"), textColumn("model_turf", [turf])]),
  ];
}

function schemaOfColumn(column: Column): ColumnSchema {
  return { name: column.name, kind: column.kind, unit: column.kind === "number" ? column.unit : null, origin: column.origin };
}

function answerSentences(columns: readonly Column[], modelled: ModelledFlight, wind: NamedWind, airs: RowAirs): readonly string[] {
  const column = (name: string): NumberColumn => columns.find((each) => each.name === name) as NumberColumn;
  const shown = (name: string): string => formatMeasure(column(name).values[0]!, digitsForColumn(column(name)), column(name).unit);
  const { unit, values } = column("offline");
  const side = formatMeasure(Math.abs(values[0]!), 1, unit);
  const where = Number(Math.abs(values[0]!).toFixed(1)) === 0 ? "on the target line" : `${side} ${values[0]! > 0 ? "right" : "left"} of the target line`;
  const spread = formatMeasure(column("carry_spread").values[0]!, 1, column("carry_spread").unit);
  const turf = columns.find(({ name }) => name === "model_turf");
  const run = convert(modelled.run, "m", column("carry").unit!);
  return [
    `The ball carries ${shown("carry")} in ${airs.name}, ${wind.name}: ${shown("peak_height")} high, ${shown("flight_time")} in the air, down ${where} at ${shown("descent_angle")} and ${shown("landing_speed")}.`,
    `By ${aerodynamicFits[1]!.name} the carry is ${spread} from that.`,
    ...(turf?.kind === "text"
      ? [`On ${turf.labels[0]!} it ${run < 0 ? "comes back" : "runs"} ${formatMeasure(Math.abs(run), 1, column("carry").unit)}, to a total of ${shown("model_total")} on that turf and no other; turfs differ by a factor of two and more.`]
      : []),
  ];
}

function detailSentences(values: OptionValues): readonly string[] {
  const assumed = [...(values["start_direction"] === undefined ? ["straight"] : []), ...(values["spin_axis"] === undefined ? ["with a level spin axis"] : [])];
  return [
    ...(assumed.length === 0 ? [] : [`It is taken to start ${listed(assumed)}.`]),
    "The model flies a usual ball over level ground: a ball's own aerodynamics are not known to it and move carry by about 4 % either way.",
  ];
}
