import { buildFlights } from "../chart/kinds/flight";
import { turfs } from "../flight/bounce";
import { modelFlight } from "../flight/modelled-flight";
import { notesOf } from "../present/present-table";
import type { OptionValues, RunContext, Verb, VerbProblem, VerbResult } from "../query/vocabulary";
import type { Schema } from "../table/schema";
import { schemaOf } from "../table/schema";
import type { NumberColumn, Table } from "../table/table";
import { findColumn } from "../table/table";
import type { UnitSystem } from "../units";
import { flightAnswer, flightDetails, flightMethod } from "./flight-sentences";
import { lackedForLaunch, launchesOf } from "./flight-shots";
import { airsOf, surroundingOptions, surroundingsProblem, turfOf, windOf } from "./flight-surroundings";
import type { ModelledShot } from "./flight-table";
import { columnsWithModel, isModelName, schemaWithModel, takenNames } from "./flight-table";
import { errorSentences } from "./session-sentences";
import { airNameProblem } from "./standard-air-target";
import { verbProblem } from "./verb-problem";

/** Shots with the flight that a model gives to each one's own launch, beside what was recorded. */
export const flight: Verb = {
  name: "flight",
  family: "trade",
  help: {
    summary: "Gives the shots with the flight that the model makes of each one's own launch, beside what was recorded and never over it: carry, offline, height, descent, time and landing speed, and total where a turf is named.",
    example: 'shots.flight({ wind_along: "-3 m/s" })',
    method:
      "Each shot's own launch is flown with the lift and drag of Naruo, Mizota and Shimozono (2004), a second fit (Ferguson, McNally and McPhee 2022) beside it; the run on turf, where one is named, by Penner's bounce (2002).",
  },
  parameters: [
    {
      name: "options",
      help: "What the balls fly through, and land on.",
      kind: "options",
      optional: true,
      options: surroundingOptions('"sea level" (15 °C, 1013.25 hPa, dry) or "ball test" (75 °F, 30 inHg, 50 %), or the name of a session for the air it was hit in; the air of each shot\'s session unless told.'),
    },
  ],
  infer: (input, given, units) => {
    const values = given[0]?.kind === "options" ? given[0].values : {};
    return { schema: schemaAfter(input, values, units), problems: [...((surroundingsProblem(values) ?? airNameProblem(values, input.sessions))?.problems ?? []), ...columnProblems(input, values)] };
  },
  run: (input, given, context) => run(input, given[0]?.kind === "options" ? given[0].values : {}, context),
};

function schemaAfter(input: Schema, values: OptionValues, units: UnitSystem): Schema {
  return { ...input, groupedBy: input.groupedBy.filter((name) => !isModelName(name)), columns: schemaWithModel(input.columns, turfOf(values), units) };
}

/** What the table lacks, shots among it, and what stands where a modelled column would. */
function columnProblems(input: Schema, values: OptionValues): readonly VerbProblem[] {
  if (!input.fromShots) return [verbProblem(null, "trade.not-shots", { verb: "flight" })];
  const taken = takenNames(input.columns, turfOf(values)).map((name) => verbProblem(null, "query.duplicate-column", { name }));
  const lacking = input.open ? [] : lackedForLaunch(input.columns);
  return lacking.length === 0 ? taken : [verbProblem(null, "trade.no-flight", { missing: lacking }), ...taken];
}

function run(input: Table, values: OptionValues, context: RunContext): VerbResult {
  const wrong = surroundingsProblem(values)?.problems ?? columnProblems(schemaOf(input), values);
  if (wrong.length > 0) return { type: "refused", problems: wrong };
  const airs = airsOf(input, values);
  if ("type" in airs) return airs;

  const [wind, turf, launches] = [windOf(values), turfOf(values), launchesOf(input)];
  // Without start direction and spin axis nothing is known of a side, unless the wind alone makes one.
  const hasSide = launches.without.length < 2 || wind.isAcross;
  const shots = Array.from({ length: input.rowCount }, (_, row): ModelledShot => {
    context.checkpoint();
    const modelled = modelFlight(launches.launchAt(row), { air: airs.airAt(row), wind: wind.wind, turf: turf === null ? null : turfs[turf] });
    return { modelled, isAimKnown: hasSide && launches.isAimKnown(row) };
  });
  const columns = columnsWithModel(input.columns, shots, turf, context.units);
  const after: Table = { ...input, columns, groupedBy: input.groupedBy.filter((name) => !isModelName(name)) };
  const sessions = sessionsHere(input);
  const words = { before: input, carry: findColumn(after, "model_carry") as NumberColumn, shots, launches, airs, wind, turf, sessions, isTold: Object.keys(values).some((name) => name !== "turf") };
  const answer = flightAnswer(words);
  const picture = buildFlights(input, findColumn(input, "head") === undefined ? null : "head", context, { airsOf: (table) => airsOf(table, values), wind });
  return {
    ...after,
    report: {
      method: flightMethod(words),
      sentences: [...answer, ...flightDetails(words), ...errorSentences(sessions), ...notesOf({ sessions })],
      answer: answer.length,
      hidden: [],
      picture: picture.type === "chart" ? picture : null,
    },
  };
}

/** The sessions with a row here; all of them where a row does not say. */
function sessionsHere(table: Table): Table["sessions"] {
  const column = findColumn(table, "session");
  if (table.sessions.length < 2 || column?.kind !== "text") return table.sessions;
  const present = new Set(Array.from(column.codes, (code) => column.labels[code]));
  return table.sessions.filter(({ name }) => present.has(name));
}
