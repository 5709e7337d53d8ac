import { missingTexts } from "./propose-column";
import { readTime } from "./read-time";
import type { FoundHead, ProposedColumn, SessionAnswers, SessionProposal } from "./session-proposal";

/** Names that a column of heads may have, and that one may have whose header says no head: a session has few heads. */
const mostHeads = 40;
const mostUnsaid = 12;

/** Share of the shots that a column of heads names: remarks stand at some shots alone. Common practice, no source. */
const mostNamed = 0.9;

/** The names under a header with their shots, in the order in which they occur; empty where they are too many for heads. */
export function headsIn(header: string, values: readonly string[]): readonly (readonly [string, readonly FoundHead[]])[] {
  const counts = new Map<string, number>();
  for (const value of values) if (value.trim() !== "" && !missingTexts.has(value.trim())) counts.set(value.trim(), (counts.get(value.trim()) ?? 0) + 1);
  return counts.size === 0 || counts.size > mostHeads ? [] : [[header, [...counts].map(([name, shots]) => ({ name, shots }))]];
}

/** The column asked, `head` the likeliest that it may be, where its texts repeat as names of several heads do. */
export function askedForHead(column: ProposedColumn, values: readonly string[]): ProposedColumn {
  const [[, names] = ["", []]] = headsIn(column.header, values);
  if (column.column !== "keep" || names.length < 2 || !isLikeHeads(column, names)) return column;
  return { ...column, column: null, certainty: "ask", columns: ["head", ...column.columns.filter((name) => name !== "head")], evidence: `${column.evidence}, and no header says the head; its ${names.length} texts repeat as names of heads do` };
}

function isLikeHeads({ columns, isNumber, present, missing }: ProposedColumn, names: readonly FoundHead[]): boolean {
  return columns.includes("head") && !isNumber && names.length <= mostUnsaid && 2 * names.length <= present && present >= mostNamed * (present + missing) && !names.every(({ name }) => readTime(name) !== null);
}

/** The headers that may hold the heads while the answers say of none that it does, those first that are still open. */
export function headersForHeads({ columns, heads }: SessionProposal, answers: SessionAnswers): readonly string[] {
  if (answers.columns.some(({ column }) => column === "head")) return [];
  const left = columns.flatMap((proposed) => {
    const answer = answers.columns.find(({ header }) => header === proposed.header)?.column ?? null;
    const isSaid = proposed.column === null && proposed.columns[0] === "head" && Object.hasOwn(heads, proposed.header);
    return (answer === null || answer === "keep") && (isSaid || isLikeHeads(proposed, heads[proposed.header] ?? [])) ? [{ header: proposed.header, isOpen: answer === null }] : [];
  });
  return left.toSorted((one, other) => Number(other.isOpen) - Number(one.isOpen)).map(({ header }) => header);
}
