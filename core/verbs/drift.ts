import { formatShare } from "../present/format-number";
import { notesOf } from "../present/present-table";
import type { OptionValue, OptionValues, RunContext, Verb, VerbProblem, VerbResult } from "../query/vocabulary";
import { analyseDrift } from "../stats/drift";
import type { Schema } from "../table/schema";
import { schemaOf } from "../table/schema";
import { shotColumnFacts } from "../table/shot-columns";
import type { NumberColumn, Table } from "../table/table";
import { findColumn, makeTable } from "../table/table";
import { driftPicture } from "./drift-picture";
import type { DriftWords } from "./drift-sentences";
import { courseSentences, effectSentences, marginSentences, verdictSentences } from "./drift-sentences";
import { firstAfterChange, sessionShots } from "./drift-shots";
import type { DriftRow } from "./drift-table";
import { driftColumnsOf, driftSchema, hiddenDriftColumns } from "./drift-table";
import { byOption, confidenceOf, confidenceOption, groupColumn, groupingProblem } from "./group-column";
import { tooManyGroups } from "./group-count";
import type { Margin } from "./margins";
import { marginFor } from "./margins";
import { closingSentence, countValues, errorSentences, listed, missingTogether, originsTogether } from "./session-sentences";
import { speedRatio, testerSentences } from "./tester-or-head";
import type { UsedShots } from "./used-shots";
import { usedShots } from "./used-shots";
import { refuse, verbProblem } from "./verb-problem";

/** What is followed unless told, where it is there. */
const usual: readonly string[] = ["club_speed", "ball_speed", "carry"];

/** Stints of one session beyond which it is no session: every pair of them is looked at. */
const mostStints = 1000;

/** Did the tester change during the session, or the ball, or the air: what changed, whichever head was hit. */
export const drift: Verb = {
  name: "drift",
  family: "trade",
  help: {
    summary: "Tells how much a column changed over the session whichever head was hit, whether all heads changed alike, and whether that was the tester.",
    example: 'shots.drift({ of: ["club_speed", "ball_speed", "carry"] })',
    method:
      "A model of shots in stints with one trend (REML; Kenward and Roger 1997), checked by errors robust to stints (Bell and McCaffrey 2002); beside it Theil and Sen's slope (Sen 1968) and Kendall's rank correlation (1970). Steps are told from chance by random orders (Pitman 1937).",
  },
  parameters: [
    {
      name: "options",
      help: "What to follow, and how.",
      kind: "options",
      optional: true,
      options: {
        of: { kind: "columns", of: "number", required: false, help: 'One or several columns of numbers, such as "carry"; club speed, ball speed and carry unless told.' },
        by: byOption,
        confidence: confidenceOption,
      },
    },
  ],
  infer: (input, given) => {
    const values = given[0]?.kind === "options" ? given[0].values : {};
    const units = namesOf(values["of"], input).map((name) => input.columns.find((column) => column.name === name)?.unit ?? null);
    return {
      schema: { columns: driftSchema(units), open: false, groupedBy: [], fromShots: input.fromShots },
      problems: groupingProblem(input, values, "drift")?.problems ?? nothingToFollow(input, values),
    };
  },
  run: (input, given, context) => run(input, given[0]?.kind === "options" ? given[0].values : {}, context),
};

/** The columns asked for, each once; else the usual ones that are there. */
function namesOf(of: OptionValue | undefined, input: Schema): readonly string[] {
  if (typeof of === "string") return [of];
  if (Array.isArray(of)) return [...new Set(of as readonly string[])];
  return usual.filter((name) => input.columns.some((column) => column.name === name && column.kind === "number"));
}

function nothingToFollow(input: Schema, values: OptionValues): readonly VerbProblem[] {
  if (input.open || namesOf(values["of"], input).length > 0) return [];
  const candidates = input.columns.filter((column) => column.kind === "number" && shotColumnFacts(column.name)?.group !== "identity").map((column) => column.name);
  return [verbProblem(null, "trade.nothing-to-follow", { usual, candidates })];
}

function run(input: Table, values: OptionValues, context: RunContext): VerbResult {
  const by = groupColumn(input, values, "drift");
  if ("type" in by) return by;
  const nothing = nothingToFollow(schemaOf(input), values);
  if (nothing.length > 0) return { type: "refused", problems: nothing };
  const used = usedShots(input, by, "drift", context);
  if ("type" in used) return used;
  if (used.stint === null) {
    const unknown = used.sessions.filter((session) => !session.orderKnown).map((session) => session.name);
    return refuse(null, "trade.drift-without-order", { sessions: unknown });
  }
  const countRefused = tooManyGroups(used.groups, by.name);
  if (countRefused !== null) return countRefused;
  const sessions = [...new Set(used.session)].sort((a, b) => a - b);
  const longest = sessions.find((session) => stintsIn(used, session) > mostStints);
  if (longest !== undefined) return refuse(null, "trade.too-many-stints", { session: used.sessionNames[longest] ?? "", count: stintsIn(used, longest), most: mostStints });

  const of = namesOf(values["of"], schemaOf(input)).flatMap((name) => findColumn(input, name) ?? []).filter((column) => column.kind === "number");
  const shot = findColumn(input, "shot");
  const words: DriftWords = {
    by: by.name,
    confidence: confidenceOf(values),
    severalSessions: sessions.length > 1,
    shotIn: (row) => (shot?.kind === "number" && !Number.isNaN(shot.values[row]!) ? shot.values[row]! : null),
  };
  const look = looker(input, used, words, context);
  const rows = of.flatMap((column) => sessions.map((session) => look(column, session)));
  const table = makeTable(driftColumnsOf(rows), rows.length, { sessions: used.sessions });
  const answers = [...verdictSentences(rows, words), ...testerOrHeads(input, sessions, rows, words, look)];
  return {
    ...table,
    report: {
      method: methodLine(used.groups.length, by.name, words.confidence, context.seed),
      sentences: [...answers, ...background(input, of, sessions, rows, used, words)],
      answer: answers.length,
      hidden: hiddenDriftColumns,
      confidence: words.confidence,
      picture: driftPicture(input, by.name, rows.filter((row) => row.column === of[0]), used, words.confidence, context),
    },
  };
}

function stintsIn(used: UsedShots, session: number): number {
  return new Set(used.stint!.filter((_, i) => used.session[i] === session)).size;
}

/** Looks at one column in one session, each once. */
function looker(input: Table, used: UsedShots, words: DriftWords, context: RunContext): (column: NumberColumn, session: number) => DriftRow {
  const firsts = firstAfterChange(input, used);
  const known = new Map<string, DriftRow>();
  const margins = new Map<string, Margin | null>();
  const marginOf = (column: NumberColumn): Margin | null => {
    // A margin that cannot be read is reported where it is stated; here nothing stands in for it.
    if (!margins.has(column.name)) {
      const margin = marginFor(column, undefined, context, used.sessions);
      margins.set(column.name, "type" in margin ? null : margin);
    }
    return margins.get(column.name)!;
  };
  return (column, session) => {
    const key = `${session} ${column.name}`;
    let row = known.get(key);
    if (row === undefined) {
      context.checkpoint();
      const margin = marginOf(column);
      const own = sessionShots(input, column, used, session, firsts);
      const question = { confidence: words.confidence, margin: margin?.value ?? null, seed: context.seed };
      row = { ...own, column, session, sessionName: used.sessionNames[session] ?? "", margin, drift: analyseDrift(own.shots, question) };
      known.set(key, row);
    }
    return row;
  };
}

/** Tester or heads, session by session. */
function testerOrHeads(
  input: Table,
  sessions: readonly number[],
  rows: readonly DriftRow[],
  words: DriftWords,
  look: (column: NumberColumn, session: number) => DriftRow,
): readonly string[] {
  const club = findColumn(input, "club_speed");
  const ratio = speedRatio(input);
  return sessions.flatMap((session) => {
    const own = rows.filter((row) => row.session === session);
    return testerSentences(own, club?.kind === "number" ? look(club, session) : null, ratio === null ? null : look(ratio, session), words);
  });
}

/** What a reader must know besides the answers. */
function background(
  input: Table,
  of: readonly NumberColumn[],
  sessions: readonly number[],
  rows: readonly DriftRow[],
  used: UsedShots,
  words: DriftWords,
): readonly string[] {
  return [
    ...rows.flatMap((row) => courseSentences(row, words)),
    ...sessions.flatMap((session) => effectSentences(rows.filter((row) => row.session === session), words)),
    ...marginSentences(rows),
    ...used.sentences,
    ...errorSentences(used.sessions),
    ...missingTogether(of.map((column) => ({ column: column.name, counts: countValues(input, column, used) }))),
    ...mixedHeads(input, used, words.by),
    ...originsTogether(of, used.sessions),
    ...notesOf({ sessions: used.sessions }),
    closingSentence(used),
  ];
}

/** Said where groups are not heads and there are several heads: their levels are not told apart. */
function mixedHeads(input: Table, used: UsedShots, by: string): readonly string[] {
  const head = findColumn(input, "head");
  if (by === "head" || head?.kind !== "text") return [];
  const heads = new Set(Array.from(used.rows, (row) => head.labels[head.codes[row]!]).filter((name) => name !== undefined));
  return heads.size < 2 ? [] : [`Shots of ${listed([...heads])} are taken together within each ${by}: a change of head may pass for a change in time.`];
}

function methodLine(groups: number, by: string, confidence: number, seed: number): string {
  const levels = groups > 1 ? `a level for each ${by} and each stint and one trend shared by all ${by}s` : "a level for each stint and one trend";
  return `Model of shots in stints (REML, Kenward and Roger's errors): ${levels}; the change is from the first shot used to the last; ${formatShare(confidence)} intervals, checked by least squares with errors robust to stints (CR2). Steps and neighbours by 2000 random orders, seed ${seed}.`;
}
