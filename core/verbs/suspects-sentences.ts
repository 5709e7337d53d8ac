import { inWords } from "../chart/field-name";
import { formatShare } from "../present/format-number";
import type { Doubts } from "../quality/suspect";
import { misreadRules } from "../quality/rules";
import { shotColumnFacts } from "../table/shot-columns";
import type { Table } from "../table/table";
import { findColumn, missingCount } from "../table/table";
import { capitalised, listed } from "./session-sentences";
import type { Asked, SuspectRow } from "./suspects-table";
import { isStretchAsked } from "./suspects-table";

/** Points by which the shares of two heads may differ. Common practice, no source. */
const pointsApart = 0.1;

/** Columns with one doubted value that are each told by head. */
const fewSingles = 3;

/** How much of a column is doubted with one head. */
interface HeadShare {
  readonly head: string;
  readonly doubted: number;
  readonly of: number;
}

/** The columns whose values a rule can doubt, where they are there and asked for. */
export function columnsLookedAt(table: Table, { columns }: Asked): readonly string[] {
  const doubtable = new Set(misreadRules.flatMap((rule) => rule.doubts as readonly string[]));
  return table.columns.filter((column) => column.kind === "number" && doubtable.has(column.name) && (columns === null || columns.includes(column.name))).map(({ name }) => name);
}

/** The answer: how much is doubted, and which columns read otherwise for a part of a session. */
export function answerSentences(table: Table, doubts: Doubts, rows: readonly SuspectRow[], asked: Asked): readonly string[] {
  const suspects = rows.filter(({ state }) => state === "suspect");
  const stretches = doubts.stretches.filter((each) => isStretchAsked(asked, each)).map(({ session, sentence }) => (table.sessions.length > 1 ? `${session}: ${sentence}` : sentence));
  return [suspects.length === 0 ? nothingSentence(table, asked) : countSentence(table, suspects, asked), ...stretches];
}

function nothingSentence(table: Table, asked: Asked): string {
  const looked = columnsLookedAt(table, asked);
  if (looked.length === 0) return "Nothing was looked at: no column is here that a rule could doubt.";
  const values = looked.reduce((count, name) => count + table.rowCount - missingCount(findColumn(table, name)!), 0);
  return `No value is ${asked.strongOnly ? "strongly doubted" : "doubted"} among ${values} values of ${shots(table.rowCount)}: ${listed(looked.map(inWords))} were looked at.`;
}

function countSentence(table: Table, suspects: readonly SuspectRow[], { strongOnly }: Asked): string {
  const places = new Set(suspects.map(({ session, shot }) => `${session}\u0000${shot}`)).size;
  const columns = [...new Set(suspects.map(({ column }) => column))];
  const singles = columns.filter((column) => suspects.filter((row) => row.column === column).length === 1);
  const areMany = singles.length > fewSingles;
  const counts = columns.filter((column) => !areMany || !singles.includes(column)).map((column) => columnShare(table, column, suspects));
  if (areMany) counts.push(`1 each of ${listed(singles.map(inWords))}`);
  const values = suspects.length === 1 ? "1 value is" : `${suspects.length} values are`;
  return `${values} ${strongOnly ? "strongly doubted" : "doubted"}, of ${places} of ${shots(table.rowCount)}: ${counts.join("; ")}.`;
}

function columnShare(table: Table, column: string, suspects: readonly SuspectRow[]): string {
  const shares = headShares(table, column, suspects);
  const count = suspects.filter((row) => row.column === column).length;
  const by = shares.filter(({ doubted }) => doubted > 0).map(({ head, doubted, of }) => `${head} ${doubted} of ${of}`);
  return by.length === 0 ? `${inWords(column)} ${count}` : `${inWords(column)} ${count} (${listed(by)})`;
}

/** The doubted values of a column by head, among the values that are there; nothing for a table without heads. */
function headShares(table: Table, column: string, suspects: readonly SuspectRow[]): readonly HeadShare[] {
  const [head, values] = [findColumn(table, "head"), findColumn(table, column)];
  if (head?.kind !== "text" || values?.kind !== "number") return [];
  return head.labels
    .map((name, code) => ({
      head: name,
      doubted: suspects.filter((row) => row.column === column && row.head === name).length,
      of: head.codes.reduce((count, each, row) => count + (each === code && !Number.isNaN(values.values[row]!) ? 1 : 0), 0),
    }))
    .filter(({ of }) => of > 0);
}

/** Where heads differ so much in what is doubted that setting it aside would favour one. */
export function unlikeHeadsSentences(table: Table, rows: readonly SuspectRow[]): readonly string[] {
  const suspects = rows.filter(({ state }) => state === "suspect");
  return [...new Set(suspects.map(({ column }) => column))].flatMap((column) => {
    const shares = [...headShares(table, column, suspects)].sort((a, b) => b.doubted / b.of - a.doubted / a.of);
    const [most, least] = [shares[0], shares.at(-1)];
    if (most === undefined || least === undefined || most.doubted / most.of - least.doubted / least.of <= pointsApart) return [];
    const share = ({ doubted, of }: HeadShare): string => formatShare(Math.round((100 * doubted) / of) / 100);
    return [
      `${capitalised(inWords(column))} is doubted in ${share(most)} of the shots of ${most.head} and ${share(least)} of those of ${least.head}, more than 10 points apart: with these set aside a comparison would rest on unlike parts of the heads' shots.`,
    ];
  });
}

/** What was set aside already, and what a person does with the rest. */
export function whatToDoSentences(table: Table, rows: readonly SuspectRow[]): readonly string[] {
  const aside = rows.filter(({ state }) => state === "set aside");
  const undoubted = aside.filter(({ rule }) => rule === null).length;
  const already = aside.length === 0 ? [] : [`${aside.length === 1 ? "1 value is" : `${aside.length} values are`} set aside already${undoubted === 0 ? "" : `, ${undoubted} of which no rule doubts`}.`];
  if (rows.every(({ state }) => state === "set aside")) return already;
  const file = table.sessions.length === 1 && table.sessions[0]!.file !== "" ? table.sessions[0]!.file : "SESSION";
  return [
    ...already,
    `Nothing was set aside by this: only a person does so, value by value and with a reason, under set_aside in the session file, from this table in the editor, or with fairstrike suspects ${file} --write.`,
    "A poor strike is no misread, and none is doubted for being one.",
  ];
}

/** Columns asked for that no rule can doubt. */
export function unaskedSentences(table: Table, { columns }: Asked): readonly string[] {
  const looked = columnsLookedAt(table, { columns, strongOnly: false });
  const without = (columns ?? []).filter((name) => !looked.includes(name));
  return without.length === 0 ? [] : [`No rule doubts ${listed(without.map(inWords))}.`];
}

/** Which rules were asked, and which were not for want of columns. */
export function methodLine(table: Table, seed: number): string {
  const isHere = (name: string): boolean => findColumn(table, name)?.kind === "number" || shotColumnFacts(name)?.kind === "text";
  const asked = misreadRules.filter((rule) => rule.needs.every(isHere)).map(({ name }) => name);
  const others = misreadRules.length - asked.length;
  const rules = asked.length === 0 ? "No rule could be asked" : `Rules asked: ${asked.join(", ")}`;
  const without = others === 0 ? "" : `; ${others} not asked, since columns that they need are not here`;
  return `${rules}${without}. Parts of a session: segments of least squares with a penalty of 3 σ² ln N a change, checked by random orders of blocks, with intervals from resampled blocks, 95 %, seed ${seed}. Tolerances are those of each row.`;
}

function shots(count: number): string {
  return `${count} ${count === 1 ? "shot" : "shots"}`;
}
