import { inWords } from "../chart/field-name";
import { notesOf } from "../present/present-table";
import type { Verb, VerbResult } from "../query/vocabulary";
import { withPutBack } from "../session/put-back";
import type { Table } from "../table/table";
import { findColumn, missingCount, sessionsBehind } from "../table/table";
import { summaryProblem } from "./group-column";
import { otherRows } from "./schema-after";
import { listed } from "./session-sentences";
import { refuse } from "./verb-problem";

/** The shots as they would be, were nothing set aside. */
export const putBack: Verb = {
  name: "putBack",
  family: "trade",
  help: {
    summary: "Gives the shots with the values back that were set aside, and what is derived from them, so that any result can be had with them: the session file stays as it is.",
    example: 'shots.putBack().compare({ of: "spin_rate", by: "head" })',
    method:
      "Nothing is computed but what is derived from the values put back: each is as the monitor had recorded it, before it was set aside in the session file. Our own bookkeeping, no source.",
  },
  parameters: [],
  infer: (input) => ({ schema: input.rowCount === undefined ? otherRows(input) : { ...otherRows(input), rowCount: input.rowCount }, problems: summaryProblem(input, "putBack") }),
  run: (input) => run(input),
};

function run(input: Table): VerbResult {
  if (input.sessions.length === 0 && sessionsBehind(input).length > 0) return refuse(null, "trade.not-shots", { verb: "putBack" });
  const isSetAside = input.sessions.some((session) => (session.setAsideValues ?? []).length > 0);
  const needed = [...(findColumn(input, "shot")?.kind === "number" ? [] : ["shot"]), ...(input.sessions.length < 2 || findColumn(input, "session")?.kind === "text" ? [] : ["session"])];
  if (isSetAside && needed.length > 0) return refuse(null, "trade.no-shot-column", { missing: needed });
  const { table, count, shots, elsewhere } = withPutBack(input);
  const answer = table === input ? nothing(isSetAside) : `${inValues(count)} of ${shots === 1 ? "1 shot" : `${shots} shots`} that ${count === 1 ? "was" : "were"} set aside ${count === 1 ? "is" : "are"} put back.`;
  const sentences = [answer, ...(table === input ? [] : detailSentences(input, table)), ...elsewhereSentence(elsewhere), ...notesOf(table)];
  return {
    ...table,
    report: { method: "Values as the monitor recorded them, before they were set aside in the session file, with what is derived from them.", sentences, answer: 1, hidden: [], picture: null },
  };
}

function nothing(isSetAside: boolean): string {
  return isSetAside ? "No value that was set aside is put back: none is missing in these rows." : "No value of these shots was set aside: nothing is put back.";
}

function inValues(count: number): string {
  return count === 1 ? "1 value" : `${count} values`;
}

/** How many values of which columns came back, those derived from others among them, and which columns cannot follow. */
function detailSentences(before: Table, after: Table): readonly string[] {
  const back = after.columns.flatMap((column, i) => {
    const count = missingCount(before.columns[i]!) - missingCount(column);
    return count === 0 ? [] : [`${inWords(column.name)} ${count}`];
  });
  const computed = after.columns.filter((column) => column.origin === "computed").map((column) => column.name);
  return [
    `By column, with what is derived: ${listed(back)}.`,
    ...(computed.length === 0 ? [] : [`${listed(computed)} ${computed.length === 1 ? "was computed" : "were computed"} before and ${computed.length === 1 ? "stays" : "stay"} as ${computed.length === 1 ? "it is" : "they are"}: put back first.`]),
  ];
}

function elsewhereSentence(count: number): readonly string[] {
  return count === 0 ? [] : [`${inValues(count)} more ${count === 1 ? "is of a shot that has" : "are of shots that have"} no row here: put back before filtering.`];
}
