import { buildSuspects } from "../chart/kinds/suspects";
import { notesOf } from "../present/present-table";
import { doubtsOf } from "../quality/doubts";
import type { OptionValue, OptionValues, RunContext, Verb, VerbResult } from "../query/vocabulary";
import { withPutBack } from "../session/put-back";
import type { Table } from "../table/table";
import { findColumn, makeTable, sessionsBehind } from "../table/table";
import { errorSentences } from "./session-sentences";
import { answerSentences, methodLine, unaskedSentences, unlikeHeadsSentences, whatToDoSentences } from "./suspects-sentences";
import type { Asked } from "./suspects-table";
import { hiddenSuspectColumns, isStretchAsked, suspectColumns, suspectRows, suspectSchema } from "./suspects-table";
import { repeatedShots, sessionOf } from "./used-shots";
import { summaryProblem } from "./group-column";
import type { Refused } from "./verb-problem";
import { refuse } from "./verb-problem";

/** Which values the monitor may have misread: each with what its other readings imply. */
export const suspects: Verb = {
  name: "suspects",
  family: "trade",
  help: {
    summary: "Lists the values that other readings of the same shots contradict, each with what these imply and by which rule; it sets nothing aside.",
    example: "shots.suspects()",
    method:
      "Each reading is held against what impact and flight make of the other readings of its shot (Penner 2001; Naruo, Mizota and Shimozono 2004) and against the medians of its head, at a tolerance in robust standard deviations (Hampel 1974). Parts of a session are cut by least squares (Jackson and others 2005).",
  },
  parameters: [
    {
      name: "options",
      help: "What to look at.",
      kind: "options",
      optional: true,
      options: {
        of: { kind: "columns", of: "number", required: false, help: 'One or several columns whose doubtful values are listed, such as "club_speed"; all unless told.' },
        doubt: { kind: "choice", choices: ["strong", "any"], required: false, help: '"strong" lists only what cannot be, or is far beyond its tolerance; "any" unless told.' },
      },
    },
  ],
  infer: (input) => ({ schema: { columns: suspectSchema, open: false, groupedBy: [], fromShots: input.fromShots }, problems: summaryProblem(input, "suspects") }),
  run: (input, given, context) => run(input, given[0]?.kind === "options" ? given[0].values : {}, context),
};

function run(input: Table, values: OptionValues, context: RunContext): VerbResult {
  const refused = notReadings(input);
  if (refused !== null) return refused;
  const asked: Asked = { columns: columnsOf(values["of"]), strongOnly: values["doubt"] === "strong" };
  const look = { checkpoint: context.checkpoint, seed: context.seed };
  const doubts = doubtsOf(input, look);
  const back = withPutBack(input);
  const hasAside = input.sessions.some((session) => (session.setAsideValues ?? []).length > 0);
  const rows = suspectRows(input, doubts, hasAside ? { table: back.table, doubts: back.count === 0 ? doubts : doubtsOf(back.table, look) } : null, asked);
  const table = makeTable(suspectColumns(rows), rows.length, { sessions: input.sessions });
  const answer = answerSentences(input, doubts, rows, asked);
  return {
    ...table,
    report: {
      method: methodLine(input, context.seed),
      sentences: [
        ...answer,
        ...unlikeHeadsSentences(input, rows),
        ...whatToDoSentences(input, rows),
        ...unaskedSentences(input, asked),
        ...doubts.sentences,
        ...errorSentences(input.sessions),
        ...notesOf({ sessions: input.sessions }),
      ],
      answer: answer.length,
      hidden: hiddenSuspectColumns,
      picture: buildSuspects(table, { witnesses: rows.map((row) => row.witnesses), stretches: doubts.stretches.filter((each) => isStretchAsked(asked, each)) }),
    },
  };
}

function columnsOf(of: OptionValue | undefined): readonly string[] | null {
  if (typeof of === "string") return [of];
  return Array.isArray(of) ? (of as readonly string[]) : null;
}

/** Why the rows are not readings that could be judged shot by shot. */
function notReadings(input: Table): Refused | null {
  if (input.sessions.length === 0 && sessionsBehind(input).length > 0) return refuse(null, "trade.not-shots", { verb: "suspects" });
  if (input.sessions.length === 0) return refuse(null, "trade.without-session", { verb: "suspects" });
  if (findColumn(input, "recorded")?.origin === "computed" && findColumn(input, "evidence")?.origin === "computed") return refuse(null, "trade.not-shots", { verb: "suspects" });
  const shot = findColumn(input, "shot");
  if (shot?.kind !== "number" || shot.origin === "computed") return refuse(null, "trade.without-shot-numbers", { verb: "suspects" });
  const rows = Int32Array.from({ length: input.rowCount }, (_, row) => row);
  const session = sessionOf(input, rows);
  if (session === null) return refuse(null, "trade.no-session-column", { sessions: input.sessions.map((each) => each.name) });
  const repeated = repeatedShots(input, rows, session, new Int32Array(rows.length));
  return repeated === null ? null : refuse(null, "trade.repeated-shots", repeated);
}
