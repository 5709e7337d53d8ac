import { aerodynamicFits } from "../flight/aerodynamics";
import { airAsHit } from "../flight/session-air";
import { notesOf } from "../present/present-table";
import type { OptionValues, RunContext, Verb, VerbProblem, VerbResult } from "../query/vocabulary";
import type { SessionFacts } from "../session/session-facts";
import type { ColumnSchema, Schema } from "../table/schema";
import { schemaOf } from "../table/schema";
import type { Table } from "../table/table";
import { findColumn } from "../table/table";
import { uncounted } from "./schema-after";
import { errorSentences } from "./session-sentences";
import type { Move } from "./standard-air-sentences";
import { answerSentences, detailSentences } from "./standard-air-sentences";
import { isMoved, isReading, movedColumns, neededForFlight } from "./standard-air-shots";
import { columnsAfter, leftOutName, movedTable, spreadName } from "./standard-air-table";
import { airNameProblem, airOptions, airProblem, densityInWords, targetAir } from "./standard-air-target";
import { refuse, verbProblem } from "./verb-problem";

/** Shots as they would have flown in other air. */
export const standardAir: Verb = {
  name: "standardAir",
  family: "trade",
  help: {
    summary: "Gives the shots with carry, offline, height, descent, time and landing speed moved to other air, by what the model of flight says of each launch in both.",
    example: 'shots.standardAir({ air: "sea level" })',
    method:
      "Each shot's own launch is flown in both airs with the lift and drag of Naruo, Mizota and Shimozono (2004), the recorded value goes by the ratio; air density by CIPM-2007 (Picard and others 2008). A second fit (Ferguson, McNally and McPhee 2022) says how far two models part.",
  },
  parameters: [{ name: "options", help: "The air to move to.", kind: "options", optional: true, options: airOptions }],
  infer: (input, given) => {
    const values = given[0]?.kind === "options" ? given[0].values : {};
    return { schema: schemaAfter(input), problems: [...((airProblem(values) ?? airNameProblem(values, input.sessions))?.problems ?? []), ...columnProblems(input)] };
  },
  run: (input, given, context) => run(input, given[0]?.kind === "options" ? given[0].values : {}, context),
};

function schemaAfter(input: Schema): Schema {
  const carry = input.columns.find((column) => column.name === "carry" && isMoved(column));
  const spread: ColumnSchema | null = carry === undefined ? null : { name: spreadName, kind: "number", unit: carry.unit, origin: "computed" };
  return { ...input, groupedBy: input.groupedBy.filter((name) => name !== leftOutName), columns: columnsAfter(input.columns.map((column) => (isMoved(column) ? uncounted(column) : column)), spread) };
}

/** What the table lacks: shots, a flight to move, or the launch that it depends on. */
function columnProblems(input: Schema): readonly VerbProblem[] {
  if (!input.fromShots) return [verbProblem(null, "trade.not-shots", { verb: "standardAir" })];
  if (input.open) return [];
  if (!input.columns.some(isMoved)) return [verbProblem(null, "trade.nothing-in-air", { columns: Object.keys(movedColumns) })];
  const missing = neededForFlight.filter((name) => !input.columns.some((column) => column.name === name && isReading(column)));
  return missing.length === 0 ? [] : [verbProblem(null, "trade.no-launch", { missing })];
}

function run(input: Table, values: OptionValues, context: RunContext): VerbResult {
  const wrong = airProblem(values) ?? { problems: columnProblems(schemaOf(input)) };
  if (wrong.problems.length > 0) return { type: "refused", problems: wrong.problems };
  const sessionOf = sessionsOf(input);
  if (sessionOf === null) return refuse(null, "trade.no-session-column", { sessions: input.sessions.map((each) => each.name) });
  const present = new Set(sessionOf);
  const immovable = input.sessions.filter((_, place) => present.has(place)).flatMap(whyNot);
  if (immovable.length > 0) return { type: "refused", problems: immovable };
  const to = targetAir(values, input.sessions);
  if ("type" in to) return to;

  const after = movedTable(input, sessionOf, to, context.checkpoint);
  const move: Move = { before: input, after, sessionOf, to };
  const answer = answerSentences(move);
  const here = after.sessions.filter((_, place) => present.has(place));
  const sentences = [...answer, ...detailSentences(move), ...errorSentences(here), ...notesOf({ sessions: here })];
  return {
    ...input,
    columns: after.columns,
    groupedBy: input.groupedBy.filter((name) => name !== leftOutName),
    sessions: after.sessions,
    report: { method: methodLine(move), sentences, answer: answer.length, hidden: [], picture: null },
  };
}

/** The number of each row's session among the table's; `null` when several are behind it and a row does not say which. */
function sessionsOf(table: Table): Int32Array | null {
  if (table.sessions.length === 1) return new Int32Array(table.rowCount);
  const column = findColumn(table, "session");
  if (column?.kind !== "text") return null;
  const numbers = new Map(table.sessions.map((session, place) => [session.name, place]));
  const places = column.codes.map((code) => numbers.get(column.labels[code] ?? "") ?? -1);
  return places.includes(-1) ? null : places;
}

/** Why a session cannot be moved: it is never half known in which air a number is. */
function whyNot(session: SessionFacts): readonly VerbProblem[] {
  const facts = { session: session.name, file: session.file };
  switch (session.carryIs) {
    case "in standard air":
      return [verbProblem(null, "trade.carry-in-standard-air", facts)];
    case "unknown":
      return [verbProblem(null, "trade.carry-air-unknown", facts)];
    case "as played": {
      const { isStated, missing } = airAsHit(session);
      return isStated ? [] : [verbProblem(null, "trade.air-not-stated", { ...facts, missing })];
    }
  }
}

function methodLine({ before, sessionOf, to }: Move): string {
  const present = new Set(sessionOf);
  const densities = before.sessions.filter((_, place) => present.has(place)).map((session) => densityInWords((session.movedTo ?? airAsHit(session)).air));
  const [fit, second] = aerodynamicFits;
  return `Each shot's own launch is simulated in both airs (${[...new Set(densities)].slice(0, 6).join(", ")} and ${densityInWords(to.air)}) by the fit of ${fit!.name}, with that of ${second!.name} as a second opinion; recorded distances, height, time and landing speed go by the ratio, descent by the difference, the curve of offline by the ratio of curves. Density alone is moved: still air, no wind taken out, and the ball's own liveliness is in the launch.`;
}
