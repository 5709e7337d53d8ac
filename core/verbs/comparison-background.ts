import { inWords } from "../chart/field-name";
import { notesOf } from "../present/present-table";
import type { NumberColumn, Table } from "../table/table";
import { findColumn } from "../table/table";
import { airSentences } from "./air-sentences";
import type { PairFound } from "./comparison-checks";
import { headline } from "./comparison-checks";
import type { ComparisonWords } from "./comparison-sentences";
import type { Margin } from "./margins";
import type { GroupCount } from "./session-sentences";
import { asStated, buildSentences, closingSentence, errorSentences, listed, missingSentences, originSentences } from "./session-sentences";
import type { UsedShots } from "./used-shots";

/** What a comparison rests on besides its numbers. */
export interface Background {
  readonly input: Table;
  readonly found: readonly PairFound[];
  readonly margin: Margin;
  readonly used: UsedShots;
  readonly counts: readonly GroupCount[];
  readonly words: ComparisonWords;
  /** Why nothing is said at the same strikes; `null` when something is. */
  readonly without: string | null;
}

/** What a reader must know besides the verdicts, facts of one kind in one line. */
export function backgroundSentences({ input, found, margin, used, counts, words, without }: Background): readonly string[] {
  const { column } = words;
  const chosen = { option: "stated here", notebook: "stated in the notebook", session: "stated in the session", default: `the default for ${inWords(column.name)}` };
  const noStrikes = without === null ? [] : [`Not compared at the same strikes: ${without}.`];
  const line = (...sentences: readonly string[]): readonly string[] => (sentences.length === 0 ? [] : [sentences.join(" ")]);
  return [
    ...line(`The margin of ${marginShown(margin, column)} is ${chosen[margin.chosenBy]}.`, ...noStrikes),
    ...line(...used.sentences, ...missingSentences([{ column: column.name, counts }])),
    ...line(...errorSentences(used.sessions), ...sharedSessions(used, found)),
    ...line(...(words.by === "head" ? buildSentences(used.groups, used.sessions) : mixedHeads(input, used, words))),
    ...line(...originSentences(column, used.sessions)),
    ...line(...airSentences([column.name], used.sessions)),
    ...line(...notesOf({ sessions: used.sessions })),
    closingSentence(used),
  ];
}

/** The margin in the column's unit, and as it was given where that is another one. */
function marginShown(margin: Margin, column: NumberColumn): string {
  if (column.unit === null) return String(margin.value);
  const shown = asStated({ value: margin.value, unit: column.unit });
  return margin.stated === null || margin.stated.unit === column.unit ? shown : `${shown} (${asStated(margin.stated)})`;
}

function sharedSessions(used: UsedShots, found: readonly PairFound[]): readonly string[] {
  if (used.sessions.length < 2 || !found.some((pair) => headline(pair).comparable)) return [];
  return [`Shots of ${used.sessions.length} sessions: differences are taken within each session in which both of a pair were hit.`];
}

/** Said where groups are not heads and one of them holds several heads. */
function mixedHeads(input: Table, used: UsedShots, words: ComparisonWords): readonly string[] {
  const head = findColumn(input, "head");
  if (head?.kind !== "text") return [];
  const heads = new Set(Array.from(used.rows, (row) => head.labels[head.codes[row]!]).filter((name) => name !== undefined));
  return heads.size < 2 ? [] : [`Shots of ${listed([...heads])} are taken together within each ${words.by}.`];
}
